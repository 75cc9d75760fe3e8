"""Which part of the developed glass line an elevation shows: all of it, or one run."""

from __future__ import annotations

from dataclasses import dataclass

from hangtrue.fit.enclosure import Enclosure, Lite, Run
from hangtrue.job.brief import Brief
from hangtrue.job.readings import Side
from hangtrue.measure.opening import Opening
from hangtrue.paper.drawings import folding
from hangtrue.paper.drawings.folding import placed_corners

ABOVE = 120.0
"""How far walls are drawn past the top of the glass, mm of the object."""
UNDER = 30.0
"""How far below the floor, mm."""
SLAB = 60.0
"""Drawn thickness of a ceiling, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reach:
    """A part of the glass line laid flat, mm of the object.

    Attributes
    ----------
    left, right, low, high
        Ends at the datum, below the floor, and past the top of the glass.
    walls
        Sides of it that a wall stands at.
    marks
        x and number of each corner in it or at its ends.
    number
        The run; 0 for the whole line.

    """

    left: float
    right: float
    low: float
    high: float
    lites: tuple[Lite, ...]
    walls: tuple[Side, ...]
    marks: tuple[tuple[float, int], ...]
    runs: tuple[Run, ...]
    number: int

    @property
    def whole(self) -> bool:
        """Whether it is the whole line."""
        return not self.number

    @property
    def shown(self) -> tuple[Run, ...]:
        """Runs in it."""
        return self.runs if self.whole else (self.runs[self.number - 1],)


def reach(brief: Brief, opening: Opening, made: Enclosure, number: int = 0) -> Reach:
    """Take the whole developed line, or the run of that number."""
    runs = folding.runs(opening, made)
    left, right = folding.ends(opening, made)
    first, last = number in (0, 1), number in (0, len(runs))
    lites = tuple(p for p in made.lites if number in (0, p.run))
    corners = [p for lite in lites for p in placed_corners(lite)]
    over = [] if first else [p[0] for p in corners]
    beyond = [] if last else [p[0] for p in corners]
    here = {"left": first, "right": last}
    left = left if first else min(runs[number - 1].start, *over)
    right = right if last else max(runs[number - 1].end, *beyond)
    marks = tuple(
        (run.start, run.number - 1) for run in runs[1:] if number in (0, run.number, run.number - 1)
    )
    return Reach(
        left=left,
        right=right,
        low=-float(brief.job.threshold.height) - UNDER,
        high=max([p[1] for p in corners] + [_top(brief, opening, left, right)]),
        lites=lites,
        walls=tuple(side for side in opening.walls if here[side]),
        marks=marks,
        runs=runs,
        number=number,
    )


def meets_ceiling(brief: Brief, opening: Opening) -> bool:
    """Whether the glass goes up to what is above."""
    return brief.job.above.kind != "open" and opening.has_ceiling


def ceiling_at(opening: Opening, x: float) -> float:
    """Height of the ceiling at x along the line."""
    return opening.estimate(opening.ceiling(x)).value


def _top(brief: Brief, opening: Opening, left: float, right: float) -> float:
    """Top of the drawing: past the ceiling, or past the level top line."""
    if meets_ceiling(brief, opening):
        return max(ceiling_at(opening, x) for x in (left, right)) + SLAB
    return float(brief.job.wanted.height) + ABOVE
