"""Apply the rules to one alternative and put what they find in order, worst first."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding
from hangtrue.check.rule import Rule
from hangtrue.check.rules import LIMITS, PROOFS
from hangtrue.check.verdict import Judged
from hangtrue.fit.enclosure import Alternative, Enclosure
from hangtrue.job.brief import Brief
from hangtrue.measure.opening import Opening
from hangtrue.odds import odds


def check(brief: Brief, opening: Opening, alternative: Alternative) -> Judged:
    """Hold one alternative against all limits.

    Raises
    ------
    SilentRuleError
        If a rule finds nothing at all: a bug of ours.

    """
    case = Case(brief=brief, opening=opening, alternative=alternative)
    return Judged(alternative=alternative, findings=_found(case, LIMITS, ()))


def prove(brief: Brief, opening: Opening, judged: Judged) -> Judged:
    """Add odds, strength, motion and carrying to what the limits found of one alternative.

    Raises
    ------
    NotACovarianceError
        If what is not known of the opening is no covariance.
    SilentRuleError
        If a rule finds nothing at all: a bug of ours.

    """
    way = judged.alternative
    chance = odds(brief, opening, way.made) if isinstance(way.made, Enclosure) else None
    case = Case(brief=brief, opening=opening, alternative=way, odds=chance)
    return Judged(alternative=way, findings=_found(case, PROOFS, judged.findings), odds=chance)


def _found(case: Case, rules: Iterable[Rule], already: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """What was found already and what the rules find: worst first, then in the order of rules."""
    found = [*already, *(finding for rule in rules for finding in rule.apply(case))]
    return tuple(sorted(found, key=lambda finding: -finding.level))
