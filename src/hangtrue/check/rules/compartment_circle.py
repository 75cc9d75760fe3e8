"""The floor of a shower must hold a circle of the least width."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check import decide
from hangtrue.check.case import Case
from hangtrue.check.decide import Missed
from hangtrue.check.finding import Finding, Level
from hangtrue.check.floor import Floor, floor_of
from hangtrue.check.rule import rule
from hangtrue.phrase import phrase


@rule(
    id="compartment-circle",
    title="The floor of the shower is wide enough",
    why="A floor may have area enough and still be too narrow to turn in: codes ask for a least "
    "width, as a circle that lies wholly within walls and glass.",
    source="irc-p2708",
)
def compartment_circle(case: Case) -> Iterable[Finding]:
    """Compare the largest circle on the floor with the least of the code and its exception."""
    floor = floor_of(case)
    if isinstance(floor, Finding):
        yield floor
    elif floor.exempt:
        yield Finding(
            level=Level.PASS,
            where="shower floor",
            found="A receptor of that length and width needs no least circle.",
            source=floor.asked["source"],
        )
    else:
        yield _circle(case, floor)


def _circle(case: Case, floor: Floor) -> Finding:
    circle, least = floor.circle, _least(case, floor)
    short = case.say(least - circle.value)
    return decide.finding(
        decide.at_least(circle, least, case.confidence),
        where="shower floor",
        found=phrase(
            "The largest circle on the floor is {width} wide; at least {least} is asked for.",
            width=case.say(circle.value),
            least=case.say(least),
        ),
        missed=Missed(
            level=Level.FAIL,
            means="The code asks for a wider floor.",
            do=phrase(
                "Move the glass outward so that the circle grows by {length}, or ask the local "
                "authority.",
                length=short,
            ),
        ),
        ask="Tape the floor of the shower once more, at its narrowest.",
        source=floor.asked["source"],
    )


def _least(case: Case, floor: Floor) -> float:
    """Least circle: the smaller one of the exception where the area is beyond doubt enough."""
    narrow = floor.asked.get("narrow")
    usual = float(floor.asked["circle"])
    if narrow is None:
        return usual
    enough = decide.at_least(floor.area, narrow["area"], case.confidence).met
    return float(narrow["circle"]) if enough else usual
