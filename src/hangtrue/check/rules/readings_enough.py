"""The readings must pin the opening down well enough to order glass."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.check.wording import sentence, the_wall
from hangtrue.estimate import Estimate
from hangtrue.phrase import phrase


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
        lean = phrase("the lean of {wall}", wall=the_wall(side))
        yield _known(case, lean, case.lean(side), "lean-sd-most")


def _widths(case: Case, run: int) -> Iterator[Finding]:
    """Judge the width of a run from wall or corner to wall or corner, at the foot and on top."""
    opening = case.opening
    sides = [side for side in opening.walls if run == (1 if side == "left" else len(case.runs))]
    foot = max((case.foot(side) for side in sides), default=0.0)
    top = min((case.top_at(side) for side in sides), default=case.top)
    named = _foot(case, run), _top(case, run)
    for height, what in zip((foot, top), named, strict=True):
        width = opening.estimate(opening.stop(run, height) - opening.start(run, height))
        yield _known(case, what, width, "width-sd-most")


def _foot(case: Case, run: int) -> str:
    if len(case.runs) == 1:
        return "the width at the foot"
    return phrase("the width of run {run} at the foot", run=run)


def _top(case: Case, run: int) -> str:
    if len(case.runs) == 1:
        return "the width at the top of the glass"
    return phrase("the width of run {run} at the top of the glass", run=run)


def _known(case: Case, what: str, value: Estimate, limit: str) -> Finding:
    allowed = case.limit(limit)
    enough = value.sd <= allowed.value
    again = phrase("Read {what} again, by another way.", what=what)
    return Finding(
        level=Level.PASS if enough else Level.NOT_CHECKED,
        where="readings",
        found=phrase("{what} is {length}.", what=sentence(what), length=case.give(value)),
        means="" if enough else "That is too loose to order glass from.",
        do="" if enough else case.next_reading(again),
        value=Estimate(value.sd),
        limit=allowed.value,
        unit="mm",
        source=allowed.source,
    )
