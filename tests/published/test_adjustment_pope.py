"""Critical values of tau for one residual, and the best known outlier data for it.

Source: A. J. Pope, The statistics of residuals and the detection of outliers, NOAA Technical
Report NOS 65 NGS 1, 1976: tau = sqrt(f) t / sqrt(f - 1 + t^2), t Student with f - 1 degrees. The
table is that formula with scipy 1.17.1; GNU Gama, gama-local 2.24, prints 1.65, 1.76 and 1.92 for
3, 4 and 14 degrees of freedom at 5 %.

Stack loss: K. A. Brownlee, Statistical Theory and Methodology in Science and Engineering, 2nd
edition, Wiley, 1965; coefficients and internally studentized residuals (which are tau with the
opposite sign) as given by R 4.2.2 and statsmodels 0.15.0. The 21 days were typed from memory; the
coefficients would not come out with a wrong one.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from hangtrue.measure.linear import Adjustment, Row, adjust, loo_prediction
from hangtrue.measure.reliability import tau, tau_critical

TABLE = {
    2: (1.4099, 1.4140, 1.4142),
    3: (1.6454, 1.7147, 1.7303),
    4: (1.7567, 1.9175, 1.9823),
    5: (1.8143, 2.0509, 2.1781),
    6: (1.8481, 2.1421, 2.3292),
    8: (1.8848, 2.2562, 2.5407),
    10: (1.9039, 2.3236, 2.6786),
    15: (1.9261, 2.4113, 2.8735),
    20: (1.9358, 2.4539, 2.9749),
    30: (1.9447, 2.4956, 3.0785),
}
AIR_FLOW = (80, 80, 75, 62, 62, 62, 62, 62, 58, 58, 58, 58, 58, 58, 50, 50, 50, 50, 50, 56, 70)
WATER = (27, 27, 25, 24, 22, 23, 24, 24, 23, 18, 18, 17, 18, 19, 18, 18, 19, 19, 20, 20, 20)
ACID = (89, 88, 90, 87, 87, 87, 93, 93, 87, 80, 89, 88, 82, 93, 89, 86, 72, 79, 80, 82, 91)
LOSS = (42, 37, 37, 28, 18, 18, 19, 20, 15, 14, 14, 13, 11, 12, 8, 7, 8, 8, 9, 15, 15)


@pytest.fixture(scope="module")
def stack_loss() -> Adjustment:
    rows = [
        Row(
            name=f"day {day + 1}",
            terms=((0, 1.0), (1, float(air)), (2, float(water)), (3, float(acid))),
            observed=float(loss),
            sigma=1.0,
        )
        for day, (air, water, acid, loss) in enumerate(
            zip(AIR_FLOW, WATER, ACID, LOSS, strict=True)
        )
    ]
    return adjust(rows, 4)


@pytest.mark.parametrize("freedom", TABLE)
def test_critical_values_at_5_1_and_a_tenth_percent(freedom: int) -> None:
    found = [tau_critical(alpha, freedom) for alpha in (0.05, 0.01, 0.001)]
    assert found == pytest.approx(TABLE[freedom], abs=0.6e-4)


@pytest.mark.parametrize(("freedom", "printed"), [(3, 1.65), (4, 1.76), (14, 1.92)])
def test_critical_values_as_the_second_witness_prints_them(freedom: int, printed: float) -> None:
    assert tau_critical(0.05, freedom) == pytest.approx(printed, abs=0.5e-2)


def test_stack_loss_coefficients_and_scale(stack_loss: Adjustment) -> None:
    printed = [-39.919674, 0.715640, 1.295286, -0.152123]
    assert stack_loss.x == pytest.approx(printed, abs=0.5e-6)
    assert math.sqrt(stack_loss.variance_factor) == pytest.approx(3.243364, abs=0.5e-6)


def test_stack_loss_day_21_and_day_4(stack_loss: Adjustment) -> None:
    own = -tau(stack_loss)
    assert own[20] == pytest.approx(-2.63822, abs=0.5e-5)
    assert own[3] == pytest.approx(1.88182, abs=0.5e-5)
    assert tau_critical(0.05, 17) == pytest.approx(1.9308, abs=0.6e-4)


def test_stack_loss_leverage_is_one_minus_redundancy(stack_loss: Adjustment) -> None:
    assert 1 - stack_loss.redundancy[16] == pytest.approx(0.41212, abs=0.5e-5)
    assert 1 - stack_loss.redundancy[20] == pytest.approx(0.28453, abs=0.5e-5)


def test_stack_loss_day_21_against_all_the_other_days(stack_loss: Adjustment) -> None:
    """Externally studentized: day 21 against its prediction, scaled by the fit of the others."""
    means, sds = loo_prediction(stack_loss)
    error = LOSS[20] - means[20]
    others = stack_loss.chi_square - error**2 * stack_loss.redundancy[20]
    scale = math.sqrt(others / (stack_loss.degrees_of_freedom - 1))
    assert error / (scale * np.hypot(1.0, sds[20])) == pytest.approx(-3.33049, abs=0.5e-5)
