"""The floor of a shower must be large enough."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check import decide
from hangtrue.check.case import Case
from hangtrue.check.decide import Missed
from hangtrue.check.finding import Finding, Level
from hangtrue.check.floor import floor_of, square_inches
from hangtrue.check.rule import rule
from hangtrue.phrase import phrase


@rule(
    id="compartment-area",
    title="The floor of the shower is large enough",
    why="Codes ask for a least floor inside the finished walls and the glass, so that a person can "
    "turn, and be helped, in it.",
    source="irc-p2708",
)
def compartment_area(case: Case) -> Iterable[Finding]:
    """Compare the floor inside the glass with the least area of the code."""
    floor = floor_of(case)
    if isinstance(floor, Finding):
        yield floor
        return
    area, asked, source = floor.area, floor.asked["area"], floor.asked["source"]
    has, least = square_inches(case, area.value), square_inches(case, asked)
    if floor.exempt:
        found = phrase(
            "The floor of the shower has {area}; a receptor of that length and width needs no "
            "least area.",
            area=has,
        )
        yield Finding(level=Level.PASS, where="shower floor", found=found, source=source)
        return
    short = square_inches(case, asked - area.value)
    yield decide.finding(
        decide.at_least(area, asked, case.confidence),
        where="shower floor",
        found=phrase(
            "The floor of the shower has {area}; at least {least} is asked for.",
            area=has,
            least=least,
        ),
        missed=Missed(
            level=Level.FAIL,
            means="The code asks for a larger floor.",
            do=phrase(
                "Move the glass outward until {area} is gained, or ask the local authority.",
                area=short,
            ),
        ),
        ask="Tape the floor of the shower once more, from finished wall to glass.",
        unit="mm2",
        source=source,
    )
