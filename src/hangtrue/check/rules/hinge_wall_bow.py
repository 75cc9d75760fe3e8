"""Hinge plates must share one straight line."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check import decide
from hangtrue.check.case import Case
from hangtrue.check.decide import Missed
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.check.wording import into

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
    side = case.carrying_wall
    plates = case.plates or (0.0, case.top)
    three = len(plates) >= THREE
    low, high = plates[0], plates[-1]
    middle = plates[1] if three else (low + high) / 2
    bow = case.opening.estimate(case.opening.bow(side, low, middle, high))
    limit = case.limit("hinge-bow-most")
    what = "middle hinge plate" if three else f"wall at {case.say(middle)}, between the plates,"
    yield decide.finding(
        decide.magnitude(bow, limit.value, case.confidence),
        where=f"{side} wall",
        found=f"The {what} lies {case.give(bow.size())} {into(bow.value)} the opening from the "
        f"straight line of the outer ones; at most {case.say(limit.value)} is good.",
        missed=Missed(
            level=Level.FAIL,
            means="The hinges would not share one straight line; the door would bind.",
            do=_cure(case, bow.value, three=three),
        ),
        ask=f"Hold a straightedge to the {side} wall over the hinge plates and read the gap.",
        source=limit.source,
    )


def _cure(case: Case, bow: float, *, three: bool) -> str:
    """Pack what lies back by the bow, if the hinge may be packed that far."""
    amount = abs(bow)
    if not three:
        return (
            f"Have the wall made straight there ({case.say(amount)}), or hinge on the other side."
        )
    back = "middle plate" if bow < 0 else "upper and the lower plate"
    if amount <= case.hinge.shim_most:
        return f"Pack the {back} {case.say(amount)}, or use two hinges if the weight allows."
    return (
        f"Packing the {back} {case.say(amount)} is more than the {case.say(case.hinge.shim_most)} "
        "that the hinge allows: use two hinges if the weight allows, or hinge on the other side."
    )
