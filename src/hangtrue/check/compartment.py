"""The floor of a shower in plan: its outline between glass and walls, its area, its widest circle.

Points are (x, y) in mm, x along the front of the glass and y into the shower.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

from shapely import LineString, Polygon, box, maximum_inscribed_circle
from shapely.geometry.base import BaseGeometry

from hangtrue.geometry import Outline, Point, anticlockwise
from hangtrue.source import cites

CLOSE: Final = 0.1
"""mm by which the widest circle may be understated."""
FAR: Final = 1e5
"""Farther than any wall of a shower, mm."""
ONE_WALL: Final = math.radians(10)
"""Two walls that face each other's ends as closely as this are one wall."""


def floor_area(outline: Sequence[Point]) -> float:
    """Area of a floor, mm2."""
    return float(Polygon(outline).area)


def largest_circle(outline: Sequence[Point]) -> float:
    """Diameter of the largest circle that a floor holds, mm; understated by CLOSE at most."""
    radius = maximum_inscribed_circle(Polygon(outline), tolerance=CLOSE / 2)
    return 2.0 * float(radius.length)


@cites("own", "circle that touches two walls and the glass across the corner between them")
def corner_compartment(side: float, cut: float) -> tuple[float, float]:
    """Largest circle and area of a square floor with one corner cut off at 45°.

    Parameters
    ----------
    side
        Of the square, mm.
    cut
        Taken off each of two sides, mm, from 0 to `side`.

    Returns
    -------
    diameter, area
        mm and mm2.

    Examples
    --------
    >>> circle, area = corner_compartment(34.0, 16.0)
    >>> round(circle, 2), area
    (30.46, 1028.0)

    """
    across = 2.0 * (2.0 * side - cut) / (2.0 + math.sqrt(2.0))
    return min(side, across), side**2 - cut**2 / 2.0


def floor(
    line: Sequence[Point],
    headings: tuple[float, float],
    depth: float | None = None,
    taken: Sequence[tuple[Point, Point, float]] = (),
) -> Outline | None:
    """Outline of the floor between the glass line and the walls, anticlockwise.

    The walls at the two ends run on until they meet in a corner of the room; where both ends are on
    one wall, that closes the floor; where they face each other, only the depth does.

    Parameters
    ----------
    line
        Middle of the glass in plan, from left to right.
    headings
        Direction of the left and of the right wall from the glass into the shower, rad from x to y.
    depth
        y of the wall behind, mm; None where nobody knows.
    taken
        What stands on the line and takes away floor: its two ends, and how far it reaches in.

    Returns
    -------
    outline
        None where the floor is not closed by what is known.

    """
    behind = _behind(line, headings, bounded=depth is not None)
    if behind is None:
        return None
    whole: BaseGeometry = Polygon([*line, *behind])
    if not whole.is_valid:
        return None
    if depth is not None:
        whole = whole.intersection(box(-2 * FAR, -2 * FAR, 2 * FAR, depth))
    for start, end, reach in taken:
        if reach > 0.0:
            whole = whole.difference(LineString([start, end]).buffer(reach, cap_style="flat"))
    parts = [part for part in getattr(whole, "geoms", [whole]) if isinstance(part, Polygon)]
    largest = max(parts, key=lambda part: part.area, default=None)
    if largest is None or largest.is_empty:
        return None
    return anticlockwise((x, y) for x, y in largest.exterior.coords[:-1])


def _behind(
    line: Sequence[Point], headings: tuple[float, float], *, bounded: bool
) -> list[Point] | None:
    """Corners of the floor behind the glass, from the right wall to the left one."""
    (x0, y0), (x1, y1) = line[0], line[-1]
    (ax, ay), (bx, by) = ((math.cos(h), math.sin(h)) for h in headings)
    turn = ax * by - ay * bx
    dx, dy = x1 - x0, y1 - y0
    if ax * bx + ay * by < -math.cos(ONE_WALL):
        aside = abs(ax * dy - ay * dx) / math.hypot(dx, dy)
        return [] if aside < math.sin(ONE_WALL) else None
    if turn:
        along, beyond = (dx * by - dy * bx) / turn, (dx * ay - dy * ax) / turn
        if 0.0 <= along < FAR / 10 and 0.0 <= beyond < FAR / 10:
            return [(x0 + along * ax, y0 + along * ay)]
    if not bounded:
        return None
    return [(x1 + FAR / 10 * bx, y1 + FAR / 10 * by), (x0 + FAR / 10 * ax, y0 + FAR / 10 * ay)]
