"""Do the readings agree with each other: residual of each, and the tests of all of them."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from scipy import special

from hangtrue.measure.adjusting import Fit, Seen, see
from hangtrue.measure.equations import equation
from hangtrue.measure.habits import usual
from hangtrue.measure.layout import Equation
from hangtrue.measure.linear import CHECKED, Array
from hangtrue.measure.opening import Residual
from hangtrue.measure.reliability import detection_shift, normal_critical, normalised_residuals
from hangtrue.source import cites


@dataclass(frozen=True, slots=True, kw_only=True)
class Tests:
    """The two tests that may raise an alarm, each at half of `level`.

    Attributes
    ----------
    chi_square, freedom, probability
        Global test of the readings and the bows; `freedom` is what they have beyond need.
    worst, critical
        Largest normalised residual, and what it may be.

    """

    chi_square: float
    freedom: float
    probability: float
    worst: float
    critical: float
    level: float

    @property
    def alarm(self) -> bool:
        """Whether the readings disagree."""
        return self.probability < self.level / 2 or self.worst > self.critical


@cites("own", "two tests at half the level each; Sidak over the readings")
def tests(fit: Fit, level: float) -> Tests:
    """Test whether the readings agree, with at most `level` false alarms.

    The broad priors take part in the estimate but not in the tests: where something was read they
    are outvoted and would only dilute the global test, and a reading that nothing else checks is
    not accused of leaning further than usual.
    """
    adjustment = fit.adjustment
    tested = len(fit.seen) + len(fit.network.shape_rows)
    misfit = adjustment.residuals[:tested] / adjustment.sigma[:tested]
    chi_square, freedom = float(misfit @ misfit), float(adjustment.redundancy[:tested].sum())
    w = _normalised(fit)
    return Tests(
        chi_square=chi_square,
        freedom=freedom,
        probability=float(special.chdtrc(freedom, chi_square)) if freedom > CHECKED else 1.0,
        worst=float(np.abs(w).max(initial=0.0)),
        critical=normal_critical(one_of_many(level / 2, len(w))),
        level=level,
    )


@cites("own", "Sidak's level of one test among many")
def one_of_many(level: float, tests_made: int) -> float:
    """Return the level of each of several tests that together alarm falsely at most at `level`."""
    return -math.expm1(math.log1p(-level) / max(tests_made, 1))


def residuals(fit: Fit, tests_made: Tests) -> dict[str, Residual]:
    """Give the residual of every reading that took part, by id."""
    adjustment = fit.adjustment
    w = _normalised(fit)
    shift = tests_made.critical + detection_shift(1.0, usual("power-missed"))
    return {
        s.reading.id: Residual(
            reading=s.reading.id,
            observed=s.observed + s.bias,
            adjusted=s.observed + float(adjustment.residuals[i]),
            sigma=s.sigma,
            redundancy=(share := float(adjustment.redundancy[i])),
            normalised=float(w[i]),
            detectable=s.sigma * shift / share**0.5 if share > CHECKED else float("inf"),
            bias=s.bias,
        )
        for i, s in enumerate(fit.seen)
    }


def residual_of_left_out(fit: Fit, reading_id: str, tests_made: Tests) -> Residual:
    """Give the residual of a reading against all the others, as if it had taken part."""
    net = fit.network
    reading = next(r for r in net.brief.job.readings if r.id == reading_id)
    seen: Seen = see(reading, net, fit.adjustment.x)
    row: Equation = equation(reading, net.layout, fit.adjustment.x)
    others = fit.predict(row.terms, row.constant)
    spread = (others.sd**2 + seen.sigma**2) ** 0.5
    shift = tests_made.critical + detection_shift(1.0, usual("power-missed"))
    return Residual(
        reading=reading_id,
        observed=seen.observed + seen.bias,
        adjusted=others.value,
        sigma=seen.sigma,
        redundancy=(seen.sigma / spread) ** 2,
        normalised=(others.value - seen.observed) / spread,
        detectable=shift * spread,
        bias=seen.bias,
    )


def _normalised(fit: Fit) -> Array:
    """Give the normalised residual of each reading; 0 where nothing but a broad prior checks it."""
    read = len(fit.seen)
    checked = fit.adjustment.redundancy[:read] > usual("least-redundancy")
    return np.where(checked, normalised_residuals(fit.adjustment)[:read], 0.0)
