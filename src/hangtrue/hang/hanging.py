"""From a plan to everything two people work from on the day."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from hangtrue.fit.enclosure import Enclosure, NoFit
from hangtrue.hang.cure_time import sealant_of, unsuited
from hangtrue.hang.cutting import cutting
from hangtrue.hang.drilling import drilling
from hangtrue.hang.lists import hardware, plant_totals, receiving
from hangtrue.hang.ordered import panes_to_order
from hangtrue.hang.pieces import cut_pieces
from hangtrue.hang.records import HangPlan, NothingToHang
from hangtrue.hang.setting import blocks, settings
from hangtrue.hang.shims import packings
from hangtrue.hang.shop import Shop, shop_for
from hangtrue.hang.snags import Snag, stops_first
from hangtrue.hang.templates import templates
from hangtrue.hang.work import Work
from hangtrue.phrase import phrase
from hangtrue.plan import Plan


def hang(plan: Plan, shop: Shop | None = None) -> HangPlan | NothingToHang:
    """Work out holes, templates, pieces, packing, settings and lists of the best alternative.

    Parameters
    ----------
    shop
        How the shop drills, packs and cuts; that of the job's profile if not given.

    """
    made = plan.best.alternative.made
    if isinstance(made, NoFit):
        return NothingToHang(why=made.why)
    shop = shop or shop_for(plan.brief.profile)
    work = Work(
        brief=plan.brief,
        opening=plan.opening,
        enclosure=made,
        shop=shop,
        findings=plan.best.findings,
    )
    holes, not_drilled = drilling(work)
    panes = panes_to_order(made.lites, holes.moved)
    ordered = replace(work, enclosure=replace(made, lites=panes))
    pieces = cut_pieces(work, holes)
    bars, not_cut = cutting(pieces, work.shop, work.shop.offcuts, work.say)
    packed, not_packed = packings(work, holes)
    under, no_block = blocks(work)
    return HangPlan(
        panes=panes,
        drilling=holes,
        templates=templates(ordered, holes),
        pieces=pieces,
        cutting=bars,
        packings=(*packed, *under),
        settings=settings(work, packed),
        hardware=hardware(work, holes, pieces, bars, (*packed, *under)),
        plant=plant_totals(panes),
        receiving=receiving(ordered),
        snags=stops_first(
            (*not_drilled, *not_cut, *not_packed, *no_block, *_unheld(made), *_attacked(plan))
        ),
    )


HOLDING = {"hinge", "channel", "clamp", "silicone"}
"""Kinds of joint that hold a pane."""


def _unheld(made: Enclosure) -> Iterator[Snag]:
    """Say which panes hang on fittings that the plan does not know, as a tilting transom does."""
    for pane in made.lites:
        if not any(j.kind in HOLDING for j in made.joints if pane.id in j.between):
            yield Snag(
                where=pane.id,
                wrong="the plan holds no fitting that carries it, so no hole and no template",
                do="drill and cut for its fittings by their maker's drawing",
            )


def _attacked(plan: Plan) -> Iterator[Snag]:
    """Say which materials the shop's sealant must not touch."""
    sealant = sealant_of(plan.brief.profile)
    for material in unsuited(sealant, plan.brief.job):
        wrong = phrase("{sealant} attacks {material}", sealant=sealant, material=material)
        yield Snag(where="sealant", wrong=wrong, do="take a neutral-cure one", stops=True)
