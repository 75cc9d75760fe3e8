"""Variance components: how much differs from person to person or job to job, how much each time.

Nothing here is ever negative: where groups differ less than chance would make them, the component
is nought.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from scipy import optimize, special

from hangtrue.measure.opening import Matrix, Vector
from hangtrue.source import cites

Method = Literal["reml", "ml"]

TWO = 2
FURTHEST = 1e8
"""Largest ratio of the two variances that is looked at."""

FINE = 1e-12


class TooFewError(ValueError):
    """There are too few numbers to tell the components apart."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Components:
    """What one-way groups of numbers say.

    Attributes
    ----------
    mean, mean_sd
        Common mean and its standard error.
    between, within
        Variances, >= 0.
    between_interval, within_interval
        Intervals of the standard deviations at the coverage asked for: of `between` by profile
        likelihood of the ratio of the two, of `within` by chi-square.
    criterion
        -2 log of the (restricted) likelihood.

    """

    mean: float
    mean_sd: float
    between: float
    within: float
    between_interval: tuple[float, float]
    within_interval: tuple[float, float]
    criterion: float


@cites("searle-1992", "one-way random model, maximum and restricted maximum likelihood")
def components(
    groups: Sequence[Sequence[float]], method: Method = "reml", coverage: float = 0.95
) -> Components:
    """Split the scatter of grouped numbers into what is between groups and what is within.

    Parameters
    ----------
    groups
        At least two, one of them with more than one number.

    Raises
    ------
    TooFewError
        If nothing tells the two components apart.

    """
    sizes = np.array([len(g) for g in groups], dtype=np.float64)
    if len(groups) < TWO or sizes.sum() <= len(groups) or (sizes == 0).any():
        raise TooFewError("two groups are needed, one of them with more than one number")
    case = _Case(
        sizes=sizes,
        means=np.array([np.mean(g) for g in groups]),
        inner=math.fsum(float(((np.asarray(g) - np.mean(g)) ** 2).sum()) for g in groups),
        restricted=method == "reml",
    )
    ratio = _least(case.deviance)
    within = case.within(ratio)
    weight = sizes / (1.0 + ratio * sizes)
    low, high = _profile(case, ratio, coverage)
    freedom = sizes.sum() - len(groups)
    tail = (1.0 - coverage) / 2
    return Components(
        mean=case.mean(ratio),
        mean_sd=math.sqrt(within / weight.sum()),
        between=ratio * within,
        within=within,
        between_interval=(math.sqrt(low * within), math.sqrt(high * within)),
        within_interval=(
            math.sqrt(case.inner / special.chdtri(freedom, tail)),
            math.sqrt(case.inner / special.chdtri(freedom, 1.0 - tail)),
        ),
        criterion=case.deviance(ratio),
    )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Case:
    """Group sizes and means (g,), the sum of squares within, and which likelihood."""

    sizes: Vector
    means: Vector
    inner: float
    restricted: bool

    @property
    def freedom(self) -> float:
        return float(self.sizes.sum()) - (1.0 if self.restricted else 0.0)

    def mean(self, ratio: float) -> float:
        weight = self.sizes / (1.0 + ratio * self.sizes)
        return float(weight @ self.means / weight.sum())

    def within(self, ratio: float) -> float:
        weight = self.sizes / (1.0 + ratio * self.sizes)
        outer = float(weight @ (self.means - self.mean(ratio)) ** 2)
        return max((self.inner + outer) / self.freedom, FINE)

    def deviance(self, ratio: float) -> float:
        """-2 log likelihood where the ratio of the variances is given and the rest is best."""
        own = self.freedom * (1.0 + math.log(2 * math.pi * self.within(ratio)))
        own += float(np.log1p(ratio * self.sizes).sum())
        if self.restricted:
            own += math.log(float((self.sizes / (1.0 + ratio * self.sizes)).sum()))
        return own


def _least(deviance: Callable[[float], float]) -> float:
    """Ratio of least deviance; nought where that is no worse."""
    found = optimize.minimize_scalar(
        lambda log: deviance(math.exp(log)), bounds=(-18.0, math.log(FURTHEST)), method="bounded",
        options={"xatol": 1e-10},
    )  # fmt: skip
    ratio = math.exp(float(found.x))
    return ratio if deviance(ratio) < deviance(0.0) - 1e-9 else 0.0


def _profile(case: _Case, ratio: float, coverage: float) -> tuple[float, float]:
    """Ratios at which the deviance has risen by the quantile of chi-square with one freedom."""
    limit = case.deviance(ratio) + float(special.chdtri(1.0, 1.0 - coverage))

    def over(value: float) -> float:
        return case.deviance(value) - limit

    low = 0.0 if ratio == 0.0 or over(0.0) <= 0.0 else optimize.brentq(over, 0.0, ratio)
    most = max(ratio, 1e-6)
    while over(most) < 0.0 and most < FURTHEST:
        most *= 2.0
    high = optimize.brentq(over, ratio, most) if over(most) > 0.0 else FURTHEST
    return float(low), float(high)


# ----------------------------------------------------------------------- normal, conjugate


@dataclass(frozen=True, slots=True, kw_only=True)
class Believed:
    """What is believed of a mean and a variance: normal and inverse gamma.

    Attributes
    ----------
    mean, weight
        Of the mean: its best value, and how many readings it counts for.
    a, b
        Shape and scale of the variance.

    """

    mean: float
    weight: float
    a: float
    b: float

    @property
    def variance(self) -> float:
        """Expected variance; a must be over 1."""
        return self.b / (self.a - 1.0)

    @property
    def predicted_scale(self) -> float:
        """Scale of the t distribution, 2 a degrees of freedom, of a further reading."""
        return math.sqrt(self.b * (self.weight + 1.0) / (self.a * self.weight))

    def mean_interval(self, coverage: float = 0.95) -> tuple[float, float]:
        """Interval of the mean."""
        reach = float(special.stdtrit(2 * self.a, (1.0 + coverage) / 2))
        reach *= math.sqrt(self.b / (self.a * self.weight))
        return self.mean - reach, self.mean + reach

    def sd_interval(self, coverage: float = 0.95) -> tuple[float, float]:
        """Interval of the standard deviation."""
        tail = (1.0 - coverage) / 2
        low, high = (
            math.sqrt(self.b / float(special.gammaincinv(self.a, p))) for p in (1.0 - tail, tail)
        )
        return low, high


@cites("gelman-bda", "normal data, conjugate prior")
def learned(before: Believed, data: Sequence[float]) -> Believed:
    """Believe what data add to what was believed; one after another or all at once is the same."""
    n = len(data)
    if n == 0:
        return before
    mean = math.fsum(data) / n
    squares = math.fsum((x - mean) ** 2 for x in data)
    weight = before.weight + n
    apart = before.weight * n * (mean - before.mean) ** 2 / (2 * weight)
    return Believed(
        mean=(before.weight * before.mean + n * mean) / weight,
        weight=weight,
        a=before.a + n / 2,
        b=before.b + squares / 2 + apart,
    )


# ----------------------------------------------------------------------- gauge study


@dataclass(frozen=True, slots=True, kw_only=True)
class GaugeStudy:
    """Standard deviations of a gauge study, and how many classes of parts it tells apart.

    Attributes
    ----------
    repeatability, reproducibility, part
        The same person again; from person to person; from part to part.
    categories
        Number of distinct categories, not rounded.

    """

    repeatability: float
    reproducibility: float
    part: float
    categories: float

    @property
    def gauge(self) -> float:
        """Both of what the gauge adds."""
        return math.hypot(self.repeatability, self.reproducibility)

    @property
    def total(self) -> float:
        """All together."""
        return math.hypot(self.gauge, self.part)


K1 = {2: 0.8862, 3: 0.5908}
K2 = {2: 0.7071, 3: 0.5231}
K3 = {
    2: 0.7071, 3: 0.5231, 4: 0.4467, 5: 0.4030, 6: 0.3742, 7: 0.3534, 8: 0.3375, 9: 0.3249,
    10: 0.3146,
}  # fmt: skip
"""Standard deviation for a mean range: trials, persons, parts (4th edition, without 5.15)."""

CATEGORIES = {"range": 1.41, "anova": 2**0.5}
POOLED_UNDER = 0.75
"""The interaction is pooled where it is less significant than 0.25, as the study asks."""


def _readings(readings: Matrix) -> Matrix:
    data = np.asarray(readings, dtype=np.float64)
    if data.ndim != 3 or min(data.shape) < TWO or not np.isfinite(data).all():  # noqa: PLR2004
        raise TooFewError("persons x trials x parts, two of each at least, none missing")
    return data


@cites("aiag-msa", "average and range method")
def by_ranges(readings: Matrix) -> GaugeStudy:
    """Study by averages and ranges.

    Parameters
    ----------
    readings
        (persons, trials, parts); 2 or 3 persons and trials, 2 to 10 parts.

    Raises
    ------
    TooFewError
        If there are too few, or more than the constants are tabled for.

    """
    data = _readings(readings)
    persons, trials, parts = data.shape
    if trials not in K1 or persons not in K2 or parts not in K3:
        raise TooFewError("2 or 3 persons and trials and 2 to 10 parts are tabled")
    repeat = float((data.max(axis=1) - data.min(axis=1)).mean()) * K1[trials]
    means = data.mean(axis=(1, 2))
    apart = float(means.max() - means.min()) * K2[persons]
    reproduce = math.sqrt(max(apart**2 - repeat**2 / (parts * trials), 0.0))
    averages = data.mean(axis=(0, 1))
    part = float(averages.max() - averages.min()) * K3[parts]
    gauge = math.hypot(repeat, reproduce)
    return GaugeStudy(
        repeatability=repeat,
        reproducibility=reproduce,
        part=part,
        categories=CATEGORIES["range"] * part / gauge if gauge else math.inf,
    )


@cites("aiag-msa", "analysis of variance method")
def by_anova(readings: Matrix, *, pool: bool = True) -> GaugeStudy:
    """Study by analysis of variance; an interaction that shows nothing is pooled with the error."""
    data = _readings(readings)
    persons, trials, parts = data.shape
    grand = data.mean()
    of_part, of_person = data.mean(axis=(0, 1)) - grand, data.mean(axis=(1, 2)) - grand
    cells = data.mean(axis=1)
    crossed = cells - of_part[None, :] - of_person[:, None] - grand
    squares = (
        persons * trials * float((of_part**2).sum()) / (parts - 1),
        parts * trials * float((of_person**2).sum()) / (persons - 1),
    )
    inner, cross = float(((data - cells[:, None]) ** 2).sum()), trials * float((crossed**2).sum())
    inner_free, cross_free = persons * parts * (trials - 1), (persons - 1) * (parts - 1)
    error, both = inner / inner_free, cross / cross_free
    if pool and special.fdtr(cross_free, inner_free, both / error) < POOLED_UNDER:
        error = both = (inner + cross) / (inner_free + cross_free)
    mixed = max((both - error) / trials, 0.0)
    person = max((squares[1] - both) / (parts * trials), 0.0)
    part = math.sqrt(max((squares[0] - both) / (persons * trials), 0.0))
    reproduce = math.sqrt(person + mixed)
    gauge = math.hypot(math.sqrt(error), reproduce)
    return GaugeStudy(
        repeatability=math.sqrt(error),
        reproducibility=reproduce,
        part=part,
        categories=CATEGORIES["anova"] * part / gauge if gauge else math.inf,
    )
