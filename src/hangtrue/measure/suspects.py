"""Which reading is wrong, and how: each usual slip is a hypothesis, weighed against the others.

A slip in a reading leaves all the others as they are. So its likelihood is that of the *corrected*
value under what all the others predict, which needs no new adjustment.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import product

import numpy as np

from hangtrue.job.readings import (
    Corner,
    CornerAngle,
    Offset,
    Reading,
    Square,
    Triangle,
    Width,
)
from hangtrue.measure import adjusting
from hangtrue.measure.adjusting import Fit, Seen
from hangtrue.measure.equations import equation, observed, third_side
from hangtrue.measure.habits import usual
from hangtrue.measure.layout import value
from hangtrue.measure.linear import CHECKED, Array, log_determinant, loo_prediction
from hangtrue.measure.opening import Suspect
from hangtrue.measure.slips import slips
from hangtrue.phrase import join, phrase
from hangtrue.source import cites
from hangtrue.tables import table
from hangtrue.units import Length


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Others:
    """What all the other readings say of one reading.

    Attributes
    ----------
    index
        Of the reading among those that took part.
    mean, sd
        Value they predict for it, and its standard deviation together with the reading's own.
    none
        Log of the likelihood of the reading as it stands, given all the others.
    x, lift
        Unknowns without the reading, (n,); and the covariance they gain without it is
        the outer product of `lift` (n,) with itself.

    """

    index: int
    seen: Seen
    mean: float
    sd: float
    none: float
    x: Array
    lift: Array


@dataclass(frozen=True, slots=True)
class Explanation:
    """One slip of one reading; `weight` is the log of its probability against no slip at all."""

    reading: str
    words: str
    corrected: float
    rate: float
    weight: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Explained:
    """All explanations of the readings with their probabilities.

    Attributes
    ----------
    suspects
        Most probable first; those worth listing.
    by_reading
        Probability that it was this reading, whatever the slip, most probable first.
    bowed
        Probability that no reading is wrong and the walls bow more than usual.

    """

    suspects: tuple[Suspect, ...]
    by_reading: tuple[tuple[str, float], ...]
    bowed: float

    @property
    def walls_are_bowed(self) -> bool:
        """Whether bowed walls are the one explanation that stands out."""
        return self.bowed >= float(table("misreadings")["naming"]["named"])

    @property
    def named(self) -> Suspect | None:
        """The likeliest slip of the one reading that stands out."""
        if not self.by_reading or self.by_reading[0][1] < table("misreadings")["naming"]["named"]:
            return None
        return next(s for s in self.suspects if s.reading == self.by_reading[0][0])


def without_each(fit: Fit) -> tuple[Others, ...]:
    """Leave out each checked reading in turn."""
    adjustment = fit.adjustment
    means, sds = loo_prediction(adjustment)
    found = []
    for i, seen in enumerate(fit.seen):
        share = float(adjustment.redundancy[i])
        if share <= usual("least-redundancy"):
            continue
        row = fit.equations[i]
        pull, _ = fit.pull(row.terms)
        size = seen.sigma**2 * share
        mean, sd = float(means[i]) + row.constant, math.hypot(float(sds[i]), seen.sigma)
        others = Others(
            index=i,
            seen=seen,
            mean=mean,
            sd=sd,
            none=_log_normal(seen.observed, mean, sd),
            x=adjustment.x + pull * (float(adjustment.residuals[i]) / size),
            lift=pull / math.sqrt(size),
        )
        found.append(_anew(fit, others) if isinstance(seen.reading, Corner | Triangle) else others)
    return tuple(found)


def _anew(fit: Fit, o: Others) -> Others:
    """Fit without the reading: an angle read wrong bends triangles too far for a formula.

    With all rows straight, `none` would come out as the normal density that it is elsewhere.
    """
    rest = adjusting.fit(fit.network, frozenset({o.seen.reading.id}))
    row = equation(o.seen.reading, fit.network.layout, rest.adjustment.x)
    said = rest.predict(row.terms, row.constant)
    sd = math.hypot(said.sd, o.seen.sigma)
    none = _evidence(fit) - _evidence(rest) - math.log(o.seen.sigma)
    return replace(o, mean=said.value, sd=sd, none=none, x=rest.adjustment.x)


@cites("own", "likelihood of a corrected reading against its prediction from all the others")
def explain(fit: Fit, others: tuple[Others, ...], rough: Fit) -> Explained:
    """Weigh every slip of every reading, bowed walls, and that there is nothing but scatter.

    Parameters
    ----------
    rough
        The same readings fitted to walls that bow more than usual.

    """
    found = [e for o in others for e in _explanations(fit, o)]
    honest = math.log(max(1.0 - math.fsum(e.rate for e in found), 0.5))
    logs = np.array([honest, _bowed_weight(fit, rough), *(e.weight for e in found)])
    shares = np.exp(logs - logs.max())
    shares /= shares.sum()
    suspects = [
        Suspect(reading=e.reading, slip=e.words, corrected=e.corrected, probability=float(share))
        for e, share in zip(found, shares[2:], strict=True)
    ]
    return _sorted(suspects, float(shares[1]))


def _sorted(suspects: list[Suspect], bowed: float) -> Explained:
    naming = table("misreadings")["naming"]
    totals: dict[str, float] = {}
    for s in suspects:
        totals[s.reading] = totals.get(s.reading, 0.0) + s.probability
    ranked = sorted(suspects, key=lambda s: (-s.probability, s.reading, s.slip))
    listed = tuple(s for s in ranked if s.probability >= naming["listed"])[: naming["most"]]
    return Explained(
        suspects=listed or tuple(ranked[:1]),
        by_reading=tuple(sorted(totals.items(), key=lambda item: (-item[1], item[0]))),
        bowed=bowed,
    )


@cites("own", "Bayes factor of two normal priors: Laplace's formula, exact for linear rows")
def _bowed_weight(fit: Fit, rough: Fit) -> float:
    """Log of the rate of bowed walls times how much better they explain all the readings."""
    row = table("misreadings")["bowed"]
    wider = len(fit.network.shape_rows) * math.log(row["times"])
    return math.log(row["rate"]) + _evidence(rough) - wider - _evidence(fit)


def _evidence(fit: Fit) -> float:
    """Log of the likelihood of all readings, up to what their priors' own spread adds."""
    return 0.5 * (log_determinant(fit.adjustment.covariance) - fit.adjustment.chi_square)


def _log_normal(at: float, mean: float, sd: float) -> float:
    return -0.5 * ((at - mean) / sd) ** 2 - math.log(sd)


def _explanations(fit: Fit, o: Others) -> Iterator[Explanation]:
    yield from _known_slips(fit, o)
    yield from _wrong_heights(fit, o)
    yield from _wrong_legs(fit, o)
    yield _unknown(o)


def _known_slips(fit: Fit, o: Others) -> Iterator[Explanation]:
    """Slips with a value of their own: it is weighed against the prediction."""
    reading = o.seen.reading
    for slip in slips(reading, fit.network.brief.job.unit):
        corrected = observed(reading.model_copy(update={"value": slip.retyped}), o.seen.over)
        at = corrected - o.seen.bias
        if abs(at - o.seen.observed) > CHECKED:
            weight = math.log(slip.rate) + _log_normal(at, o.mean, o.sd) - o.none
            yield Explanation(reading.id, slip.words, corrected, slip.rate, weight)


def _unknown(o: Others) -> Explanation:
    """Any other blunder: the reading says next to nothing, the others say what it should be."""
    row = table("misreadings")["unknown"]
    turned = isinstance(o.seen.reading, CornerAngle | Corner | Square)
    spread = row["spread_angle" if turned else "spread"]
    wide = _log_normal(o.seen.observed, o.mean, math.hypot(o.sd, spread))
    weight = math.log(row["rate"]) + wide - o.none
    return Explanation(o.seen.reading.id, row["words"], o.mean, row["rate"], weight)


def _wrong_heights(fit: Fit, o: Others) -> Iterator[Explanation]:
    """Suppose the reading was taken at a height where another of its kind was."""
    row = table("misreadings")["wrong-height"]
    reading = o.seen.reading
    if reading.what not in row["of"]:
        return
    heights = sorted({h for s in fit.seen if (h := _height(s.reading, reading)) is not None})
    for height in heights:
        there = equation(reading.model_copy(update={"at": height}), fit.network.layout, o.x)
        _, variance = fit.pull(there.terms)
        gained = value(there.terms, o.lift) ** 2
        sd = math.sqrt(max(variance + gained, 0.0) + o.seen.sigma**2)
        rate = row["rate"] / len(heights)
        weight = math.log(rate) + _log_normal(o.seen.observed, there.at(o.x), sd) - o.none
        words = join(", ", (row["words"], height.typed))
        yield Explanation(reading.id, words, o.mean, rate, weight)


def _wrong_legs(fit: Fit, o: Others) -> Iterator[Explanation]:
    """Suppose a leg of a triangle was marked too long or too short by a round amount."""
    reading, unit = o.seen.reading, fit.network.brief.job.unit
    if not isinstance(reading, Triangle):
        return
    angle = o.x[fit.network.layout.place[f"angle {reading.corner}"]]
    legs = {"before": float(reading.before), "after": float(reading.after)}
    for row in table("misreadings")["leg"]:
        if unit not in row["units"]:
            continue
        for leg, sign in product(legs, (1.0, -1.0)):
            there = third_side(**{**legs, leg: legs[leg] + sign * row["by"]}, angle=float(angle))
            words = phrase(
                "{leg} {slip}",
                leg=f"leg {leg} the corner",
                slip=row["long" if sign > 0.0 else "short"],
            )
            rate = row["rate"] / 4
            weight = math.log(rate) + _log_normal(o.seen.observed, there, o.sd) - o.none
            yield Explanation(reading.id, words, o.mean, rate, weight)


def _height(other: Reading, reading: Reading) -> Length | None:
    """Height of another reading of the same kind on the same wall, where it differs."""
    match other, reading:
        case (Width(), Width()) if other.run == reading.run:
            return other.at if other.at != reading.at else None
        case (Offset(), Offset()) if other.wall == reading.wall:
            return other.at if other.at != reading.at else None
        case _:
            return None
