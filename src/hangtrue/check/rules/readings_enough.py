"""The readings must pin the opening down well enough to order glass."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

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
    for run in case.runs:
        first, last = run == 1, run == len(case.runs)
        ends = {side for side, at_end in (("left", first), ("right", last)) if at_end}
        if ends <= set(opening.walls):
            yield from _widths(case, run)
    for side in opening.walls:
        yield _known(case, f"lean of the {side} wall", case.lean(side), "lean-sd-most")


def _widths(case: Case, run: int) -> Iterator[Finding]:
    """Judge the width of a run from wall or corner to wall or corner, at the foot and on top."""
    opening = case.opening
    sides = [side for side in opening.walls if run == (1 if side == "left" else len(case.runs))]
    foot = max((case.foot(side) for side in sides), default=0.0)
    top = min((case.top_at(side) for side in sides), default=case.top)
    for height, at in ((foot, "at the foot"), (top, "at the top of the glass")):
        width = opening.estimate(opening.stop(run, height) - opening.start(run, height))
        yield _known(case, f"{case.run_named('width', run)} {at}", width, "width-sd-most")


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
