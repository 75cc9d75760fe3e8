"""The lower edge of a door must clear curb and floor wherever it swings."""

from __future__ import annotations

import math
from collections.abc import Iterable

from hangtrue.check import decide
from hangtrue.check.case import Case
from hangtrue.check.decide import Missed
from hangtrue.check.finding import Finding, Level
from hangtrue.check.hung import Hung
from hangtrue.check.proof import foot_sheet, swinging
from hangtrue.check.proof.covered import covered
from hangtrue.check.proof.swinging import Ground, Low, Swing
from hangtrue.check.rule import rule
from hangtrue.check.wording import sentence
from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Gap
from hangtrue.phrase import phrase

SQUARE = 90.0
UNREAD = Estimate(0.0, 0.01)
"""Pitch of a curb that nobody read."""


@rule(
    id="door-foot-clears",
    title="The door clears curb and floor as it swings",
    why="On an axis that leans, the free corner drops as the door opens, and a curb that rises "
    "outward comes to meet it. Glass that touches stone bursts.",
    source="own",
    needs="door",
)
@covered
def door_foot_clears(case: Case) -> Iterable[Finding]:
    """Follow the whole lower edge of each door from shut to square open, or on to its stop."""
    for hung in case.hung:
        yield _door(case, hung)


def _door(case: Case, hung: Hung) -> Finding:
    gaps = _under(case, hung)
    if len(hung.plates) < swinging.PAIR or not gaps:
        return Finding(
            level=Level.NOT_CHECKED,
            where=hung.id,
            found=phrase("It is not known how {door} stands over what is below it.",
                         door=hung.called),
            do="What is under the door, and how far?",
        )  # fmt: skip
    ends = gaps if hung.side == "left" else gaps[::-1]
    under = ends[0].predicted, ends[-1].predicted
    upto = max(SQUARE, math.degrees(hung.stop or 0.0))
    worst: tuple[str, Swing, Ground, Low] | None = None
    for way in _ways(case):
        door, ground = _going(case, hung, way), _ground(case, hung, way)
        low = swinging.lowest(door, under, ground, upto)
        if worst is None or low.clearance.value < worst[3].clearance.value:
            worst = way, door, ground, low
    if worst is None:
        msg = "a door opens at least one way"
        raise AssertionError(msg)
    return _judged(case, hung, under, worst)


def _ways(case: Case) -> tuple[str, ...]:
    swing = case.job.wanted.swing
    return ("out", "in") if swing == "both" else (swing,)


def _going(case: Case, hung: Hung, way: str) -> Swing:
    """Return the door with its leans as it opens that way; the axis is told as it opens out."""
    door = swinging.swing(case, hung)
    told = "in" if case.job.wanted.swing == "in" else "out"
    return door if way == told else door.the_other_way()


def _judged(
    case: Case,
    hung: Hung,
    under: tuple[Estimate, Estimate],
    worst: tuple[str, Swing, Ground, Low],
) -> Finding:
    way, door, ground, low = worst
    limit, square = case.limit("glass-clear-least"), swinging.rise_square(door)
    finding = decide.finding(
        decide.at_least(low.clearance, limit.value, case.confidence),
        where=hung.id,
        found=phrase(
            "{door} is nearest to {place} when {at}: {clear} is clear. {square}",
            door=sentence(hung.called),
            place=_place(way, low),
            at=_at(way, low),
            clear=case.give(low.clearance),
            square=_square(case, square),
        ),
        missed=Missed(
            level=Level.FAIL,
            means="Its lower edge would strike and burst.",
            do=_cure(case, door, low, limit.value),
        ),
        ask="Read the pitch of the curb and the lean of the hinge wall again.",
        source=limit.source,
    )
    return finding.with_sheet(foot_sheet.sheet(hung.called, door, under, ground, low))


def _place(way: str, low: Low) -> str:
    if low.over_curb:
        return "the curb"
    return "the bathroom floor" if way == "out" else "the shower floor, taken as high as the curb"


def _at(way: str, low: Low) -> str:
    if low.opening_deg == 0:
        return "shut"
    if way == "out":
        return phrase("{angle:.0f}° open outward", angle=low.opening_deg)
    return phrase("{angle:.0f}° open inward", angle=low.opening_deg)


def _square(case: Case, rise: float) -> str:
    if rise >= 0:
        return phrase(
            "Open square, its free corner stands {rise} higher than shut.", rise=case.say(rise)
        )
    return phrase(
        "Open square, its free corner stands {drop} lower than shut.", drop=case.say(-rise)
    )


def _cure(case: Case, door: Swing, low: Low, limit: float) -> str:
    """Say how much shorter, or by how much the upper plate must move for the foot to rise."""
    short = max(limit - low.clearance.value, 0.0)
    turn = math.radians(low.opening_deg)
    reach = low.across * math.sin(turn)
    shorter = phrase("Cut the door {short} shorter", short=case.say(short))
    if reach < 1.0:
        return phrase("{shorter}.", shorter=shorter)
    back = short * door.spacing / reach
    return phrase(
        "{shorter}, or shim its upper hinge plate {back} away from the side it opens to: the free "
        "corner then drops that much less.",
        shorter=shorter,
        back=case.say(back),
    )


def _under(case: Case, hung: Hung) -> tuple[Gap, ...]:
    """Gaps under the door, from left to right."""
    found = [
        gap
        for joint in case.joints(hung.id)
        if joint.kind == "sweep" or "curb" in joint.between
        for gap in joint.gaps
    ]
    return tuple(sorted(found, key=lambda gap: gap.at))


def _ground(case: Case, hung: Hung, way: str) -> Ground:
    """What is below the door on that side: the curb as read, then the floor.

    How deep the shower's floor lies below the curb is nobody's reading; it is taken as high.
    """
    below, opening, pane = case.job.threshold, case.opening, hung.glass
    climb = opening.estimate(opening.entry("pitch")) if opening.knows("pitch") else UNREAD
    ends = (pane.origin[0], pane.origin[0] + pane.width_bottom)
    hinge, free = ends if hung.side == "left" else ends[::-1]
    rises = opening.estimate(opening.curb(free) - opening.curb(hinge))
    return Ground(
        half=float(below.width) / 2,
        drop=float(below.height) if way == "out" else 0.0,
        climb=climb.scaled(1.0 if way == "out" else -1.0),
        along=rises.scaled(1.0 / pane.width_bottom),
    )
