"""Numbered circles set on the marks of a drawing: none on another, each on its own line."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from shapely import LineString, MultiLineString, Point
from shapely.geometry.base import BaseGeometry
from shapely.ops import nearest_points, unary_union

from hangtrue.geometry import Outline
from hangtrue.geometry import Point as Point2
from hangtrue.paper.scene import Box, Circle, Path, Primitive, Text, Weight

RADIUS = 3.7
"""Of a circle, mm of paper."""
FIGURE = 3.6
"""Height of the number in it, mm: to be read at arm's length with wet hands."""
HEAD = 3.4
"""Length of an arrow head, mm."""
CLEAR = 0.7
"""Between circles, mm."""
SHARES = (0.5, 0.35, 0.65, 0.25, 0.75, 0.42, 0.58, 0.15, 0.85)
"""Where on its line a circle may sit, the first ones rather."""
AROUND = (0.0, 6.0, 9.0, 12.0, 16.0, 20.0, 26.0)
"""Beside its line a circle is tried this far off, with a thin line to it, mm."""
OFF_LINE = 4.0
"""What sitting off its own line costs, in crossed lines."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """What is measured, and where its number may stand.

    Attributes
    ----------
    courses
        Lines that show it.
    signs
        Arrow heads and other small filled signs.
    seats
        Where its circle would rather sit, the best first; empty for along its first course.

    """

    number: int
    courses: tuple[Outline, ...]
    signs: tuple[Path, ...] = ()
    seats: Outline = ()
    weight: Weight = "middle"


def head(tip: Point2, way_deg: float) -> Path:
    """Arrow head larger than that of a dimension, its tip there, pointing along `way_deg`."""
    c, s = math.cos(math.radians(way_deg)), math.sin(math.radians(way_deg))
    back = (tip[0] - HEAD * c, tip[1] - HEAD * s)
    half = HEAD / 5
    points = (
        tip,
        (back[0] - half * s, back[1] + half * c),
        (back[0] + half * s, back[1] - half * c),
    )
    return Path(points=points, layer="dimension", fill="solid")


def ballooned(
    marks: Sequence[Mark], beside: Iterable[BaseGeometry], within: Box
) -> tuple[Primitive, ...]:
    """Draw marks with their numbers; lines are broken where a circle sits on them.

    Parameters
    ----------
    beside
        What is drawn already: a circle crosses as little of it as can be.
    within
        Where circles may sit.

    """
    fixed = tuple(beside)
    lines = {m.number: unary_union([LineString(c) for c in m.courses]) for m in marks}
    taken: list[Point] = []
    placed: list[tuple[Mark, Point]] = []
    for mark in sorted(marks, key=lambda m: (len(_seats(m)), m.number)):
        others = [line for number, line in lines.items() if number != mark.number]
        seat = _seat(mark, lines[mark.number], taken, (*others, *fixed), within)
        taken.append(seat)
        placed.append((mark, seat))
    discs = unary_union([seat.buffer(RADIUS) for seat in taken])
    drawn = [p for mark, seat in placed for p in _drawn(mark, seat, lines[mark.number], discs)]
    return tuple(drawn)


def _seats(mark: Mark) -> Outline:
    if mark.seats:
        return mark.seats
    line = LineString(mark.courses[0])
    places = (line.interpolate(share, normalized=True) for share in SHARES)
    return tuple((p.x, p.y) for p in places)


def _seat(
    mark: Mark,
    own: BaseGeometry,
    taken: Sequence[Point],
    others: Sequence[BaseGeometry],
    within: Box,
) -> Point:
    """Return the seat that crosses fewest lines; on its own line rather than beside it."""
    left, low, right, high = within
    best, least = None, float("inf")
    for rank, place in enumerate(_tried(mark)):
        if not (
            left + RADIUS <= place.x <= right - RADIUS and low + RADIUS <= place.y <= high - RADIUS
        ):
            continue
        if any(place.distance(t) < 2 * RADIUS + CLEAR for t in taken):
            continue
        disc = place.buffer(RADIUS + CLEAR / 2)
        wished = rank < len(mark.seats)
        off = 0.0 if wished or place.distance(own) <= RADIUS else _off_line(place, own)
        cost = sum(line.intersects(disc) for line in others) + off + 0.01 * rank
        if cost < least:
            best, least = place, cost
    return best or Point(_seats(mark)[0])


def _off_line(place: Point, own: BaseGeometry) -> float:
    """What it costs to sit beside its own line."""
    return OFF_LINE + 0.1 * float(place.distance(own))


def _tried(mark: Mark) -> Iterator[Point]:
    """Seats, then places round them."""
    seats = _seats(mark)
    yield from (Point(seat) for seat in seats)
    for far in AROUND[1:]:
        for x, y in seats[:3]:
            for across, up in ((1, 0), (-1, 0), (0, 1), (0, -1), (0.7, 0.7), (-0.7, 0.7),
                               (0.7, -0.7), (-0.7, -0.7)):  # fmt: skip
                yield Point(x + far * across, y + far * up)


def _drawn(mark: Mark, seat: Point, own: BaseGeometry, discs: BaseGeometry) -> Iterator[Primitive]:
    for course in mark.courses:
        for part in _parts(LineString(course).difference(discs)):
            yield Path(points=part, closed=False, layer="dimension", weight=mark.weight)
    yield from mark.signs
    if seat.distance(own) > RADIUS:
        tie = LineString(nearest_points(seat, own)).difference(discs)
        for part in _parts(tie):
            yield Path(points=part, closed=False, layer="dimension")
    yield Circle(centre=(seat.x, seat.y), radius=RADIUS, layer="dimension", weight="middle")
    yield Text(
        at=(seat.x, seat.y - FIGURE / 2),
        words=str(mark.number),
        anchor="middle",
        height=FIGURE,
        bold=True,
    )


def _parts(found: BaseGeometry) -> Iterator[Outline]:
    """Lines of a geometry, in order."""
    listed = found.geoms if isinstance(found, MultiLineString) else (found,)
    for part in listed:
        if isinstance(part, LineString) and part.length > 0.0:
            yield tuple((float(x), float(y)) for x, y in part.coords)
