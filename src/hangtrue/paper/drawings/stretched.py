"""The opening on paper, to scale but for its deviations from plumb and level, drawn larger."""

from __future__ import annotations

import math
from dataclasses import dataclass

from hangtrue.estimate import Estimate
from hangtrue.geometry import Point
from hangtrue.job.brief import Brief
from hangtrue.job.readings import Side
from hangtrue.measure.opening import Opening
from hangtrue.paper.dimensions import LINE_FEED
from hangtrue.paper.drawings import frame
from hangtrue.paper.drawings.folding import SIDES
from hangtrue.paper.drawings.reach import ceiling_at, meets_ceiling
from hangtrue.paper.lengths import Units
from hangtrue.paper.scene import View, scale_for
from hangtrue.paper.standing import covered, foot_of

WALL = 7.0
"""Least thickness of a wall's cut, mm of paper."""
FACTORS = (100, 50, 20, 10, 5, 2, 1)
"""A lean is drawn this many times as large; the largest that stays within `REACH`."""
DROP = 4.5
"""Greatest drawn deviation of the curb from level, mm of paper."""
REACH = 9.0
"""Greatest drawn deviation from plumb, mm of paper."""
FREE = 900.0
"""Length of curb drawn where one end is free, mm."""
OVER = 6.0 + 2.2 * LINE_FEED
"""Room over the drawing for figures of a width and for the names of corners, mm of paper."""
TALLEST = 176.0
"""Leaves room on a page for the table of sizes, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretched:
    """The opening on paper: to scale, but for deviations from plumb and level."""

    opening: Opening
    view: View
    factor: int
    feet: dict[Side, float]
    low: float
    high: float
    starts: dict[Side, float]

    def face(self, side: Side, z: float, off: float = 0.0) -> Point:
        """Point of a wall's face on paper; `off` in standard deviations."""
        here = self.opening.estimate(self.opening.wall(side, z))
        moved = here.value + off * here.sd - self.feet[side]
        return self.view.at((self.feet[side] + self.factor * moved, z))

    def curb(self, place: str, off: float = 0.0) -> Point:
        """Point of the curb at an end or a corner; `off` in standard deviations."""
        name = f"curb {place}"
        here = (
            self.opening.estimate(self.opening.entry(name))
            if self.opening.knows(name)
            else Estimate(0.0)
        )
        y = self.view.at((0.0, self.factor * (here.value + off * here.sd)))[1]
        return (self._across(place), y)

    def _across(self, place: str) -> float:
        """x on paper of an end of the line at its foot, or of a corner."""
        for side in SIDES:
            if place == side and side in self.opening.walls:
                return self.face(side, self.starts[side])[0]
            if place == side:
                return self.view.at((self.feet[side], 0.0))[0]
        return self.view.at((self.opening.estimate(self.opening.entry(place)).value, 0.0))[0]

    def levels(self, side: Side) -> tuple[float, ...]:
        """Heights at which a face bends, and the ends of what is drawn of it."""
        low = self.starts[side]
        between = (z for z in self.opening.heights if low < z < self.high)
        return (low, *between, self.high)


def stretched(
    brief: Brief, measured: Opening, units: Units, foot: float
) -> tuple[Stretched, float]:
    """Choose scale and factor above the notes at `foot`; return also the height of the sheet."""
    low, high = 0.0, max(float(brief.job.wanted.height), measured.heights[-1])
    starts = {side: foot_of(measured, side) for side in SIDES}
    feet = _feet(measured, starts)
    if meets_ceiling(brief, measured):
        high = max([high, *(ceiling_at(measured, x) for x in feet.values())])
    below = foot + 3.0 + DROP
    above = OVER if measured.corners else 6.0
    room = (frame.WIDTH - 2 * (WALL + REACH), TALLEST - below - above)
    one_to = scale_for((feet["right"] - feet["left"], high - low), room, frame.scales(units))
    factor = _factor(measured, starts, one_to)
    x = (frame.WIDTH - (feet["right"] - feet["left"]) / one_to) / 2 - feet["left"] / one_to
    view = View(one_to=one_to, origin=(x, below))
    drawn = Stretched(
        opening=measured, view=view, factor=factor, feet=feet, low=low, high=high, starts=starts
    )
    return drawn, below + (high - low) / one_to + above


def _feet(measured: Opening, starts: dict[Side, float]) -> dict[Side, float]:
    """x of the two ends of the line at their foot; a free end as far off as its run is long."""
    at = {s: measured.estimate(measured.wall(s, starts[s])).value for s in measured.walls}
    if measured.corners:
        ends = {s: measured.estimate(measured.end(s)).value for s in SIDES}
        return {s: at.get(s, ends[s]) for s in SIDES}
    return {
        "left": at.get("left", at.get("right", FREE) - FREE),
        "right": at.get("right", at.get("left", 0.0) + FREE),
    }


def _apart(measured: Opening, starts: dict[Side, float]) -> float:
    """How well the distance of the two walls at their feet is known, mm; 0 for one wall."""
    if len(measured.walls) < len(SIDES):
        return 0.0
    left, right = (measured.wall(side, starts[side]) for side in SIDES)
    return measured.estimate(right - left).sd


def _factor(measured: Opening, starts: dict[Side, float], one_to: float) -> int:
    """Return the largest factor that keeps every deviation, and its band, within reach."""
    most, apart = 1e-9, _apart(measured, starts)
    for side in measured.walls:
        for z in (z for z in measured.heights if z > starts[side]):
            here = measured.estimate(measured.lean(side, starts[side], z))
            most = max(most, abs(here.value) + 2 * math.hypot(here.sd, apart))
    last = measured.corners + 1
    for name, run in (("curb left", 1), ("curb right", last)):
        if measured.knows(name) and not covered(measured, run):
            here = measured.estimate(measured.entry(name))
            most = max(most, (abs(here.value) + 2 * here.sd) * REACH / DROP)
    return next((f for f in FACTORS if f * most / one_to <= REACH), 1)
