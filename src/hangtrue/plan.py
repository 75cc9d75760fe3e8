"""The whole road: a brief in, a plan out; and the proofs that a plan needs before an order."""

from __future__ import annotations

from dataclasses import dataclass, replace

from hangtrue.check import check
from hangtrue.check import prove as check_proofs
from hangtrue.check.verdict import Judged, Verdict
from hangtrue.fit import fit
from hangtrue.fit.enclosure import Enclosure
from hangtrue.job.brief import Brief
from hangtrue.measure import measure
from hangtrue.measure.opening import Opening
from hangtrue.odds.cures import Cure, after_cures
from hangtrue.odds.next_reading import Advice, advise
from hangtrue.odds.odds import Odds


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """Everything that is known of one enclosure before glass is ordered.

    Attributes
    ----------
    best
        The alternative to build, with its findings.
    others
        Every other way the wishes left open, best first, each with what speaks against it.
    odds
        The chance that the best goes in on the day; None where nothing does, or before `prove`.
    cures, advice
        What is left of a remake after each cure on site; what drives it, what to read next and
        whether to. Worked out with the odds.

    """

    brief: Brief
    opening: Opening
    best: Judged
    others: tuple[Judged, ...]
    odds: Odds | None = None
    cures: tuple[Cure, ...] = ()
    advice: Advice | None = None

    @property
    def verdict(self) -> Verdict:
        """Verdict on the best alternative."""
        return self.best.verdict


def plan(brief: Brief) -> Plan:
    """Measure, fit every alternative, hold each against the limits, and put the best first."""
    opening = measure(brief)
    judged = [check(brief, opening, way) for way in fit(brief, opening)]
    best, *others = sorted(judged, key=lambda way: way.rank)
    return Plan(brief=brief, opening=opening, best=best, others=tuple(others))


def prove(plan: Plan) -> Plan:
    """Add strength, motion, carrying and the odds of the day to a plan.

    Proofs only add findings, so no verdict gets better: the ways are proved best first, until none
    that is left could beat the best of those proved.
    """
    waiting = [plan.best, *plan.others]
    proved: list[Judged] = []
    while waiting and (not proved or waiting[0].verdict < min(way.verdict for way in proved)):
        proved.append(check_proofs(plan.brief, plan.opening, waiting.pop(0)))
    best, *others = sorted(proved, key=lambda way: way.rank)
    return with_odds(replace(plan, best=best, others=(*others, *waiting)), best.odds)


def with_odds(plan: Plan, chance: Odds | None) -> Plan:
    """Add the odds of the best way to a plan, with what would make them better."""
    made = plan.best.alternative.made
    if chance is None or not isinstance(made, Enclosure):
        return plan
    return replace(
        plan,
        odds=chance,
        cures=after_cures(plan.brief, plan.opening, made, chance.remake),
        advice=advise(plan.brief, plan.opening, made, chance),
    )
