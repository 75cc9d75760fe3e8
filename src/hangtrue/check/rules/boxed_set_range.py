"""A boxed set goes only into the openings that its maker made it for."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check import decide
from hangtrue.check.case import SIDES, Case
from hangtrue.check.decide import Missed
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.check.wording import into
from hangtrue.job.hardware import BoxedSet
from hangtrue.job.readings import Side


@rule(
    id="boxed-set-range",
    title="The opening is one that the boxed set is made for",
    why="A boxed set takes up so much and no more, in width and out of plumb. Its maker stands "
    "behind nothing that is hung outside that range.",
    source="maker",
)
def boxed_set_range(case: Case) -> Iterable[Finding]:
    """Compare the width at foot and top, and the lean of each wall, with the maker's range."""
    box = case.brief.boxed_set
    if not case.boxed:
        yield Finding(level=Level.PASS, where="glass", found="The glass is made to measure.")
    elif box is None:
        yield Finding(
            level=Level.NOT_CHECKED,
            where="glass",
            found="A boxed set is wanted, but not which.",
            do="Enter the data of the set, from its maker's sheet.",
        )
    else:
        sides = case.opening.walls
        foot = max(case.foot(side) for side in sides)
        for height, place in ((foot, "at the foot"), (case.top, "at the top of the glass")):
            if len(sides) == len(SIDES):
                yield _width(case, box, height, place)
        yield from (_plumb(case, box, side) for side in sides)


def _width(case: Case, box: BoxedSet, height: float, place: str) -> Finding:
    width = case.width(height)
    narrow = decide.at_least(width, float(box.opening_least), case.confidence)
    wide = decide.at_most(width, float(box.opening_most), case.confidence)
    short = case.say(abs(min(width.value - box.opening_least, box.opening_most - width.value)))
    return decide.finding(
        min(narrow, wide, key=lambda decided: decided.probability),
        where="opening",
        found=f"The opening is {case.give(width)} wide {place}; this set takes "
        f"{case.size(box.opening_least)} to {case.size(box.opening_most)}.",
        missed=Missed(
            level=Level.FAIL,
            means="This set is not made for this opening.",
            do=f"Take another set, have the opening changed by {short}, or have glass made.",
        ),
        ask=f"Tape the width {place} once more.",
    )


def _plumb(case: Case, box: BoxedSet, side: Side) -> Finding:
    lean, most = case.lean(side), float(box.out_of_plumb_most)
    over = case.say(abs(lean.value) - most)
    return decide.finding(
        decide.magnitude(lean, most, case.confidence),
        where=f"{side} wall",
        found=f"The {side} wall leans {case.give(lean.size())} {into(lean.value)} the opening; "
        f"this set takes {case.say(most)}.",
        missed=Missed(
            level=Level.FAIL,
            means="This set does not take up that much.",
            do=f"Have the wall put right by {over}, or have glass made.",
        ),
        ask=f"Read the lean of the {side} wall once more.",
    )
