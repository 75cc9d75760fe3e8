"""A square corner of glass must not sit on the rounding between wall and curb or pan lip."""

from __future__ import annotations

import math
from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.fit.enclosure import Lite
from hangtrue.job.readings import Side


@rule(
    id="foot-radius",
    title="The corners of the glass clear the rounding at the foot of the walls",
    why="A corner of tempered glass that touches tile or a pan lip can burst the whole pane.",
    needs="glass",
)
def foot_radius(case: Case) -> Iterable[Finding]:
    """Compare the bottom corner at each wall with the circle of the rounding there."""
    for side, pane in (("left", case.lites[0]), ("right", case.lites[-1])):
        if side in case.opening.walls:
            yield _corner(case, side, pane)


def _corner(case: Case, side: Side, pane: Lite) -> Finding:
    radius = float(case.wall(side).foot_radius)
    where = f"{pane.id}, bottom {side} corner"
    beside, under = case.gaps(pane.id, f"{side} wall"), case.gaps(pane.id, "curb")
    if radius == 0.0 or not (beside and under):
        known = radius == 0.0
        return Finding(
            level=Level.PASS if known else Level.NOT_CHECKED,
            where=where,
            found=f"The {side} wall meets the curb square."
            if known
            else f"The gaps at the foot of the {side} wall are not planned.",
        )
    gap = beside[0].predicted.value
    rise = min(under, key=lambda g: abs(g.at - pane.origin[0] - _end(side, pane))).predicted.value
    reach = radius - case.limit("glass-clear-least").value
    clip = clipped(gap, rise, radius, reach)
    found = f"The foot of the {side} wall is rounded, {case.say(radius)}; the corner of the glass "
    if clip == 0.0:
        return Finding(level=Level.PASS, where=where, found=f"{found}clears it.")
    step = math.ceil(clip) if case.job.unit != "in" else 25.4 / 16 * math.ceil(clip * 16 / 25.4)
    boxed = case.boxed or math.isinf(clip)
    return Finding(
        level=Level.FAIL if boxed else Level.WARN,
        where=where,
        found=f"{found}would sit on it.",
        means="Glass that touches the wall at its corner can burst.",
        do="Have the rounding cut square; this glass cannot be changed."
        if boxed
        else f"Have this corner clipped {case.say(step)} both ways before the glass is tempered.",
    )


def _end(side: Side, pane: Lite) -> float:
    return 0.0 if side == "left" else pane.width_bottom


def clipped(gap: float, rise: float, radius: float, reach: float) -> float:
    """Leg of the 45° clip that brings a corner inside the circle of the rounding, mm.

    Parameters
    ----------
    gap, rise
        Distance of the square corner from the wall and from the curb.
    radius, reach
        Of the rounding; and how far from its centre glass may be, which is less by what glass
        must stay clear. Infinite if no clip helps.

    """
    across, up = radius - gap, radius - rise
    if across <= 0.0 or up <= 0.0 or math.hypot(across, up) <= reach:
        return 0.0
    if max(across, up) > reach:
        return math.inf
    # Both ends of the clip must lie within the circle; what is between them then does too.
    legs = (across - math.sqrt(reach**2 - up**2), up - math.sqrt(reach**2 - across**2))
    return max(*legs, 0.0)
