"""Variance components, a conjugate normal model, and a gauge study, against published answers.

- Davies and Goldsmith, *Statistical Methods in Research and Production* (dyestuff yields), as used
  by Bates, *lme4: Mixed-effects modeling with R*: `Dyestuff` and `Dyestuff2`, printed REML and ML.
  The yields of `Dyestuff2` are from Box and Tiao, *Bayesian Inference in Statistical Analysis*.
- Newcomb's 66 passage times (1882) in Gelman and others, *Bayesian Data Analysis*.
- AIAG, *Measurement Systems Analysis*, 4th edition, gauge repeatability and reproducibility.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from hangtrue.odds.components import (
    Believed,
    TooFewError,
    by_anova,
    by_ranges,
    components,
    learned,
)

DYESTUFF = (
    (1545, 1440, 1440, 1520, 1580),
    (1540, 1555, 1490, 1560, 1495),
    (1595, 1550, 1605, 1510, 1560),
    (1445, 1440, 1595, 1465, 1545),
    (1595, 1630, 1515, 1635, 1625),
    (1520, 1455, 1450, 1480, 1445),
)
DYESTUFF_2 = (  # from memory; the printed answers below hold for these figures
    (7.298, 3.846, 2.434, 9.566, 7.990),
    (5.220, 6.556, 0.608, 11.788, -0.892),
    (0.110, 10.386, 13.434, 5.510, 8.166),
    (2.212, 4.852, 7.092, 9.288, 4.980),
    (0.282, 9.014, 4.458, 9.446, 7.198),
    (1.722, 4.782, 8.106, 0.758, 3.758),
)
NEWCOMB = (
    28, 26, 33, 24, 34, -44, 27, 16, 40, -2, 29, 22, 24, 21, 25, 30, 23, 29, 31, 19, 24, 20,
    36, 32, 36, 28, 25, 21, 28, 29, 37, 25, 28, 26, 30, 32, 36, 26, 30, 22, 36, 23, 27, 27,
    28, 27, 31, 27, 26, 33, 26, 32, 32, 24, 39, 28, 24, 25, 32, 25, 29, 27, 28, 29, 16, 23,
)  # fmt: skip
GAUGE = (  # persons x trials x parts
    (
        (0.29, -0.56, 1.34, 0.47, -0.80, 0.02, 0.59, -0.31, 2.26, -1.36),
        (0.41, -0.68, 1.17, 0.50, -0.92, -0.11, 0.75, -0.20, 1.99, -1.25),
        (0.64, -0.58, 1.27, 0.64, -0.84, -0.21, 0.66, -0.17, 2.01, -1.31),
    ),
    (
        (0.08, -0.47, 1.19, 0.01, -0.56, -0.20, 0.47, -0.63, 1.80, -1.68),
        (0.25, -1.22, 0.94, 1.03, -1.20, 0.22, 0.55, 0.08, 2.12, -1.62),
        (0.07, -0.68, 1.34, 0.20, -1.28, 0.06, 0.83, -0.34, 2.19, -1.50),
    ),
    (
        (0.04, -1.38, 0.88, 0.14, -1.46, -0.29, 0.02, -0.46, 1.77, -1.49),
        (-0.11, -1.13, 1.09, 0.20, -1.07, -0.67, 0.01, -0.56, 1.45, -1.77),
        (-0.15, -0.96, 0.67, 0.11, -1.45, -0.49, 0.21, -0.49, 1.87, -2.16),
    ),
)


def test_dyestuff_by_restricted_maximum_likelihood() -> None:
    """Published: 42.0010 (the optimum itself is at 42.0006), 49.5101, 319.654."""
    found = components(DYESTUFF)
    assert math.sqrt(found.between) == pytest.approx(42.0006, abs=5e-4)
    assert math.sqrt(found.within) == pytest.approx(49.5101, abs=5e-5)
    assert found.mean == pytest.approx(1527.5)
    assert found.mean_sd == pytest.approx(19.38, abs=5e-3)
    assert found.criterion == pytest.approx(319.654, abs=5e-4)


def test_dyestuff_by_restricted_maximum_likelihood_is_the_analysis_of_variance() -> None:
    """Balanced data: the exact answer is 1764.05 and 2451.25."""
    found = components(DYESTUFF)
    assert found.between == pytest.approx(1764.05, rel=1e-6)
    assert found.within == pytest.approx(2451.25, rel=1e-6)


def test_dyestuff_by_maximum_likelihood() -> None:
    """Published: 37.2602 (others 37.26034), 49.5101, standard error 17.6944, 327.327."""
    found = components(DYESTUFF, "ml")
    assert math.sqrt(found.between) == pytest.approx(37.2603, abs=5e-4)
    assert math.sqrt(found.within) == pytest.approx(49.5101, abs=5e-5)
    assert found.mean_sd == pytest.approx(17.694, abs=1e-3)
    assert found.criterion == pytest.approx(327.3271, abs=5e-5)


def test_dyestuff_intervals_hold_the_estimate_and_differ_from_nought_as_published() -> None:
    """Published 95 % profile interval by maximum likelihood: from 12.2 to 84.1.

    Only its order of size is compared: here the ratio is profiled, there the deviation.
    """
    found = components(DYESTUFF, "ml")
    low, high = found.between_interval
    assert low < 20.0
    assert low < math.sqrt(found.between) < high
    assert 70.0 < high < 110.0


def test_dyestuff_2_has_no_negative_variance() -> None:
    """Published: batches exactly 0, residual 3.716, mean 5.6656, its error 0.6784."""
    found = components(DYESTUFF_2)
    assert found.between == 0.0
    assert math.sqrt(found.within) == pytest.approx(3.7157, abs=2e-3)
    assert found.mean == pytest.approx(5.6656, abs=5e-5)
    assert found.mean_sd == pytest.approx(0.6784, abs=5e-5)
    assert found.between_interval[0] == 0.0


def test_newcomb_conjugate_update() -> None:
    """With the prior (0, 2, 3, 30); computed independently, see the module."""
    after = learned(Believed(mean=0.0, weight=2.0, a=3.0, b=30.0), NEWCOMB)
    assert after.mean == pytest.approx(25.441176470588236)
    assert (after.weight, after.a) == (68.0, 36.0)
    assert after.b == pytest.approx(4449.382352941177)
    assert after.mean_interval() == pytest.approx((22.753652, 28.128701), abs=5e-7)
    assert after.variance == pytest.approx(127.1252, abs=5e-5)
    assert after.predicted_scale == pytest.approx(11.198728, abs=5e-7)


def test_newcomb_without_a_prior_is_the_students_interval() -> None:
    """Published: 66 values, mean 26.2, s 10.8; 95 % interval of the mean [23.6, 28.9]."""
    after = learned(Believed(mean=0.0, weight=1e-12, a=-0.5, b=0.0), NEWCOMB)
    assert after.mean_interval() == pytest.approx((23.5706, 28.8537), abs=5e-5)


def test_one_after_another_is_all_at_once() -> None:
    before = Believed(mean=1.0, weight=2.0, a=3.0, b=4.0)
    at_once = learned(before, NEWCOMB)
    in_turn = before
    for value in NEWCOMB:
        in_turn = learned(in_turn, [value])
    assert (in_turn.mean, in_turn.b) == pytest.approx((at_once.mean, at_once.b))


def test_gauge_study_by_ranges() -> None:
    """Published: EV .202, AV .230, GRR .306, PV 1.104, TV 1.146, ndc 5."""
    found = by_ranges(np.array(GAUGE))
    assert found.repeatability == pytest.approx(0.202, abs=5e-4)
    assert found.reproducibility == pytest.approx(0.230, abs=5e-4)
    assert found.gauge == pytest.approx(0.306, abs=5e-4)
    assert found.part == pytest.approx(1.1045, abs=6e-4)  # printed 1.104 and 1.105
    assert found.total == pytest.approx(1.146, abs=5e-4)
    assert int(found.categories) == 5


def test_gauge_study_by_analysis_of_variance() -> None:
    """Published variances: .0400, .0515, .0914, 1.086; ndc 4."""
    found = by_anova(np.array(GAUGE))
    assert found.repeatability**2 == pytest.approx(0.0400, abs=5e-5)
    assert found.reproducibility**2 == pytest.approx(0.0515, abs=6e-5)
    assert found.gauge**2 == pytest.approx(0.0914, abs=5e-5)
    assert found.part**2 == pytest.approx(1.086, abs=5e-4)
    assert int(found.categories) == 4


def test_gauge_study_without_pooling() -> None:
    """By another program without pooling: part 1.089, operator .052, measurement .046."""
    found = by_anova(np.array(GAUGE), pool=False)
    assert found.part**2 == pytest.approx(1.089, abs=5e-4)
    assert found.reproducibility**2 == pytest.approx(0.052, abs=5e-4)


@pytest.mark.parametrize("groups", [[], [[1.0, 2.0]], [[1.0], [2.0]], [[1.0, 2.0], []]])
def test_too_few_numbers_are_said(groups: list[list[float]]) -> None:
    with pytest.raises(TooFewError):
        components(groups)
