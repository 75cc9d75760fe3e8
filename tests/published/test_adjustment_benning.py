"""A square of 1000 m with both diagonals and one side missing: five distances, two new points.

Source: W. Benning, Statistik in Geodaesie, Geoinformation und Bauwesen, 4th edition, Wichmann,
2011, Example 8-2, as collected in F. Krumm, Geodetic Network Adjustment Examples, University of
Stuttgart, Institute of Geodesy. Second witness for the sum of squares: GNU Gama, gama-local 2.24.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from tests.published.networks import Line, Network, trilaterate


@pytest.fixture(scope="module")
def network() -> Network:
    fixed = {"1": (0.0, 1000.0), "2": (1000.0, 1000.0)}
    lines = [
        Line("1", "3", 1000.02, 0.010),
        Line("1", "4", 1414.20, 0.010),
        Line("2", "3", 1414.24, 0.010),
        Line("2", "4", 999.98, 0.010),
        Line("3", "4", 1000.00, 0.010),
    ]
    return trilaterate(lines, fixed, {"3": (0.0, 0.0), "4": (1000.0, 0.0)})


def test_8_2_adjusted_points(network: Network) -> None:
    assert network.points["3"] == pytest.approx((-0.0096, -0.0226), abs=0.5e-4)
    assert network.points["4"] == pytest.approx((999.9930, 0.0174), abs=0.5e-4)


def test_8_2_standard_deviations_in_cm_scaled_by_the_variance_factor(network: Network) -> None:
    adjustment = network.adjustment
    sds = np.sqrt(np.diag(adjustment.covariance) * adjustment.variance_factor) * 100
    assert sds == pytest.approx([0.901, 0.637, 0.901, 0.637], abs=0.5e-3)


def test_8_2_sum_of_squares_in_mm(network: Network) -> None:
    adjustment = network.adjustment
    assert adjustment.chi_square * 10.0**2 == pytest.approx(47.3676, abs=0.5e-4)
    assert math.sqrt(adjustment.variance_factor) * 10.0 == pytest.approx(6.88, abs=0.5e-2)
