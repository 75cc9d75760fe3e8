"""The top edge of a door must clear ceiling and what hangs there wherever it swings."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

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
from hangtrue.job.document import Obstacle
from hangtrue.phrase import phrase

Array = NDArray[np.float64]
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
    asked = swinging.no_axis(hung)
    if asked is not None:
        return asked
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
    """What the top edge comes nearest to in each thing over it, each way it goes."""
    swing = case.job.wanted.swing
    ways: tuple[Way, ...] = ("out", "in") if swing == "both" else (swing,)
    under = _ceiling(case, hung)
    over_it = [thing for thing in case.job.obstacles if _hangs(case, hung, thing)]
    if under is None and not over_it:
        return
    for way in ways:
        going = door if way == ways[0] else door.the_other_way()
        edge = _edge(hung, going, turning(case, hung, way), upto)
        if under is not None:
            places, over, sd = under
            yield _nearest(edge, going, np.interp(edge.x, places, over), sd, "ceiling")
        for thing in over_it:
            x0, y0, x1, y1 = thing.plan_box
            within = (x0 <= edge.x) & (edge.x <= x1) & (y0 <= edge.y) & (edge.y <= y1)
            if within.any():
                low = np.where(within, heights(case, thing)[0], np.inf)
                yield _nearest(edge, going, low, 0.0, thing.name)


def _hangs(case: Case, hung: Hung, thing: Obstacle) -> bool:
    """Whether something hangs over the top of a shut door; what stands beside it is met in plan."""
    pane = hung.glass
    top = pane.origin[1] + max(corner[1] for corner in pane.corners)
    return thing.bottom is not None and heights(case, thing)[0] >= top - 1e-6


def _ceiling(case: Case, hung: Hung) -> tuple[Array, Array, float] | None:
    """Heights of the ceiling along the glass line about a door, with their largest sd; mm."""
    pane, opening = hung.glass, case.opening
    if not opening.has_ceiling or pane.edge("top").meets != "free":
        return None
    axis = pane.origin[0] + (0.0 if hung.side == "left" else pane.width_bottom)
    places = np.linspace(axis - pane.width_bottom, axis + pane.width_bottom, PLACES + 1)
    over = [opening.estimate(opening.ceiling(float(x))) for x in places]
    return places, np.array([one.value for one in over]), max(one.sd for one in over)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Edge:
    """The top edge at every opening: plan, height and turn (openings, places), mm and rad."""

    x: Array
    y: Array
    height: Array
    turn: Array
    across: Array


def _edge(hung: Hung, door: Swing, turned: Turning, upto: float) -> Edge:
    """Follow the top edge; small leans here, the nearest place is worked out again exactly."""
    pane = hung.glass
    left, right = pane.corners[3][1], pane.corners[2][1]
    near, far = (left, right) if hung.side == "left" else (right, left)
    turns = np.radians(np.arange(0, int(upto) + 1, TURN))
    turn, across = np.meshgrid(turns, door.width * np.arange(1, PLACES + 1) / PLACES)
    along, out = across * np.cos(turn), across * np.sin(turn)
    x, y = turned.frame.plan((along, out))
    axis = door.axis
    lift = axis.lean_x * (across - along) - axis.lean_y * out
    top = pane.origin[1] + near + (far - near) * across / door.width
    return Edge(x=np.asarray(x), y=np.asarray(y), height=top + lift, turn=turn, across=across)


def _nearest(edge: Edge, door: Swing, over: Array, sd: float, name: str) -> Over:
    n = np.unravel_index(int((over - edge.height).argmin()), over.shape)
    turn, across = float(edge.turn[n]), float(edge.across[n])
    lift = across * (door.axis.lean_x * (1 - math.cos(turn)) - door.axis.lean_y * math.sin(turn))
    exact = swinging.top_rise(door, turn, across) - lift
    spread = across * math.sin(turn) * door.lean_out.sd / door.spacing
    room = float(over[n]) - float(edge.height[n]) - exact
    return Over(
        room=Estimate(room, math.hypot(sd, spread)), opening_deg=math.degrees(turn), name=name
    )
