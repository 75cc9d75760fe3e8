"""The hinge wall must be plumb in the plane of the glass."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check import decide
from hangtrue.check.case import SIDES, Case
from hangtrue.check.decide import Missed
from hangtrue.check.finding import Finding, Level
from hangtrue.check.hung import Hung
from hangtrue.check.rule import rule
from hangtrue.check.wording import into
from hangtrue.job.readings import Side

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
        found=f"The hinge wall ({side}) leans {case.give(lean.size())} {into(lean.value)} the "
        f"opening over {case.say(case.rise(side))}; at most {case.say(limit.value)} is good.",
        missed=Missed(
            level=Level.FAIL,
            means="A door hung here drags or swings by itself, whatever is done to the glass.",
            do=" ".join(filter(None, (_swap(case, side), _pack(case, door, side), LAST))),
        ),
        ask=f"Read the lean of the {side} wall again over the height of the glass, level reversed.",
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
        return f"The {other} wall leans {case.say(there.value.value)} and is no better."
    here, beyond = case.lean(side).size().value - limit, limit - there.value.value
    turned = "" if len(case.choice.order) == 1 else ", the row turned round"
    return (
        f"Hinge on the {other} wall{turned}: {case.say(here)} too much here becomes "
        f"{case.say(beyond)} to spare there."
    )


def _pack(case: Case, door: Hung, side: Side) -> str:
    """Bring the plates onto a plumb line, if the hinge may be packed that far."""
    plates = door.plates
    if len(plates) < 2:  # noqa: PLR2004 - a line has two ends
        return ""
    lean = case.opening.estimate(case.opening.lean(side, plates[0], plates[-1])).value
    plate, needed = ("lower" if lean > 0 else "upper"), abs(lean)
    if needed > door.hinge.shim_most:
        return ""
    return f"Packing the {plate} plate {case.say(needed)} makes the hinge line plumb."
