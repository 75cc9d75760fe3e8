"""The opening as estimated from the readings: its shape, how well it is known, what disagrees."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from hangtrue.estimate import Estimate
from hangtrue.job.readings import Side
from hangtrue.measure.below import BaseSegment, StepShape, profile
from hangtrue.measure.length import Linear, Vector, between

__all__ = [
    "Agreement",
    "BaseSegment",
    "Linear",
    "Matrix",
    "NextReading",
    "Opening",
    "Residual",
    "StepShape",
    "Suspect",
    "Vector",
]

Matrix = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Residual:
    """How one reading agrees with all the others.

    Attributes
    ----------
    reading
        Id of the reading.
    observed, adjusted
        Value as read and as estimated, in mm (angles rad, slopes as offsets in mm).
    sigma
        Standard uncertainty of the reading from its instrument, same unit.
    redundancy
        0 (nothing checks this reading) to 1 (it is wholly checked by the others).
    normalised
        Residual over its standard deviation (w of Baarda); 0 where nothing checks it.
    detectable
        Smallest slip that the test would find, same unit; infinite where nothing checks it.
    bias
        What is taken off the reading because its reader is known to read too much, same unit.

    """

    reading: str
    observed: float
    adjusted: float
    sigma: float
    redundancy: float
    normalised: float
    detectable: float
    bias: float = 0.0

    @property
    def off(self) -> float:
        """What the adjustment changes of the reading, its bias taken off first."""
        return self.adjusted - (self.observed - self.bias)


@dataclass(frozen=True, slots=True, kw_only=True)
class Suspect:
    """One explanation of a disagreement: a reading, its slip, and what it should be.

    Attributes
    ----------
    reading
        Id of the suspected reading.
    slip
        The slip in words, as in `sign flipped` or `one inch too long`.
    corrected
        The value the reading would have without the slip, in the reading's unit (mm or rad).
    probability
        Probability of this explanation among all that were considered, given the readings.

    """

    reading: str
    slip: str
    corrected: float
    probability: float


@dataclass(frozen=True, slots=True, kw_only=True)
class NextReading:
    """A reading worth taking, and what it is for.

    Attributes
    ----------
    words
        What to do, as said to the person in the room.
    why
        `decides` between suspects, or `narrows` the opening.
    gain
        For `decides`: separation of the suspects in standard deviations; for `narrows`: share that
        it takes away of the variance of widths at glass heights and leans over the glass, 0 to 1.

    """

    words: str
    why: Literal["decides", "narrows"]
    gain: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Agreement:
    """Whether the readings agree with each other.

    Attributes
    ----------
    chi_square, degrees_of_freedom, probability
        Global test; `probability` is the chance of as bad a disagreement from honest scatter alone.
    alarm
        The readings disagree at the stated level.
    named
        The one explanation that stands out; None if there is none or the readings agree.
    suspects
        All explanations worth a look, most probable first.
    decider
        Where nothing stands out: the reading that would decide.
    several
        More than one reading disagrees: leaving out the one that stands out does not settle it.

    """

    chi_square: float
    degrees_of_freedom: float
    probability: float
    level: float
    alarm: bool
    named: Suspect | None
    suspects: tuple[Suspect, ...]
    decider: NextReading | None
    several: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """The adjusted opening.

    The shape holds, in this order: x of the left wall's face and of the right wall's face at each
    of `heights` (a missing wall has no entries), lean across of each wall over the height of the
    glass (rad), height of the curb at the left and at the right wall (or end), curb pitch (rad),
    and height of the ceiling if one was read. x is 0 at the left wall's face at height 0 (at the
    right wall's, if there is no left wall; at corner 1, if there is no wall).

    Where the glass line turns, x runs along the *developed* line: its runs laid flat one after the
    other, corner after corner. Then the shape goes on with `corner k` (x), `angle k` (inside angle,
    rad) and `curb corner k` (height) of each corner from 1. What else there is of a room follows
    where it is there: `pitch run k` of runs that are not the front; `ceiling left`, `ceiling corner
    k`, `ceiling right` in place of `ceiling` where it was read in more than one place; `square
    left`, `square right` (rad, 0 is square, + where the shower widens from the glass inward); of
    each step `step NAME left`, `step NAME right` (x of a riser that is not the run's end) and
    `step NAME top left`, `step NAME top right` (heights).

    Attributes
    ----------
    unknowns
        Name of each entry of the shape, as `left 0.0`, `curb left`, `pitch`, `corner 1`.
    heights
        (n,) heights of the wall nodes above the datum, mm, rising.
    shape, covariance
        (m,) and (m, m); mm and rad.
    residuals
        One a reading, in the order of the job; a reading that was set aside keeps its residual.
    set_aside
        Ids of readings left out of the estimate because a slip was named.
    advice
        Reading to take next to narrow the opening, best first.
    standing
        The steps under the glass, in the order of the job.
    reach
        Length of the first and of the last run, mm, where that run ends free: as its panes are
        wanted, or a usual width. It does not matter where walls stand.

    """

    unknowns: tuple[str, ...]
    walls: tuple[Side, ...]
    heights: tuple[float, ...]
    shape: Vector
    covariance: Matrix
    residuals: tuple[Residual, ...]
    agreement: Agreement
    set_aside: tuple[str, ...]
    advice: tuple[NextReading, ...]
    standing: tuple[StepShape, ...] = ()
    reach: tuple[float, float] = (0.0, 0.0)

    def estimate(self, length: Linear) -> Estimate:
        """Value and standard deviation of a linear length."""
        a = length.coefficients
        variance = float(a @ self.covariance @ a)
        return Estimate(length.constant + float(a @ self.shape), max(variance, 0.0) ** 0.5)

    def value(self, length: Linear) -> float:
        """Value alone of a linear length: quicker where nobody asks how well it is known."""
        return length.constant + float(length.coefficients @ self.shape)

    def wall(self, side: Side, height: float) -> Linear:
        """Face of a wall, its x at a height above the datum, mm; straight between nodes."""
        grid = np.asarray(self.heights)
        i = int(np.clip(np.searchsorted(grid, height) - 1, 0, len(grid) - 2))
        share = (height - grid[i]) / (grid[i + 1] - grid[i])
        first = self.unknowns.index(f"{side} {self.heights[0]:.1f}")
        row = np.zeros(len(self.unknowns))
        row[first + i], row[first + i + 1] = 1 - share, share
        return Linear(coefficients=row)

    def lean(self, side: Side, low: float, high: float) -> Linear:
        """Lean of a wall from one height to another, mm; + is into the opening."""
        inward = self.wall(side, high) - self.wall(side, low)
        sign = 1.0 if side == "left" else -1.0
        return Linear(coefficients=sign * inward.coefficients, constant=sign * inward.constant)

    def bow(self, side: Side, low: float, at: float, high: float) -> Linear:
        """How far a wall bellies into the opening from its chord between two heights, mm."""
        share = (at - low) / (high - low)
        chord = (1 - share) * self.wall(side, low).coefficients + share * self.wall(
            side, high
        ).coefficients
        sign = 1.0 if side == "left" else -1.0
        return Linear(coefficients=sign * (self.wall(side, at).coefficients - chord))

    def entry(self, name: str) -> Linear:
        """One entry of the shape by its name: `across left`, `curb right`, `pitch`, `ceiling`."""
        row = np.zeros(len(self.unknowns))
        row[self.unknowns.index(name)] = 1.0
        return Linear(coefficients=row)

    def knows(self, name: str) -> bool:
        """Whether the shape has an entry of that name."""
        return name in self.unknowns

    @property
    def corners(self) -> int:
        """Number of corners of the glass line; one less than its runs."""
        return sum(name.startswith("corner ") for name in self.unknowns)

    def corner(self, number: int) -> Linear:
        """x of a corner (from 1) along the developed glass line, the same at every height, mm."""
        return self.entry(f"corner {number}")

    def angle(self, number: int) -> Linear:
        """Inside angle of a corner (from 1) in plan, on the shower's side, rad."""
        return self.entry(f"angle {number}")

    def end(self, side: Side, height: float | None = None) -> Linear:
        """x of the left or right end of the glass line, mm.

        Parameters
        ----------
        height
            Above the datum, mm; that of the curb there if not given. A free end is plumb.

        """
        if side in self.walls:
            on_curb = self.value(self.entry(f"curb {side}"))
            return self.wall(side, on_curb if height is None else height)
        length = self.reach[0] if side == "left" else self.reach[1]
        return self._beside(side).shifted(-length if side == "left" else length)

    def start(self, run: int, height: float | None = None) -> Linear:
        """x of the left end of a run (from 1): a corner, or the left end of the glass line, mm."""
        return self.corner(run - 1) if run > 1 else self.end("left", height)

    def stop(self, run: int, height: float | None = None) -> Linear:
        """x of the right end of a run (from 1): a corner, or the right end of the line, mm."""
        return self.corner(run) if run <= self.corners else self.end("right", height)

    def curb(self, x: float) -> Linear:
        """Height of the curb at x along the developed line: straight between ends and corners."""
        names = [f"corner {k}" for k in range(1, self.corners + 1)]
        places = [self.end("left"), *(self.entry(name) for name in names), self.end("right")]
        heights = [self.entry(f"curb {name}") for name in ("left", *names, "right")]
        return self._along(x, places, heights)

    def ceiling(self, x: float) -> Linear:
        """Height of the ceiling at x along the developed line: straight between its known places.

        Raises
        ------
        KeyError
            If no ceiling was read; see `has_ceiling`.

        """
        if self.knows("ceiling"):
            return self.entry("ceiling")
        if not self.has_ceiling:
            raise KeyError("ceiling")
        names = [f"corner {k}" for k in range(1, self.corners + 1)]
        places = [self.end("left"), *(self.entry(name) for name in names), self.end("right")]
        heights = [self.entry(f"ceiling {name}") for name in ("left", *names, "right")]
        return self._along(x, places, heights)

    @property
    def has_ceiling(self) -> bool:
        """Whether a ceiling was read."""
        return self.knows("ceiling") or self.knows("ceiling left")

    @property
    def steps(self) -> tuple[str, ...]:
        """Names of the steps under the glass."""
        return tuple(step.name for step in self.standing)

    def step(self, name: str) -> StepShape:
        """One step by its name."""
        return self.standing[self.steps.index(name)]

    def base(self, x_low: float, x_high: float) -> tuple[BaseSegment, ...]:
        """What stands below the glass between two x, from left to right: curb and caps of steps.

        A segment ends at every corner and at every edge of a cap; neighbours on different levels
        meet in a riser.
        """
        return profile(
            (self._at(x_low), self._at(x_high)),
            [self.corner(k) for k in range(1, self.corners + 1)],
            self.standing,
            self.curb,
            self.value,
        )

    def _beside(self, side: Side) -> Linear:
        """Where the run starts that ends free on that side: its corner, else the other wall."""
        if self.corners:
            return self.corner(1 if side == "left" else self.corners)
        other: Side = "right" if side == "left" else "left"
        return self.end(other) if other in self.walls else self._at(0.0)

    def _at(self, x: float) -> Linear:
        """A length that does not depend on the shape."""
        return Linear(coefficients=np.zeros(len(self.unknowns)), constant=x)

    def _along(self, x: float, places: Sequence[Linear], heights: Sequence[Linear]) -> Linear:
        """Height at x between the two known places that it lies between, or beside."""
        at = [self.value(place) for place in places]
        k = int(np.clip(np.searchsorted(at, x) - 1, 0, len(at) - 2))
        (low, high), length = (heights[k], heights[k + 1]), at[k + 1] - at[k]
        return between(low, high, (x - at[k]) / length if length > 0.0 else 0.0)
