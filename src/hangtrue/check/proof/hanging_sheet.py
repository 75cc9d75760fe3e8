"""The calculation sheet of a door on its hinge screws, from the weight to the worst screw."""

# ruff: noqa: N815 - units keep their capitals

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from hangtrue.check.proof.fixing import ACROSS, Capacity, Fixing, members
from hangtrue.check.proof.hanging import Hanging, Use, demands
from hangtrue.check.sheet import CalculationSheet, Given, Step
from hangtrue.mechanics.door_statics import screw_forces
from hangtrue.mechanics.dowel import Mode, quadratics, reduction_terms, yield_loads
from hangtrue.phrase import join, phrase

SHARING = (
    "The door is rigid and hangs on its outer two hinges; how they share the weight is not "
    "determined, so half and half and all on either are tried, at 0°, 30°, 60° and 90° open."
)
PLATE = (
    "The plate is rigid, its screws share by their distance from their middle, and its pressure on "
    "the tile is not counted on."
)
SHARED = {"both": 0.5, "upper": 1.0, "lower": 0.0}


@dataclass(frozen=True, slots=True, kw_only=True)
class Required:
    """Working load that any fixing of a hinge must bear: the greatest of each, N."""

    tension_N: float
    shear_N: float


def required(door: Hanging) -> Required:
    """Return the greatest pull and the greatest shear of any screw under the loads that decide."""
    screws = [
        screw
        for case in door.cases.leaves
        if case.decides
        for _, _, _, force in demands(door, case)
        for screw in screw_forces(force, door.screws, door.stand_off)
    ]
    return Required(
        tension_N=max(screw.tension_N for screw in screws),
        shear_N=max(screw.shear_N for screw in screws),
    )


def sheet(
    door: Hanging, fixing: Fixing | None, result: Use | Required, called: str
) -> CalculationSheet:
    """Write down the proof of one door; without a fixing, what a fixing must bear."""
    if isinstance(result, Required) or fixing is None:
        return _demand_sheet(door, result, called)
    steps = (
        *_leaf_steps(door, result),
        *_screw_steps(door, result),
        *wood_steps(fixing, result.capacity, result.use),
    )
    verdict = "holds" if result.use <= 1 else "does not hold"
    return CalculationSheet(
        title=phrase("Hinge screws of {door}", door=called),
        basis=(*_basis(door), _governing(result)),
        given=(*_door_given(door), *_load_given(door, result), *wood_given(fixing, "hinge data")),
        steps=steps,
        result=phrase(
            "The worst screw uses {use:.3f} of what it bears, at most 1: it {verdict}.",
            use=result.use,
            verdict=verdict,
        ),
    )


def _demand_sheet(door: Hanging, result: Use | Required, called: str) -> CalculationSheet:
    if isinstance(result, Use):
        pull, shear = result.screw.tension_N, result.screw.shear_N
    else:
        pull, shear = result.tension_N, result.shear_N
    weight = door.leaf.weight_N
    couple = weight * door.leaf.centre / door.leaf.spacing
    return CalculationSheet(
        title=phrase("Working load of each hinge fixing of {door}", door=called),
        basis=_basis(door),
        given=_door_given(door),
        steps=(
            Step(what="Weight", symbol="W", formula="9.80665 m", value=weight, unit="N"),
            Step(what="Pull of the couple", symbol="H", formula="W x / h", value=couple, unit="N"),
            Step(what="Greatest pull on a screw, any load and opening", symbol="T",
                 formula="largest of H/n ± moments of the stand-off", value=pull, unit="N"),
            Step(what="Greatest shear on a screw, any load and opening", symbol="V",
                 formula="largest of √(along² + down²)", value=shear, unit="N"),
        ),
        result=phrase(
            "Each fixing must bear a working load of {pull:.0f} N out and {slide:.0f} N sideways; "
            "what the wall bears is not known here.",
            pull=pull, slide=shear,
        ),
    )  # fmt: skip


def _basis(door: Hanging) -> tuple[str, ...]:
    tried = join(
        "; ",
        (phrase("{what} ({lasting})", what=c.what, lasting=c.duration) for c in door.cases.leaves),
    )
    return SHARING, PLATE, phrase("Loads tried: {loads}.", loads=tried)


def _governing(used: Use) -> str:
    return phrase(
        "Governs: {load}, {angle:.0f}° open, weight on: {share}, {plate} plate.",
        load=used.case.what,
        angle=used.opening_deg,
        share=used.share,
        plate=used.plate,
    )


def _door_given(door: Hanging) -> tuple[Given, ...]:
    leaf = door.leaf
    rows = sorted({z for _, z in door.screws})
    columns = sorted({y for y, _ in door.screws})
    return (
        Given(what="Mass of the door, by nominal thickness", symbol="m", value=leaf.mass_kg,
              unit="kg", origin="the enclosure"),
        Given(what="Centre of mass from the hinge edge", symbol="x", value=leaf.centre,
              unit="mm", origin="the enclosure"),
        Given(what="Hinge spacing", symbol="h", value=leaf.spacing, unit="mm",
              origin="the enclosure"),
        Given(what="Width of the door", symbol="b", value=door.width, unit="mm",
              origin="the enclosure"),
        Given(what="Handle from the hinge edge", symbol="b_h", value=door.handle, unit="mm",
              origin="the enclosure"),
        Given(what="Pivot from the face of the wall, at most", symbol="e", value=door.stand_off,
              unit="mm", origin="hinge data"),
        Given(what="Screws per plate", symbol="n", value=float(len(door.screws)),
              origin="hinge data"),
        Given(what="Upper to lower screws", symbol="s", value=rows[-1] - rows[0], unit="mm",
              origin="hinge data"),
        Given(what="Left to right screws", symbol="c", value=columns[-1] - columns[0], unit="mm",
              origin="hinge data"),
    )  # fmt: skip


def _load_given(door: Hanging, used: Use) -> tuple[Given, ...]:
    case, load = used.case, door.load(used.case)
    return (
        Given(what="Door open by", symbol="φ", value=used.opening_deg, unit="°", origin="governs"),
        Given(what="Push across the door, at its free edge", symbol="F", value=case.across_N,
              unit="N", origin=case.source),
        Given(what="Its height above the lower hinge", symbol="z_F",
              value=load.height - door.leaf.lower_hinge, unit="mm", origin="the enclosure"),
        Given(what="Pull down, at the handle", symbol="F_down", value=case.down_N, unit="N",
              origin=case.source),
    )  # fmt: skip


def wood_given(fixing: Fixing, of: str) -> tuple[Given, ...]:
    """Say of which screw, in which wood, behind what; `of` says who chose the screw."""
    screw, (main, side) = fixing.screw, members(fixing)
    code = "nds" if fixing.rules == "nds" else "en-1995"
    return (
        Given(what="Screw", symbol="", value=_named(fixing), origin=of),
        Given(what="Diameter", symbol="D", value=screw.diameter, unit="mm", origin="nds"),
        Given(what="Root diameter", symbol="D_r", value=screw.root, unit="mm", origin="nds"),
        Given(what="Bending yield strength", symbol="F_yb", value=screw.bending_yield_MPa,
              unit="MPa", origin="nds"),
        Given(what="Length below the plate", symbol="L", value=fixing.length, unit="mm",
              origin=phrase("{where}, or chosen", where=of)),
        Given(what="Tile and backer over the wood: a gap", symbol="g", value=fixing.over,
              unit="mm"),
        Given(what="Thickness of the wood", symbol="t", value=fixing.depth, unit="mm"),
        Given(what="Specific gravity of the wood", symbol="G", value=fixing.gravity,
              origin="nds"),
        Given(what="Moisture of the wood", symbol="", value=fixing.moisture,
              origin="the shop profile"),
        Given(what="Bearing strength of the wood, across the grain from 1/4 in", symbol="F_em",
              value=main.bearing_MPa, unit="MPa", origin=code),
        Given(what="Thickness of the metal under the head", symbol="l_s", value=side.length,
              unit="mm", origin="practice"),
        Given(what="Its bearing strength", symbol="F_es", value=side.bearing_MPa, unit="MPa",
              origin="load cases"),
    )  # fmt: skip


def _named(fixing: Fixing) -> str:
    if fixing.kind == "wood-screw":
        return phrase("No. {size} wood screw", size=fixing.size)
    return phrase("{size} in lag screw", size=fixing.size)


def _leaf_steps(door: Hanging, used: Use) -> Iterator[Step]:
    leaf, case, load = door.leaf, used.case, door.load(used.case)
    yield Step(what="Weight", symbol="W", formula="9.80665 m", value=leaf.weight_N, unit="N")
    tipping = leaf.weight_N * leaf.centre + case.down_N * load.arm
    added = " + F_down b_h" if case.down_N else ""
    yield Step(
        what="Pull of the couple", symbol="H", formula=f"(W x{added}) / h",
        value=tipping / leaf.spacing, unit="N",
    )  # fmt: skip
    if case.across_N:
        share = (load.height - leaf.lower_hinge) / leaf.spacing
        upper = used.plate == "upper"
        yield Step(
            what=phrase("Share of the push that the {plate} hinge takes", plate=used.plate),
            symbol="F_h", formula="F z_F / h" if upper else "F (1 − z_F / h)",
            value=case.across_N * (share if upper else 1 - share), unit="N",
        )  # fmt: skip
    yield from _plate_steps(used)


def _plate_steps(used: Use) -> Iterator[Step]:
    sign = "" if used.plate == "upper" else "−"
    push = (" − F_h sin φ", " + F_h cos φ") if used.case.across_N else ("", "")
    share = SHARED[used.share] if used.plate == "upper" else 1 - SHARED[used.share]
    yield Step(
        what="Plate, away from the wall", symbol="N", formula=f"{sign}H cos φ{push[0]}",
        value=used.force.pull_N, unit="N",
    )  # fmt: skip
    yield Step(
        what="Plate, along the wall", symbol="S", formula=f"{sign}H sin φ{push[1]}",
        value=used.force.along_N, unit="N",
    )  # fmt: skip
    yield Step(
        what="Plate, down", symbol="V", formula=f"{share:g} (W + F_down)",
        value=used.force.down_N, unit="N",
    )  # fmt: skip


def _screw_steps(door: Hanging, used: Use) -> Iterator[Step]:
    count, force, off = len(door.screws), used.force, door.stand_off
    y_m, z_m = (sum(place[i] for place in door.screws) / count for i in (0, 1))
    spread_y = sum((y - y_m) ** 2 for y, _ in door.screws)
    spread_z = sum((z - z_m) ** 2 for _, z in door.screws)
    values = (
        ("Middle of the screws, along", "y_m", "Σy_i / n", y_m, "mm"),
        ("Middle of the screws, up", "z_m", "Σz_i / n", z_m, "mm"),
        ("Worst screw from that middle, along", "y", "y_i − y_m", used.at[0] - y_m, "mm"),
        ("Worst screw from that middle, up", "z", "z_i − z_m", used.at[1] - z_m, "mm"),
        ("Spread along", "I_y", "Σ(y_i − y_m)²", spread_y, "mm²"),
        ("Spread up", "I_z", "Σ(z_i − z_m)²", spread_z, "mm²"),
        ("Nodding of the plate", "M_n", "V e − N z_m", force.down_N * off - force.pull_N * z_m,
         "N·mm"),
        ("Turning of the plate", "M_t", "S e + N y_m", force.along_N * off + force.pull_N * y_m,
         "N·mm"),
        ("Twisting of the plate", "M_w", "V y_m + S z_m",
         force.down_N * y_m + force.along_N * z_m, "N·mm"),
        ("Pull on the worst screw", "T", "N/n + M_n z/I_z − M_t y/I_y, at least 0",
         used.screw.tension_N, "N"),
        ("Shear on it", "R", "√((S/n − M_w z/(I_y + I_z))² + (V/n − M_w y/(I_y + I_z))²)",
         used.screw.shear_N, "N"),
    )  # fmt: skip
    for what, symbol, formula, value, unit in values:
        yield Step(what=what, symbol=symbol, formula=formula, value=value, unit=unit)
    if door.cases.factor != 1:
        yield Step(what="Factor on loads", symbol="γ", formula="", value=door.cases.factor)


def wood_steps(fixing: Fixing, borne: Capacity, used: float) -> Iterator[Step]:
    """Work out what a screw bears in its wood, and how much of it is used."""
    nds = fixing.rules == "nds"
    code = "nds" if nds else "en-1995-recalled"
    yield Step(what="Length in the wood", symbol="p", formula="min(L − g, t)",
               value=fixing.penetration, unit="mm")  # fmt: skip
    yield Step(what="Least length in the wood", symbol="p_min",
               formula="6 D (lag screw 4 D)", value=fixing.least_penetration, unit="mm",
               source="nds", clause="12.1.4.6, 12.1.5.6")  # fmt: skip
    yield Step(what="Thread in the wood", symbol="p_t", formula="min(p, max(4 D, 2 L/3))",
               value=fixing.thread, unit="mm", source="nds", clause="appendix L")  # fmt: skip
    yield Step(what="Withdrawal, reference", symbol="W_t",
               formula="2850 G² D p_t (lb, in)" if nds else "f_ax,k d p_t k_d",
               value=borne.reference[0], unit="N", source="nds" if nds else "en-1995",
               clause="eq. 12.2-2" if nds else "8.7.2")  # fmt: skip
    yield from _lateral_steps(fixing, borne)
    for name, out, along in borne.factors:
        yield Step(what="Factor on withdrawal", symbol=name, formula="", value=out, source=code)
        if along != out:
            yield Step(what="Factor on lateral", symbol=name, formula="", value=along, source=code)
    yield Step(what="Withdrawal, adjusted", symbol="W'", formula="W_t × factors",
               value=borne.withdrawal_N, unit="N", source=code)  # fmt: skip
    yield Step(what="Lateral, adjusted", symbol="Z'", formula="Z × factors",
               value=borne.lateral_N, unit="N", source=code)  # fmt: skip
    formula = "most of T/W', R/Z', √(T² + R²) (W' cos² α + Z' sin² α) / (W' Z'), tan α = T/R"
    yield Step(what="Used", symbol="u",
               formula=formula if nds else "√((γ T/W')² + (γ R/Z')²)", value=used,
               source=code, clause="eq. 12.4-1" if nds else "8.7.3, eq. 8.28")  # fmt: skip


HALF_TIP = "p − E/2, E = 2 D or a lag screw's tip"
TERMS: dict[Mode, tuple[str, str, str]] = {
    "II": ("1/(4 q_s) + 1/(4 q_m)", "l_s/2 + g + l_m/2", "−q_s l_s²/4 − q_m l_m²/4"),
    "IIIm": ("1/(2 q_s) + 1/(4 q_m)", "g + l_m/2", "−M_y − q_m l_m²/4"),
    "IIIs": ("1/(4 q_s) + 1/(2 q_m)", "l_s/2 + g", "−q_s l_s²/4 − M_y"),
    "IV": ("1/(2 q_s) + 1/(2 q_m)", "g", "−2 M_y"),
}
"""A, B and C of the modes in which a dowel turns or bends, in the symbols of the sheet."""


def _lateral_steps(fixing: Fixing, borne: Capacity) -> Iterator[Step]:
    """Follow the mode that governs, from the bearing of wood and metal to the reference value."""
    screw, (main, side), mode = fixing.screw, members(fixing), borne.mode
    q_m, q_s = main.bearing_MPa * screw.root, side.bearing_MPa * screw.root
    tip_in = fixing.sticks_out <= 0
    rows = [
        ("Bearing length in the wood, half the tip less", "l_m", HALF_TIP if tip_in else "p",
         main.length, "mm"),
        ("Bearing of the wood", "q_m", "F_em D_r", q_m, "N/mm"),
        ("Bearing of the metal", "q_s", "F_es D_r", q_s, "N/mm"),
        ("Moment at which the screw bends", "M_y", "F_yb D_r³ / 6",
         screw.bending_yield_MPa * screw.root**3 / 6, "N·mm"),
    ]  # fmt: skip
    load, formula = {
        "Im": (q_m * main.length, "q_m l_m"),
        "Is": (q_s * side.length, "q_s l_s"),
    }.get(mode, (0.0, "(−B + √(B² − 4 A C)) / (2 A)"))
    if mode in TERMS:
        abc = quadratics(screw.root, screw.bending_yield_MPa, main, side, fixing.over)[mode]
        load = yield_loads(screw.root, screw.bending_yield_MPa, main, side, fixing.over)[mode]
        rows += [
            (phrase("Term {symbol} of mode {mode}", symbol=symbol, mode=mode), symbol, text, value,
             unit)
            for symbol, text, value, unit in zip(
                "ABC", TERMS[mode], abc, ("mm/N", "mm", "N·mm"), strict=True
            )
        ]  # fmt: skip
    rows.append((phrase("Load at which mode {mode} yields", mode=mode), "P", formula, load, "N"))
    for what, symbol, text, value, unit in rows:
        yield Step(what=what, symbol=symbol, formula=text, value=value, unit=unit, source="tr12",
                   clause="table 1-1")  # fmt: skip
    nds = fixing.rules == "nds"
    if nds:
        yield Step(what="Reduction term", symbol="R_d",
                   formula="2.2, or 10 D_r + 0.5 (in) from 0.17 in; from 1/4 in 1.25 times",
                   value=reduction_terms(screw.diameter, screw.root, ACROSS)[mode],
                   source="nds", clause="table 12.3.1B")  # fmt: skip
    yield Step(what=phrase("Lateral across the gap, mode {mode}, the least of six", mode=mode),
               symbol="Z", formula="P / R_d" if nds else "P", value=borne.reference[1], unit="N",
               source="tr12", clause="table 1-1")  # fmt: skip
