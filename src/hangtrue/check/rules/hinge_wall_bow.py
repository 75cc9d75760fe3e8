"""Hinge plates must share one straight line."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check import decide
from hangtrue.check.case import Case
from hangtrue.check.decide import Missed
from hangtrue.check.finding import Finding, Level
from hangtrue.check.hung import Hung
from hangtrue.check.rule import rule
from hangtrue.check.wording import into, the_wall
from hangtrue.job.readings import Side
from hangtrue.phrase import phrase

THREE = 3


@rule(
    id="hinge-wall-bow",
    title="The hinge wall is straight where the hinges sit",
    why="Hinges that do not share one straight line fight each other: the door binds, screws work "
    "loose, and the glass is bent at its cut-outs.",
    needs="wall hinge",
)
def hinge_wall_bow(case: Case) -> Iterable[Finding]:
    """Compare the wall between the outer plates, or the third plate, with their straight line."""
    for door, side in case.wall_hung:
        yield _door(case, door, side)


def _door(case: Case, door: Hung, side: Side) -> Finding:
    plates = door.plates or (case.foot(side), case.top)
    three = len(plates) >= THREE
    low, high = plates[0], plates[-1]
    middle = plates[1] if three else (low + high) / 2
    bow = case.opening.estimate(case.opening.bow(side, low, middle, high))
    limit = case.limit("hinge-bow-most")
    what = (
        "The middle hinge plate"
        if three
        else phrase("The wall at {height}, between the plates,", height=case.size(middle))
    )
    return decide.finding(
        decide.magnitude(bow, limit.value, case.confidence),
        where=f"{side} wall",
        found=phrase(
            "{what} lies {bow} {way} from the straight line of the outer ones; at most {most} is "
            "good.",
            what=what,
            bow=case.give(bow.size()),
            way=into(bow.value),
            most=case.say(limit.value),
        ),
        missed=Missed(
            level=Level.FAIL,
            means="The hinges would not share one straight line; the door would bind.",
            do=_third(case, door, bow.value)
            if three
            else _tilted(case, door, bow.value, high - low),
        ),
        ask=phrase(
            "Hold a straightedge to {wall} over the hinge plates and read the gap.",
            wall=the_wall(side),
        ),
        source=limit.source,
    )


def _third(case: Case, door: Hung, bow: float) -> str:
    """Pack whatever lies back onto the line of the others."""
    back = "the middle plate" if bow < 0 else "the upper and the lower plate"
    return _packed(case, door, back, abs(bow), "or use two hinges if the weight allows")


def _tilted(case: Case, door: Hung, bow: float, span: float) -> str:
    """Pack one end of each plate: along a bowed wall they lie four bows in the span askew."""
    ends = (
        "the lower end of the lower and the upper end of the upper plate"
        if bow > 0
        else "the upper end of the lower and the lower end of the upper plate"
    )
    askew = 4 * abs(bow) / span * door.hinge.plate_height
    return _packed(case, door, ends, askew, "or hinge on the other side")


def _packed(case: Case, door: Hung, what: str, amount: float, otherwise: str) -> str:
    most = door.hinge.shim_most
    if amount <= most:
        return phrase(
            "Pack {plates} {length}, {otherwise}.",
            plates=what,
            length=case.say(amount),
            otherwise=otherwise,
        )
    return phrase(
        "Have the wall made straight there: packing {plates} {length} is more than the {most} "
        "that the hinge allows; {otherwise}.",
        plates=what,
        length=case.say(amount),
        most=case.say(most),
        otherwise=otherwise,
    )
