"""A straight line with the variance of its parameters, of its values and of a new reading.

Source: M. G. Natrella, Experimental Statistics, National Bureau of Standards Handbook 91, 1963,
paragraph 5-4.1 (Young's modulus of sapphire rods by temperature).
"""

from __future__ import annotations

import math

import pytest

from hangtrue.measure.linear import Adjustment, Row, adjust, predict

X = (30.0, *(100.0 * k for k in range(1, 16)))
Y = (
    *(4642, 4612, 4565, 4513, 4476, 4433, 4389, 4347),
    *(4303, 4251, 4201, 4140, 4100, 4073, 4024, 3999),
)


@pytest.fixture(scope="module")
def line() -> Adjustment:
    rows = [
        Row(name=f"{x:g} C", terms=((0, 1.0), (1, x)), observed=float(y), sigma=1.0)
        for x, y in zip(X, Y, strict=True)
    ]
    return adjust(rows, 2)


def test_5_4_1_intercept_and_slope(line: Adjustment) -> None:
    assert line.x[0] == pytest.approx(4654.9846, abs=0.5e-4)
    assert line.x[1] == pytest.approx(-0.44985482, abs=0.5e-8)


def test_5_4_1_scatter_about_the_line(line: Adjustment) -> None:
    """The last digit is cut, not rounded, hence a whole unit of it."""
    assert math.sqrt(line.variance_factor) == pytest.approx(9.277617, abs=1e-6)


def test_5_4_1_variances_of_intercept_and_slope(line: Adjustment) -> None:
    """The book carries eight digits through its hand calculation, hence two in the last place."""
    scaled = line.covariance * line.variance_factor
    assert scaled[0, 0] == pytest.approx(19.879452, abs=2e-6)
    assert scaled[1, 1] == pytest.approx(0.000025649045, abs=2e-12)


def test_5_4_1_variance_of_the_line_at_1200(line: Adjustment) -> None:
    at = predict(line, ((0, 1.0), (1, 1200.0)))
    assert at.sd**2 * line.variance_factor == pytest.approx(10.53, abs=0.5e-2)


def test_5_4_1_variance_of_a_new_reading_at_750(line: Adjustment) -> None:
    at = predict(line, ((0, 1.0), (1, 750.0)))
    assert (at.sd**2 + 1.0) * line.variance_factor == pytest.approx(91.45, abs=0.5e-2)
