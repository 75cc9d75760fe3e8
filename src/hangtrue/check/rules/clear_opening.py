"""A person must get in, and be got out: the way past the open door."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.hung import Hung
from hangtrue.check.rule import rule
from hangtrue.estimate import Estimate


@rule(
    id="clear-opening",
    title="The way in is wide enough with the door open",
    why="A person must be able to get in, and to be got out by somebody else. The open door and "
    "its hinges stand in the way and are taken off.",
    source="irc-p2708",
    needs="door",
)
def clear_opening(case: Case) -> Iterable[Finding]:
    """Take hinge and glass off the doorway; where only the hinge's pivot decides, ask for it.

    Two doors that close on each other are one way in; past a flap that ends free the way is open.
    """
    pair = [door for door in case.hung if door.closes_on.startswith("door")]
    if pair:
        yield _way_in(case, *pair)
    for door in case.hung:
        if door.closes_on == "free":
            found = f"Nothing stands where {door.called} ends; the way in is open beside it."
            yield Finding(level=Level.PASS, where=door.id, found=found)
        elif door not in pair:
            yield _way_in(case, door)


def _way_in(case: Case, *doors: Hung) -> Finding:
    limit = case.limit("clear-opening-least")
    half, notch = sum(d.glass.thickness / 2 for d in doors), sum(map(_notch, doors))
    doorway = _doorway(case, doors)
    most, least = doorway - half, doorway - half - notch
    good, hopeless = least >= limit.value, most < limit.value
    level = Level.PASS if good else Level.FAIL if hopeless else Level.NOT_CHECKED
    wider = case.say(limit.value - least)
    name = doors[0].called if len(doors) == 1 else "both doors"
    return Finding(
        level=level,
        where=doors[0].id if len(doors) == 1 else "doors",
        found=f"With {name} open square, {case.say(least)} is clear, its hinges taken off in "
        f"full; at least {case.say(limit.value)} is asked for.",
        means="" if good else "" if not hopeless else "It is too tight, whatever the hinge.",
        do=""
        if good
        else f"Make {name} {wider} wider."
        if hopeless
        else f"Where is the pivot in the hinge maker's drawing? Or make {name} {wider} wider.",
        value=Estimate(least),
        limit=limit.value,
        unit="mm",
        at_most=False,
        source=limit.source,
    )


def _doorway(case: Case, doors: tuple[Hung, ...]) -> float:
    """Narrowest clear width over strike and glass: the hinge-side gap never clears, mm."""
    ids = {door.id for door in doors}
    strikes = [
        gap.predicted.value
        for joint in case.joints()
        if joint.kind == "strike" and ids & set(joint.between)
        for gap in joint.gaps
    ]
    panes = [door.glass for door in doors]
    return sum(min(p.width_bottom, p.width_top) for p in panes) + min(strikes, default=0.0)


def _notch(door: Hung) -> float:
    """How far into the glass the hinge reaches: its pivot lies somewhere within, mm."""
    return max((float(cut.width) for cut in door.hinge.cut_outs), default=0.0)
