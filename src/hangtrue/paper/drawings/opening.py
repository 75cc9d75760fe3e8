"""The opening as measured: walls with their lean multiplied, how well known, and what was read."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace
from itertools import pairwise

from hangtrue.estimate import NORMAL
from hangtrue.geometry import Point
from hangtrue.job.brief import Brief
from hangtrue.job.readings import Bow, CornerAngle, Diagonal, Lean, Offset, Reading, Side, Width
from hangtrue.measure.opening import Linear, Opening
from hangtrue.paper import lettering
from hangtrue.paper.dimensions import CLEAR, LINE_FEED
from hangtrue.paper.drawings import frame
from hangtrue.paper.drawings.opening_words import known, notes, said
from hangtrue.paper.drawings.reach import ceiling_at, meets_ceiling
from hangtrue.paper.drawings.stretched import OVER, REACH, WALL, Stretched, stretched
from hangtrue.paper.language import told
from hangtrue.paper.lengths import Units, units_of
from hangtrue.paper.scene import (
    LETTER,
    Circle,
    Dimension,
    Hatch,
    Line,
    Path,
    Primitive,
    Sheet,
    Text,
)
from hangtrue.paper.standing import covered
from hangtrue.paper.tables import capital
from hangtrue.paper.words import angle_words, units_line
from hangtrue.phrase import join, phrase

NINE_IN_TEN = NORMAL.inv_cdf(0.95)
"""Standard deviations each side that hold nine times in ten."""
DOT = 0.7
KEY = ("dots: read there", "hatched: 9 in 10", "±: 2 sd")
STUB = 9.0
"""Drawn length of each end of a diagonal, mm."""


def opening(brief: Brief, measured: Opening) -> Sheet:
    """Draw the opening as measured."""
    units = units_of(brief)
    words_below = notes(brief, measured, units)
    deep = -min((t.at[1] for t in words_below), default=0.0)
    foot = frame.CAPTION + 2.0 + deep + LINE_FEED
    drawn, height = stretched(brief, measured, units, foot)
    parts = (
        *(p for side in measured.walls for p in _wall(drawn, side)),
        *_curb(drawn),
        *_steps(drawn),
        *_ceiling(brief, drawn),
        *_corners(drawn),
        *_widths(brief, drawn, units),
        *_places(brief, drawn),
        *(replace(t, at=(t.at[0], foot - LINE_FEED + 1.0 + t.at[1])) for t in words_below),
    )
    factor = phrase("lean drawn × {factor}", factor=drawn.factor) if drawn.factor > 1 else ""
    seen = "Laid flat, from outside" if measured.corners else "Seen from outside"
    words = (seen, frame.scale_words(drawn.view.words), factor, units_line(units), *KEY)
    return Sheet(
        name="opening",
        width=frame.WIDTH,
        height=height,
        title="Opening as measured, seen from outside",
        description=_description(brief, measured, units),
        primitives=(*parts, *frame.caption(words)),
        scale=drawn.view.words,
    )


def _description(brief: Brief, measured: Opening, units: Units) -> str:
    """Say the opening to somebody who cannot see it."""
    lines = (
        phrase("{wall}: {line}.", wall=capital(f"{side} wall"), line=line)
        for side in measured.walls
        for line in said(brief, measured, side, units)
    )
    return join(" ", lines)


def _wall(drawn: Stretched, side: Side) -> Iterable[Primitive]:
    """Face with its band, the cut behind it, and a plumb line from its foot."""
    face = [drawn.face(side, z) for z in drawn.levels(side)]
    outward = -1.0 if side == "left" else 1.0
    back = drawn.view.at((drawn.feet[side], 0.0))[0] + outward * (WALL + REACH)
    yield Hatch(outline=(*face, (back, face[-1][1]), (back, face[0][1])), layer="wall", spacing=1.8)
    yield Path(points=tuple(face), closed=False, layer="wall", weight="middle")
    lows = [drawn.face(side, z, -NINE_IN_TEN) for z in drawn.levels(side)]
    highs = [drawn.face(side, z, NINE_IN_TEN) for z in drawn.levels(side)]
    yield Hatch(
        outline=(*lows, *reversed(highs)),
        layer="uncertainty",
        slant_deg=135.0,
        spacing=1.0,
        tone="cool",
    )
    foot, top = (drawn.view.at((drawn.feet[side], z)) for z in (drawn.starts[side], drawn.high))
    yield Line(start=foot, end=(top[0], top[1] + 3.0), layer="centre", stroke="long-dash-dot")


def _curb(drawn: Stretched) -> Iterable[Primitive]:
    """Top of the curb with its fall multiplied, its band, and the level line of the datum.

    Left out under a step that covers a whole run.
    """
    names = ("left", *(f"corner {k}" for k in range(1, drawn.opening.corners + 1)), "right")
    for run, (one, other) in enumerate(pairwise(names), 1):
        if covered(drawn.opening, run):
            continue
        yield Line(start=drawn.curb(one), end=drawn.curb(other), layer="curb", weight="middle")
        band = (
            drawn.curb(one, -NINE_IN_TEN),
            drawn.curb(other, -NINE_IN_TEN),
            drawn.curb(other, NINE_IN_TEN),
            drawn.curb(one, NINE_IN_TEN),
        )
        yield Hatch(outline=band, layer="uncertainty", slant_deg=135.0, spacing=1.0, tone="cool")
    y = drawn.view.origin[1]
    left, right = drawn.curb("left")[0], drawn.curb("right")[0]
    yield Line(start=(left, y), end=(right, y), layer="centre", stroke="long-dash-dot")


def _steps(drawn: Stretched) -> Iterable[Primitive]:
    """Outline of each step, to scale, and its name on its front."""
    value = drawn.opening.estimate
    for step in drawn.opening.standing:
        left, right = value(step.cap_left).value, value(step.cap_right).value
        tops = (left, value(step.top_left).value), (right, value(step.top_right).value)
        course = ((left, drawn.low), *tops, (right, drawn.low))
        yield Path(points=drawn.view.all(course), closed=False, layer="curb", weight="middle")


def _ceiling(brief: Brief, drawn: Stretched) -> Iterable[Primitive]:
    """Ceiling that the glass meets, to scale, from end to end."""
    if not meets_ceiling(brief, drawn.opening):
        return
    numbers = range(1, drawn.opening.corners + 1)
    corners = [drawn.opening.estimate(drawn.opening.corner(k)).value for k in numbers]
    places = (drawn.feet["left"], *corners, drawn.feet["right"])
    line = drawn.view.all((x, ceiling_at(drawn.opening, x)) for x in places)
    yield Path(points=line, closed=False, layer="wall", weight="middle")


def _corners(drawn: Stretched) -> Iterable[Primitive]:
    """Plumb line of each corner with its number and its inside angle over it."""
    marks = _marks(drawn)
    room = min((b[0] - a[0] for a, b in pairwise(marks)), default=frame.WIDTH)
    for number, (x, foot) in enumerate(marks, 1):
        top = drawn.view.at((0.0, drawn.high))[1] + OVER - 1.0 - LINE_FEED
        yield Line(start=(x, foot), end=(x, top), layer="centre", stroke="long-dash-dot")
        angle = angle_words(drawn.opening.estimate(drawn.opening.angle(number)))
        whole = told(phrase("corner {number}: {angle}", number=number, angle=angle))
        words = whole if lettering.width(whole, LETTER) < room - 2.0 else f"{number}"
        yield Text(at=(x, top + 1.0), words=words, anchor="middle")


def _marks(drawn: Stretched) -> tuple[Point, ...]:
    """Foot of each corner's plumb line on paper."""
    numbers = range(1, drawn.opening.corners + 1)
    places = (drawn.opening.estimate(drawn.opening.corner(k)).value for k in numbers)
    return tuple(drawn.view.at((x, drawn.low)) for x in places)


def _widths(brief: Brief, drawn: Stretched, units: Units) -> Iterable[Primitive]:
    """Estimated width of each run with its plus-minus at every height where one was read."""
    measured = drawn.opening
    last = measured.corners + 1
    read = {(r.run, float(r.at)) for r in brief.job.readings if isinstance(r, Width)}
    for run, z in sorted(read):
        ends = ("left" if run == 1 else "", "right" if run == last else "")
        if any(side and side not in measured.walls for side in ends):
            continue
        wide = measured.estimate(_edge(measured, run, z, right=True) - _edge(measured, run, z))
        yield from _width(drawn, (run, z), [w for w in known(wide, units) if w])


def _edge(measured: Opening, run: int, z: float, *, right: bool = False) -> Linear:
    """End of a run at a height: the wall's face or the corner."""
    return measured.stop(run, z) if right else measured.start(run, z)


def _width(drawn: Stretched, at: tuple[int, float], figures: list[str]) -> Iterable[Primitive]:
    """Dimension from face to face; its figures stand clear of faces and plumb lines.

    Where it is narrow the units stand over each other; where it is too narrow for either, the
    table beside the drawing says it alone.
    """
    run, z = at
    left, right = _end(drawn, run, z, right=False), _end(drawn, run, z, right=True)
    plumb = [_plumb(drawn, run, right=False), _plumb(drawn, run, right=True)]
    low, high = _clear_of_steps(drawn, at, (max(left[0], plumb[0]), min(right[0], plumb[1])))
    whole = " ".join(figures)
    fits = lettering.width(whole, LETTER) < high - low - 2.0
    if not fits and max(lettering.width(w, LETTER) for w in figures) > high - low - 1.0:
        return
    yield Dimension(start=left, end=right, line=left[1], words="")
    for i, words in enumerate([whole] if fits else reversed(figures)):
        text_at = ((low + high) / 2, left[1] + CLEAR + i * LINE_FEED)
        yield Text(at=text_at, words=words, anchor="middle", layer="dimension")


def _clear_of_steps(
    drawn: Stretched, at: tuple[int, float], ends: tuple[float, float]
) -> tuple[float, float]:
    """Part of a width, on paper, that no riser of a step stands in."""
    run, z = at
    low, high = ends
    for step in drawn.opening.standing:
        left, right = (
            drawn.view.at((drawn.opening.estimate(x).value, z))[0]
            for x in (step.cap_left, step.cap_right)
        )
        if step.run != run or drawn.opening.estimate(step.top_left).value < z:
            continue
        if left - low >= high - right:
            high = min(high, max(left, low))
        else:
            low = max(low, min(right, high))
    return low, high


def _end(drawn: Stretched, run: int, z: float, *, right: bool) -> Point:
    """End of a run on paper at a height: face of the wall, or the corner's plumb line."""
    if right:
        last = run > drawn.opening.corners
        return drawn.face("right", z) if last else (_marks(drawn)[run - 1][0], _level(drawn, z))
    return drawn.face("left", z) if run == 1 else (_marks(drawn)[run - 2][0], _level(drawn, z))


def _level(drawn: Stretched, z: float) -> float:
    return drawn.view.at((0.0, z))[1]


def _plumb(drawn: Stretched, run: int, *, right: bool) -> float:
    """x on paper of the plumb line from a run's end."""
    if right and run > drawn.opening.corners:
        return drawn.view.at((drawn.feet["right"], 0.0))[0]
    if not right and run == 1:
        return drawn.view.at((drawn.feet["left"], 0.0))[0]
    return _marks(drawn)[run - 1 if right else run - 2][0]


def _places(brief: Brief, drawn: Stretched) -> Iterable[Primitive]:
    """Dots where something was read; a ring where the reading is doubted."""
    doubted = {s.reading for s in drawn.opening.agreement.suspects} | set(drawn.opening.set_aside)
    dots: dict[tuple[str | int, float], bool] = {}
    for reading in brief.job.readings:
        for place in _where(reading, drawn.opening):
            dots[place] = dots.get(place, False) or reading.id in doubted
        if isinstance(reading, Diagonal) and len(drawn.opening.walls) > 1:
            yield from _stubs(drawn, reading)
    for (what, z), doubt in dots.items():
        at = drawn.face(what, z) if isinstance(what, str) else _mark(drawn, what, z)  # type: ignore[arg-type]
        yield Circle(centre=at, radius=DOT, layer="dimension", fill="solid")
        if doubt:
            yield Circle(centre=at, radius=3 * DOT, layer="dimension", weight="middle", tone="warm")


def _mark(drawn: Stretched, corner: int, z: float) -> Point:
    """Point of a corner's plumb line on paper."""
    return (_marks(drawn)[corner - 1][0], _level(drawn, z))


def _where(reading: Reading, measured: Opening) -> Iterable[tuple[str | int, float]]:
    """Places on walls and corners (by their number) that a reading touches."""
    match reading:
        case Width():
            yield from ((place, float(reading.at)) for place in _run_ends(measured, reading.run))
        case Lean():
            yield from ((reading.wall, float(z)) for z in (reading.from_, reading.to))
        case Bow():
            middle = (reading.from_ + reading.to) / 2 if reading.at is None else reading.at
            yield from ((reading.wall, float(z)) for z in (reading.from_, middle, reading.to))
        case Offset():
            yield (reading.wall, float(reading.at))
        case Diagonal():
            ends = _run_ends(measured, reading.run)
            if len(ends) > 1:
                yield (ends[0], float(reading.left_at))
                yield (ends[1], float(reading.right_at))
        case CornerAngle():
            yield (reading.wall, 0.0)


def _run_ends(measured: Opening, run: int) -> tuple[str | int, ...]:
    """What a run ends at: walls by their side, corners by their number; nothing at a free end."""
    left: str | int = "left" if run == 1 else run - 1
    right: str | int = "right" if run > measured.corners else run
    return tuple(e for e in (left, right) if isinstance(e, int) or e in measured.walls)


def _stubs(drawn: Stretched, reading: Diagonal) -> Iterable[Primitive]:
    """Both ends of a diagonal; its middle would only cross the figures."""
    a = _end(drawn, reading.run, float(reading.left_at), right=False)
    b = _end(drawn, reading.run, float(reading.right_at), right=True)
    share = STUB / math.dist(a, b)
    step = ((b[0] - a[0]) * share, (b[1] - a[1]) * share)
    for start, sign in ((a, 1), (b, -1)):
        end = (start[0] + sign * step[0], start[1] + sign * step[1])
        yield Line(start=start, end=end, layer="dimension", stroke="dashed")
