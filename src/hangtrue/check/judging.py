"""Apply every rule to one alternative and put what they find in order, worst first."""

from __future__ import annotations

from hangtrue.check.case import Case
from hangtrue.check.rules import RULES
from hangtrue.check.verdict import Judged
from hangtrue.fit.enclosure import Alternative
from hangtrue.job.brief import Brief
from hangtrue.measure.opening import Opening


def check(brief: Brief, opening: Opening, alternative: Alternative) -> Judged:
    """Judge one alternative by all the rules.

    Raises
    ------
    SilentRuleError
        If a rule finds nothing at all: a bug of ours.

    """
    case = Case(brief=brief, opening=opening, alternative=alternative)
    found = [finding for rule in RULES for finding in rule.apply(case)]
    # Sorting keeps the order of the rules within one level.
    return Judged(
        alternative=alternative,
        findings=tuple(sorted(found, key=lambda finding: -finding.level)),
    )
