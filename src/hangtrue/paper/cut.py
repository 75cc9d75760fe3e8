"""The edge that the plant cuts: a pane's outline, cut-outs with true arcs inside."""

from __future__ import annotations

import math

from hangtrue.fit.enclosure import Lite, Notch
from hangtrue.geometry import Outline, Point

TOUCH = 1e-6
"""Points nearer than this are one, mm."""


def cut_path(lite: Lite) -> tuple[Outline, tuple[float, ...]]:
    """Corners and bulges of a pane's closed outline, every inside corner of a cut-out rounded."""
    radii = {p: n.radius for n in lite.notches for p in inside(lite, n) if _turns_in(lite, p)}
    return rounded(lite.outline, radii)


def cut_outs(lite: Lite) -> tuple[Notch, ...]:
    """Cut-outs for fittings and projections: all but where the foot steps."""
    return tuple(n for n in lite.notches if n.of != "step")


def step_corners(lite: Lite) -> tuple[tuple[Point, Notch], ...]:
    """Inside corners of the steps in the foot of a pane, from left to right, with their step."""
    found = ((p, n) for n in lite.steps for p in inside(lite, n) if _turns_in(lite, p))
    return tuple(sorted(found, key=lambda corner: corner[0]))


def _turns_in(lite: Lite, point: Point) -> bool:
    """Whether the outline turns into the glass at a point, rather than running straight on."""
    outline = lite.outline
    count = len(outline)
    at = next((i for i, p in enumerate(outline) if math.dist(p, point) < TOUCH), None)
    if at is None:
        return False
    return _inward(outline[(at + 1) % count], outline[at - 1], outline[at]) < -TOUCH


def kept(lite: Lite, corner: Point) -> bool:
    """Whether a corner of the blank is still there when steps and fittings are cut out."""
    return any(math.dist(corner, p) < TOUCH for p in lite.outline)


def inside(lite: Lite, notch: Notch) -> Outline:
    """Corners of a cut-out that lie within the blank, in order, rather than on its edge."""
    return tuple(p for p in notch.corners if not _on_edge(p, lite.corners))


def outside(lite: Lite, notch: Notch) -> Outline:
    """Corners of a cut-out on the edge of the blank, in order."""
    within = inside(lite, notch)
    return tuple(p for p in notch.corners if p not in within)


def in_level_edge(lite: Lite, notch: Notch) -> bool:
    """Whether a cut-out sits in the bottom or the top edge rather than in an upright one."""
    (x0, y0), *_, (x1, y1) = outside(lite, notch) or notch.corners[:2]
    return abs(x1 - x0) > abs(y1 - y0)


def _on_edge(p: Point, corners: Outline) -> bool:
    """Whether a point lies on the edge of the blank or beyond it."""
    ends = (*corners[1:], corners[0])
    return any(_inward(p, a, b) < TOUCH for a, b in zip(corners, ends, strict=True))


def _inward(p: Point, a: Point, b: Point) -> float:
    """Distance of a point to the left of the line from `a` to `b`."""
    cross = (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])
    return cross / math.dist(a, b)


def rounded(
    corners: Outline, radii: dict[Point, float], *, closed: bool = True
) -> tuple[Outline, tuple[float, ...]]:
    """Round the corners that stand in `radii` (within 1e-6 mm) by an arc tangent to both sides."""
    points: list[Point] = []
    bulges: list[float] = []
    count = len(corners)
    for i, corner in enumerate(corners):
        radius = next((r for p, r in radii.items() if math.dist(p, corner) < TOUCH), 0.0)
        inner = closed or 0 < i < count - 1
        if radius and inner:
            start, end, bulge = _arc(corners[i - 1], corner, corners[(i + 1) % count], radius)
            points += [start, end]
            bulges += [bulge, 0.0]
        else:
            points.append(corner)
            bulges.append(0.0)
    return tuple(points), tuple(bulges)


def _arc(before: Point, corner: Point, after: Point, radius: float) -> tuple[Point, Point, float]:
    """Start, end and bulge of the arc that rounds a corner."""
    arrives = math.atan2(corner[1] - before[1], corner[0] - before[0])
    leaves = math.atan2(after[1] - corner[1], after[0] - corner[0])
    turn = math.remainder(leaves - arrives, math.tau)
    back = radius * abs(math.tan(turn / 2))
    start = (corner[0] - back * math.cos(arrives), corner[1] - back * math.sin(arrives))
    end = (corner[0] + back * math.cos(leaves), corner[1] + back * math.sin(leaves))
    return start, end, math.tan(turn / 4)
