"""Plane figures of glass: outlines, corners, areas.

Points are (x, y) in mm; outlines run anticlockwise.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from shapely import Polygon, snap
from shapely.geometry.base import BaseGeometry
from shapely.geometry.polygon import orient

Point = tuple[float, float]
Outline = tuple[Point, ...]

SAME = 1e-6
"""Points no further apart are one, mm."""


@dataclass(frozen=True, slots=True)
class Figure:
    """Area properties of a figure with holes.

    Attributes
    ----------
    area
        mm2, holes taken out.
    centroid
        (x, y) in mm.
    perimeter
        Length of the outer edge, mm; the edge metres a plant grinds.

    """

    area: float
    centroid: Point
    perimeter: float


def anticlockwise(points: Iterable[Point]) -> Outline:
    """Return the outline in anticlockwise order, without the closing point."""
    ring = orient(Polygon(list(points))).exterior
    return tuple((x, y) for x, y in ring.coords[:-1])


def is_simple(outline: Sequence[Point]) -> bool:
    """Whether the outline neither crosses nor touches itself and encloses an area."""
    polygon = Polygon(outline)
    return polygon.is_valid and polygon.area > 0


def figure(outline: Sequence[Point], openings: Iterable[Sequence[Point]] = ()) -> Figure:
    """Area, centroid and outer perimeter of an outline less its openings."""
    polygon = Polygon(outline, [list(o) for o in openings])
    centre = polygon.centroid
    edge = polygon.exterior.length
    return Figure(area=polygon.area, centroid=(centre.x, centre.y), perimeter=edge)


def less(outline: Sequence[Point], notches: Iterable[Sequence[Point]]) -> Outline:
    """Outline with notches taken out of its edge, anticlockwise.

    Raises
    ------
    ValueError
        If a notch cuts the figure in two or swallows it.

    """
    rest: BaseGeometry = Polygon(outline)
    for notch in map(Polygon, notches):
        # On a raking edge a notch ends a rounding error beside it: one shared corner, no spike.
        rest = snap(rest, notch, SAME).difference(notch)
    if not isinstance(rest, Polygon) or rest.is_empty:
        msg = "the notches leave no single pane"
        raise ValueError(msg)
    return anticlockwise((x, y) for x, y in rest.exterior.coords[:-1])


def at_height(low: Point, high: Point, y: float) -> float:
    """x of the straight edge from `low` to `high` at height y (extended beyond its ends)."""
    (x0, y0), (x1, y1) = low, high
    return x0 + (x1 - x0) * (y - y0) / (y1 - y0)


def common(outline: Sequence[Point], other: Sequence[Point]) -> Outline:
    """Outline of what two figures share, anticlockwise; empty where they share no area."""
    both = Polygon(outline).intersection(Polygon(other))
    if not isinstance(both, Polygon) or not both.area:
        return ()
    return anticlockwise((x, y) for x, y in both.exterior.coords[:-1])


def evenly(low: float, high: float, apart_most: float) -> tuple[float, ...]:
    """Places from low to high, both ends included, evenly and no further apart than said.

    Examples
    --------
    >>> evenly(0.0, 100.0, 60.0)
    (0.0, 50.0, 100.0)

    """
    if high <= low:
        return ((low + high) / 2,)
    steps = max(1, math.ceil((high - low) / apart_most - 1e-9))
    return tuple(low + (high - low) * k / steps for k in range(steps + 1))
