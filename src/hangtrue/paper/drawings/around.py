"""What stands or hangs around the glass, in plan: boxes, fittings, the room's own door."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from hangtrue.geometry import Outline, Point
from hangtrue.job.room import Obstacle
from hangtrue.paper.drawings import frame
from hangtrue.paper.labels import Label
from hangtrue.paper.scene import Circle, Hatch, Line, Path, Primitive, View
from hangtrue.phrase import as_typed

SIGN = 1.1
"""Radius of the sign of a head, a valve, a handheld, mm of paper."""
ABOVE = ("light",)
"""Kinds that hang over head: dashed in plan."""


def extent(obstacles: Iterable[Obstacle]) -> Iterator[Point]:
    """Points that the drawing must hold."""
    for item in obstacles:
        left, low, right, high = item.plan_box
        yield from ((left, low), (right, high))
        if item.swing:
            yield from leaf(item)[2:3]


def in_plan(obstacles: Iterable[Obstacle], view: View) -> Iterator[Primitive]:
    """Outline of each, and the swing of the room's own door."""
    for item in obstacles:
        left, low, right, high = item.plan_box
        a, b = view.at((left, low)), view.at((right, high))
        if item.width or item.depth:
            dashed = {"stroke": "dashed"} if item.kind in ABOVE else {}
            yield frame.oblong((*a, *b), "hidden", **dashed)
        else:
            yield Circle(centre=a, radius=SIGN, layer="hidden")
            yield from frame.cross(a, SIGN + 0.6, "hidden")
        if item.swing:
            yield from _leaf(item, view)


def covered(obstacles: Iterable[Obstacle], view: View) -> Iterator[Hatch]:
    """Areas that only the name of the thing itself stands in; not to be drawn."""
    for item in obstacles:
        if item.width and item.depth:
            left, low, right, high = item.plan_box
            corners = ((left, low), (right, low), (right, high), (left, high))
            yield Hatch(outline=view.all(corners), layer="hidden")


def names(obstacles: Iterable[Obstacle], view: View) -> Iterator[Label]:
    """Name of each, wanted inside its box where it is large enough."""
    for item in obstacles:
        yield Label(
            near=view.at((float(item.x), float(item.y))),
            lines=(as_typed(item.name),),
            inside=bool(item.width and item.depth),
            toward=(1, 0),
        )


def leaf(item: Obstacle) -> tuple[Point, Point, Point]:
    """Hinge, free end shut, and free end open of an entrance door's leaf, in plan.

    The closed leaf lies along the longer side of its box; the room is where the glass is.
    """
    left, low, right, high = item.plan_box
    x, y = float(item.x), float(item.y)
    long = float(item.swing.width) if item.swing else 0.0
    into = item.swing is None or item.swing.opens == "into the room"
    if item.swing and item.swing.hinge in ("near", "far"):
        near = max(low, high) if y < 0 else min(low, high)
        far = min(low, high) if y < 0 else max(low, high)
        start, end = (near, far) if item.swing.hinge == "near" else (far, near)
        free = start + math.copysign(long, end - start)
        away = (-1.0 if x > 0 else 1.0) * (1.0 if into else -1.0)
        return (x, start), (x, free), (x + away * long, start)
    start = left if item.swing is None or item.swing.hinge == "left" else right
    free = start + (long if start == left else -long)
    away = (1.0 if y < 0 else -1.0) * (1.0 if into else -1.0)
    return (start, y), (free, y), (start, y + away * long)


def _leaf(item: Obstacle, view: View) -> Iterator[Primitive]:
    """Open leaf and its arc."""
    pivot, shut, opened = leaf(item)
    turn = (shut[0] - pivot[0]) * (opened[1] - pivot[1]) - (shut[1] - pivot[1]) * (
        opened[0] - pivot[0]
    )
    points: Outline = (view.at(shut), view.at(opened))
    bulge = math.copysign(math.tan(math.pi / 8), turn)
    yield Path(points=points, bulges=(bulge, 0.0), closed=False, layer="hidden")
    yield Line(start=view.at(pivot), end=view.at(opened), layer="hidden", weight="middle")
