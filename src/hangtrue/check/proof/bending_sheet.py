"""The calculation sheet of a bent pane: what holds it, each load, its movement and its stress."""

from __future__ import annotations

from collections.abc import Iterator

from hangtrue.check.proof.allowable import Allowable
from hangtrue.check.proof.bending import (
    BEYOND_LINEAR,
    LEAST_RADIUS,
    LINEAR,
    MESH_ALLOWANCE,
    STAND_CLEAR,
    Answer,
    Bent,
)
from hangtrue.check.proof.held_pane import HeldPane
from hangtrue.check.sheet import CalculationSheet, Given, Step
from hangtrue.mechanics.plate_closed_forms import flexural_rigidity
from hangtrue.phrase import phrase
from hangtrue.tables import table

THEORY = (
    "Thin plate, linear theory, on the outline as it is cut; finite elements of three corners "
    "(discrete Kirchhoff), fine at cut-outs and clamps. What grips an edge is not known, so the "
    "answer is a range from guided to gripped."
)
READ_OFF = phrase(
    "Stress is read {clear:g} thicknesses away from ends of held edges, around re-entrant corners "
    "at their own radius, and raised by {mesh:g} for the mesh.",
    clear=STAND_CLEAR,
    mesh=MESH_ALLOWANCE,
)
ESTIMATE = phrase(
    "Where a pane moves more than {linear:g} thickness, {beyond:g} of the allowable is trusted, "
    "for the theory is then an estimate.",
    linear=LINEAR,
    beyond=BEYOND_LINEAR,
)
STANDS_OUT = (
    "A door at its stop stands out from its hinges: what bends it there does not depend on how far "
    "it goes, so all of the allowable is trusted."
)
PAIR = 2
WORDS = {
    "guided": "channels guide the edge, it may tilt in them",
    "gripped": "channels grip the edge, it cannot tilt",
    "as it is": "as held",
}


def sheet(
    pane: HeldPane,
    answer: Answer,
    allowed: tuple[Allowable, ...],
    factor: float,
    result: str,
    *,
    door: bool = False,
) -> CalculationSheet:
    """Write down a pane under every load that was solved.

    Parameters
    ----------
    allowed
        Allowable stress of each load, in the order of the answers.
    factor
        On the loads, where resistances are design values.
    result
        Value against limit in one sentence.
    door
        Whether it is a door at its stop.

    """
    cases = dict.fromkeys(bent.case for bent in answer.bent)
    return CalculationSheet(
        title=phrase("Bending of {pane}", pane=pane.id),
        basis=(
            THEORY,
            READ_OFF,
            STANDS_OUT if door else ESTIMATE,
            *(phrase("Load {name}: {what}.", name=case.id, what=case.what) for case in cases),
            *(phrase("Not solved: {fault}.", fault=fault) for fault in answer.faults),
        ),
        given=tuple(_given(pane, factor)),
        steps=(
            Step(what="Rigidity", symbol="D", formula="E t³ / (12 (1 − ν²))", unit="N·mm",
                 value=_rigidity(pane)),
            *(
                step
                for bent, a in zip(answer.bent, allowed, strict=True)
                for step in (*_steps(bent, a), *_by_hand(pane, bent))
            ),
        ),
        result=result,
    )  # fmt: skip


def _rigidity(pane: HeldPane) -> float:
    elastic = table("mechanics/glass")["elastic"][pane.system]
    return flexural_rigidity(
        float(elastic["youngs_modulus_MPa"]), float(elastic["poisson"]), pane.thickness
    )


def _given(pane: HeldPane, factor: float) -> Iterator[Given]:
    elastic = table("mechanics/glass")["elastic"][pane.system]
    xs, ys = [x for x, _ in pane.outline], [y for _, y in pane.outline]
    yield Given(what="Width and height over all", symbol="",
                value=f"{max(xs) - min(xs):.1f} × {max(ys) - min(ys):.1f}", unit="mm",
                origin="the enclosure")  # fmt: skip
    yield Given(what="Least thickness of its class", symbol="t", value=pane.thickness,
                unit="mm", origin="e1300")  # fmt: skip
    yield Given(what="Young's modulus", symbol="E", value=float(elastic["youngs_modulus_MPa"]),
                unit="MPa", origin=str(elastic["source"]))  # fmt: skip
    yield Given(what="Poisson's ratio", symbol="ν", value=float(elastic["poisson"]),
                origin=str(elastic["source"]))  # fmt: skip
    yield Given(what="Pieces of edge in channels", symbol="", value=float(len(pane.gripped)),
                origin="the enclosure")  # fmt: skip
    yield Given(what="Pieces of edge in silicone", symbol="", value=float(len(pane.guided)),
                origin="the enclosure")  # fmt: skip
    if pane.notch_radius:
        yield Given(what="Radius at which re-entrant corners are read", symbol="r_c",
                    value=max(pane.notch_radius, LEAST_RADIUS), unit="mm",
                    origin="the enclosure")  # fmt: skip
    for patch in pane.patches:
        x, y = patch[0]
        yield Given(what="Grip of a clamp or hinge plate, its lower left corner", symbol="x, y",
                    value=f"{x:.0f}, {y:.0f}", unit="mm", origin="hardware data")  # fmt: skip
    for x, y in pane.points:
        yield Given(what="Bar at the top", symbol="x, y", value=f"{x:.0f}, {y:.0f}", unit="mm",
                    origin="the enclosure")  # fmt: skip
    if factor != 1:
        yield Given(what="Factor on loads", symbol="γ", value=factor, origin="load cases")


def _steps(bent: Bent, allowed: Allowable) -> Iterator[Step]:
    name = phrase("{load}, {held}", load=bent.case.id, held=WORDS[bent.bracket])
    yield Step(what=phrase("Movement at its free edge, {case}", case=name), symbol="w",
               formula="finite elements", value=bent.moves, unit="mm",
               source=bent.case.source)  # fmt: skip
    yield Step(what="Largest movement in thicknesses", symbol="w/t", formula="w_max / t",
               value=bent.over_thickness)  # fmt: skip
    yield Step(what="Largest tension", symbol="σ", formula="6 |m| / t² × allowance",
               value=bent.stress_MPa, unit="MPa")  # fmt: skip
    if bent.corner_MPa:
        yield Step(what="Of it, around re-entrant corners", symbol="σ_c",
                   formula="6 |m| / t² at r_c × allowance", value=bent.corner_MPa,
                   unit="MPa")  # fmt: skip
    yield Step(what="Allowable", symbol="σ_a", formula=allowed.formula, value=allowed.stress_MPa,
               unit="MPa", source=allowed.source, clause=allowed.clause)  # fmt: skip


def _by_hand(pane: HeldPane, bent: Bent) -> Iterator[Step]:
    """Movement of the free corner in closed form, where two adjacent edges guide a whole pane."""
    if bent.bracket != "guided" or not _is_plain(pane):
        return
    xs, ys = [x for x, _ in pane.outline], [y for _, y in pane.outline]
    wide, tall = max(xs) - min(xs), max(ys) - min(ys)
    poisson = float(table("mechanics/glass")["elastic"][pane.system]["poisson"])
    stiff = _rigidity(pane) * (1 - poisson)
    if bent.case.line_N_per_mm:
        value = bent.case.line_N_per_mm * bent.at_height * wide**2 / (4 * stiff)
        formula = "p y b² / (4 D (1 − ν)), y the height of the load"
    elif bent.case.pressure_MPa:
        value = bent.case.pressure_MPa * (wide * tall) ** 2 / (8 * stiff)
        formula = "q a² b² / (8 D (1 − ν))"
    else:
        return
    yield Step(
        what="Free top corner by hand, as a rectangle", symbol="w_c", formula=formula, value=value,
        unit="mm", clause="pure twist, by reciprocity",
    )  # fmt: skip
    yield Step(
        what="The same by finite elements", symbol="w_max", formula="finite elements",
        value=bent.over_thickness * pane.thickness, unit="mm",
    )  # fmt: skip


def _is_plain(pane: HeldPane) -> bool:
    """Whether a pane is whole, held along two adjacent edges in channels, and nowhere else."""
    others = pane.guided or pane.points or pane.patches or pane.holes or pane.notch_radius
    corners = 4
    return (
        len(pane.outline) == corners
        and len(pane.free) == 1
        and len(pane.gripped) == PAIR
        and not others
    )
