"""A door must be neither too narrow to walk through nor too wide to hang."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.hung import Hung
from hangtrue.check.rule import rule
from hangtrue.check.wording import sentence
from hangtrue.estimate import Estimate


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
        found = f"{sentence(door.called)} is {case.say(min(ends))} wide; it is no way in by itself."
        return Finding(level=Level.PASS, where=door.id, found=found, source=most.source)
    limit, value = (most, max(ends)) if wide else (least, min(ends))
    by = case.say(abs(value - limit.value))
    return Finding(
        level=Level.WARN if narrow or wide else Level.PASS,
        where=door.id,
        found=f"{sentence(door.called)} is {case.say(value)} wide; usual is "
        f"{case.say(least.value)} to {case.say(most.value)}.",
        means="Hard to walk through." if narrow else "Heavy, and in the way." if wide else "",
        do=f"Make it {by} wider, at the cost of the fixed glass."
        if narrow
        else f"Make it {by} narrower and give that to fixed glass."
        if wide
        else "",
        value=Estimate(value),
        limit=limit.value,
        unit="mm",
        at_most=wide,
        source=limit.source,
    )
