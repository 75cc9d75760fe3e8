"""Readings as equations: what each reading should say for a given shape of the opening.

An equation is the reading's value near that shape, `constant + sum(coefficient * unknown)`, so that
straight readings are exact and the others (diagonals, triangles, falls over part of the curb) need
a few passes.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from typing import Any

from hangtrue.job.readings import (
    Bow,
    Corner,
    CornerAngle,
    Diagonal,
    Fall,
    Height,
    Lean,
    Offset,
    Pitch,
    Reading,
    Side,
    Square,
    Triangle,
    Width,
)
from hangtrue.measure.habits import usual
from hangtrue.measure.layout import Equation, Layout, bounded, middle, value
from hangtrue.measure.linear import Array, Terms
from hangtrue.source import cites
from hangtrue.units import Slope

SQUARE = math.pi / 2


def touches(reading: Reading, walls: tuple[Side, ...], runs: int = 1) -> bool:
    """Whether every wall, run and corner that a reading is about is there."""
    match reading:
        case Width() | Diagonal():
            return bounded(reading.run, walls, runs)
        case Lean() | Offset() | Bow() | CornerAngle() | Square():
            return reading.wall in walls
        case Fall() | Pitch():
            return reading.run <= runs
        case Corner() | Triangle():
            return reading.corner < runs
        case Height(at=at):
            return not at.startswith("corner ") or int(at.removeprefix("corner ")) < runs


def span(reading: Reading, layout: Layout, unknowns: Array) -> float:
    """Length that a slope was read over, mm; 1 for readings that are no slope."""
    match reading:
        case Lean():
            return float(reading.to - reading.from_)
        case Fall(over=over, run=run):
            whole = curb_length(layout, run, unknowns)
            return float(over) if over is not None else whole.at(unknowns)
        case Pitch(over=over):
            return float(over) if over is not None else layout.curb_width
        case _:
            return 1.0


def observed(reading: Reading, over: float) -> float:
    """Value as read with its sign, mm (slopes as the offset over the length read; angles rad)."""
    amount = float(reading.value) * (over if isinstance(reading.value, Slope) else 1.0)
    match reading:
        case Lean(toward="out") | Bow(toward="out") | Pitch(falls="out") | Fall(falls="left"):
            return -amount
        case _:
            return amount


def equation(reading: Reading, layout: Layout, unknowns: Array) -> Equation:
    """Say what a reading should be near the given unknowns, shape (n,)."""
    bent = _BENT.get(reading.what)
    return bent(reading, layout, unknowns) if bent else _STRAIGHT[reading.what](reading, layout)


def inward(side: Side) -> float:
    """Sign of x that points from a wall into the opening."""
    return 1.0 if side == "left" else -1.0


def curb_length(layout: Layout, run: int, unknowns: Array) -> Equation:
    """Length of the curb under a run at its own height; 0 if an end is free and nobody said."""
    if not layout.bounded(run):
        return Equation((), layout.stated[run - 1] or 0.0)
    start, stop = layout.ends(run)
    curb = layout.entry(f"curb {start}", 0.5) + layout.entry(f"curb {stop}", 0.5)
    foot = value(curb, unknowns)
    return Equation(between(layout, run, foot, foot))


def between(layout: Layout, run: int, left_at: float, right_at: float) -> Terms:
    """Level distance from the left end of a run at one height to its right end at another."""
    return layout.stop(run, right_at) + layout.start(run, left_at, -1.0)


@cites("own", "law of cosines")
def third_side(before: float, after: float, angle: float) -> float:
    """Distance of the ends of two legs, mm, that meet at an angle, rad.

    value² = before² + after² - 2 before after cos angle
    """
    return math.sqrt(max(before**2 + after**2 - 2.0 * before * after * math.cos(angle), 0.0))


def _width(reading: Width, layout: Layout) -> Equation:
    return Equation(between(layout, reading.run, reading.at, reading.at))


def _pitch(reading: Pitch, layout: Layout) -> Equation:
    over = reading.over if reading.over is not None else layout.curb_width
    return Equation(layout.entry(layout.pitch(reading.run), float(over)))


def _lean(reading: Lean, layout: Layout) -> Equation:
    side = reading.wall
    if reading.plane == "across":
        return Equation(layout.edge(side, reading.to) + layout.edge(side, reading.from_, -1.0))
    rise = layout.wall(side, reading.to, inward(side))
    return Equation(rise + layout.wall(side, reading.from_, -inward(side)))


def _offset(reading: Offset, layout: Layout) -> Equation:
    sign = inward(reading.wall)
    line = layout.entry(f"line {reading.line}", sign)
    tilt = layout.entry(f"tilt {reading.line}", sign * reading.at)
    return Equation(line + tilt + layout.wall(reading.wall, reading.at, -sign))


def _bow(reading: Bow, layout: Layout) -> Equation:
    sign, side, at = inward(reading.wall), reading.wall, middle(reading)
    share = (at - reading.from_) / (reading.to - reading.from_)
    chord = layout.wall(side, reading.from_, -sign * (1.0 - share))
    return Equation(
        chord + layout.wall(side, reading.to, -sign * share) + layout.wall(side, at, sign)
    )


def _corner(reading: Corner, layout: Layout) -> Equation:
    return Equation(layout.entry(f"angle {reading.corner}"))


def _square(reading: Square, layout: Layout) -> Equation:
    return Equation(layout.entry(f"square {reading.wall}"), SQUARE)


def _height(reading: Height, layout: Layout, unknowns: Array) -> Equation:
    of: str = reading.of
    if of in layout.names:
        return Equation(layout.entry(of))
    if reading.at != "middle":
        return Equation(layout.entry(f"{of} {reading.at}"))
    if layout.runs == 1:
        return Equation(layout.entry(f"{of} left", 0.5) + layout.entry(f"{of} right", 0.5))
    return _halfway(of, layout, unknowns)


def _halfway(of: str, layout: Layout, unknowns: Array) -> Equation:
    """Height of curb or ceiling in the middle of the developed line, between two stations."""
    places = [layout.station(name, layout.glass[0]) for name in layout.stations]
    half = tuple((i, 0.5 * a) for place in (places[0], places[-1]) for i, a in place.terms)
    x = (places[0].at(unknowns) + places[-1].at(unknowns)) / 2
    run = next(
        (k for k, place in enumerate(places[1:-1], 1) if x < place.at(unknowns)), layout.runs
    )
    low, high = places[run - 1], places[run]
    length = high.at(unknowns) - low.at(unknowns)
    share = (x - low.at(unknowns)) / length if length > 0.0 else 0.5
    names = [f"{of} {end}" for end in layout.ends(run)]
    start, stop = (layout.entry(name) for name in names)
    heights = _times(start, 1.0 - share) + _times(stop, share)
    slope = (value(stop, unknowns) - value(start, unknowns)) / length if length > 0.0 else 0.0
    beside = half + _times(low.terms, share - 1.0) + _times(high.terms, -share)
    terms = heights + _times(beside, slope)
    return Equation(terms, value(heights, unknowns) - value(terms, unknowns), straight=False)


def _diagonal(reading: Diagonal, layout: Layout, unknowns: Array) -> Equation:
    """Linearise the distance of two points: cosine of its slope times the level distance."""
    level = between(layout, reading.run, reading.left_at, reading.right_at)
    across = value(level, unknowns)
    length = math.hypot(across, reading.right_at - reading.left_at)
    terms = _times(level, across / length)
    return Equation(terms, length - value(terms, unknowns), straight=False)


def _triangle(reading: Triangle, layout: Layout, unknowns: Array) -> Equation:
    """Linearise the law of cosines: d value / d angle = before after sin angle / value."""
    turn = layout.entry(f"angle {reading.corner}")
    angle, (a, b) = value(turn, unknowns), (reading.before, reading.after)
    side = third_side(a, b, angle)
    terms = _times(turn, a * b * math.sin(angle) / side if side > 0.0 else 0.0)
    return Equation(terms, side - value(terms, unknowns), straight=False)


def _fall(reading: Fall, layout: Layout, unknowns: Array) -> Equation:
    """Fall over the length read; over the whole run where either length is not stated."""
    start, stop = layout.ends(reading.run)
    drop = layout.entry(f"curb {start}") + layout.entry(f"curb {stop}", -1.0)
    whole = curb_length(layout, reading.run, unknowns)
    length = whole.at(unknowns)
    if reading.over is None or length <= 0.0:
        return Equation(drop)
    share = reading.over / length
    fall = value(drop, unknowns) * share
    terms = _times(drop, share) + _times(whole.terms, -fall / length)
    return Equation(terms, fall - value(terms, unknowns), straight=False)


def _angle(reading: CornerAngle, layout: Layout, unknowns: Array) -> Equation:
    """Ninety degrees, less where the wall leans in, less where the curb rises away from it."""
    side = reading.wall
    sign, run = inward(side), 1 if side == "left" else layout.runs
    foot = value(layout.entry(f"curb {side}"), unknowns)
    arm = usual("angle-arm")
    lean = layout.wall(side, foot + arm, sign / arm) + layout.wall(side, foot, -sign / arm)
    start, stop = layout.ends(run)
    rise = layout.entry(f"curb {stop}", sign) + layout.entry(f"curb {start}", -sign)
    whole = curb_length(layout, run, unknowns)
    length = whole.at(unknowns)
    slope, incline = value(lean, unknowns), value(rise, unknowns) / length if length > 0.0 else 0.0
    inside = SQUARE - math.atan(slope) - math.atan(incline)
    terms = _times(lean, -1.0 / (1.0 + slope**2))
    if length > 0.0:
        turn = -1.0 / (1.0 + incline**2)
        terms += _times(rise, turn / length) + _times(whole.terms, -turn * incline / length)
    return Equation(terms, inside - value(terms, unknowns), straight=False)


def _times(terms: Iterable[tuple[int, float]], factor: float) -> Terms:
    return tuple((i, a * factor) for i, a in terms)


_STRAIGHT: dict[str, Callable[[Any, Layout], Equation]] = {
    "width": _width,
    "lean": _lean,
    "offset": _offset,
    "bow": _bow,
    "pitch": _pitch,
    "corner": _corner,
    "square": _square,
}
_BENT: dict[str, Callable[[Any, Layout, Array], Equation]] = {
    "height": _height,
    "diagonal": _diagonal,
    "triangle": _triangle,
    "fall": _fall,
    "angle": _angle,
}
