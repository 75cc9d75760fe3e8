"""Chances of fitting, a reading's worth and a rank-one update against outside figures.

- Joint fit: one space, one panel, a range of joint (ISO 3443-2, BS 6954-2: independent normal
  deviations, limits of joint width); the figure follows from the normal distribution.
- Three correlated gaps at once: the box probability that scipy 1.17 (`multivariate_normal.cdf` with
  a lower limit) and OpenTURNS 1.27 both give, 0.92815211; independence would give 0.9260507.
- Value of one reading before two actions: Raiffa and Schlaifer, *Applied Statistical Decision
  Theory*, unit normal loss integral (table from memory), and a Monte Carlo of four million draws.
- Rank-one update: Sherman and Morrison (1950), worked with an independent program.
- JCGM 101:2008, Propagation of distributions using a Monte Carlo method: 9.2.2, four standard
  normal quantities added up, [-3.92, 3.92]; 9.2.3, four rectangular ones alike, [-3.88, 3.88],
  exactly 3.87940674134782; 9.2.4, one of them ten times as wide, [-17.0, 17.0] (from memory).
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy.stats import multivariate_normal

from hangtrue.odds.boxes import bracket
from hangtrue.odds.errors import Source
from hangtrue.odds.model import Model, Place
from hangtrue.odds.next_reading import once_read
from hangtrue.odds.odds import odds_of
from hangtrue.odds.value import equally_likely, saved_by_telling


def gaps(
    mean: tuple[float, ...], covariance: np.ndarray, low: float, high: float, *, uniform: int = 0
) -> Model:
    """Gaps that nobody can do anything about, off by what is not known of the opening."""
    k = len(mean)
    return Model(
        places=tuple(Place(joint=f"gap {i}", at=0.0) for i in range(k)),
        planned=np.array(mean),
        usual=np.array(mean),
        low=np.full(k, low),
        high=np.full(k, high),
        freedoms=(),
        Y=np.zeros((k, 0)),
        most=np.zeros(0),
        shape=np.eye(k),
        covariance=covariance,
        sources=tuple(
            Source(name=str(i), origin="plant", sd=1.0, uniform=True) for i in range(uniform)
        ),
        parts=np.ones((k, uniform)),
    )


JOINT = gaps((8.0,), np.array([[10.0]]), 3.0, 13.0)
"""Space N(1200, 3), panel N(1192, 1), joint 3 to 13."""

THREE = np.array([[0.81, 0.30, 0.10], [0.30, 0.90, 0.35], [0.10, 0.35, 1.10]])


def test_joint_fit_of_one_space_and_one_panel() -> None:
    found = odds_of(JOINT, 1, 400_000)
    assert found.goes == pytest.approx(0.886154, abs=4 * found.remake.sd)
    assert bracket(JOINT) == pytest.approx((1 - 0.886154, 1 - 0.886154), abs=5e-7)


def test_three_correlated_gaps_go_in_together() -> None:
    of = gaps((5.0, 4.2, 3.6), THREE, 2.0, 8.0)
    found = odds_of(of, 1, 400_000)
    assert found.goes == pytest.approx(0.92815211, abs=4 * found.remake.sd)
    assert found.goes != pytest.approx(0.9260507, abs=2 * found.remake.sd)
    assert 1 - bracket(of)[0] == pytest.approx(0.92815211, abs=5e-8)


def test_the_box_of_three_gaps_is_that_of_a_general_library() -> None:
    of = gaps((5.0, 4.2, 3.6), THREE, 2.5, 6.0)
    theirs = multivariate_normal([5.0, 4.2, 3.6], THREE).cdf([6.0] * 3, lower_limit=[2.5] * 3)
    assert 1 - bracket(of)[0] == pytest.approx(theirs, abs=2e-5)


def four(low: float, sds: tuple[float, ...], *, uniform: bool) -> Model:
    """One gap that is off by four quantities added up, good within +- low."""
    one = gaps((0.0,), np.zeros((1, 1)), -low, low)
    names = (f"quantity {k}" for k in range(len(sds)))
    sources = tuple(
        Source(name=name, origin="plant", sd=sd, uniform=uniform)
        for name, sd in zip(names, sds, strict=True)
    )
    return replace(one, sources=sources, parts=np.ones((1, len(sds))))


ALIKE = (1.0, 1.0, 1.0, 1.0)


@pytest.mark.parametrize(
    ("limit", "sds", "shape"),
    [
        pytest.param(3.919928, ALIKE, "normal", id="9.2.2 four normal"),
        pytest.param(3.87940674134782, ALIKE, "rectangular", id="9.2.3 four rectangular"),
        pytest.param(17.0, (1.0, 1.0, 1.0, 10.0), "rectangular", id="9.2.4 one ten times as wide"),
    ],
)
def test_four_quantities_added_up_leave_their_95_percent_interval_five_times_in_a_hundred(
    limit: float, sds: tuple[float, ...], shape: str
) -> None:
    found = odds_of(four(limit, sds, uniform=shape == "rectangular"), 1, 1_000_000)
    printed = 5e-4  # what the last printed digit of the widest interval leaves
    assert found.remake.value == pytest.approx(0.05, abs=4 * found.remake.sd + printed)


def test_a_rectangular_quantity_is_told_from_a_normal_one() -> None:
    """The interval of the normal sum is left by the rectangular one less often: 4.74 %."""
    found = odds_of(four(3.919928, ALIKE, uniform=True), 1, 1_000_000)
    assert found.remake.value < 0.05 - 4 * found.remake.sd


def saved(mean: float, sd: float, reading_sd: float) -> float:
    """What one reading saves before choosing between a cost of the quantity and none.

    Told by the reading is the mean of what is believed afterwards: normal, of this deviation.
    """
    told = sd * sd / math.hypot(sd, reading_sd) if sd else 0.0
    costs = mean + told * equally_likely(100_000)
    return saved_by_telling(np.vstack([costs, np.zeros(len(costs))]))


@pytest.mark.parametrize(
    ("u", "loss"),
    [(0, 0.398942), (0.5, 0.197797), (1, 0.083315), (1.5, 0.029307), (2, 0.008491), (2.5, 0.002004),
     (3, 0.000382)],
)  # fmt: skip
def test_unit_normal_loss(u: float, loss: float) -> None:
    """Known exactly, a standard normal quantity about -u is worth the tabled integral."""
    assert saved(u, 1.0, 0.0) == pytest.approx(loss, abs=5e-6)
    assert saved(-u, 1.0, 0.0) == pytest.approx(loss, abs=5e-6)


def test_value_of_one_reading_and_of_knowing_all() -> None:
    assert saved(0.4, 1.0, 0.8) == pytest.approx(0.1515224, abs=2e-6)
    assert saved(0.4, 1.0, 0.0) == pytest.approx(0.2304388, abs=2e-6)
    assert saved(0.4, 0.0, 0.8) == 0.0


def test_rank_one_update() -> None:
    S = np.array([[4.0, 1.2, 0.5], [1.2, 2.0, 0.3], [0.5, 0.3, 1.0]])
    a = np.array([1.0, 0.0, -1.0])
    after = once_read(S, S @ a, float(a @ S @ a), 0.5)
    assert after == pytest.approx(
        np.array(
            [
                [1.117647, 0.458824, 0.911765],
                [0.458824, 1.809412, 0.405882],
                [0.911765, 0.405882, 0.941176],
            ]
        ),
        abs=5e-7,
    )
    assert np.trace(S - after) == pytest.approx(3.13176471, abs=5e-9)
    drop = math.log(np.linalg.det(S) / np.linalg.det(after))
    assert drop == pytest.approx(2.83321334, abs=5e-9)
