"""Decide under uncertainty whether a limit is met, missed, or not decided by these readings."""

from __future__ import annotations

from dataclasses import dataclass

from hangtrue.check.finding import FigureUnit, Finding, Level
from hangtrue.check.wording import percent
from hangtrue.estimate import Estimate
from hangtrue.phrase import phrase
from hangtrue.source import cites


@dataclass(frozen=True, slots=True, kw_only=True)
class Decided:
    """A measured value against a limit.

    Attributes
    ----------
    value, limit
        In one unit; of a `magnitude` the value is the size, its sign dropped.
    at_most
        The limit is an upper one.
    probability
        Probability that the true value keeps the limit.
    confidence
        Probability from which on the limit counts as met, 0.5 to 1; below `1 - confidence` it
        counts as missed.

    """

    value: Estimate
    limit: float
    at_most: bool
    probability: float
    confidence: float

    @property
    def met(self) -> bool:
        """The limit is met beyond reasonable doubt."""
        return self.probability >= self.confidence

    @property
    def missed(self) -> bool:
        """The limit is missed beyond reasonable doubt."""
        return self.probability <= 1.0 - self.confidence

    @property
    def undecided(self) -> bool:
        """These readings do not say."""
        return not (self.met or self.missed)


@cites("jcgm-106", "7.3, one-sided tolerance interval with an upper limit; guarded decisions, 8.3")
def at_most(value: Estimate, limit: float, confidence: float) -> Decided:
    """Decide whether a quantity is at most `limit`.

    Examples
    --------
    >>> at_most(Estimate(5.0, 1.0), 6.35, 0.95).undecided
    True

    """
    return Decided(
        value=value,
        limit=limit,
        at_most=True,
        probability=value.below(limit),
        confidence=confidence,
    )


@cites("jcgm-106", "7.3, one-sided tolerance interval with a lower limit; guarded decisions, 8.3")
def at_least(value: Estimate, limit: float, confidence: float) -> Decided:
    """Decide whether a quantity is at least `limit`."""
    return Decided(
        value=value,
        limit=limit,
        at_most=False,
        probability=value.scaled(-1.0).below(-limit),
        confidence=confidence,
    )


@cites("jcgm-106", "7.4, two-sided tolerance interval; guarded decisions, 8.3")
def magnitude(value: Estimate, limit: float, confidence: float) -> Decided:
    """Decide whether a quantity lies between `-limit` and `limit`, as a lean must either way."""
    above_lower = value.scaled(-1.0).below(limit)
    return Decided(
        value=value.size(),
        limit=limit,
        at_most=True,
        probability=max(value.below(limit) + above_lower - 1.0, 0.0),
        confidence=confidence,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Missed:
    """What a missed limit amounts to: how bad, what it means, and the cure."""

    level: Level
    means: str
    do: str


def finding(
    decided: Decided,
    *,
    where: str,
    found: str,
    missed: Missed,
    ask: str,
    unit: FigureUnit = "mm",
    source: str = "",
    passed: str = "",
) -> Finding:
    """Say the decision: a pass, what a miss amounts to, or which reading would decide.

    Parameters
    ----------
    decided
        The decision.
    where, found, unit, source
        As in `Finding`.
    missed
        Level and words where the limit is missed.
    ask
        The reading to take where nothing is decided.
    passed
        What a met limit means, if that is worth a sentence.

    """
    level, means, do = Level.PASS, passed, ""
    if decided.missed:
        level, means, do = missed.level, missed.means, missed.do
    elif decided.undecided:
        level, do = Level.NOT_CHECKED, ask
        means = phrase(
            "These readings do not decide it: the chance that the limit is kept is {chance}.",
            chance=percent(decided.probability),
        )
    return Finding(
        level=level,
        where=where,
        found=found,
        means=means,
        do=do,
        value=decided.value,
        limit=decided.limit,
        unit=unit,
        at_most=decided.at_most,
        probability=decided.probability,
        source=source,
    )
