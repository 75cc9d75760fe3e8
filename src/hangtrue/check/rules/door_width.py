"""A door must be neither too narrow to walk through nor too wide to hang."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.hung import Hung
from hangtrue.check.rule import rule
from hangtrue.check.wording import sentence
from hangtrue.estimate import Estimate
from hangtrue.phrase import phrase


@rule(
    id="door-width",
    title="The door is of a usual width",
    why="A narrow door is hard to get through; a wide one is heavy and sweeps half the room.",
    needs="door",
)
def door_width(case: Case) -> Iterable[Finding]:
    """Compare the narrowest and the widest place of each door with the usual range.

    A flap that ends free, and each of two doors that close on each other, may be narrow.
    """
    for door in case.hung:
        yield _door(case, door)


def _door(case: Case, door: Hung) -> Finding:
    ends = door.glass.width_bottom, door.glass.width_top
    least, most = case.limit("door-width-least"), case.limit("door-width-most")
    alone = not door.closes_on.startswith(("free", "door"))
    narrow, wide = alone and min(ends) < least.value, max(ends) > most.value
    if not (alone or wide):
        found = phrase(
            "{door} is {width} wide; it is no way in by itself.",
            door=sentence(door.called),
            width=case.say(min(ends)),
        )
        return Finding(level=Level.PASS, where=door.id, found=found, source=most.source)
    limit, value = (most, max(ends)) if wide else (least, min(ends))
    by = case.say(abs(value - limit.value))
    return Finding(
        level=Level.WARN if narrow or wide else Level.PASS,
        where=door.id,
        found=phrase(
            "{door} is {width} wide; usual is {least} to {most}.",
            door=sentence(door.called),
            width=case.say(value),
            least=case.say(least.value),
            most=case.say(most.value),
        ),
        means="Hard to walk through." if narrow else "Heavy, and in the way." if wide else "",
        do=phrase("Make it {length} wider, at the cost of the fixed glass.", length=by)
        if narrow
        else phrase("Make it {length} narrower and give that to fixed glass.", length=by)
        if wide
        else "",
        value=Estimate(value),
        limit=limit.value,
        unit="mm",
        at_most=wide,
        source=limit.source,
    )
