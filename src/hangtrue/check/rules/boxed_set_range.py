"""A boxed set goes only into the openings that its maker made it for."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check import decide
from hangtrue.check.case import SIDES, Case
from hangtrue.check.decide import Missed
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.check.wording import into, sentence, the_wall
from hangtrue.job.hardware import BoxedSet
from hangtrue.job.readings import Side
from hangtrue.phrase import phrase

PLACES = {"foot": "at the foot", "top": "at the top of the glass"}


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
        for height, at in ((foot, "foot"), (case.top, "top")):
            if len(sides) == len(SIDES):
                yield _width(case, box, height, PLACES[at])
        yield from (_plumb(case, box, side) for side in sides)


def _width(case: Case, box: BoxedSet, height: float, place: str) -> Finding:
    width = case.width(height)
    narrow = decide.at_least(width, float(box.opening_least), case.confidence)
    wide = decide.at_most(width, float(box.opening_most), case.confidence)
    short = case.say(abs(min(width.value - box.opening_least, box.opening_most - width.value)))
    return decide.finding(
        min(narrow, wide, key=lambda decided: decided.probability),
        where="opening",
        found=phrase(
            "The opening is {wide} wide {place}; this set takes {least} to {most}.",
            wide=case.give(width),
            place=place,
            least=case.size(box.opening_least),
            most=case.size(box.opening_most),
        ),
        missed=Missed(
            level=Level.FAIL,
            means="This set is not made for this opening.",
            do=phrase(
                "Take another set, have the opening changed by {length}, or have glass made.",
                length=short,
            ),
        ),
        ask=phrase("Tape the width {place} once more.", place=place),
    )


def _plumb(case: Case, box: BoxedSet, side: Side) -> Finding:
    lean, most = case.lean(side), float(box.out_of_plumb_most)
    over = case.say(abs(lean.value) - most)
    return decide.finding(
        decide.magnitude(lean, most, case.confidence),
        where=f"{side} wall",
        found=phrase(
            "{wall} leans {lean} {way}; this set takes {most}.",
            wall=sentence(the_wall(side)),
            lean=case.give(lean.size()),
            way=into(lean.value),
            most=case.say(most),
        ),
        missed=Missed(
            level=Level.FAIL,
            means="This set does not take up that much.",
            do=phrase("Have the wall put right by {length}, or have glass made.", length=over),
        ),
        ask=phrase("Read the lean of {wall} once more.", wall=the_wall(side)),
    )
