"""What the glass stands over: the curb, and the steps that stand on it, as one stepped profile."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from hangtrue.measure.length import Linear, between

At = Callable[[Linear], float]
"""Estimated value of a length, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StepShape:
    """One step as estimated: knee wall, bench, buttress, tub deck, raised base.

    Attributes
    ----------
    run
        Straight part of the glass line it stands in, from 1.
    left, right
        x of its risers along the developed glass line; where it reaches to the end of the run,
        that end: the wall's face at the height of the cap, the corner, the free end.
    top_left, top_right
        Height of its cap at the two ends, above the datum.
    overhang_left, overhang_right
        How far the cap stands out beyond the riser, mm; 0 where the run ends.
    riser_left, riser_right
        Whether it has a riser there, or reaches to the end of the run.

    """

    name: str
    run: int
    left: Linear
    right: Linear
    top_left: Linear
    top_right: Linear
    overhang_left: float = 0.0
    overhang_right: float = 0.0
    riser_left: bool = False
    riser_right: bool = False

    @property
    def cap_left(self) -> Linear:
        """x of the left edge of the cap."""
        return self.left.shifted(-self.overhang_left)

    @property
    def cap_right(self) -> Linear:
        """x of the right edge of the cap."""
        return self.right.shifted(self.overhang_right)

    def top(self, x: float, at: At) -> Linear:
        """Height of the cap at x, straight from one edge to the other; `at` values a length."""
        low, high = at(self.cap_left), at(self.cap_right)
        share = (x - low) / (high - low) if high > low else 0.0
        return between(self.top_left, self.top_right, share)


@dataclass(frozen=True, slots=True, kw_only=True)
class BaseSegment:
    """One straight part of what stands below the glass, from left to right.

    Attributes
    ----------
    left, right
        x of its ends along the developed glass line.
    left_height, right_height
        Its height there, above the datum.
    step
        Name of the step it is the cap of; empty on the curb.

    """

    left: Linear
    right: Linear
    left_height: Linear
    right_height: Linear
    step: str = ""


def profile(
    ends: tuple[Linear, Linear],
    corners: Sequence[Linear],
    steps: Sequence[StepShape],
    curb: Callable[[float], Linear],
    at: At,
) -> tuple[BaseSegment, ...]:
    """Cut what stands between two ends into straight segments; a cap hides what is below it.

    Parameters
    ----------
    ends
        x where the profile starts and stops.
    corners
        x of the corners: a segment never goes round one.
    curb
        Height of the curb at x.
    at
        Estimated value of a length.

    """
    low, high = map(at, ends)
    edges = [*corners]
    edges += [s.cap_left for s in steps if s.riser_left]
    edges += [s.cap_right for s in steps if s.riser_right]
    inside = sorted((edge for edge in edges if low < at(edge) < high), key=at)
    marks = (-math.inf, *map(at, corners), math.inf)
    return tuple(
        _segment(left, right, _standing(steps, (at(left) + at(right)) / 2, marks, at), curb, at)
        for left, right in pairwise((ends[0], *inside, ends[1]))
        if at(right) > at(left)
    )


def _standing(
    steps: Sequence[StepShape], x: float, marks: Sequence[float], at: At
) -> list[StepShape]:
    """Steps whose cap is at x; one that reaches to a wall follows it, however it leans."""
    found = []
    for s in steps:
        low = at(s.cap_left) if s.riser_left else marks[s.run - 1]
        high = at(s.cap_right) if s.riser_right else marks[s.run]
        if low < x < high:
            found.append(s)
    return found


def _segment(
    left: Linear,
    right: Linear,
    steps: Sequence[StepShape],
    curb: Callable[[float], Linear],
    at: At,
) -> BaseSegment:
    start, stop = at(left), at(right)
    middle = (start + stop) / 2
    step = max(steps, key=lambda s: at(s.top(middle, at)), default=None)
    if step is None or at(step.top(middle, at)) <= at(curb(middle)):
        return BaseSegment(left=left, right=right, left_height=curb(start), right_height=curb(stop))
    return BaseSegment(
        left=left,
        right=right,
        left_height=step.top(start, at),
        right_height=step.top(stop, at),
        step=step.name,
    )
