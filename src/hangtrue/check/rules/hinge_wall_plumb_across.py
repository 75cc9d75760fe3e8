"""The hinge line must be plumb across the glass too."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check import decide
from hangtrue.check.case import Case
from hangtrue.check.decide import Missed
from hangtrue.check.finding import Finding, Level
from hangtrue.check.hung import Hung
from hangtrue.check.rule import rule
from hangtrue.check.wording import hinge_wall, sentence, the_wall
from hangtrue.job.readings import Lean, Side
from hangtrue.phrase import join, phrase


@rule(
    id="hinge-wall-plumb-across",
    title="The hinge wall is plumb across the glass",
    why="A hinge line that leans into or out of the shower makes the door fall open or shut, and "
    "its free corner miss the pane or wall that it closes on.",
    needs="wall hinge",
)
def hinge_wall_plumb_across(case: Case) -> Iterable[Finding]:
    """Compare the lean across with the most there may be; a wall nobody read is not plumb."""
    for door, side in case.wall_hung:
        yield _door(case, door, side)


def _door(case: Case, door: Hung, side: Side) -> Finding:
    entry = f"across {side}"
    read = any(
        isinstance(r, Lean) and r.plane == "across" and r.wall == side for r in case.job.readings
    )
    ask = phrase(
        "Hold the level against {wall} across the glass line and read the lean.",
        wall=the_wall(side),
    )
    if not read or not case.opening.knows(entry):
        return Finding(
            level=Level.NOT_CHECKED,
            where=f"{side} wall",
            found=phrase("Nobody read how {wall} leans across the glass.", wall=hinge_wall(side)),
            means="If the hinge line leans, the door will not stay where it is put.",
            do=ask,
        )
    limit = case.limit("hinge-wall-across-most")
    lean = case.opening.estimate(case.opening.entry(entry)).scaled(case.rise(side))
    toward = "into the shower" if lean.value >= 0 else "toward the room"
    back = "toward the room" if lean.value >= 0 else "into the shower"
    spread = door.plates[-1] - door.plates[0] if door.plates else case.rise(side)
    shift = case.say(abs(lean.value) * spread / case.rise(side))
    return decide.finding(
        decide.magnitude(lean, limit.value, case.confidence),
        where=f"{side} wall",
        found=phrase(
            "{wall} leans {lean} {way} over {height}; at most {most} is good.",
            wall=sentence(hinge_wall(side)),
            lean=case.give(lean.size()),
            way=toward,
            height=case.say(case.rise(side)),
            most=case.say(limit.value),
        ),
        missed=Missed(
            level=Level.FAIL,
            means="Hinges set along this wall make the door fall open or shut by itself.",
            do=phrase(
                "Set both plates on a plumb line: the upper one {length} further {way} than the "
                "wall leads it, if the wood behind reaches that far. Or hinge on the other side.",
                length=shift,
                way=back,
            ),
        ),
        ask=join(" ", (ask, "Turn the level round and read it twice.")),
        source=limit.source,
    )
