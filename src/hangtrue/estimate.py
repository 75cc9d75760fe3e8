"""A number and how well it is known: the small change of every stage."""

from __future__ import annotations

import math
from dataclasses import dataclass
from statistics import NormalDist

NORMAL = NormalDist()


@dataclass(frozen=True, slots=True)
class Estimate:
    """A normally distributed quantity.

    Parameters
    ----------
    value
        Best value, in the unit of the quantity (mm, rad, kg).
    sd
        Standard deviation, same unit, >= 0. Zero means exact by definition.

    """

    value: float
    sd: float = 0.0

    def below(self, limit: float) -> float:
        """Probability that the quantity is at most `limit`."""
        if self.sd == 0.0:
            return 1.0 if self.value <= limit else 0.0
        return NORMAL.cdf((limit - self.value) / self.sd)

    def band(self, coverage: float = 0.90) -> tuple[float, float]:
        """Central interval holding `coverage` of the probability."""
        reach = NORMAL.inv_cdf(0.5 + coverage / 2) * self.sd
        return self.value - reach, self.value + reach

    def scaled(self, factor: float) -> Estimate:
        """Return the estimate in another unit or direction."""
        return Estimate(self.value * factor, abs(factor) * self.sd)

    def plus(self, other: Estimate) -> Estimate:
        """Sum with an independent quantity."""
        return Estimate(self.value + other.value, math.hypot(self.sd, other.sd))

    def size(self) -> Estimate:
        """Magnitude, as a person reads a lean: the sign dropped, the sd kept."""
        return Estimate(abs(self.value), self.sd)
