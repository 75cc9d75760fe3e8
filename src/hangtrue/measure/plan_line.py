"""The glass line folded into plan: where a point along the developed line is on the floor."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate
from typing import Literal

from hangtrue.geometry import Point
from hangtrue.job.wishes import Wanted
from hangtrue.measure.opening import Opening

Way = Literal["in", "out"]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanLine:
    """A glass line in plan: seen from above, x to the right along the front, y into the shower.

    Attributes
    ----------
    corners
        x of each corner along the developed line, mm, rising; n - 1 of them for n runs.
    headings
        Direction of each run, rad, anticlockwise from the front's; n.
    starts
        Plan point that each run starts from, n; the first one of `left`.
    left
        x of the line's left end along the developed line, mm.
    front
        Run (from 1) whose left end is (0, 0) and whose direction is x.

    """

    corners: tuple[float, ...]
    headings: tuple[float, ...]
    starts: tuple[Point, ...]
    left: float
    front: int

    def run_at(self, x: float) -> int:
        """Run (from 1) that x lies in; a corner belongs to the run after it."""
        return bisect_right(self.corners, x) + 1

    def place(self, x: float, y: float = 0.0, run: int | None = None) -> Point:
        """Plan point at x along the developed line and y across it, mm; + is into the shower.

        Parameters
        ----------
        run
            Run (from 1) whose line is meant, also beyond its ends; where x lies if not given.

        """
        run = run if run is not None else self.run_at(x)
        heading, (x0, y0) = self.headings[run - 1], self.starts[run - 1]
        along = x - (self.left, *self.corners)[run - 1]
        cos, sin = math.cos(heading), math.sin(heading)
        return x0 + along * cos - y * sin, y0 + along * sin + y * cos

    def inward(self, run: int) -> Point:
        """Unit vector across a run (from 1), into the shower."""
        heading = self.headings[run - 1]
        return -math.sin(heading), math.cos(heading)

    def bisector(self, corner: int) -> Point:
        """Unit vector from a corner (from 1) halfway between its two runs, into the shower."""
        half = (self.headings[corner - 1] + self.headings[corner]) / 2
        return -math.sin(half), math.cos(half)


def fold(
    corners: Sequence[float],
    angles: Sequence[float],
    ways: Sequence[Way],
    front_run: int = 1,
    left: float = 0.0,
) -> PlanLine:
    """Fold a developed glass line at its corners.

    Parameters
    ----------
    corners
        x of each corner along the developed line, mm, rising.
    angles
        Inside angle of each corner, on the shower's side, rad: the line turns by 180° less it.
    ways
        `in` turns toward the shower, anticlockwise seen from above; `out` away from it.
    front_run
        Run (from 1) that is laid along x, its left end at (0, 0).
    left
        x of the left end of the line.

    """
    bends = (
        (1.0 if way == "in" else -1.0) * (math.pi - angle)
        for angle, way in zip(angles, ways, strict=True)
    )
    turned = tuple(accumulate(bends, initial=0.0))
    headings = tuple(heading - turned[front_run - 1] for heading in turned)
    marks = (left, *corners)
    lengths = [high - low for low, high in zip(marks, corners, strict=False)]
    steps = zip(headings, lengths, strict=False)
    chain = list(
        accumulate(
            ((length * math.cos(h), length * math.sin(h)) for h, length in steps),
            lambda p, d: (p[0] + d[0], p[1] + d[1]),
            initial=(0.0, 0.0),
        )
    )
    x0, y0 = chain[front_run - 1]
    return PlanLine(
        corners=tuple(corners),
        headings=headings,
        starts=tuple((x - x0, y - y0) for x, y in chain),
        left=left,
        front=front_run,
    )


def glass_line(opening: Opening, wanted: Wanted) -> PlanLine:
    """Fold the glass line of an opening as estimated; its front is the one of the wishes."""
    numbers = range(1, opening.corners + 1)
    return fold(
        [opening.value(opening.corner(k)) for k in numbers],
        [opening.value(opening.angle(k)) for k in numbers],
        [turn.way for turn in wanted.turns],
        wanted.front,
        opening.value(opening.end("left")),
    )
