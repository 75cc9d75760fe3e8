"""Sums of four quantities: the standard uncertainty of the budget and the spread of a simulation.

Source: JCGM 101:2008, Supplement 1 to the GUM: Propagation of distributions using a Monte Carlo
method, 9.2.2 (normal), 9.2.3 (rectangular, Table 3), 9.2.4 (one rectangular ten times as wide;
its values from memory, reproduced here).
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from hangtrue.estimate import Estimate
from hangtrue.measure.uncertainty_budget import rectangular_sd, root_sum_square

TRIALS = 400_000
HALF_WIDTH = math.sqrt(3.0)


def spread(*half_widths: float) -> tuple[float, float]:
    """Simulate a sum of rectangular quantities: its sd and the half-width that holds 95 %."""
    rng = np.random.default_rng(20081)
    total = sum(rng.uniform(-half, half, TRIALS) for half in half_widths)
    return float(np.std(total)), float(np.quantile(np.abs(total), 0.95))


def test_9_2_2_four_normal_quantities() -> None:
    u = root_sum_square(1.0, 1.0, 1.0, 1.0)
    low, high = Estimate(0.0, u).band(0.95)
    assert u == pytest.approx(2.0)
    assert (low, high) == pytest.approx((-3.92, 3.92), abs=0.5e-2)


def test_9_2_3_four_rectangular_quantities() -> None:
    """A normal distribution of the same spread would say 3.92, a little too wide."""
    budget = root_sum_square(*4 * (rectangular_sd(HALF_WIDTH),))
    simulated, reach = spread(*4 * (HALF_WIDTH,))
    assert budget == pytest.approx(2.0, abs=1e-12)
    # Four standard errors of 400 000 trials.
    assert simulated == pytest.approx(budget, abs=0.008)
    assert reach == pytest.approx(3.88, abs=0.5e-2 + 0.015)


def test_9_2_4_one_rectangular_quantity_dominates() -> None:
    """A normal distribution says +-19.9; the simulation, and the source, +-17.0."""
    halves = (*3 * (HALF_WIDTH,), 10 * HALF_WIDTH)
    budget = root_sum_square(*map(rectangular_sd, halves))
    simulated, reach = spread(*halves)
    assert budget == pytest.approx(10.15, abs=0.5e-2)
    assert Estimate(0.0, budget).band(0.95)[1] == pytest.approx(19.9, abs=0.05)
    assert simulated == pytest.approx(budget, abs=0.04)
    assert reach == pytest.approx(17.0, abs=0.05)
