"""A levelling network and a trilateration that fails its global test.

Source: C. D. Ghilani, Adjustment Computations: Spatial Data Analysis, 5th edition, Wiley, 2010:
Example 12.6 (levelling) and Example 14.5 (trilateration, feet).

Second witness for tau and for the digits the book rounds away: GNU Gama, gama-local 2.24, run on
the same lines. Redundancies, smallest detectable slips (alpha 0.001, beta 0.20) and the unscaled
covariance follow from the book's lines in closed form; the book does not print them.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from hangtrue.measure.linear import Adjustment
from hangtrue.measure.reliability import (
    global_test,
    normalised_residuals,
    separability,
    smallest_detectable,
    tau,
    tau_critical,
)
from tests.published.networks import Line, Network, level, trilaterate

MM = 1000.0


@pytest.fixture(scope="module")
def levelling() -> Adjustment:
    lines = [
        Line("A", "B", 10.509, 0.006),
        Line("B", "C", 5.360, 0.004),
        Line("C", "D", -8.523, 0.005),
        Line("D", "A", -7.348, 0.003),
        Line("B", "D", -3.167, 0.004),
        Line("A", "C", 15.881, 0.012),
    ]
    return level(lines, {"A": 437.596}, ["B", "C", "D"])


@pytest.fixture(scope="module")
def trilateration() -> Network:
    lines = [
        Line("Badger", "Wisconsin", 5870.302, 0.01),
        Line("Badger", "Campus", 7297.588, 0.01),
        Line("Wisconsin", "Campus", 3616.434, 0.01),
        Line("Wisconsin", "Bucky", 5742.878, 0.01),
        Line("Campus", "Bucky", 5123.760, 0.01),
    ]
    fixed = {"Badger": (2410000.0, 390000.0), "Bucky": (2411820.0, 386881.222)}
    near = {"Wisconsin": (2415770.0, 391040.0), "Campus": (2416890.0, 387600.0)}
    return trilaterate(lines, fixed, near)


def test_12_6_adjusted_heights(levelling: Adjustment) -> None:
    assert levelling.x == pytest.approx([448.1087, 453.4685, 444.9436], abs=0.5e-4)


def test_12_6_corrections_of_the_approximate_heights(levelling: Adjustment) -> None:
    corrections = (levelling.x - [448.105, 453.465, 444.942]) * MM
    assert corrections == pytest.approx([3.71, 3.47, 1.61], abs=0.5e-2)


def test_12_6_standard_deviations_scaled_by_the_variance_factor(levelling: Adjustment) -> None:
    sds = np.sqrt(np.diag(levelling.covariance) * levelling.variance_factor) * MM
    assert sds == pytest.approx([2.30, 2.64, 1.76], abs=0.5e-2)


def test_12_6_covariance_before_scaling(levelling: Adjustment) -> None:
    derived = [[12.4247, 9.0429, 5.3286], [9.0429, 16.3898, 5.7149], [5.3286, 5.7149, 7.3107]]
    assert levelling.covariance * MM**2 == pytest.approx(np.array(derived), abs=0.5e-4)


def test_12_6_residuals_and_sum_of_squares(levelling: Adjustment) -> None:
    witness = [3.712, -0.244, -1.862, 0.395, 1.894, -8.532]
    assert levelling.residuals * MM == pytest.approx(witness, abs=0.5e-3)
    assert levelling.chi_square == pytest.approx(1.27212, abs=0.5e-5)
    assert math.sqrt(levelling.variance_factor) == pytest.approx(0.65118, abs=0.5e-5)


def test_12_6_no_line_is_suspect_by_tau(levelling: Adjustment) -> None:
    found = np.abs(tau(levelling))
    assert found == pytest.approx([1.17, 0.16, 0.80, 0.47, 1.11, 1.16], abs=0.5e-2)
    assert found.max() < tau_critical(0.05, 3)
    assert tau_critical(0.05, 3) == pytest.approx(1.65, abs=0.5e-2)


def test_12_6_redundancies_normalised_residuals_detectable_slips(levelling: Adjustment) -> None:
    share = [0.6549, 0.3294, 0.5092, 0.1877, 0.4326, 0.8862]
    assert levelling.redundancy == pytest.approx(share, abs=0.5e-4)
    normalised = [0.7644, -0.1063, -0.5220, 0.3037, 0.7197, -0.7553]
    assert normalised_residuals(levelling) == pytest.approx(normalised, abs=0.5e-4)
    slips = [30.637, 28.797, 28.954, 28.613, 25.129, 52.674]
    assert smallest_detectable(levelling) * MM == pytest.approx(slips, abs=0.5e-3)


def test_14_5_adjusted_coordinates(trilateration: Network) -> None:
    wisconsin, campus = trilateration.points["Wisconsin"], trilateration.points["Campus"]
    assert wisconsin == pytest.approx((2415776.9044, 391043.2945), abs=0.5e-4)
    assert campus == pytest.approx((2416892.6955, 387603.2551), abs=0.5e-4)


def test_14_5_the_readings_disagree(trilateration: Network) -> None:
    """The book's reference standard deviation 0.1359 belongs to unit weights; sigma is 0.01."""
    adjustment = trilateration.adjustment
    assert 0.01 * math.sqrt(adjustment.variance_factor) == pytest.approx(0.1359, abs=0.5e-4)
    assert global_test(adjustment).disagrees


def test_14_5_one_degree_of_freedom_detects_but_cannot_attribute(trilateration: Network) -> None:
    """Every line explains the disagreement equally well: |w| all equal, |correlation| 1."""
    adjustment = trilateration.adjustment
    assert adjustment.degrees_of_freedom == 1
    normalised = np.abs(normalised_residuals(adjustment))
    assert normalised == pytest.approx(np.full(5, math.sqrt(adjustment.chi_square)), rel=1e-6)
    assert np.abs(separability(adjustment)) == pytest.approx(np.ones((5, 5)), abs=1e-6)
    assert math.isinf(tau_critical(0.05, 1))
