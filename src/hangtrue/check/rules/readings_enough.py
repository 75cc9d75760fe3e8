"""The readings must pin the opening down well enough to order glass."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case
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
    opening = case.opening
    if len(opening.walls) == 2:  # noqa: PLR2004 - a width has two ends
        for height, place in ((0.0, "at the foot"), (case.top, "at the top of the glass")):
            width = opening.wall("right", height) - opening.wall("left", height)
            yield _known(case, f"width {place}", opening.estimate(width), "width-sd-most")
    for side in opening.walls:
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
