"""The hinge wall must be plumb in the plane of the glass."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check import decide
from hangtrue.check.case import SIDES, Case
from hangtrue.check.decide import Missed
from hangtrue.check.finding import Finding, Level
from hangtrue.check.hung import Hung
from hangtrue.check.rule import rule
from hangtrue.check.wording import hinge_wall, into, sentence, the_wall
from hangtrue.job.readings import Side
from hangtrue.phrase import join, phrase

LAST = "Or have the wall put plumb."


@rule(
    id="hinge-wall-plumb",
    title="The hinge wall is plumb in the plane of the glass",
    why="A door turns about the line through its hinges. On a leaning wall that line leans too: "
    "the door drags at one end, gapes at the other, and swings by itself.",
    needs="wall hinge",
)
def hinge_wall_plumb(case: Case) -> Iterable[Finding]:
    """Compare the lean over the height of the glass with the most a hinge wall may lean."""
    for door, side in case.wall_hung:
        yield _door(case, door, side)


def _door(case: Case, door: Hung, side: Side) -> Finding:
    limit = case.limit("hinge-wall-lean-most")
    lean = case.lean(side)
    return decide.finding(
        decide.magnitude(lean, limit.value, case.confidence),
        where=f"{side} wall",
        found=phrase(
            "{wall} leans {lean} {way} over {height}; at most {most} is good.",
            wall=sentence(hinge_wall(side)),
            lean=case.give(lean.size()),
            way=into(lean.value),
            height=case.say(case.rise(side)),
            most=case.say(limit.value),
        ),
        missed=Missed(
            level=Level.FAIL,
            means="A door hung here drags or swings by itself, whatever is done to the glass.",
            do=join(" ", filter(None, (_swap(case, side), _pack(case, door, side), LAST))),
        ),
        ask=phrase(
            "Read the lean of {wall} again over the height of the glass, level reversed.",
            wall=the_wall(side),
        ),
        source=limit.source,
        passed=_pack(case, door, side) if abs(lean.value) > lean.sd else "",
    )


def _swap(case: Case, side: Side) -> str:
    """Hinge on the other wall, with the margin before and after."""
    other = SIDES[1 - SIDES.index(side)]
    if other not in case.opening.walls or len(case.hung) > 1 or case.opening.corners:
        return ""
    limit = case.limit("hinge-wall-lean-most").value
    there = decide.magnitude(case.lean(other), limit, case.confidence)
    if not there.met:
        return phrase(
            "{wall} leans {lean} and is no better.",
            wall=sentence(the_wall(other)),
            lean=case.say(there.value.value),
        )
    here = case.say(case.lean(side).size().value - limit)
    beyond = case.say(limit - there.value.value)
    if len(case.choice.order) == 1:
        return phrase(
            "Hinge on {wall}: {here} too much here becomes {there} to spare there.",
            wall=the_wall(other),
            here=here,
            there=beyond,
        )
    return phrase(
        "Hinge on {wall}, the row turned round: {here} too much here becomes {there} to spare "
        "there.",
        wall=the_wall(other),
        here=here,
        there=beyond,
    )


def _pack(case: Case, door: Hung, side: Side) -> str:
    """Bring the plates onto a plumb line, if the hinge may be packed that far."""
    plates = door.plates
    if len(plates) < 2:  # noqa: PLR2004 - a line has two ends
        return ""
    lean = case.opening.estimate(case.opening.lean(side, plates[0], plates[-1])).value
    if abs(lean) > door.hinge.shim_most:
        return ""
    needed = case.say(abs(lean))
    if lean > 0:
        return phrase("Packing the lower plate {length} makes the hinge line plumb.", length=needed)
    return phrase("Packing the upper plate {length} makes the hinge line plumb.", length=needed)
