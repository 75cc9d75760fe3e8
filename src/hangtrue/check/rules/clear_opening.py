"""A person must get in, and be got out: the way past the open door."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
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
    """Take hinge and glass off the doorway; where only the hinge's pivot decides, ask for it."""
    limit = case.limit("clear-opening-least")
    half, notch = case.door.thickness / 2, _notch(case)
    doorway = _doorway(case)
    most, least = doorway - half, doorway - half - notch
    good, hopeless = least >= limit.value, most < limit.value
    level = Level.PASS if good else Level.FAIL if hopeless else Level.NOT_CHECKED
    wider = case.say(limit.value - least)
    yield Finding(
        level=level,
        where="door",
        found=f"With the door open square, {case.say(least)} is clear, its hinges taken off in "
        f"full; at least {case.say(limit.value)} is asked for.",
        means="" if good else "" if not hopeless else "It is too tight, whatever the hinge.",
        do=""
        if good
        else f"Make the door {wider} wider."
        if hopeless
        else f"Where is the pivot in the hinge maker's drawing? Or make the door {wider} wider.",
        value=Estimate(least),
        limit=limit.value,
        unit="mm",
        at_most=False,
        source=limit.source,
    )


def _doorway(case: Case) -> float:
    """Narrowest clear width over the strike and the glass: the hinge-side gap never clears, mm."""
    door = case.door
    strikes = [
        gap.predicted.value
        for joint in case.joints(door.id)
        if joint.kind == "strike"
        for gap in joint.gaps
    ]
    return min(door.width_bottom, door.width_top) + min(strikes, default=0.0)


def _notch(case: Case) -> float:
    """How far into the glass the hinge reaches: its pivot lies somewhere within, mm."""
    return max((float(cut.width) for cut in case.hinge.cut_outs), default=0.0)
