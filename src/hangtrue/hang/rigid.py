"""A pane as a rigid body in the plane of the glass: how its gaps follow its shift, lift and turn.

Three freedoms a pane, about its centre of mass: shift along the glass line (mm, + to the right),
lift (mm, + up) and turn (rad, + anticlockwise as seen from outside). Gaps are linear in them; what
is left out is of second order in the turn, under 0.01 mm for 5 mm over the height of a door.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Enclosure, Gap, Joint, Lite
from hangtrue.geometry import Point

Vector = NDArray[np.float64]
FREEDOMS = 3
"""Shift, lift and turn."""

ABOVE = frozenset({"ceiling", "soffit"})
"""What a pane may meet over its top."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Bodies:
    """The panes of an enclosure as rigid bodies, each with three places in one vector.

    Attributes
    ----------
    index
        Place of each pane's shift in the vector, by its id.

    """

    enclosure: Enclosure
    index: dict[str, int]

    @property
    def size(self) -> int:
        """Length of the vector."""
        return FREEDOMS * len(self.index)

    def centre(self, pane: str) -> Point:
        """Centre of mass in the room: x along the developed glass line, z above the datum."""
        lite = self.enclosure.lite(pane)
        return lite.origin[0] + lite.centroid[0], lite.origin[1] + lite.centroid[1]

    def along(self, pane: str, z: float) -> Vector:
        """Coefficients (n,) of how far a pane moves to the right at height z."""
        row = np.zeros(self.size)
        i = self.index[pane]
        row[i], row[i + 2] = 1.0, -(z - self.centre(pane)[1])
        return row

    def up(self, pane: str, x: float) -> Vector:
        """Coefficients (n,) of how far a pane moves up at x along the glass line."""
        row = np.zeros(self.size)
        i = self.index[pane]
        row[i + 1], row[i + 2] = 1.0, x - self.centre(pane)[0]
        return row

    def turned(self, pane: str) -> Vector:
        """Coefficients (n,) of the turn of a pane, rad."""
        row = np.zeros(self.size)
        row[self.index[pane] + 2] = 1.0
        return row

    def gap(self, joint: Joint, at: float) -> Vector:
        """Coefficients (n,) of a joint's gap at a height, or at x along the glass line."""
        if not joint.upright:
            return self._level(joint, at)
        row = np.zeros(self.size)
        for end, sign in zip(joint.between, (-1.0, 1.0), strict=True):
            if end in self.index:
                row += sign * _across(joint, end) * self.along(end, at)
        return row

    def _level(self, joint: Joint, x: float) -> Vector:
        panes = [end for end in joint.between if end in self.index]
        if len(panes) > 1:
            lower, upper = sorted(panes, key=lambda pane: self.centre(pane)[1])
            return self.up(upper, x) - self.up(lower, x)
        sign = -1.0 if ABOVE.intersection(joint.between) else 1.0
        return sign * self.up(panes[0], x)

    def moved(self, pane: str, at: Point, by: Point, turn: float) -> Vector:
        """Motion (n,) of one pane that takes the point `at` by `by` and turns by `turn`."""
        x, z = self.centre(pane)
        i = self.index[pane]
        motion = np.zeros(self.size)
        motion[i] = by[0] + -turn * (z - at[1])
        motion[i + 1] = by[1] + turn * (x - at[0])
        motion[i + 2] = turn
        return motion


def bodies(enclosure: Enclosure) -> Bodies:
    """Make rigid bodies of the panes."""
    index = {pane.id: FREEDOMS * i for i, pane in enumerate(enclosure.lites)}
    return Bodies(enclosure=enclosure, index=index)


def foot(enclosure: Enclosure, pane: str) -> tuple[Joint, ...]:
    """Joints between a pane and what stands below it: curb, floor, caps of steps."""
    others = {p.id for p in enclosure.lites} - {pane} | ABOVE
    level = (j for j in enclosure.joints if not j.upright and pane in j.between)
    return tuple(j for j in level if not others.intersection(j.between))


def _across(joint: Joint, pane: str) -> float:
    """Share of a pane's motion along its own run that opens or closes the joint.

    In a corner, a pane that laps slides past the other's edge; mitred and clamped edges open along
    the line that halves the corner.
    """
    corner = joint.corner
    if corner is None:
        return 1.0
    if corner.joint == "butt":
        return 0.0 if corner.laps == pane else 1.0
    return math.cos(corner.turn / 2)


def planned(joint: Joint, at: float) -> Gap:
    """Gap of a joint as planned at any place: straight between places, range of the nearest."""
    places = sorted(joint.gaps, key=lambda gap: gap.at)
    near = min(places, key=lambda gap: abs(gap.at - at))
    values = np.interp(at, [g.at for g in places], [g.predicted.value for g in places])
    spread = np.interp(at, [g.at for g in places], [g.predicted.sd for g in places])
    return Gap(
        at=at,
        predicted=Estimate(float(values), float(spread)),
        least=near.least,
        usual=near.usual,
        most=near.most,
        at_fitting=near.at_fitting,
    )


def edge_lean(lite: Lite, where: str) -> float:
    """Slope of an edge as planned: of an upright edge x over z, of a level one z over x."""
    bl, br, tr, tl = lite.corners
    low, high = {"left": (bl, tl), "right": (br, tr), "bottom": (bl, br), "top": (tl, tr)}[where]
    run, rise = high[0] - low[0], high[1] - low[1]
    return run / rise if where in {"left", "right"} else rise / run
