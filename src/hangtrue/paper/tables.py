"""The lists of glass, gaps, other ways and the opening: heads and rows, each from the plan."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from functools import reduce

from hangtrue.check.verdict import Judged
from hangtrue.check.wording import sentence
from hangtrue.fit.enclosure import (
    Alternative,
    Bar,
    Chain,
    Choice,
    Enclosure,
    Gap,
    Joint,
    Lite,
    NoFit,
)
from hangtrue.job.problems import Problem
from hangtrue.job.readings import Side
from hangtrue.measure.opening import Opening
from hangtrue.paper.blocks import Cell, Column, Table
from hangtrue.paper.joint_words import bar_kind, joint_name
from hangtrue.paper.lengths import Units, tidy
from hangtrue.paper.standing import covered, foot_of
from hangtrue.phrase import join, phrase

Rows = tuple[tuple[str | Cell, ...], ...]

NOTHING = "–"
SIDES: tuple[Side, Side] = ("left", "right")


# ------------------------------------------------------------------------------------------- glass


def sizes(lites: Iterable[Lite], units: Units) -> Table:
    """Sizes of every pane, both widths and both heights, as ordered."""
    columns = (
        Column(head="Pane", share=1),
        Column(head="Width bottom", unit=units.head, align="figure"),
        Column(head="Width top", unit=units.head, align="figure"),
        Column(head="Height left", unit=units.head, align="figure"),
        Column(head="Height right", unit=units.head, align="figure"),
        Column(head="Glass", unit=units.head, align="figure"),
        Column(head="Weight", align="right"),
    )
    return Table(columns=columns, rows=tuple(_size(lite, units) for lite in lites))


def _size(lite: Lite, units: Units) -> tuple[str | Cell, ...]:
    lengths = (lite.width_bottom, lite.width_top, lite.height_left, lite.height_right)
    figures = (units.figure(length) for length in (*lengths, lite.thickness))
    notes = tuple(pane_notes(lite))
    name = Cell(text=capital(lite.id), strong=True, small=notes)
    return (name, *figures, units.mass(lite.mass_kg))


def pane_notes(lite: Lite) -> Iterable[str]:
    """Say what the sizes of a pane do not show: steps, mitres, scribed edges."""
    names = tuple(dict.fromkeys(step.fitting for step in lite.steps))
    if names:
        yield phrase("steps over {names}", names=reduce(_pair, names))
    for edge in lite.edges:
        name = f"{edge.where} edge"
        if edge.bevel:
            angle = tidy(abs(math.degrees(edge.bevel)), 1)
            yield phrase("{edge} mitred {angle}°", edge=name, angle=angle)
        if edge.points:
            yield phrase("{edge} scribed", edge=name)


def _pair(head: str, tail: str) -> str:
    return phrase("{head} and {tail}", head=head, tail=tail)


def bars(listed: Iterable[Bar], units: Units) -> Table:
    """Bars to cut: what each is, from where to where, and its length."""
    columns = (
        Column(head="Bar", share=1),
        Column(head="From"),
        Column(head="To"),
        Column(head="Height", unit=units.head, align="figure"),
        Column(head="Cut to", unit=units.head, align="figure"),
        Column(head="±", unit=units.first, align="right"),
    )
    rows = tuple(
        (
            Cell(text=join(", ", (capital(bar.id), bar_kind(bar))), strong=True),
            bar.holds,
            bar.to,
            units.figure(bar.ends[0][2]),
            units.figure(bar.length.value),
            units.spread(bar.length.sd),
        )
        for bar in listed
    )
    return Table(columns=columns, rows=rows)


def bar_chains(bar: Bar, units: Units) -> tuple[Table, ...]:
    """Deduction chain of a bar, from what it spans to what is cut."""
    return (_chain(bar.chain, units, "Cut to"),)


def chains(lite: Lite, units: Units) -> tuple[Table, ...]:
    """Deduction chain of every size of a pane, each a small table that adds up."""
    return tuple(_chain(chain, units) for chain in lite.chains)


def _chain(chain: Chain, units: Units, last: str = "Glass") -> Table:
    steps = ((capital(d.what), _signed(d.amount, units)) for d in chain.deductions)
    ordered = Cell(text=last, strong=True)
    glass = Cell(text=units.exact(chain.glass), strong=True, small=(units.size(chain.glass),))
    rows: Rows = (("Opening", units.exact(chain.opening)), *steps, (ordered, glass))
    what, height = capital(chain.size), units.size(chain.at_height)
    columns = (
        Column(head=phrase("{what}, at {height}", what=what, height=height), share=1),
        Column(head=units.first, align="right"),
    )
    return Table(columns=columns, rows=rows)


def _signed(amount: float, units: Units) -> str:
    written = units.exact(abs(amount))
    if float(written) == 0.0:
        return written
    return f"{'−' if amount < 0 else '+'} {written}"


# -------------------------------------------------------------------------------------------- gaps


def gaps(joints: Sequence[Joint], squared: Sequence[Joint], units: Units) -> Table:
    """Every gap as predicted, beside the one that a square cut would show."""
    compared = bool(squared)
    columns = (
        Column(head="Joint", share=1),
        Column(head="At", unit=units.first, align="figure"),
        Column(head="Least", unit=units.first, align="figure"),
        Column(head="Most", unit=units.first, align="figure"),
        Column(head="As drawn", unit=units.first, align="figure"),
        Column(head="±", unit=units.first, align="right"),
        *((Column(head="Cut square", unit=units.first, align="figure"),) if compared else ()),
    )
    plain = units.alone
    square = {j.id: _rising(j) for j in squared}
    rows = [
        row for j in joints for row in _joint(j, square.get(j.id, ()), plain, compared=compared)
    ]
    return Table(columns=columns, rows=tuple(rows))


def _rising(joint: Joint) -> tuple[Gap, ...]:
    return tuple(sorted(joint.gaps, key=lambda g: g.at))


def _joint(
    joint: Joint, squared: tuple[Gap, ...], units: Units, *, compared: bool
) -> Iterable[tuple[str | Cell, ...]]:
    """Rows of one joint: its ends, its fittings, and where it is tightest."""
    drawn = _rising(joint)
    beside = squared if len(squared) == len(drawn) else (None,) * len(drawn)
    tightest = min(drawn, key=lambda g: g.margin)
    shown = [
        (gap, other)
        for gap, other in zip(drawn, beside, strict=True)
        if gap.at_fitting or gap in {drawn[0], drawn[-1], tightest}
    ]
    for number, (gap, other) in enumerate(shown):
        yield (
            joint_words(joint) if number == 0 else "",
            units.figure(gap.at),
            *(units.figure(length, fine=True) for length in (gap.least, gap.most)),
            _gap(gap, units),
            units.spread(gap.predicted.sd),
            *((_gap(other, units) if other else NOTHING,) if compared else ()),
        )


def _gap(gap: Gap, units: Units) -> Cell:
    outside = gap.margin < 0
    return Cell(
        text=units.figure(gap.predicted.value, fine=True),
        strong=outside,
        small=("out of range",) if outside else (),
    )


def joint_words(joint: Joint) -> str:
    """Say which joint: `Left wall to door, hinge`."""
    kind: str = joint.kind
    if joint.corner:
        kind = phrase("{kind} at corner {corner}", kind=kind, corner=joint.corner.number)
    return join(", ", (capital(joint_name(joint)), kind))


# ------------------------------------------------------------------------------------ alternatives


def others(best: Judged, ways: Iterable[Judged], units: Units) -> Table:
    """Say of every other way what speaks against it."""
    columns = (
        Column(head="Other way", share=1),
        Column(head="Verdict", share=0.9),
        Column(head="Why it was not taken", share=1.3),
    )
    rows = tuple(
        (choice_words(w.alternative.choice, units), w.verdict.sentence, why_lost(best, w, units))
        for w in ways
    )
    return Table(columns=columns, rows=rows)


def why_lost(best: Judged, way: Judged, units: Units) -> str:
    """Say in one sentence what speaks against a way, compared with the best one."""
    made = way.alternative.made
    if isinstance(made, NoFit):
        return no_fit_words(made, units)
    worst = max(way.findings, key=lambda f: f.level, default=None)
    if worst is not None and way.verdict > best.verdict:
        return join(": ", (capital(worst.where), worst.found)) if worst.where else worst.found
    if way.rank[1] > best.rank[1]:
        return phrase(
            "More to put right: {points} points against {best}.",
            points=way.rank[1],
            best=best.rank[1],
        )
    room, taken = _room(made, units), _room(best.alternative.made, units)
    if room == taken:
        return phrase("No better: it has the same room to spare ({room}).", room=room)
    return phrase("Less room to spare: {room} against {taken}.", room=room, taken=taken)


def _room(made: Enclosure | NoFit, units: Units) -> str:
    if isinstance(made, NoFit):
        return "none"
    room = units.alone.small(made.margin.mm)
    if math.isinf(made.margin.sigmas):
        return room
    sigmas = tidy(made.margin.sigmas, 1)
    return phrase("{room}, {sigmas} standard deviations", room=room, sigmas=sigmas)


def missing_words(no_fit: NoFit, units: Units) -> str:
    """Say how much is missing, also where it is less than the finest fraction."""
    if units.alone.small(no_fit.missing) == units.alone.small(0.0):
        return "Less is missing than a tape can show."
    return phrase("{length} is missing.", length=units.small(no_fit.missing))


def no_fit_words(no_fit: NoFit, units: Units) -> str:
    """Say why nothing goes in, and how much is missing."""
    return join(" ", (no_fit.why, missing_words(no_fit, units)))


def choice_words(choice: Choice, units: Units) -> str:
    """Say what a way decides: `Door, fixed pane; 3/8 in glass; hinges left, on the wall`."""
    return join("; ", _choices(choice, units))


def _choices(choice: Choice, units: Units) -> Iterator[str]:
    names = {"door": "door", "fixed": "fixed pane"}
    yield capital(join(", ", (names.get(kind, kind) for kind in choice.order)))
    yield phrase("{thickness} glass", thickness=units.size(choice.thickness))
    if choice.hinge_side:
        side, on = choice.hinge_side, f"the {choice.hung_on}"
        yield phrase("hinges {side}, on {on}", side=side, on=on)
    if choice.second:
        side, on = choice.second[0], f"the {choice.second[1]}"
        yield phrase("second door {side}, on {on}", side=side, on=on)
    yield from choice.parted
    yield {"boxed": "boxed set", "raked": "cut to the walls", "square": "cut square"}[choice.cut]


def clashes(no_fit: NoFit, units: Units) -> Table:
    """List the requirements that contradict each other."""
    columns = (
        Column(head="These cannot all be met", share=1),
        Column(head="At", unit=units.first, align="figure"),
    )
    rows = tuple(
        (capital(clash.requirement), units.alone.figure(clash.at)) for clash in no_fit.clashes
    )
    return Table(columns=columns, rows=rows)


def squared_words(alternative: Alternative, units: Units) -> str:
    """Say what a square cut would cost; empty where there is nothing to compare."""
    made, squared = alternative.made, alternative.squared
    if squared is None or isinstance(made, NoFit):
        return ""
    if isinstance(squared, NoFit):
        return phrase(
            "Cut square, it does not go in: {why} The raked panes are needed.",
            why=no_fit_words(squared, units),
        )
    raked, square = _room(made, units), _room(squared, units)
    if raked == square:
        return phrase(
            "Cut square, the least margin stays the same ({raked}); "
            "the last column shows the gaps.",
            raked=raked,
        )
    return phrase(
        "Cut square, the least margin becomes {square}; cut to the walls it is {raked}.",
        square=square,
        raked=raked,
    )


# ----------------------------------------------------------------------------------------- opening


def opening(shape: Opening, at: Sequence[float], units: Units) -> Table:
    """Width of every run at some heights, and how far each wall leans in up to there."""
    runs = tuple(run for run in range(1, shape.corners + 2) if _bounded(shape, run))
    walls = tuple(f"{capital(side)} wall leans in" for side in shape.walls)
    plain = units.alone
    columns = (
        Column(head="Height", unit=units.first, align="figure", share=1),
        *(column for run in runs for column in _width_columns(shape, run, units)),
        *(Column(head=words, unit=units.first, align="figure", share=1) for words in walls),
    )
    rows = tuple(_level(shape, height, runs, plain) for height in reversed(at))
    return Table(columns=columns, rows=rows)


def _bounded(shape: Opening, run: int) -> bool:
    """Whether a run ends at walls and corners alone, so that its width means something."""
    left = run > 1 or "left" in shape.walls
    return left and (run <= shape.corners or "right" in shape.walls)


def _width_columns(shape: Opening, run: int, units: Units) -> tuple[Column, ...]:
    name = phrase("Run {run}", run=run) if shape.corners else "Width"
    return (
        Column(head=name, unit=units.first, align="figure", share=1),
        Column(head="±", unit=units.first, align="right", share=0.6),
    )


def _level(shape: Opening, height: float, runs: Sequence[int], units: Units) -> tuple[str, ...]:
    said = [text for run in runs for text in _run_width(shape, run, height, units)]
    return (units.figure(height), *said, *(_lean(shape, s, height, units) for s in shape.walls))


def _run_width(shape: Opening, run: int, height: float, units: Units) -> tuple[str, str]:
    """Width of a run and its plus-minus; nothing where a step fills the run at that height."""
    last = shape.corners + 1
    feet = [foot_of(shape, s) for s, k in zip(SIDES, (1, last), strict=True) if k == run]
    if covered(shape, run) and height < max(feet, default=0.0):
        return NOTHING, NOTHING
    wide = shape.estimate(shape.stop(run, height) - shape.start(run, height))
    return units.figure(wide.value, fine=True), units.spread(wide.sd)


def _lean(shape: Opening, side: Side, height: float, units: Units) -> str:
    """How far a wall leans in from its foot beside the glass up to a height."""
    foot = foot_of(shape, side)
    if height < foot:
        return NOTHING
    return units.figure(shape.estimate(shape.lean(side, foot, height)).value, fine=True)


def problems(listed: Iterable[Problem]) -> Table:
    """List what is odd in the job document itself."""
    columns = (
        Column(head="Line", align="right"),
        Column(head="Field"),
        Column(head="What is odd", share=1),
        Column(head="What to do", share=1),
    )
    rows = tuple((str(p.line or ""), p.field, p.wrong, p.do) for p in listed)
    return Table(columns=columns, rows=rows)


def capital(words: str) -> str:
    """Words with a capital at their start."""
    return sentence(words)
