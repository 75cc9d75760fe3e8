"""Nothing outside its stated range gets a number, and every formula and table names its source."""

from __future__ import annotations

import importlib
import math
import pkgutil
from collections.abc import Callable, Iterator
from importlib.resources import files
from typing import Any

import pytest

import hangtrue.mechanics
from hangtrue.mechanics import (
    door_statics,
    dowel,
    eurocode5,
    glass_strength,
    hinge_axis,
    lifting,
    passage,
    plate_closed_forms,
    sheet_steel,
    swing,
    wood,
)
from hangtrue.mechanics.ranges import OutOfRange, listed, positive, within
from hangtrue.source import CITED, source
from hangtrue.tables import table

NAN = math.nan
SCREW = wood.screw("wood-screw", "10")
SHEET = sheet_steel.sheet("43")
MEMBER = dowel.Member(bearing_MPa=30.0, length=30.0)
LEAF = door_statics.Leaf(mass_kg=40.0, centre=375.0, spacing=1500.0)
PLAN = swing.PlanLeaf(start=0.0, end=700.0, thickness=NAN)
AXIS = hinge_axis.Axis(lean_x=0.01, lean_y=0.0)


def modules() -> Iterator[str]:
    for found in pkgutil.iter_modules(hangtrue.mechanics.__path__):
        importlib.import_module(f"hangtrue.mechanics.{found.name}")
        yield found.name


def test_every_formula_names_a_source_we_have() -> None:
    list(modules())
    cited = {name: by for name, by in CITED.items() if name.startswith("hangtrue.mechanics.")}
    assert len(cited) > 70
    for name, (source_id, clause) in cited.items():
        assert source(source_id).title, name
        assert clause, name


def test_formulas_from_memory_inform_but_do_not_decide() -> None:
    """The whole list, so that a new one is seen."""
    list(modules())
    recalled = {
        name.removeprefix("hangtrue.mechanics.")
        for name, (source_id, _) in CITED.items()
        if name.startswith("hangtrue.mechanics.") and not source(source_id).decides
    }
    assert recalled == {
        "eurocode5.modification_factor",
        "eurocode5.steel_plate_shear",
        "eurocode5.with_rope",
        "glass_strength.en_duration_factor_at",
        "lifting.cup_design_factor",
        "lifting.hse_filter_extended",
        "lifting.reference_mass",
        "sheet_steel.shear_and_pull_out_use",
    }


def tables_of(rows: dict[str, Any], name: str) -> Iterator[tuple[str, str | None]]:
    """Every table that holds values, with the source it names."""
    if "source" in rows:
        yield name, rows["source"]
    elif any(not isinstance(value, dict) for value in rows.values()):
        yield name, None
    else:
        for key, value in rows.items():
            yield from tables_of(value, f"{name}.{key}")


@pytest.mark.parametrize(
    "name",
    sorted(
        entry.name.removesuffix(".toml")
        for entry in files("hangtrue").joinpath("data/mechanics").iterdir()
        if entry.name.endswith(".toml")
    ),
)
def test_every_table_names_a_source_we_have(name: str) -> None:
    found = list(tables_of(table(f"mechanics/{name}"), name))
    assert found
    for where, source_id in found:
        assert source_id, where
        assert source(source_id).title, where


@pytest.mark.parametrize(
    "formula",
    [
        lambda: wood.wood_screw_withdrawal(NAN, 0.5),
        lambda: wood.lag_screw_withdrawal(12.7, NAN),
        lambda: wood.withdrawal(SCREW, -1.0, 0.5),
        lambda: wood.head_pull_through(9.0, NAN, 0.5),
        lambda: wood.dowel_bearing(5.0, 0.5, 2.0),
        lambda: wood.bending_yield(40.0),
        lambda: wood.bearing_length(SCREW, 1.0),
        lambda: wood.combined_capacity(0.0, 100.0, 0.0),
        lambda: wood.combined_use(-1.0, 0.0, 100.0, 100.0),
        lambda: wood.temperature_factor(90.0),
        lambda: wood.specific_gravity("balsa"),
        lambda: dowel.yield_loads(3.9, 550.0, MEMBER, MEMBER, NAN),
        lambda: dowel.reduction_terms(30.0, 30.0),
        lambda: eurocode5.withdrawal(8.0, 20.0, 350.0),
        lambda: eurocode5.withdrawal(8.0, 80.0, 350.0, 1, 0.1),
        lambda: eurocode5.embedment(12.0, 350.0, predrilled=True),
        lambda: eurocode5.design(1000.0, 1.5),
        lambda: sheet_steel.pull_out(1.0, SHEET),
        lambda: sheet_steel.sheet_screw("9"),
        lambda: door_statics.hinge_forces(LEAF, 0.0, "nobody"),  # type: ignore[arg-type]
        lambda: door_statics.adjusted_mass(40.0, 2000, 0.0),
        lambda: door_statics.adjusted_mass(40.0, 2000, 900, ["rocket"]),
        lambda: hinge_axis.axis_through((0, 0, 1000), (0, 0, 0)),
        lambda: hinge_axis.axis_through((0, 0, 0), (1000, 0, 1000)),
        lambda: hinge_axis.torque(AXIS, NAN, 375.0, 1.0),
        lambda: hinge_axis.lean_closing_in(0.01, 1000.0, 1.0),
        lambda: hinge_axis.stays_put(AXIS, 40.0, 375.0, 1.0, -1.0),
        lambda: glass_strength.us_duration_factor("fully-tempered", 1e12),
        lambda: glass_strength.mass(1e6, 0.0),
        lambda: lifting.frequency_multiplier(-1.0, 1.0, low=True),
        lambda: lifting.hse_filter("knee", "men"),
        lambda: passage.shortest_under(900.0, NAN, 2000.0),
        lambda: plate_closed_forms.strip_deflection(0.7, 3000.0, 2000.0, 10.0, 7e4),
        lambda: plate_closed_forms.roark_uniform("three-sides-supported", 0.5),
        lambda: plate_closed_forms.supported_deflection(1e-3, 2.0, 1.0, 1e6),
        lambda: swing.swept(PLAN, 0.0, 1.0),
    ],
)
def test_out_of_range_is_refused(formula: Callable[[], object]) -> None:
    with pytest.raises(OutOfRange):
        formula()


def test_the_message_says_what_where_and_how_far() -> None:
    with pytest.raises(OutOfRange, match=r"gap is -1 mm; the formula covers 0 mm and above"):
        within("gap", -1, 0, unit="mm")
    with pytest.raises(OutOfRange, match=r"lean is 4; the formula covers 0 to 3") as caught:
        within("lean", 4, 0, 3)
    assert (caught.value.name, caught.value.value, caught.value.allowed) == ("lean", 4, "0 to 3")
    with pytest.raises(OutOfRange, match="oak, pine"):
        listed("species", "fir", ("oak", "pine"))
    for bad in (0.0, -1.0, NAN, math.inf):
        with pytest.raises(OutOfRange):
            positive("width", bad)
