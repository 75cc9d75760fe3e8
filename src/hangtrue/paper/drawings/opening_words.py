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
from hangtrue.paper.words import angle_words, figure

PARAGRAPH = 1.8
"""Between the words about the walls and those about the curb, mm."""
COLUMN = 86.0
"""Width of the words about one wall, mm."""


def said(brief: Brief, measured: Opening, side: Side, units: Units) -> tuple[str, ...]:
    """What a wall does, in words with figures."""
    low, high = max(measured.heights[0], foot_of(measured, side)), measured.heights[-1]
    middle = (low + high) / 2
    over = figure(units, high - low)
    lean = measured.estimate(measured.lean(side, low, high))
    bow = measured.estimate(measured.bow(side, low, middle, high))
    lines = [
        f"leans {_way(lean, 'in', 'out')} {both(lean.size(), units)} over {over}",
        f"bellies {_way(bow, 'in', 'out')} {both(bow.size(), units)}",
    ]
    if not _read_across(brief, side):
        lines.append("across the glass: not read")
    elif measured.knows(f"across {side}"):
        across = measured.estimate(measured.entry(f"across {side}")).scaled(high - low)
        toward = _way(across, "into the shower", "out of the shower")
        lines.append(f"top leans {toward} {both(across.size(), units)}")
    if measured.knows(f"square {side}"):
        square = measured.estimate(measured.entry(f"square {side}"))
        inside = Estimate(math.pi / 2 + square.value, square.sd)
        lines.append(f"stands at {angle_words(inside)} to the glass line in plan")
    return tuple(lines)


def _read_across(brief: Brief, side: Side) -> bool:
    return any(
        isinstance(r, Lean) and r.wall == side and r.plane == "across" for r in brief.job.readings
    )


def _way(length: Estimate, positive: str, negative: str) -> str:
    return positive if length.value >= 0 else negative


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
    told: list[Text] = []
    for words in lines:
        tone: Tone = "warm" if words in doubts else "ink"
        for part in frame.paragraph(words, (0.0, y), frame.WIDTH):
            told.append(Text(at=part.at, words=part.words, tone=tone))
            y -= LINE_FEED
    return (*walls, *told)


def _column(brief: Brief, measured: Opening, side: Side, units: Units) -> Iterable[Text]:
    """Name of a wall and what it does, on its own side of the sheet."""
    x = frame.WIDTH - COLUMN if side == "right" else 0.0
    wall = brief.job.wall(side)
    name = f"{side} wall" + (f": {wall.name}" if wall and wall.name else "")
    y = 0.0
    for i, line in enumerate((name.capitalize(), *said(brief, measured, side, units))):
        lines = frame.paragraph(line, (x, y), COLUMN, bold=i == 0)
        yield from lines
        y -= LINE_FEED * len(lines)


def _corners(brief: Brief, measured: Opening) -> Iterator[str]:
    """Inside angle of each corner, and which way the line turns there."""
    turns = brief.job.wanted.turns
    parts = [
        f"corner {k}: {angle_words(measured.estimate(measured.angle(k)))}"
        + ("" if turns[k - 1].way == "in" else ", turns outward")
        for k in range(1, measured.corners + 1)
    ]
    if parts:
        yield f"Inside angles: {'; '.join(parts)}"


def _curb(brief: Brief, measured: Opening, units: Units) -> Iterator[str]:
    if measured.knows("curb left") and measured.knows("curb right"):
        if measured.corners:
            if not all(covered(measured, run) for run in range(1, measured.corners + 2)):
                yield _curb_by_run(measured, units)
        else:
            fall = measured.estimate(measured.entry("curb left") - measured.entry("curb right"))
            yield f"Curb: {_way(fall, 'right', 'left')} end lower by {both(fall.size(), units)}"
    if measured.knows("pitch"):
        width = float(brief.job.threshold.width)
        pitch = measured.estimate(measured.entry("pitch")).scaled(width)
        way = _way(pitch, "into the shower", "out of the shower")
        over = f"over its width of {figure(units, width)}"
        yield f"Curb: falls {way} {both(pitch.size(), units)} {over}"


def _curb_by_run(measured: Opening, units: Units) -> str:
    """Fall of the curb along each run, from left to right."""
    names = ("left", *(f"corner {k}" for k in range(1, measured.corners + 1)), "right")
    falls = {
        run: measured.estimate(measured.entry(f"curb {a}") - measured.entry(f"curb {b}"))
        for run, (a, b) in enumerate(pairwise(names), 1)
        if not covered(measured, run)
    }
    parts = (
        f"run {run}, {_way(fall, 'right', 'left')} end lower by {both(fall.size(), units)}"
        for run, fall in falls.items()
    )
    return f"Curb: {'; '.join(parts)}"


def _step(measured: Opening, step: StepShape, units: Units) -> str:
    """Risers and cap of a step, with their plus-minus; from the left end of its run."""
    start = measured.start(step.run)
    run = f" in run {step.run}" if measured.corners else ""
    risers = [
        f"{side} riser at {both(measured.estimate(x - start), units)}"
        for side, x in (("left", step.left), ("right", step.right))
        if measured.knows(f"step {step.name} {side}")
    ]
    tops = [measured.estimate(z) for z in (step.top_left, step.top_right)]
    if figure(units, tops[0].value, fine=True) == figure(units, tops[1].value, fine=True):
        cap = f"cap at {both(tops[0], units)}"
    else:
        cap = f"cap at {both(tops[0], units)} left, {both(tops[1], units)} right"
    return f"{step.name.capitalize()}{run}: {', '.join((*risers, cap))}"


def _ceiling(measured: Opening, units: Units) -> Iterator[str]:
    if measured.knows("ceiling"):
        yield f"Ceiling: {' '.join(known(measured.estimate(measured.entry('ceiling')), units))}"
    elif measured.has_ceiling:
        names = ("left", *(f"corner {k}" for k in range(1, measured.corners + 1)), "right")
        parts = [
            f"{both(measured.estimate(measured.entry(f'ceiling {n}')), units)} at the {n}"
            for n in names
        ]
        yield f"Ceiling: {', '.join(parts)}".replace("at the corner", "at corner")


def _suspicions(measured: Opening) -> tuple[str, ...]:
    """What was doubted of the readings, one line each, the most probable first."""
    named = measured.agreement.named
    if named is not None:
        return (
            f"Ringed: reading {named.reading} was set aside, it looks like a slip: {named.slip}",
        )
    if not measured.agreement.alarm:
        return ()
    return tuple(
        f"Ringed: reading {s.reading}, perhaps {s.slip}" for s in measured.agreement.suspects[:3]
    )
