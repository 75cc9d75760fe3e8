"""The readings must pin the opening down well enough to order glass."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import SIDES, Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.estimate import Estimate


@rule(
    id="readings-enough",
    title="There are readings enough to order glass from",
    why="Readings can agree and still leave the opening loose. Glass is cut once, so the width and "
    "the leans must be known to less than the gaps can take up.",
)
def readings_enough(case: Case) -> Iterable[Finding]:
    """Compare how well the width and the leans are known with what the shop asks for."""
    sides = case.opening.walls
    if len(sides) == len(SIDES):
        foot = max(case.foot(side) for side in sides)
        yield _known(case, "width at the foot", case.width(foot), "width-sd-most")
        yield _known(case, "width at the top of the glass", case.width(case.top), "width-sd-most")
    for side in sides:
        yield _known(case, f"lean of the {side} wall", case.lean(side), "lean-sd-most")


def _known(case: Case, what: str, value: Estimate, limit: str) -> Finding:
    allowed = case.limit(limit)
    enough = value.sd <= allowed.value
    return Finding(
        level=Level.PASS if enough else Level.NOT_CHECKED,
        where="readings",
        found=f"The {what} is {case.give(value)}.",
        means="" if enough else "That is too loose to order glass from.",
        do="" if enough else case.next_reading(f"Read the {what} again, by another way."),
        value=Estimate(value.sd),
        limit=allowed.value,
        unit="mm",
        source=allowed.source,
    )
