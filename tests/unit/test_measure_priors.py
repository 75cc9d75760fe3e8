"""The bow of a wall as a random process, against its definition."""

from __future__ import annotations

import numpy as np
import pytest

from hangtrue.job import library
from hangtrue.measure.priors import bow_covariance, bow_density
from tests.made_up import Vector

PROFILE = library.shipped_profiles()["inch-shop"]
BOW_SD = PROFILE.limit("prior-bow-sd").value


def process(heights: Vector, q: float) -> Vector:
    """Covariance of an integrated Wiener process that starts at 0, level: q s^2 (3 t - s) / 6.

    Rasmussen and Williams, Gaussian Processes for Machine Learning, 2006, equation (6.28) and the
    text after it, from memory.
    """
    s, t = np.minimum.outer(heights, heights), np.maximum.outer(heights, heights)
    return np.asarray(q * s**2 * (3.0 * t - s) / 6.0)


def slopes_change(heights: Vector) -> Vector:
    """Matrix (n - 2, n) from the heights' values to the changes of slope."""
    steps = np.diff(heights)
    rows = np.diff(np.eye(len(heights)), axis=0) / steps[:, np.newaxis]
    return np.asarray(np.diff(rows, axis=0))


def test_changes_of_slope_have_the_covariance_of_the_process() -> None:
    heights = np.array([0.0, 101.6, 254.0, 300.0, 965.2, 1000.0, 1676.4, 1930.4])
    q = bow_density(BOW_SD, 2000.0)
    change = slopes_change(heights)
    expected = change @ process(heights, q) @ change.T
    assert bow_covariance(np.diff(heights), q) == pytest.approx(expected, rel=1e-9, abs=1e-18)


def test_the_bow_in_the_middle_of_the_straightedge_is_the_shops() -> None:
    """A bow is half the half-length times the change of slope."""
    variance = bow_covariance(np.array([1000.0, 1000.0]), bow_density(BOW_SD, 2000.0))
    assert 500.0 * variance[0, 0] ** 0.5 == pytest.approx(BOW_SD)
