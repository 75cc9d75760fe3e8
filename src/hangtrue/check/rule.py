"""A rule: its permanent name, why it is there, where it is from, and how it is applied."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from typing import Literal

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.wording import lowered
from hangtrue.phrase import join, phrase
from hangtrue.source import source as source_of

Judge = Callable[[Case], Iterable[Finding]]
Need = Literal["opening", "corner", "wall hinge", "glass", "cut glass", "door", "fixed glass"]

REMEMBERED = "The limit is known from memory only, and that decides nothing."


class SilentRuleError(RuntimeError):
    """A rule that found nothing at all; silence is never a pass, so this is a bug of ours."""

    def __init__(self, rule_id: str) -> None:
        super().__init__(f"rule {rule_id} found nothing, not even that all is well")


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """One rule.

    Attributes
    ----------
    id
        Permanent, in kebab case.
    title, why
        What it asks for, and what goes wrong otherwise, in sentences for a customer.
    source
        Id in the table of sources.
    needs
        What must be there before it can be asked: the opening alone, a corner in it, a door hinged
        on a wall, glass that goes in, glass that is cut for this job, a door or fixed glass that
        goes in.
    judge
        The rule itself.

    """

    id: str
    title: str
    why: str
    source: str
    needs: Need
    judge: Judge

    def apply(self, case: Case) -> tuple[Finding, ...]:
        """Apply the rule.

        Raises
        ------
        SilentRuleError
            If the rule yields nothing.

        """
        missing = lacking(self, case)
        found = (missing,) if missing else tuple(self.judge(case))
        if not found:
            raise SilentRuleError(self.id)
        return tuple(self._signed(finding) for finding in found)

    def _signed(self, finding: Finding) -> Finding:
        """Put the rule's name and source on a finding; what is only remembered passes nothing."""
        signed = replace(finding, rule=self.id, source=finding.source or self.source)
        if signed.level is not Level.PASS or source_of(signed.source).decides:
            return signed
        return replace(
            signed,
            level=Level.NOT_CHECKED,
            means=join(" ", (REMEMBERED, signed.means)),
            do="Have the plant or the local authority confirm it.",
        )


def rule(
    *,
    id: str,  # noqa: A002 - the name it has everywhere
    title: str,
    why: str,
    source: str = "practice",
    needs: Need = "opening",
) -> Callable[[Judge], Rule]:
    """Make a rule of a function; it is applied once it stands in the table of rules."""

    def made(judge: Judge) -> Rule:
        return Rule(id=id, title=title, why=why, source=source, needs=needs, judge=judge)

    return made


def lacking(rule: Rule, case: Case) -> Finding | None:
    """Say why a rule cannot be asked here, if it cannot."""
    need, order = rule.needs, case.choice.order
    if need == "corner" and not case.opening.corners:
        return _idle("The glass stands in one straight line.")
    if need == "wall hinge" and not case.wall_hung:
        return _idle("No door hangs on a wall here.")
    if need == "door" and "door" not in order:
        return _idle("There is no door.")
    if need == "fixed glass" and "fixed" not in order:
        return _idle("There is no fixed glass.")
    if need not in {"opening", "corner", "wall hinge"} and case.enclosure is None:
        found = phrase("Not looked at, as no glass goes in: {rule}.", rule=lowered(rule.title))
        return Finding(level=Level.NOT_CHECKED, where="glass", found=found)
    if need == "cut glass" and case.boxed:
        return _idle("The glass of a boxed set comes cut and tempered by its maker.")
    return None


def _idle(why: str) -> Finding:
    return Finding(level=Level.PASS, where="enclosure", found=why)
