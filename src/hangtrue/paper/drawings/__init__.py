"""Every drawing of a plan, by name: the opening, and what goes into it where anything does."""

import math

from hangtrue.fit.enclosure import Enclosure, NoFit
from hangtrue.job.brief import Brief
from hangtrue.measure.opening import Opening
from hangtrue.paper.drawings.corners import corners
from hangtrue.paper.drawings.elevation import elevations
from hangtrue.paper.drawings.folding import Ends
from hangtrue.paper.drawings.gap_strips import gap_strips
from hangtrue.paper.drawings.opening import opening
from hangtrue.paper.drawings.pane import pane
from hangtrue.paper.drawings.plan_view import plan_view
from hangtrue.paper.drawings.room_plan import room_plan
from hangtrue.paper.drawings.surroundings import surroundings
from hangtrue.paper.drawings.wanted import wanted
from hangtrue.paper.scene import Sheet
from hangtrue.phrase import Phrase
from hangtrue.plan import Plan

CLEAR_RULE, SWING_RULE = "clear-opening", "door-swing"
WAYS = {"outward": -1, "inward": 1}
"""Ways in which a door goes, as that rule says them."""

__all__ = ["drawings"]


def drawings(plan: Plan) -> tuple[tuple[str, Sheet], ...]:
    """Draw everything that a plan holds, in the order of the packet.

    Where nothing fits there are the opening and what was asked for.
    """
    brief, measured, made = plan.brief, plan.opening, plan.best.alternative.made
    sheets = [opening(brief, measured)]
    if isinstance(made, NoFit):
        sheets.append(wanted(brief, measured, made))
    else:
        sheets += [
            plan_of(brief, measured, made, _clear(plan), _ends(plan)),
            *surroundings(brief, measured, made),
            *corners(brief, measured, made),
            *elevations(brief, measured, made),
            *gap_strips(brief, made),
            *(pane(brief, made, lite) for lite in made.lites),
        ]
    return tuple((sheet.name, sheet) for sheet in sheets)


def plan_of(
    brief: Brief,
    measured: Opening,
    made: Enclosure,
    clear: float | None = None,
    ends: Ends | None = None,
) -> Sheet:
    """Draw a straight line of panes with its gaps beside it; anything else with what is around."""
    job = brief.job
    held = any(lite.stop for lite in job.wanted.lites)
    bare = not (job.obstacles or job.steps or made.bars or held)
    if bare and len(made.runs) < 2:  # noqa: PLR2004
        return plan_view(brief, measured, made, clear)
    return room_plan(brief, measured, made, clear, ends)


def _ends(plan: Plan) -> Ends:
    """Where doors would meet something, as the rule about their swing worked it out."""
    return {
        (finding.where, WAYS[str(finding.found.parts["way"])]): math.radians(finding.value.value)
        for finding in plan.best.findings
        if finding.rule == SWING_RULE
        and finding.value is not None
        and isinstance(finding.found, Phrase)
    }


def _clear(plan: Plan) -> float | None:
    """Way past the open door, as the rule about it worked it out."""
    found = (f.value for f in plan.best.findings if f.rule == CLEAR_RULE)
    return next((value.value for value in found if value is not None), None)
