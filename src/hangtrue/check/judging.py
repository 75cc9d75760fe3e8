"""Apply the rules to one alternative and put what they find in order, worst first."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding
from hangtrue.check.rule import Rule
from hangtrue.check.rules import LIMITS, PROOFS
from hangtrue.check.verdict import Judged
from hangtrue.fit.enclosure import Alternative
from hangtrue.job.brief import Brief
from hangtrue.measure.opening import Opening


def check(brief: Brief, opening: Opening, alternative: Alternative) -> Judged:
    """Hold one alternative against all limits.

    Raises
    ------
    SilentRuleError
        If a rule finds nothing at all: a bug of ours.

    """
    return Judged(alternative=alternative, findings=_found(brief, opening, alternative, LIMITS, ()))


def prove(brief: Brief, opening: Opening, judged: Judged) -> Judged:
    """Add strength, motion and carrying to what the limits found of one alternative.

    Raises
    ------
    SilentRuleError
        If a rule finds nothing at all: a bug of ours.

    """
    way = judged.alternative
    return Judged(alternative=way, findings=_found(brief, opening, way, PROOFS, judged.findings))


def _found(
    brief: Brief,
    opening: Opening,
    alternative: Alternative,
    rules: Iterable[Rule],
    already: tuple[Finding, ...],
) -> tuple[Finding, ...]:
    """What was found already and what the rules find: worst first, then in the order of rules."""
    case = Case(brief=brief, opening=opening, alternative=alternative)
    found = [*already, *(finding for rule in rules for finding in rule.apply(case))]
    return tuple(sorted(found, key=lambda finding: -finding.level))
