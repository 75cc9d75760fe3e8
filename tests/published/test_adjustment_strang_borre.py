"""One point from three distances that do not close.

Source: G. Strang, K. Borre, Linear Algebra, Geodesy, and GPS, Wellesley-Cambridge Press, 1997,
Examples 10.1 and 12.4.
"""

from __future__ import annotations

import numpy as np
import pytest

from tests.published.networks import Line, Network, trilaterate


@pytest.fixture(scope="module")
def network() -> Network:
    fixed = {"1": (170.71, 270.71), "2": (100.0, 100.0), "3": (241.42, 100.0)}
    lines = [
        Line("P", "1", 100.01, 0.010),
        Line("P", "2", 100.02, 0.010),
        Line("P", "3", 100.03, 0.010),
    ]
    return trilaterate(lines, fixed, {"P": (170.0, 170.0)})


def test_10_1_adjusted_point(network: Network) -> None:
    assert network.points["P"] == pytest.approx((170.7029, 170.7234), abs=0.5e-4)


def test_12_4_standard_deviations_in_cm_scaled_by_the_variance_factor(network: Network) -> None:
    adjustment = network.adjustment
    sds = np.sqrt(np.diag(adjustment.covariance) * adjustment.variance_factor) * 100
    assert sds == pytest.approx([3.303, 2.335], abs=0.5e-3)
