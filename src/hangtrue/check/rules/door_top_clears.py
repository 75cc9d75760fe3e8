"""The top edge of a door must clear ceiling and what hangs there wherever it swings."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from hangtrue.check import decide
from hangtrue.check.around import Turning, Way, heights, turning
from hangtrue.check.case import Case
from hangtrue.check.decide import Missed
from hangtrue.check.finding import Finding, Level
from hangtrue.check.hung import Hung
from hangtrue.check.proof import swinging
from hangtrue.check.proof.covered import covered
from hangtrue.check.proof.swinging import Swing
from hangtrue.check.rule import rule
from hangtrue.check.wording import article, sentence
from hangtrue.estimate import Estimate
from hangtrue.geometry import Point
from hangtrue.phrase import phrase

PAIR = 2
SQUARE = 90.0
TURN = 3
"""Degrees from one opening that is looked at to the next."""
PLACES = 8
"""Places along the top edge, the free corner last."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Over:
    """What the top edge comes nearest to: how near (mm), at which opening (deg), and to what."""

    room: Estimate
    opening_deg: float
    name: str


@rule(
    id="door-top-clears",
    title="The door clears what is above it as it swings",
    why="On an axis that leans, the free corner rises as the door opens, and a ceiling may come "
    "down to meet it. A light, a fan or a curtain rail near the top is struck by the corner.",
    source="own",
    needs="door",
)
@covered
def door_top_clears(case: Case) -> Iterable[Finding]:
    """Follow the whole top edge of each door under the ceiling and under what hangs there."""
    for hung in case.hung:
        yield _door(case, hung)


def _door(case: Case, hung: Hung) -> Finding:
    if len(hung.plates) < PAIR:
        return Finding(
            level=Level.NOT_CHECKED,
            where=hung.id,
            found=phrase("{door} has no two hinges to swing on.", door=sentence(hung.called)),
            do="How many hinges does it hang on, and where?",
        )
    upto = max(SQUARE, math.degrees(hung.stop or 0.0))
    door = swinging.swing(case, hung)
    most, where = swinging.highest(door, upto)
    near = min(_above(case, hung, door, upto), key=lambda over: over.room.value, default=None)
    if near is None:
        return Finding(
            level=Level.PASS,
            where=hung.id,
            found=phrase(
                "The free top corner of {door} rises {rise} at most; nothing is written down that "
                "is above it.",
                door=hung.called, rise=case.say(max(most, 0.0)),
            ),
        )  # fmt: skip
    return _judged(case, hung, near, (most, where))


def _judged(case: Case, hung: Hung, near: Over, rises: tuple[float, float]) -> Finding:
    limit = case.limit("glass-clear-least")
    short = case.say(max(limit.value - near.room.value, 0.0))
    return decide.finding(
        decide.at_least(near.room, limit.value, case.confidence),
        where=hung.id,
        found=_found(case, hung, near, rises[0]),
        missed=Missed(
            level=Level.FAIL,
            means="Its top corner would strike and the glass burst.",
            do=phrase(
                "Make {door} {short} lower, or have {thing} moved; or fix a stop before "
                "{angle:.0f}°.",
                door=hung.called, short=short, thing=article(near.name), angle=near.opening_deg,
            ),
        ),
        ask="Read the height of what is above the door, and the lean of the hinge wall, again.",
        source=limit.source,
    )  # fmt: skip


def _found(case: Case, hung: Hung, near: Over, rises: float) -> str:
    words = {
        "door": sentence(hung.called),
        "thing": article(near.name),
        "angle": near.opening_deg,
        "rise": case.say(max(rises, 0.0)),
    }
    if near.room.value < 0.0:
        return phrase(
            "{door} would strike {thing} when {angle:.0f}° open, by {far}. Its free corner rises "
            "{rise} at most.",
            far=case.say(-near.room.value),
            **words,
        )
    return phrase(
        "{door} is nearest to {thing} when {angle:.0f}° open: {room} is left over its top edge. "
        "Its free corner rises {rise} at most.",
        room=case.give(near.room),
        **words,
    )


def _above(case: Case, hung: Hung, door: Swing, upto: float) -> Iterator[Over]:
    """Everything over the top edge, at every opening each way it goes."""
    swing = case.job.wanted.swing
    ways: tuple[Way, ...] = ("out", "in") if swing == "both" else (swing,)
    for way in ways:
        same = way == ways[0]
        going = door if same else door.the_other_way()
        turned = turning(case, hung, way)
        for place, height, deg in _edge(hung, going, turned, upto):
            yield from _over(case, hung, going, (place, height, deg))


def _edge(
    hung: Hung, door: Swing, turned: Turning, upto: float
) -> Iterator[tuple[Point, float, float]]:
    """Places of the top edge in plan, their heights above the datum and the opening; mm, deg."""
    pane = hung.glass
    left, right = pane.corners[3][1], pane.corners[2][1]
    near, far = (left, right) if hung.side == "left" else (right, left)
    for deg in range(0, int(upto) + 1, TURN):
        turn = math.radians(deg)
        for n in range(1, PLACES + 1):
            x = door.width * n / PLACES
            z = pane.origin[1] + near + (far - near) * n / PLACES
            plan = turned.frame.plan((x * math.cos(turn), x * math.sin(turn)))
            yield plan, z + swinging.top_rise(door, turn, x), float(deg)


def _over(case: Case, hung: Hung, door: Swing, at: tuple[Point, float, float]) -> Iterator[Over]:
    (x, y), height, deg = at
    spread = door.width * math.sin(math.radians(deg)) * door.lean_out.sd / door.spacing
    if case.opening.has_ceiling and hung.glass.edge("top").meets == "free":
        over = case.opening.estimate(case.opening.ceiling(x))
        room = Estimate(over.value - height, math.hypot(over.sd, spread))
        yield Over(room=room, opening_deg=deg, name="ceiling")
    for thing in case.job.obstacles:
        low, _ = heights(case, thing)
        x0, y0, x1, y1 = thing.plan_box
        shut_top = hung.glass.origin[1] + max(corner[1] for corner in hung.glass.corners)
        over_it = thing.bottom is not None and low >= shut_top - 1e-6
        if over_it and x0 <= x <= x1 and y0 <= y <= y1:
            yield Over(room=Estimate(low - height, spread), opening_deg=deg, name=thing.name)
