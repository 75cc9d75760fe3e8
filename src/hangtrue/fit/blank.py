"""A pane before anything is cut out of it: its face that is seen from outside."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from hangtrue.fit.enclosure import Where
from hangtrue.fit.entries import (
    BOTTOM_LEFT,
    BOTTOM_RIGHT,
    CORNERS,
    TOP_LEFT,
    TOP_RIGHT,
    Z_LEFT,
    Z_RIGHT,
)
from hangtrue.fit.scene import Scene
from hangtrue.geometry import Outline, Point
from hangtrue.job.readings import Side


@dataclass(frozen=True, slots=True, kw_only=True)
class Blank:
    """A pane with nothing cut out: corners from the datum corner, and where that is in the room.

    Attributes
    ----------
    left, right
        Points of a scribed edge between its ends, from below; none where it is one straight cut.

    """

    corners: tuple[Point, Point, Point, Point]
    origin: Point
    left: Outline = ()
    right: Outline = ()

    @property
    def outline(self) -> Outline:
        """Its outline, anticlockwise from the bottom left: straight but for scribed edges."""
        bl, br, tr, tl = self.corners
        return (bl, br, *self.right, tr, tl, *self.left[::-1])

    @classmethod
    def of(cls, scene: Scene, i: int) -> Blank:
        """Take pane `i` out of the vector of corners: its face that is seen from outside."""
        corners, pane = scene.setting.corners, scene.row.panes[i]
        p = corners[i * CORNERS : (i + 1) * CORNERS].copy()
        left, right = pane.past
        p[[BOTTOM_LEFT, TOP_LEFT]] -= left
        p[[BOTTOM_RIGHT, TOP_RIGHT]] += right
        top_left, top_right = corners[-1] + pane.rise[0], corners[-1] + pane.rise[1]
        left_edge = _scribed(scene, i, "left", (p[BOTTOM_LEFT], p[Z_LEFT]), (p[TOP_LEFT], top_left))
        right_edge = _scribed(
            scene, i, "right", (p[BOTTOM_RIGHT], p[Z_RIGHT]), (p[TOP_RIGHT], top_right)
        )
        x0 = min(float(p[:Z_LEFT].min()), *(x for x, _ in (*left_edge, *right_edge)), math.inf)
        z0 = float(min(p[Z_LEFT], p[Z_RIGHT]))

        def point(x: float, z: float) -> Point:
            return clean(x - x0), clean(z - z0)

        return cls(
            corners=(
                point(p[BOTTOM_LEFT], p[Z_LEFT]),
                point(p[BOTTOM_RIGHT], p[Z_RIGHT]),
                point(p[TOP_RIGHT], top_right),
                point(p[TOP_LEFT], top_left),
            ),
            origin=(x0, z0),
            left=tuple(point(*at) for at in left_edge),
            right=tuple(point(*at) for at in right_edge),
        )

    def edge(self, where: Where) -> tuple[Point, Point]:
        """Ends of an edge: lower first, left first."""
        bl, br, tr, tl = self.corners
        return {"left": (bl, tl), "right": (br, tr), "bottom": (bl, br), "top": (tl, tr)}[where]

    def inward(self, where: Where) -> Point:
        """Unit vector into the glass, square to an edge."""
        (x0, y0), (x1, y1) = self.edge(where)
        length = math.hypot(x1 - x0, y1 - y0)
        turn = -1.0 if where in ("left", "top") else 1.0
        return -turn * (y1 - y0) / length, turn * (x1 - x0) / length


def _scribed(scene: Scene, i: int, side: Side, low: Point, high: Point) -> Outline:
    """Points of an edge that follows its wall at the nodes of the wall, from below, in the room.

    The straight edge is the chord of it: it departs from that as the wall does from its own.
    """
    joint = scene.row.joints[i if side == "left" else i + 1]
    if joint is None or not joint.scribed:
        return ()
    (x0, z0), (x1, z1) = low, high
    heights = [z for z in scene.room.opening.heights if z0 < z < z1]
    at = np.array([z0, *heights, z1])
    face, _ = scene.room.walls(side, at)
    off = face - np.interp(at, at[[0, -1]], face[[0, -1]])
    chord = np.interp(at, [z0, z1], [x0, x1])
    return tuple((float(x), float(z)) for x, z in zip(chord + off, at, strict=True))[1:-1]


def clean(value: float) -> float:
    """Sizes are on the plant's grid; what the arithmetic left beside it goes."""
    return round(float(value), 9) + 0.0
