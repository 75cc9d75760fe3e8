"""The opening as estimated from the readings: its shape, how well it is known, what disagrees."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from hangtrue.estimate import Estimate
from hangtrue.job.readings import Side

Vector = NDArray[np.float64]
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

    """

    reading: str
    observed: float
    adjusted: float
    sigma: float
    redundancy: float
    normalised: float
    detectable: float


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
class Linear:
    """A length in the opening, linear in its shape: constant + coefficients · shape."""

    coefficients: Vector
    constant: float = 0.0

    def __add__(self, other: Linear) -> Linear:
        return Linear(
            coefficients=self.coefficients + other.coefficients,
            constant=self.constant + other.constant,
        )

    def __sub__(self, other: Linear) -> Linear:
        return Linear(
            coefficients=self.coefficients - other.coefficients,
            constant=self.constant - other.constant,
        )

    def shifted(self, by: float) -> Linear:
        """Return the same length plus a constant."""
        return Linear(coefficients=self.coefficients, constant=self.constant + by)


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """The adjusted opening.

    The shape holds, in this order: x of the left wall's face and of the right wall's face at each
    of `heights` (a missing wall has no entries), lean across of each wall over the height of the
    glass (rad), height of the curb at the left and at the right wall (or end), curb pitch (rad),
    and height of the ceiling if one was read. x is 0 at the left wall's face at height 0 (at the
    right wall's, if there is no left wall).

    Attributes
    ----------
    unknowns
        Name of each entry of the shape, as `left 0.0`, `curb left`, `pitch`.
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

    def estimate(self, length: Linear) -> Estimate:
        """Value and standard deviation of a linear length."""
        a = length.coefficients
        variance = float(a @ self.covariance @ a)
        return Estimate(length.constant + float(a @ self.shape), max(variance, 0.0) ** 0.5)

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
