"""Hinge plates must share one straight line."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check import decide
from hangtrue.check.case import Case
from hangtrue.check.decide import Missed
from hangtrue.check.finding import Finding, Level
from hangtrue.check.hung import Hung
from hangtrue.check.rule import rule
from hangtrue.check.wording import into
from hangtrue.job.readings import Side

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
    what = "middle hinge plate" if three else f"wall at {case.size(middle)}, between the plates,"
    return decide.finding(
        decide.magnitude(bow, limit.value, case.confidence),
        where=f"{side} wall",
        found=f"The {what} lies {case.give(bow.size())} {into(bow.value)} the opening from the "
        f"straight line of the outer ones; at most {case.say(limit.value)} is good.",
        missed=Missed(
            level=Level.FAIL,
            means="The hinges would not share one straight line; the door would bind.",
            do=_third(case, door, bow.value)
            if three
            else _tilted(case, door, bow.value, high - low),
        ),
        ask=f"Hold a straightedge to the {side} wall over the hinge plates and read the gap.",
        source=limit.source,
    )


def _third(case: Case, door: Hung, bow: float) -> str:
    """Pack whatever lies back onto the line of the others."""
    back = "middle plate" if bow < 0 else "upper and the lower plate"
    return _packed(case, door, f"the {back}", abs(bow), "or use two hinges if the weight allows")


def _tilted(case: Case, door: Hung, bow: float, span: float) -> str:
    """Pack one end of each plate: along a bowed wall they lie four bows in the span askew."""
    low, high = ("lower", "upper") if bow > 0 else ("upper", "lower")
    ends = f"the {low} end of the lower and the {high} end of the upper plate"
    askew = 4 * abs(bow) / span * door.hinge.plate_height
    return _packed(case, door, ends, askew, "or hinge on the other side")


def _packed(case: Case, door: Hung, what: str, amount: float, otherwise: str) -> str:
    most = door.hinge.shim_most
    if amount <= most:
        return f"Pack {what} {case.say(amount)}, {otherwise}."
    return (
        f"Have the wall made straight there: packing {what} {case.say(amount)} is more than the "
        f"{case.say(most)} that the hinge allows; {otherwise}."
    )
