"""The odds beside general libraries that can do the same sum: same value, how much faster.

These libraries are heavy and of no use to the program, so only `make bench` installs them.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import openturns as ot
from numpy.typing import NDArray
from uncertainties import correlated_values

from benchmarks.bench_odds import MILLION, median_s, of_room
from hangtrue.measure.probability import box_probability
from hangtrue.odds.drawing import chance
from hangtrue.odds.margins import system
from hangtrue.odds.model import Model, Place

MEAN = np.array([5.0, 4.2, 3.6])
TOGETHER = np.array([[0.81, 0.30, 0.10], [0.30, 0.90, 0.35], [0.10, 0.35, 1.10]])
THEIRS = ot.CovarianceMatrix(TOGETHER.tolist())


def run() -> Iterator[tuple[str, str]]:
    """Yield one row a figure."""
    yield from joint_box()
    yield from a_million_draws()
    yield from standard_deviations(of_room("sandpiper"))


def three() -> Model:
    """Three correlated gaps that nobody can do anything about, each good from 2 to 8 mm."""
    return Model(
        places=tuple(Place(joint=f"gap {k}", at=0.0) for k in range(3)),
        planned=MEAN,
        usual=MEAN,
        low=np.full(3, 2.0),
        high=np.full(3, 8.0),
        freedoms=(),
        Y=np.zeros((3, 0)),
        most=np.zeros(0),
        shape=np.eye(3),
        covariance=TOGETHER,
        sources=(),
        parts=np.zeros((3, 0)),
    )


def joint_box() -> Iterator[tuple[str, str]]:
    """The chance that three correlated gaps are all in their ranges, without drawing."""
    low, high = np.full(3, 2.0), np.full(3, 8.0)
    theirs, box = ot.Normal(MEAN.tolist(), THEIRS), ot.Interval([2.0] * 3, [8.0] * 3)
    apart = abs(box_probability(MEAN, TOGETHER, low, high) - theirs.computeProbability(box))
    mine_s = median_s(lambda: box_probability(MEAN, TOGETHER, low, high))
    their_s = median_s(lambda: theirs.computeProbability(box))
    yield (
        f"three correlated gaps, no draw; OpenTURNS {ot.__version__}; apart",
        f"{1e3 * mine_s:.2f} ms; {1e3 * their_s:.2f} ms; {apart:.0e}",
    )


def a_million_draws() -> Iterator[tuple[str, str]]:
    """The same three gaps, a million draws: how many are out of their ranges."""
    of = three()
    listed, theirs = system(of), ot.Normal(MEAN.tolist(), THEIRS)

    def counted() -> float:
        gaps = np.asarray(theirs.getSample(MILLION))
        return float(((gaps < 2.0) | (gaps > 8.0)).any(axis=1).mean())

    mine = f"{median_s(lambda: chance(of, listed, 1, MILLION)):.3f} s"
    other = f"{median_s(counted):.3f} s"
    fails, their_fails = 100 * chance(of, listed, 1, MILLION), 100 * counted()
    yield (
        "three correlated gaps, a million draws; OpenTURNS",
        f"{mine}, {fails:.2f} %; {other}, {their_fails:.2f} %",
    )


def standard_deviations(of: Model) -> Iterator[tuple[str, str]]:
    """Standard deviation of every gap, correlations and all."""
    values = [0.0] * len(of.covariance)

    def theirs() -> list[float]:
        known = correlated_values(values, of.covariance)
        return [sum(a * x for a, x in zip(row, known, strict=True)).std_dev for row in of.shape]

    def mine() -> NDArray[np.float64]:
        variances = np.einsum("ki,ij,kj->k", of.shape, of.covariance, of.shape)
        return np.asarray(np.sqrt(variances), dtype=np.float64)

    apart = float(np.abs(mine() - np.array(theirs())).max())
    mine_s, their_s = median_s(mine), median_s(theirs)
    times = f"{their_s / mine_s:,.0f} times"
    yield (
        f"standard deviation of {len(of.places)} gaps; uncertainties; apart",
        f"{1e3 * mine_s:.2f} ms; {1e3 * their_s:.0f} ms ({times}); {apart:.0e} mm",
    )


if __name__ == "__main__":
    for label, figures in run():
        print(f"{label:<64} {figures}")
