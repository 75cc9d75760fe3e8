"""The leaf in plan: the floor it sweeps, what it meets and at which opening, the way left open.

Plan of one height: x from the hinge axis (0, 0) to the strike, y to the side the leaf opens to.
Swept regions lie on the safe side: never smaller than the true one, and larger by TOLERANCE at
most.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np
from shapely import MultiPoint, Polygon, unary_union
from shapely import Point as Place
from shapely.affinity import rotate, scale, translate
from shapely.geometry.base import BaseGeometry

from hangtrue.geometry import Outline, Point
from hangtrue.mechanics.ranges import positive, within

TOLERANCE: Final = 0.05
"""mm by which the sagitta of a swept arc may be overstated."""
TOUCH: Final = 1e-3
"""mm from which a leaf counts as touching."""
STEPS: Final = 10_000
"""Advances towards a contact; each is as long as the distance allows, so few are used."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanLeaf:
    """A closed leaf at one height, seen from above; mm.

    Attributes
    ----------
    start, end
        Hinge edge and strike edge of the glass, from the axis; the start is negative where the
        glass reaches behind the axis.
    thickness
        Of the glass.
    offset
        Of the glass line from the axis, towards the opening side.
    fittings
        Handles and knobs at this height, as convex outlines on the closed leaf.

    """

    start: float
    end: float
    thickness: float
    offset: float = 0.0
    fittings: tuple[Outline, ...] = ()

    @property
    def parts(self) -> tuple[Polygon, ...]:
        """Pieces of the closed leaf."""
        within("strike edge of the leaf", self.end, self.start)
        half = positive("thickness", self.thickness) / 2
        near, far = self.offset - half, self.offset + half
        glass = Polygon([(self.start, near), (self.end, near), (self.end, far), (self.start, far)])
        return (glass, *(Polygon(shape) for shape in self.fittings))

    @property
    def reach(self) -> float:
        """Farthest point from the axis."""
        corners = (c for part in self.parts for c in part.exterior.coords)
        return max(math.hypot(x, y) for x, y in corners)


def at_opening(leaf: PlanLeaf, opening_rad: float) -> BaseGeometry:
    """Leaf in plan at an opening angle."""
    turned = (_turned(part, opening_rad) for part in leaf.parts)
    return unary_union(list(turned))


def _turned(part: Polygon, angle: float) -> Polygon:
    return rotate(part, angle, origin=(0, 0), use_radians=True)


def swept(leaf: PlanLeaf, from_rad: float, to_rad: float) -> BaseGeometry:
    """Region that the leaf and its fittings sweep between two openings.

    Between two positions a step apart lie their hull and, for each corner, the tip of the two
    tangents to its arc: together they hold the arc.
    """
    step = 2 * math.acos(1 / (1 + TOLERANCE / leaf.reach))
    count = max(1, math.ceil(abs(to_rad - from_rad) / step))
    angles = np.linspace(from_rad, to_rad, count + 1)
    wedges = [_wedge(part, float(a), float(b)) for part in leaf.parts for a, b in pairwise(angles)]
    return unary_union(wedges)


def _wedge(part: Polygon, start: float, end: float) -> BaseGeometry:
    corners = np.array(part.exterior.coords[:-1])
    tips = corners / math.cos((end - start) / 2)
    placed = (
        points @ np.array([[math.cos(a), math.sin(a)], [-math.sin(a), math.cos(a)]])
        for points, a in ((corners, start), (tips, (start + end) / 2), (corners, end))
    )
    return MultiPoint(np.concatenate(list(placed))).convex_hull


def clearance(leaf: PlanLeaf, obstacle: Sequence[Point], from_rad: float, to_rad: float) -> float:
    """Least distance of the leaf to an obstacle (outline) over a swing; mm, 0 where they meet."""
    return float(swept(leaf, from_rad, to_rad).distance(_outline(obstacle)))


def _outline(points: Sequence[Point]) -> BaseGeometry:
    return Polygon(points) if len(points) > 2 else MultiPoint(points).convex_hull  # noqa: PLR2004


def opens_to(
    leaf: PlanLeaf, obstacles: Sequence[Sequence[Point]], from_rad: float, to_rad: float
) -> float:
    """Opening at which the leaf first touches an obstacle, or the far end of the swing; rad.

    No point moves farther than reach times turn, so the leaf may always turn by distance over
    reach.
    """
    if not obstacles:
        return to_rad
    blocked = unary_union([_outline(obstacle) for obstacle in obstacles])
    way = 1 if to_rad >= from_rad else -1
    angle = from_rad
    for _ in range(STEPS):
        gap = float(at_opening(leaf, angle).distance(blocked))
        if gap <= TOUCH:
            return angle
        angle += way * gap / leaf.reach
        if way * (angle - to_rad) >= 0:
            return to_rad
    return angle


def clear_opening(
    leaf: PlanLeaf, strike: Point, opening_rad: float, hinge: Point = (0, 0)
) -> float:
    """Clear way past a leaf held at an opening: from the strike jamb to what is nearest; mm.

    Parameters
    ----------
    leaf
        With the handles that stand in the way.
    strike
        Face of the strike jamb or of the pane there.
    opening_rad
        Where a stop, a wall or the detent holds the leaf.
    hinge
        Face of the hinge jamb, which limits the way once the leaf is past it.

    """
    near = at_opening(leaf, opening_rad).distance(Place(strike))
    return float(min(near, math.dist(strike, hinge)))


def clear_between(
    left: PlanLeaf, right: PlanLeaf, apart: float, left_rad: float, right_rad: float
) -> float:
    """Clear way between two leaves that close on each other, each held at an opening; mm.

    Parameters
    ----------
    left, right
        Each from its own axis to its strike edge; both open to the same side.
    apart
        From one axis to the other.

    """
    across = scale(at_opening(right, right_rad), xfact=-1.0, origin=(0, 0))
    near = at_opening(left, left_rad).distance(translate(across, positive("axes", apart)))
    return float(min(near, apart))
