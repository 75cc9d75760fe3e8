"""Screws in cold-formed steel.

Sources: AISI S100 North American Specification for the Design of Cold-Formed Steel Structural
Members, 2016, sections J4.3 and J4.4 (E4 of earlier editions); allowable-load tables of a municipal
permit sheet (18 and 27 mil) and of a screw data sheet (No. 10, 45 ksi), both at a safety factor of
3. Printed in whole pounds: tolerance 0.6.
"""

from __future__ import annotations

import pytest

from hangtrue.mechanics.customary import INCH, POUND_FORCE, PSI
from hangtrue.mechanics.ranges import OutOfRange
from hangtrue.mechanics.sheet_steel import (
    Sheet,
    allowable,
    least_spacing,
    pull_out,
    pull_over,
    shear,
    shear_and_pull_out_use,
    shear_and_pull_over_use,
    sheet,
    sheet_screw,
)

PERMIT_TABLE = {
    "18": {
        "6": (44, 24, 84),
        "8": (48, 29, 84),
        "10": (52, 33, 105),
        "12": (55, 38, 105),
        "1/4": (60, 44, 127),
    },
    "27": {
        "6": (82, 37, 127),
        "8": (89, 43, 127),
        "10": (96, 50, 159),
        "12": (102, 57, 159),
        "1/4": (110, 66, 191),
    },
}
EQUAL_SHEETS = {
    0.018: 66, 0.024: 102, 0.030: 143, 0.036: 188, 0.048: 289,
    0.060: 404, 0.075: 564, 0.105: 808, 0.125: 962,
}  # fmt: skip


@pytest.mark.parametrize("mil", PERMIT_TABLE)
@pytest.mark.parametrize("size", ["6", "8", "10", "12", "1/4"])
def test_permit_table(mil: str, size: str) -> None:
    """Shear, pull-out, pull-over of two equal sheets."""
    screw, steel = sheet_screw(size), sheet(mil)
    nominal = (
        shear(screw.diameter, steel, steel),
        pull_out(screw.diameter, steel),
        pull_over(screw.head, steel),
    )
    found = [allowable(value) / POUND_FORCE for value in nominal]
    assert found == pytest.approx(PERMIT_TABLE[mil][size], abs=0.6)


@pytest.mark.parametrize("inches", EQUAL_SHEETS)
def test_number_10_in_two_equal_sheets(inches: float) -> None:
    steel = Sheet(thickness=inches * INCH, tensile_MPa=45_000 * PSI)
    found = allowable(shear(0.190 * INCH, steel, steel)) / POUND_FORCE
    assert found == pytest.approx(EQUAL_SHEETS[inches], abs=0.6)


def test_a_thick_base_leaves_bearing_in_the_thin_sheet() -> None:
    """0.018 in on a base at least 2.5 times as thick: 139 lb."""
    top = Sheet(thickness=0.018 * INCH, tensile_MPa=45_000 * PSI)
    base = Sheet(thickness=0.060 * INCH, tensile_MPa=45_000 * PSI)
    found = allowable(shear(0.190 * INCH, top, base)) / POUND_FORCE
    assert found == pytest.approx(139, abs=0.6)


def test_between_equal_and_thick_the_shear_is_in_proportion() -> None:
    top = Sheet(thickness=0.5, tensile_MPa=310.0)
    found = [
        shear(4.8, top, Sheet(thickness=0.5 * ratio, tensile_MPa=310.0))
        for ratio in (1.0, 1.75, 2.5, 4.0)
    ]
    assert found == sorted(found)
    assert found[2] == found[3] == pytest.approx(2.7 * 0.5 * 4.8 * 310.0)


def test_a_screw_barely_through_holds_by_what_is_through() -> None:
    steel = sheet("43")
    assert pull_out(4.8, steel, 0.5) == pytest.approx(0.85 * 0.5 * 4.8 * steel.tensile_MPa)


def test_shear_and_tension_at_once() -> None:
    """Alone, each may use 1.10/2.35 or 1.15/2.55 of its nominal strength."""
    assert shear_and_pull_over_use(1.10 / 2.35, 0.0, 1.0, 1.0) == pytest.approx(1.0)
    assert shear_and_pull_over_use(0.0, 1.10 / 2.35 / 0.71, 1.0, 1.0) == pytest.approx(1.0)
    assert shear_and_pull_out_use(0.0, 1.15 / 2.55, 1.0, 1.0) == pytest.approx(1.0)


def test_only_screws_of_the_specification() -> None:
    with pytest.raises(OutOfRange, match="diameter"):
        shear(8.0, sheet("43"), sheet("43"))
    with pytest.raises(OutOfRange, match="thickness of the sheet"):
        sheet("25")
    assert least_spacing(4.0) == (12.0, 6.0)
