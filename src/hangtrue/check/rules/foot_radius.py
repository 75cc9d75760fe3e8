"""A square corner of glass must not sit on the rounding between wall and curb or pan lip."""

from __future__ import annotations

import math
from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.corner import clip
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.check.wording import sentence, the_wall
from hangtrue.fit.enclosure import Lite
from hangtrue.job.readings import Side
from hangtrue.phrase import phrase


@rule(
    id="foot-radius",
    title="The corners of the glass clear the rounding at the foot of the walls",
    why="A corner of tempered glass that touches tile or a pan lip can burst the whole pane.",
    needs="glass",
)
def foot_radius(case: Case) -> Iterable[Finding]:
    """Compare the bottom corner at each wall with the circle of the rounding there."""
    for side in case.opening.walls:
        yield _corner(case, side, case.at_wall(side))


def _corner(case: Case, side: Side, pane: Lite) -> Finding:
    radius, where = float(case.wall(side).foot_radius), _where(side, pane)
    beside = case.gaps(pane.id, f"{side} wall")
    if radius == 0.0:
        square = phrase("{wall} meets the curb square.", wall=sentence(the_wall(side)))
        return Finding(level=Level.PASS, where=where, found=square)
    rise = _under(case, side, pane)
    clear = case.limit("glass-clear-least")
    leg = clip(beside[0].predicted.value, rise, radius, clear.value)
    if leg == 0.0:
        clears = phrase(
            "The foot of {wall} is rounded, {radius}; the corner of the glass clears it.",
            wall=the_wall(side),
            radius=case.say(radius),
        )
        return Finding(level=Level.PASS, where=where, found=clears)
    helpless = case.boxed or math.isinf(leg)
    return Finding(
        level=Level.FAIL if helpless else Level.WARN,
        where=where,
        found=phrase(
            "The foot of {wall} is rounded, {radius}; the corner of the glass would sit on it.",
            wall=the_wall(side),
            radius=case.say(radius),
        ),
        means="Glass that touches the wall at its corner can burst.",
        do="Have the rounding cut back square; clipping this glass does not help."
        if helpless
        else phrase(
            "Have this corner clipped {length} both ways, before tempering.",
            length=case.say(_up(case, leg)),
        ),
        source=clear.source,
    )


def _where(side: Side, pane: Lite) -> str:
    if side == "left":
        return phrase("{pane}, bottom left corner", pane=pane.id)
    return phrase("{pane}, bottom right corner", pane=pane.id)


def _under(case: Case, side: Side, pane: Lite) -> float:
    """Gap under the bottom corner at a wall, on the curb or on the cap of a step there, mm."""
    below = {"curb", *case.opening.steps}
    gaps = [
        gap
        for joint in case.joints(pane.id)
        if not joint.upright and below & set(joint.between)
        for gap in joint.gaps
    ]
    at_end = max if side == "right" else min
    return at_end(gaps, key=lambda gap: gap.at).predicted.value


def _up(case: Case, leg: float) -> float:
    """Round a leg up to what the plant cuts."""
    step = float(case.brief.profile.plant.grid)
    return math.ceil(leg / step) * step
