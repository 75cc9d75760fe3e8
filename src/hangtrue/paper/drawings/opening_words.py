"""What is said under the drawing of the opening: walls, corners, steps, curb, ceiling, doubts."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from itertools import pairwise

from hangtrue.estimate import Estimate
from hangtrue.job.brief import Brief
from hangtrue.job.readings import Lean, Side
from hangtrue.measure.below import StepShape
from hangtrue.measure.opening import Opening
from hangtrue.paper.dimensions import LINE_FEED
from hangtrue.paper.drawings import frame
from hangtrue.paper.lengths import Units, decimals
from hangtrue.paper.scene import Text, Tone
from hangtrue.paper.standing import covered, foot_of
from hangtrue.paper.tables import capital
from hangtrue.paper.words import angle_words, figure
from hangtrue.phrase import as_typed, join, phrase

PARAGRAPH = 1.8
"""Between the words about the walls and those about the curb, mm."""
COLUMN = 86.0
"""Width of the words about one wall, mm."""


def said(brief: Brief, measured: Opening, side: Side, units: Units) -> tuple[str, ...]:
    """What a wall does, in words with figures."""
    low, high = max(measured.heights[0], foot_of(measured, side)), measured.heights[-1]
    middle = (low + high) / 2
    over = str(figure(units, high - low))
    lean = measured.estimate(measured.lean(side, low, high))
    bow = measured.estimate(measured.bow(side, low, middle, high))
    leaning, bellied = both(lean.size(), units), both(bow.size(), units)
    lines: list[str] = [
        phrase("leans in {by} over {over}", by=leaning, over=over)
        if lean.value >= 0
        else phrase("leans out {by} over {over}", by=leaning, over=over),
        phrase("bellies in {by}", by=bellied)
        if bow.value >= 0
        else phrase("bellies out {by}", by=bellied),
    ]
    if not _read_across(brief, side):
        lines.append("across the glass: not read")
    elif measured.knows(f"across {side}"):
        across = measured.estimate(measured.entry(f"across {side}")).scaled(high - low)
        by = both(across.size(), units)
        lines.append(
            phrase("top leans into the shower {by}", by=by)
            if across.value >= 0
            else phrase("top leans out of the shower {by}", by=by)
        )
    if measured.knows(f"square {side}"):
        square = measured.estimate(measured.entry(f"square {side}"))
        inside = Estimate(math.pi / 2 + square.value, square.sd)
        angle = angle_words(inside)
        lines.append(phrase("stands at {angle} to the glass line in plan", angle=angle))
    return tuple(lines)


def _read_across(brief: Brief, side: Side) -> bool:
    return any(
        isinstance(r, Lean) and r.wall == side and r.plane == "across" for r in brief.job.readings
    )


def known(length: Estimate, units: Units, *, fine: bool = False) -> tuple[str, str]:
    """Figures with their plus-minus, in the first unit and in brackets in the other."""
    value = figure(units, length.value, fine=fine)
    words = f"{value.words}\u00a0±\u00a0{units.spread(length.sd)}"
    if not value.second:
        return words, ""
    return (
        words,
        f"[{value.second.strip('[]')}\u00a0±\u00a0{decimals(2 * length.sd, units.second)}]",
    )


def both(length: Estimate, units: Units) -> str:
    """Figures in both units, fine, with their plus-minus."""
    return " ".join(w for w in known(length, units, fine=True) if w)


def notes(brief: Brief, measured: Opening, units: Units) -> tuple[Text, ...]:
    """Words under the drawing, from 0 down: the walls side by side, the rest, any doubts."""
    walls = [t for side in measured.walls for t in _column(brief, measured, side, units)]
    y = min((t.at[1] for t in walls), default=0.0) - LINE_FEED - PARAGRAPH
    doubts = _suspicions(measured)
    lines = (
        *_corners(brief, measured),
        *_curb(brief, measured, units),
        *(_step(measured, step, units) for step in measured.standing),
        *_ceiling(measured, units),
        *doubts,
    )
    below: list[Text] = []
    for words in lines:
        tone: Tone = "warm" if words in doubts else "ink"
        for part in frame.paragraph(words, (0.0, y), frame.WIDTH):
            below.append(Text(at=part.at, words=part.words, tone=tone))
            y -= LINE_FEED
    return (*walls, *below)


def _column(brief: Brief, measured: Opening, side: Side, units: Units) -> Iterable[Text]:
    """Name of a wall and what it does, on its own side of the sheet."""
    x = frame.WIDTH - COLUMN if side == "right" else 0.0
    wall = brief.job.wall(side)
    name = capital(f"{side} wall")
    if wall and wall.name:
        name = phrase("{wall}: {name}", wall=name, name=as_typed(wall.name))
    y = 0.0
    for i, line in enumerate((name, *said(brief, measured, side, units))):
        lines = frame.paragraph(line, (x, y), COLUMN, bold=i == 0)
        yield from lines
        y -= LINE_FEED * len(lines)


def _corners(brief: Brief, measured: Opening) -> Iterator[str]:
    """Inside angle of each corner, and which way the line turns there."""
    turns = brief.job.wanted.turns
    angles = {
        k: angle_words(measured.estimate(measured.angle(k))) for k in range(1, measured.corners + 1)
    }
    parts = [
        phrase("corner {number}: {angle}", number=k, angle=angle)
        if turns[k - 1].way == "in"
        else phrase("corner {number}: {angle}, turns outward", number=k, angle=angle)
        for k, angle in angles.items()
    ]
    if parts:
        yield phrase("Inside angles: {angles}", angles=join("; ", parts))


def _curb(brief: Brief, measured: Opening, units: Units) -> Iterator[str]:
    if measured.knows("curb left") and measured.knows("curb right"):
        if measured.corners:
            if not all(covered(measured, run) for run in range(1, measured.corners + 2)):
                yield _curb_by_run(measured, units)
        else:
            fall = measured.estimate(measured.entry("curb left") - measured.entry("curb right"))
            yield phrase("Curb: {falls}", falls=_lower(fall, units))
    if measured.knows("pitch"):
        width = float(brief.job.threshold.width)
        pitch = measured.estimate(measured.entry("pitch")).scaled(width)
        by, over = both(pitch.size(), units), str(figure(units, width))
        yield (
            phrase("Curb: falls into the shower {by} over its width of {over}", by=by, over=over)
            if pitch.value >= 0
            else phrase(
                "Curb: falls out of the shower {by} over its width of {over}", by=by, over=over
            )
        )


def _lower(fall: Estimate, units: Units) -> str:
    """Say which end of a curb is the lower one, and by how much."""
    by = both(fall.size(), units)
    if fall.value >= 0:
        return phrase("right end lower by {by}", by=by)
    return phrase("left end lower by {by}", by=by)


def _curb_by_run(measured: Opening, units: Units) -> str:
    """Fall of the curb along each run, from left to right."""
    names = ("left", *(f"corner {k}" for k in range(1, measured.corners + 1)), "right")
    falls = {
        run: measured.estimate(measured.entry(f"curb {a}") - measured.entry(f"curb {b}"))
        for run, (a, b) in enumerate(pairwise(names), 1)
        if not covered(measured, run)
    }
    parts = (
        phrase("run {run}, {falls}", run=run, falls=_lower(fall, units))
        for run, fall in falls.items()
    )
    return phrase("Curb: {falls}", falls=join("; ", parts))


def _step(measured: Opening, step: StepShape, units: Units) -> str:
    """Risers and cap of a step, with their plus-minus; from the left end of its run."""
    start = measured.start(step.run)
    risers = [
        phrase(
            "{riser} at {place}",
            riser=f"{side} riser",
            place=both(measured.estimate(x - start), units),
        )
        for side, x in (("left", step.left), ("right", step.right))
        if measured.knows(f"step {step.name} {side}")
    ]
    tops = [measured.estimate(z) for z in (step.top_left, step.top_right)]
    if figure(units, tops[0].value, fine=True) == figure(units, tops[1].value, fine=True):
        cap = phrase("cap at {height}", height=both(tops[0], units))
    else:
        left, right = (both(top, units) for top in tops)
        cap = phrase("cap at {left} left, {right} right", left=left, right=right)
    name, places = capital(as_typed(step.name)), join(", ", (*risers, cap))
    if measured.corners:
        return phrase("{step} in run {run}: {places}", step=name, run=step.run, places=places)
    return phrase("{step}: {places}", step=name, places=places)


def _ceiling(measured: Opening, units: Units) -> Iterator[str]:
    if measured.knows("ceiling"):
        height = " ".join(known(measured.estimate(measured.entry("ceiling")), units))
        yield phrase("Ceiling: {heights}", heights=height)
    elif measured.has_ceiling:
        names = ("left", *(f"corner {k}" for k in range(1, measured.corners + 1)), "right")
        parts = [
            phrase(
                "{height} {place}",
                height=both(measured.estimate(measured.entry(f"ceiling {n}")), units),
                place=f"at the {n}" if n in ("left", "right") else phrase("at {corner}", corner=n),
            )
            for n in names
        ]
        yield phrase("Ceiling: {heights}", heights=join(", ", parts))


def _suspicions(measured: Opening) -> tuple[str, ...]:
    """What was doubted of the readings, one line each, the most probable first."""
    named = measured.agreement.named
    if named is not None:
        return (
            phrase(
                "Ringed: reading {reading} was set aside, it looks like a slip: {slip}",
                reading=named.reading,
                slip=named.slip,
            ),
        )
    if not measured.agreement.alarm:
        return ()
    return tuple(
        phrase("Ringed: reading {reading}, perhaps {slip}", reading=s.reading, slip=s.slip)
        for s in measured.agreement.suspects[:3]
    )
