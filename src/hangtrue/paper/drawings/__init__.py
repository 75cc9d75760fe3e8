"""Every drawing of a plan, by name: the opening, and what goes into it where anything does."""

from hangtrue.fit.enclosure import NoFit
from hangtrue.paper.drawings.elevation import elevation
from hangtrue.paper.drawings.gap_strips import gap_strips
from hangtrue.paper.drawings.opening import opening
from hangtrue.paper.drawings.pane import pane
from hangtrue.paper.drawings.plan_view import plan_view
from hangtrue.paper.drawings.wanted import wanted
from hangtrue.paper.scene import Sheet
from hangtrue.plan import Plan

CLEAR_RULE = "clear-opening"

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
            plan_view(brief, measured, made, _clear(plan)),
            elevation(brief, measured, made),
            gap_strips(brief, made),
            *(pane(brief, made, lite) for lite in made.lites),
        ]
    return tuple((sheet.name, sheet) for sheet in sheets)


def _clear(plan: Plan) -> float | None:
    """Way past the open door, as the rule about it worked it out."""
    found = (f.value for f in plan.best.findings if f.rule == CLEAR_RULE)
    return next((value.value for value in found if value is not None), None)
