"""Does the set of readings agree, which reading looks wrong, and how wrong could one be unnoticed.

A slip that the readings *detect* need not be one they can *attribute*: when two normalised
residuals are fully correlated, both readings explain the disagreement equally well.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from statistics import NormalDist

import numpy as np
from scipy import special

from hangtrue.measure.linear import CHECKED, Adjustment, Array
from hangtrue.source import cites

NORMAL = NormalDist()


@dataclass(frozen=True, slots=True, kw_only=True)
class GlobalTest:
    """Overall agreement of the readings with each other and with their a-priori sigmas.

    Attributes
    ----------
    statistic
        Weighted sum of squared residuals.
    degrees_of_freedom
        Rows beyond need, > 0.
    low, high
        Two-sided interval in which `statistic` is accepted: below it the sigmas are too wide,
        above it something disagrees.

    """

    statistic: float
    degrees_of_freedom: int
    low: float
    high: float

    @property
    def p(self) -> float:
        """Probability of a statistic at least this large when nothing is wrong (one-sided)."""
        return float(special.chdtrc(self.degrees_of_freedom, self.statistic))

    @property
    def accepted(self) -> bool:
        """Whether the statistic lies within the two-sided interval."""
        return self.low <= self.statistic <= self.high

    @property
    def disagrees(self) -> bool:
        """Whether the statistic is too large: readings contradict each other."""
        return self.statistic > self.high


@cites("baarda-1968", "global test of the variance factor")
def global_test(adjustment: Adjustment, alpha: float = 0.05) -> GlobalTest:
    """Test all the readings at once, two-sided at level `alpha`.

    Raises
    ------
    ValueError
        If there are no degrees of freedom: then nothing checks anything.

    """
    freedom = adjustment.degrees_of_freedom
    if freedom < 1:
        message = "no degrees of freedom: the readings cannot check each other"
        raise ValueError(message)
    return GlobalTest(
        statistic=adjustment.chi_square,
        degrees_of_freedom=freedom,
        low=float(special.chdtri(freedom, 1.0 - alpha / 2)),
        high=float(special.chdtri(freedom, alpha / 2)),
    )


@cites("baarda-1968", "w-test (data snooping)")
def normalised_residuals(adjustment: Adjustment) -> Array:
    """Find w of each row, shape (m,): standard normal when nothing is wrong; nan if unchecked.

    Compare with `normal_critical`.
    """
    share = _checked_redundancy(adjustment)
    return adjustment.residuals / (adjustment.sigma * np.sqrt(share))


@cites("pope-1976", "tau statistic")
def tau(adjustment: Adjustment) -> Array:
    """Residuals normalised by the spread of this very set of readings, shape (m,).

    For when the a-priori sigmas cannot be trusted. Cannot exceed sqrt(f) in size.
    """
    return normalised_residuals(adjustment) / math.sqrt(adjustment.variance_factor)


def normal_critical(alpha: float) -> float:
    """Two-sided critical value of a normalised residual; 3.29 for `alpha` = 0.001."""
    return NORMAL.inv_cdf(1.0 - alpha / 2)


@cites("pope-1976", "critical value of tau")
def tau_critical(alpha: float, freedom: int) -> float:
    """Two-sided critical value of `tau` for one row chosen beforehand.

    Infinite for fewer than two degrees of freedom: with one, tau is always 1 and tests nothing.
    """
    if freedom <= 1:
        return math.inf
    t = float(special.stdtrit(freedom - 1, 1.0 - alpha / 2))
    return math.sqrt(freedom) * t / math.sqrt(freedom - 1 + t * t)


@cites("baarda-1968", "non-centrality parameter, one dimension")
def detection_shift(alpha: float = 0.001, beta: float = 0.20) -> float:
    """delta0: mean a normalised residual must have to be found.

    Parameters
    ----------
    alpha
        Chance of suspecting a good reading, two-sided.
    beta
        Chance of missing a slip of the size in question.

    """
    return normal_critical(alpha) + NORMAL.inv_cdf(1.0 - beta)


@cites("baarda-1968", "B-method: equal non-centrality in every test")
def global_level(freedom: int, alpha: float = 0.001, beta: float = 0.20) -> float:
    """Level of the global test that sees the same slip, with the same power, as the w-test."""
    shift = detection_shift(alpha, beta)
    return float(special.chdtrc(freedom, special.chndtrix(beta, freedom, shift * shift)))


@cites("baarda-1968", "internal reliability, marginally detectable error")
def smallest_detectable(adjustment: Adjustment, alpha: float = 0.001, beta: float = 0.20) -> Array:
    """Size of the smallest slip in each row that would be found, shape (m,), unit of the row.

    Infinite where nothing checks the row.
    """
    shift = detection_shift(alpha, beta)
    size = adjustment.sigma * shift / np.sqrt(_checked_redundancy(adjustment))
    return np.where(np.isnan(size), np.inf, size)


@cites("baarda-1968", "external reliability, bias-to-noise ratio")
def bias_to_noise(adjustment: Adjustment, alpha: float = 0.001, beta: float = 0.20) -> Array:
    """Largest harm of a slip that just goes unnoticed, shape (m,).

    Counted in standard deviations of the quantity it harms most. Infinite where nothing checks.
    """
    share = _checked_redundancy(adjustment)
    ratio = detection_shift(alpha, beta) * np.sqrt((1.0 - share) / share)
    return np.where(np.isnan(ratio), np.inf, ratio)


@cites("baarda-1968", "external reliability, effect on the unknowns")
def effect_of_slips(adjustment: Adjustment, slips: Array) -> Array:
    """Change of the unknowns when each reading is larger by `slips` (m,); shape (n,)."""
    weighted = slips / adjustment.sigma**2
    pull = np.zeros(len(adjustment.x))
    for row, weight in zip(adjustment.rows, weighted, strict=True):
        for index, coefficient in row.terms:
            pull[index] += coefficient * weight
    return adjustment.covariance @ pull


def estimated_slips(adjustment: Adjustment) -> Array:
    """Slip in each reading if it alone were wrong, shape (m,); + means it reads too large.

    Taking it off the reading makes the reading agree with all the others exactly.
    """
    return -adjustment.residuals / _checked_redundancy(adjustment)


@cites("own", "chi-square of shifted readings: (I - Q Q') applied to the shifted misfit")
def chi_square_if_shifted(adjustment: Adjustment, shifts: Array) -> float:
    """Chi-square the adjustment would have with `shifts` (m,) added to the readings."""
    change = shifts / adjustment.sigma
    misfit = -adjustment.residuals / adjustment.sigma
    misfit = misfit + change - adjustment.basis @ (adjustment.basis.T @ change)
    return float(misfit @ misfit)


@cites("foerstner-1983", "separability: correlation of the test statistics")
def separability(adjustment: Adjustment) -> Array:
    """Correlation of the normalised residuals, shape (m, m); nan for rows nothing checks.

    Near +-1: a slip in one cannot be told from a slip in the other.
    """
    spread = np.eye(len(adjustment.rows)) - adjustment.basis @ adjustment.basis.T
    root = np.sqrt(_checked_redundancy(adjustment))
    correlation: Array = spread / np.outer(root, root)
    return correlation


def _checked_redundancy(adjustment: Adjustment) -> Array:
    """Redundancy with nan for the rows that nothing checks."""
    return np.where(adjustment.redundancy > CHECKED, adjustment.redundancy, np.nan)
