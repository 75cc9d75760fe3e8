"""The lower edge of a door must clear curb and floor wherever it swings."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check import decide
from hangtrue.check.case import Case
from hangtrue.check.decide import Missed
from hangtrue.check.finding import Finding, Level
from hangtrue.check.hung import Hung
from hangtrue.check.proof import swinging
from hangtrue.check.proof.covered import covered
from hangtrue.check.rule import rule
from hangtrue.check.wording import sentence
from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Gap

PAIR = 2


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
    """Follow the whole lower edge of each door from shut to square open."""
    for hung in case.hung:
        yield _door(case, hung)


def _door(case: Case, hung: Hung) -> Finding:
    gaps = _under(case, hung)
    if len(hung.plates) < PAIR or not gaps:
        return Finding(
            level=Level.NOT_CHECKED,
            where=hung.id,
            found=f"It is not known how {hung.called} stands over what is below it.",
            do="What is under the door, and how far?",
        )
    door, limit = swinging.swing(case, hung), case.limit("glass-clear-least")
    ends = gaps if hung.side == "left" else gaps[::-1]
    low = swinging.lowest(door, (ends[0].predicted, ends[-1].predicted), _curb(case))
    square = swinging.rise_square(door)
    place = "the curb" if low.over_curb else "the bathroom floor"
    at = "shut" if low.opening_deg == 0 else f"{low.opening_deg:.0f}° open"
    drop = "higher" if square >= 0 else "lower"
    short = case.say(max(limit.value - low.clearance.value, 0.0))
    return decide.finding(
        decide.at_least(low.clearance, limit.value, case.confidence),
        where=hung.id,
        found=f"{sentence(hung.called)} is nearest to {place} when {at}: "
        f"{case.give(low.clearance)} is clear. Open square, its free corner stands "
        f"{case.say(abs(square))} {drop} than shut.",
        missed=Missed(
            level=Level.FAIL,
            means="Its lower edge would strike and burst.",
            do=f"Cut the door {short} shorter, or set its upper hinge plate further back on the "
            "side it opens to.",
        ),
        ask="Read the pitch of the curb and the lean of the hinge wall again.",
        source=limit.source,
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


def _curb(case: Case) -> tuple[float, float, Estimate]:
    """Half the width of the curb, how far the floor is below it, and how it climbs outward."""
    below, opening = case.job.threshold, case.opening
    known = opening.knows("pitch")
    climb = opening.estimate(opening.entry("pitch")) if known else Estimate(0.0, 0.01)
    way = -1.0 if case.job.wanted.swing == "in" else 1.0
    return float(below.width) / 2, float(below.height), climb.scaled(way)
