"""A levelling network of three unknown points with data snooping, complete with statistics.

Source: Z. Siki, adjustment of a levelling network with data snooping, teaching example, Budapest
University of Technology and Economics, Department of Geodesy (title from memory).
Point 4 is fixed at 101.345 m; sigma is 0.7 mm for each kilometre of line.

Second witness for the digits the sheet rounds away: GNU Gama, gama-local 2.24, run on the same
lines. Smallest detectable slips, bias-to-noise and separability follow in closed form from the
published redundancies (alpha 0.001, beta 0.20); the sheet does not print them.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from hangtrue.measure.linear import Adjustment
from hangtrue.measure.reliability import (
    bias_to_noise,
    estimated_slips,
    global_test,
    normalised_residuals,
    separability,
    smallest_detectable,
    tau,
    tau_critical,
)
from tests.published.networks import Line, level

LINES = [
    Line(start, end, rise, 0.7e-3 * length_km)
    for start, end, rise, length_km in (
        ("1", "2", -0.749, 1.1),
        ("1", "3", -1.274, 1.8),
        ("1", "4", -2.890, 1.4),
        ("2", "3", -0.530, 1.5),
        ("2", "4", -2.141, 1.9),
        ("3", "4", -1.614, 0.9),
    )
]
MM = 1000.0


@pytest.fixture(scope="module")
def network() -> Adjustment:
    return level(LINES, {"4": 101.345}, ["1", "2", "3"])


def test_adjusted_heights(network: Adjustment) -> None:
    assert network.x == pytest.approx([104.2350, 103.4868, 102.9588], abs=0.5e-4)


def test_corrections_of_the_approximate_heights(network: Adjustment) -> None:
    corrections = (network.x - [104.234, 103.487, 102.958]) * MM
    assert corrections == pytest.approx([0.9969, -0.1919, 0.8200], abs=0.5e-4)


def test_sum_of_squares_and_variance_factor(network: Adjustment) -> None:
    assert network.degrees_of_freedom == 3
    assert network.chi_square == pytest.approx(8.217, abs=0.5e-3)
    assert math.sqrt(network.variance_factor) == pytest.approx(1.65, abs=0.5e-2 + 1e-9)


def test_standard_deviations_scaled_by_the_variance_factor(network: Adjustment) -> None:
    sds = np.sqrt(np.diag(network.covariance) * network.variance_factor) * MM
    assert sds == pytest.approx([1.13, 1.19, 0.91], abs=0.5e-2)


def test_residuals(network: Adjustment) -> None:
    printed = [0.81, -2.18, 0.00, 2.01, -0.81, 0.18]
    assert network.residuals * MM == pytest.approx(printed, abs=0.5e-2)


def test_normalised_residuals(network: Adjustment) -> None:
    found = np.abs(normalised_residuals(network))
    assert found == pytest.approx([1.9, 2.1, 0.0, 2.6, 0.7, 0.6], abs=0.05)
    witness = [1.8798, 2.0853, 0.0044, 2.5918, 0.7224, 0.5903]
    assert found == pytest.approx(witness, abs=0.5e-4)


def test_tau(network: Adjustment) -> None:
    found = np.abs(tau(network))
    assert found == pytest.approx([1.1, 1.3, 0.0, 1.6, 0.4, 0.4], abs=0.05)
    witness = [1.1358, 1.2600, 0.0026, 1.5660, 0.4365, 0.3567]
    assert found == pytest.approx(witness, abs=0.5e-4)


def test_redundancies(network: Adjustment) -> None:
    """The sheet cuts rather than rounds two of them, hence a whole last digit."""
    assert network.redundancy == pytest.approx([0.3, 0.7, 0.5, 0.5, 0.7, 0.2], abs=0.1)
    witness = [0.3140, 0.6865, 0.5112, 0.5466, 0.7073, 0.2344]
    assert network.redundancy == pytest.approx(witness, abs=0.5e-4)


def test_slip_each_line_would_have_if_it_alone_were_wrong(network: Adjustment) -> None:
    """The witness prints v / r; the slip is the opposite of what the reading needs added."""
    printed = -np.array([2.6, -3.2, 0.0, 3.7, -1.1, 0.8])
    assert estimated_slips(network) * MM == pytest.approx(printed, abs=0.05)


def test_line_4_is_the_suspect_by_normal_residual_and_none_is_by_tau(network: Adjustment) -> None:
    normal, own = np.abs(normalised_residuals(network)), np.abs(tau(network))
    assert int(np.argmax(normal)) == 3
    assert normal[3] > 1.96
    assert own.max() < tau_critical(0.05, 3)


def test_accepted_interval_of_the_variance_factor(network: Adjustment) -> None:
    result = global_test(network, alpha=0.05)
    interval = np.sqrt(np.array([result.low, result.high]) / 3)
    assert interval == pytest.approx([0.268, 1.765], abs=0.5e-3)
    assert result.accepted


def test_smallest_detectable_slips(network: Adjustment) -> None:
    derived = [5.6778, 6.2839, 5.6637, 5.8688, 6.5345, 5.3772]
    assert smallest_detectable(network) * MM == pytest.approx(derived, abs=0.5e-4)


def test_bias_to_noise(network: Adjustment) -> None:
    derived = [6.107, 2.793, 4.041, 3.764, 2.658, 7.468]
    assert bias_to_noise(network) == pytest.approx(derived, abs=0.5e-3)


def test_separability(network: Adjustment) -> None:
    rho = separability(network)
    found = [rho[0, 3], rho[2, 5], rho[0, 1]]
    assert found == pytest.approx([0.6104, -0.6447, -0.4490], abs=0.5e-4)
