"""A length in the opening as a linear function of its shape, so that it has a value and an sd."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Vector = NDArray[np.float64]


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

    def times(self, factor: float) -> Linear:
        """Return the same length so many times."""
        return Linear(coefficients=factor * self.coefficients, constant=factor * self.constant)


def between(low: Linear, high: Linear, share: float) -> Linear:
    """Return the straight line from `low` (share 0) to `high` (share 1), also beyond them."""
    return low.times(1.0 - share) + high.times(share)
