"""Cut-outs where the holes on site ask for them, before anything is drawn or ordered."""

from __future__ import annotations

from dataclasses import replace

from hangtrue.fit.enclosure import NoFit
from hangtrue.hang.drilling import drilling
from hangtrue.hang.ordered import panes_to_order
from hangtrue.hang.shop import shop_for
from hangtrue.hang.work import Work
from hangtrue.plan import Plan


def placed(plan: Plan) -> Plan:
    """Return the plan with cut-outs where the holes on site ask for them.

    Where tiles or keep-out zones make a hinge or a clamp move, its cut-out goes along. Whatever is
    ordered or drawn is of this plan, so that no paper shows a pane that another one does not.
    """
    best = plan.best
    made = best.alternative.made
    if isinstance(made, NoFit) or not _obstructed(plan):
        return plan
    work = Work(
        brief=plan.brief, opening=plan.opening, enclosure=made, shop=shop_for(plan.brief.profile)
    )
    lites = panes_to_order(made.lites, drilling(work)[0].moved)
    if lites == made.lites:
        return plan
    way = replace(best.alternative, made=replace(made, lites=lites))
    return replace(plan, best=replace(best, alternative=way))


def _obstructed(plan: Plan) -> bool:
    """Whether the job says anything that holes keep clear of."""
    walls = (plan.brief.job.walls.left, plan.brief.job.walls.right)
    return any(wall is not None and (wall.tiles or wall.keep_out) for wall in walls)
