"""Chance that one or several gaps lie within their limits at once.

Sources
- NIST/SEMATECH e-Handbook of Statistical Methods, 6.1.6 What is process capability? (from memory):
  limits 8 and 20, mean 16, standard deviation 2.
- ISO 3443-2 and ISO 3443-3, joint fit with independent normal deviations: the method; no worked
  number of the standard could be read, so the case is closed form.
- Three correlated gaps: scipy 1.17.1 (Genz's routine) and OpenTURNS 1.27 agree on 0.92815211.
"""

from __future__ import annotations

import numpy as np
import pytest

from hangtrue.measure.probability import box_probability

MEAN = np.array([5.0, 4.2, 3.6])
COVARIANCE = np.array([[0.81, 0.30, 0.10], [0.30, 0.90, 0.35], [0.10, 0.35, 1.10]])
LOW, HIGH = np.full(3, 2.0), np.full(3, 8.0)


def one(mean: float, variance: float, low: float, high: float) -> float:
    return box_probability(
        np.array([mean]), np.array([[variance]]), np.array([low]), np.array([high])
    )


def test_capability_example_yield_within_both_limits() -> None:
    assert one(16.0, 2.0**2, 8.0, 20.0) == pytest.approx(0.977218, abs=0.5e-6)


def test_a_panel_in_its_space_leaves_joints_within_3_and_13_mm() -> None:
    found = one(1200.0 - 1192.0, 3.0**2 + 1.0**2, 3.0, 13.0)
    assert found == pytest.approx(0.886154, abs=0.5e-6)


def test_three_correlated_gaps_at_once() -> None:
    assert box_probability(MEAN, COVARIANCE, LOW, HIGH) == pytest.approx(0.92815211, abs=0.5e-8)


def test_each_gap_alone() -> None:
    alone = [
        one(mean, variance, 2.0, 8.0)
        for mean, variance in zip(MEAN, np.diag(COVARIANCE), strict=True)
    ]
    assert alone == pytest.approx([0.9991419, 0.9897716, 0.9364242], abs=0.5e-7)
    assert np.prod(alone) == pytest.approx(0.9260507, abs=0.5e-7)


def test_three_gaps_taken_as_independent_are_the_product() -> None:
    diagonal = np.diag(np.diag(COVARIANCE))
    assert box_probability(MEAN, diagonal, LOW, HIGH) == pytest.approx(0.9260507, abs=0.5e-7)
