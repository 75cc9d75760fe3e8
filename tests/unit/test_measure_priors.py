"""The bow of a wall as a random process, against its definition."""

from __future__ import annotations

import numpy as np
import pytest

from hangtrue.job import library
from hangtrue.measure.priors import bow_covariance, bow_density, part_chord_sd
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


@pytest.mark.parametrize(
    ("part", "whole"),
    [
        ((0.0, 1800.0), (0.0, 1930.0)),
        ((100.0, 700.0), (0.0, 1930.0)),
        ((-900.0, 900.0), (-1000.0, 900.0)),
    ],
)
def test_a_lean_over_part_of_the_height_is_off_by_that_parts_bow(
    part: tuple[float, float], whole: tuple[float, float]
) -> None:
    """Against ten thousand drawn walls."""
    rng = np.random.default_rng(4)
    heights = np.linspace(min(whole[0], part[0]), max(whole[1], part[1]), 200)
    q = bow_density(BOW_SD, 2000.0)
    kernel = process(heights - heights[0], q)
    walls = rng.multivariate_normal(np.zeros(200), kernel, size=10_000, method="eigh").T
    at = {h: np.array([np.interp(h, heights, w) for w in walls.T]) for h in (*part, *whole)}
    share = (part[1] - part[0]) / (whole[1] - whole[0])
    off = at[part[1]] - at[part[0]] - share * (at[whole[1]] - at[whole[0]])
    assert part_chord_sd(PROFILE, part, whole) == pytest.approx(float(off.std()), rel=0.03)


def test_a_lean_over_the_whole_height_is_the_lean() -> None:
    assert part_chord_sd(PROFILE, (0.0, 1930.0), (0.0, 1930.0)) == pytest.approx(0.0, abs=1e-6)
