"""A levelling network whose lines contradict each other: the global test must say so.

Source: W. Niemeier, Ausgleichungsrechnung, 2nd edition, de Gruyter, 2008, levelling example, as
collected in F. Krumm, Geodetic Network Adjustment Examples, University of Stuttgart, Institute of
Geodesy. Point 6 is fixed at 67.228 m; sigma is 1 mm for the square root of a kilometre.

Second witness for residuals and statistics: GNU Gama, gama-local 2.24, run on the same lines.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from hangtrue.measure.linear import Adjustment
from hangtrue.measure.reliability import global_test, normalised_residuals, tau, tau_critical
from tests.published.networks import Line, level

LINES = [
    Line(start, end, rise, 1e-3 * math.sqrt(length / 1000.0))
    for start, end, rise, length in (
        ("1", "2", -8.206, 621.118012422360),
        ("1", "3", -5.734, 1204.819277108430),
        ("2", "3", 2.481, 450.450450450450),
        ("2", "4", -4.433, 800.0),
        ("3", "4", -6.909, 1000.0),
        ("3", "5", -18.872, 1098.901098901100),
        ("3", "6", 4.035, 440.528634361233),
        ("4", "5", -11.962, 719.424460431655),
        ("5", "6", 22.904, 833.333333333333),
    )
]


@pytest.fixture(scope="module")
def network() -> Adjustment:
    return level(LINES, {"6": 67.228}, ["1", "2", "3", "4", "5"])


def test_adjusted_heights(network: Adjustment) -> None:
    printed = [68.9235, 60.7153, 63.1938, 56.2838, 44.3226]
    assert network.x == pytest.approx(printed, abs=0.5e-4)


def test_standard_deviations_scaled_by_the_variance_factor(network: Adjustment) -> None:
    sds = np.sqrt(np.diag(network.covariance) * network.variance_factor) * 1000
    assert sds == pytest.approx([3.12, 2.60, 1.97, 2.63, 2.30], abs=0.5e-2)


def test_sum_of_squares(network: Adjustment) -> None:
    assert network.degrees_of_freedom == 4
    assert network.chi_square == pytest.approx(46.0817, abs=0.5e-4)
    assert math.sqrt(network.variance_factor) == pytest.approx(3.394, abs=0.5e-3)


def test_the_global_test_rejects(network: Adjustment) -> None:
    result = global_test(network, alpha=0.05)
    interval = np.sqrt(np.array([result.low, result.high]) / 4)
    assert interval == pytest.approx([0.348, 1.669], abs=0.5e-3)
    assert result.disagrees
    assert not result.accepted


def test_line_2_to_3_is_the_suspect(network: Adjustment) -> None:
    witness = [-5.246, 5.246, -6.134, 2.577, -1.198, 0.945, -2.367, 1.383, 2.367]
    assert normalised_residuals(network) == pytest.approx(witness, abs=0.5e-3)
    own = np.abs(tau(network))
    assert int(np.argmax(own)) == 2
    assert own[2] == pytest.approx(1.807, abs=0.5e-3)
    assert own[2] > tau_critical(0.05, 4) == pytest.approx(1.757, abs=0.5e-3)
