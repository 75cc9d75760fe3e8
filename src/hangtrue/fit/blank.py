"""A pane before anything is cut out of it: its face that is seen from outside."""

from __future__ import annotations

import math
from dataclasses import dataclass

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
from hangtrue.fit.turning import bevels
from hangtrue.geometry import Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Blank:
    """A pane with nothing cut out: corners from the datum corner, and where that is in the room."""

    corners: tuple[Point, Point, Point, Point]
    origin: Point

    @classmethod
    def of(cls, scene: Scene, i: int) -> Blank:
        """Take pane `i` out of the vector of corners: its face that is seen from outside."""
        corners, pane = scene.setting.corners, scene.row.panes[i]
        p = corners[i * CORNERS : (i + 1) * CORNERS].copy()
        left, right = (
            scene.row.thickness / 2 * math.tan(b) for b in bevels(scene.row, scene.room, i)
        )
        p[[BOTTOM_LEFT, TOP_LEFT]] -= left
        p[[BOTTOM_RIGHT, TOP_RIGHT]] += right
        top_left, top_right = corners[-1] + pane.rise[0], corners[-1] + pane.rise[1]
        x0, z0 = float(p[:Z_LEFT].min()), float(min(p[Z_LEFT], p[Z_RIGHT]))

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


def clean(value: float) -> float:
    """Sizes are on the plant's grid; what the arithmetic left beside it goes."""
    return round(float(value), 9) + 0.0
