"""A flat pane must not be forced into an opening that is not flat."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check import decide
from hangtrue.check.case import Case
from hangtrue.check.decide import Missed
from hangtrue.check.finding import Finding, Level
from hangtrue.check.proof.allowable import allowable
from hangtrue.check.proof.covered import covered
from hangtrue.check.proof.held_pane import held_pane
from hangtrue.check.proof.leaning import rules
from hangtrue.check.proof.saying import force
from hangtrue.check.rule import rule
from hangtrue.check.sheet import CalculationSheet, Given, Step
from hangtrue.check.wording import article, sentence
from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Lite
from hangtrue.mechanics.plate_closed_forms import (
    flexural_rigidity,
    twist_corner_force,
    twist_stress,
)
from hangtrue.phrase import phrase
from hangtrue.tables import table

FOR_EVER = 50 * 365.25 * 86_400.0
"""s; a twist that was built in stays."""


@rule(
    id="glass-twist",
    title="No pane is forced into a twist",
    why="Held along edges that do not lie in one plane, a pane is bent for good. Glass takes a "
    "little of that; its channels and seals take less.",
    source="own",
    needs="fixed glass",
)
@covered
def glass_twist(case: Case) -> Iterable[Finding]:
    """Compute what each fixed pane sees when its edges follow walls that lean across the glass."""
    for pane in case.fixed:
        yield _pane(case, pane)


def _pane(case: Case, pane: Lite) -> Finding:
    offset = _offset(case, pane)
    if offset is None:
        return Finding(
            level=Level.PASS,
            where=pane.id,
            found=phrase(
                "{pane} is not held along edges that could twist it.",
                pane=sentence(article(pane.id)),
            ),
        )
    held = held_pane(case, pane)
    elastic = table("mechanics/glass")["elastic"][held.system]
    modulus, poisson = float(elastic["youngs_modulus_MPa"]), float(elastic["poisson"])
    wide, tall = pane.width_bottom, pane.height_left
    rigidity = flexural_rigidity(modulus, poisson, held.nominal)
    per_mm = twist_stress(1.0, wide, tall, held.nominal, modulus / (2 * (1 + poisson)))
    push = twist_corner_force(offset.value, wide, tall, rigidity, poisson)
    rough = case.job.wanted.texture == "textured"
    limit = allowable(rules(case).glass, FOR_EVER, textured=rough)
    stress = offset.scaled(per_mm)
    return decide.finding(
        decide.at_most(stress, limit.stress_MPa, case.confidence),
        where=pane.id,
        found=phrase(
            "Set as the walls lead it, a corner of {pane} is forced {offset} out of plane with "
            "{push}, which strains the glass with {stress:.1f} MPa for good; it bears {limit:.0f} "
            "MPa.",
            pane=article(pane.id),
            offset=case.give(offset),
            push=force(case, push),
            stress=stress.value,
            limit=limit.stress_MPa,
        ),
        missed=Missed(
            level=Level.FAIL,
            means="The glass would be under stress from the first day.",
            do="Set the channels on one plumb plane, packed off the wall that leans.",
        ),
        ask="Read again how both walls lean across the glass.",
        unit="MPa",
        source=limit.source,
    ).with_sheet(_sheet(pane, held.nominal, modulus, poisson, offset.value, stress.value, push))


def _offset(case: Case, pane: Lite) -> Estimate | None:
    """How far a corner is forced out of the plane of the others, mm; None where it is free to go.

    Two upright edges, or one and a top that is held plumb: their leans across must be alike.
    """
    ends = {edge.where: edge.meets for edge in pane.edges}
    leans = [
        case.opening.estimate(case.opening.entry(f"across {side}")).scaled(pane.height_left)
        for side in ("left", "right")
        if ends.get(side) == f"{side} wall" and case.opening.knows(f"across {side}")
    ]
    held_top = ends.get("top") not in {"free", None} or case.wanted(pane).head_support == "yes"
    if len(leans) == 2:  # noqa: PLR2004 - both walls
        return leans[0].plus(leans[1].scaled(-1.0)).size()
    return leans[0].size() if leans and held_top else None


def _sheet(
    pane: Lite, nominal: float, modulus: float, poisson: float, offset: float, *found: float
) -> CalculationSheet:
    stress, push = found
    rigidity = flexural_rigidity(modulus, poisson, nominal)
    return CalculationSheet(
        title=phrase("Twist of {pane}", pane=pane.id),
        basis=("A flat rectangle with one corner forced out of plane is in pure twist.",),
        given=(
            Given(what="Offset of a corner", symbol="δ", value=offset, unit="mm",
                  origin="the opening"),
            Given(what="Width", symbol="a", value=pane.width_bottom, unit="mm",
                  origin="the enclosure"),
            Given(what="Height", symbol="b", value=pane.height_left, unit="mm",
                  origin="the enclosure"),
            Given(what="Nominal thickness", symbol="t", value=nominal, unit="mm",
                  origin="the enclosure"),
            Given(what="Young's modulus", symbol="E", value=modulus, unit="MPa"),
            Given(what="Poisson's ratio", symbol="ν", value=poisson),
        ),
        steps=(
            Step(what="Rigidity", symbol="D", formula="E t³ / (12 (1 − ν²))", value=rigidity,
                 unit="N·mm"),
            Step(what="Force at each corner", symbol="P", formula="2 D (1 − ν) δ / (a b)",
                 value=push, unit="N", clause="pure twist of a thin plate"),
            Step(what="Principal tension at 45°", symbol="σ", formula="E / (2 (1 + ν)) t δ / (a b)",
                 value=stress, unit="MPa", clause="pure twist of a thin plate"),
        ),
        result=phrase("The glass is strained with {stress:.2f} MPa for good.", stress=stress),
    )  # fmt: skip
