"""The glass line in plan as it is written down, before anything is adjusted: for checks only."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import accumulate, combinations, pairwise
from statistics import median

from shapely import LineString

from hangtrue.job.document import Job
from hangtrue.job.readings import Width
from hangtrue.job.wishes import Turn

Point = tuple[float, float]


def run_length(job: Job, run: int) -> float | None:
    """Length of a run (from 1) in mm: its widths as read, else its panes; None if nobody says."""
    read = [r.value for r in job.readings if isinstance(r, Width) and r.run == run]
    if read:
        return float(median(read))
    panes = [job.wanted.lites[i].width for i in job.wanted.runs[run - 1]]
    written = [width for width in panes if width is not None]
    return float(sum(written)) if len(written) == len(panes) else None


def folded(lengths: Sequence[float], turns: Sequence[Turn], front: int) -> tuple[Point, ...]:
    """Points of the glass line in plan, from its left end to its right end, mm.

    Parameters
    ----------
    lengths
        Of each run, left to right.
    turns
        The corners between them, one fewer.
    front
        Run (from 1) that points along x; y is into the shower. The line starts at (0, 0).

    """
    bends = [(1 if turn.way == "in" else -1) * (math.pi - turn.angle) for turn in turns]
    headings = list(accumulate(bends, initial=0.0))
    ahead = headings[front - 1]
    points: list[Point] = [(0.0, 0.0)]
    for length, heading in zip(lengths, headings, strict=True):
        (x, y), way = points[-1], heading - ahead
        points.append((x + length * math.cos(way), y + length * math.sin(way)))
    return tuple(points)


def crossing(points: Sequence[Point]) -> tuple[int, int] | None:
    """Return the first two runs (from 1) that cross or touch away from a shared corner."""
    runs = [LineString(ends) for ends in pairwise(points)]
    for (a, one), (b, other) in combinations(enumerate(runs, 1), 2):
        if b - a > 1 and one.intersects(other):
            return a, b
    return None
