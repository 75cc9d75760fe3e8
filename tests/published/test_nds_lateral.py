"""Lateral strength of screws, nails and bolts in contact, and of screws loaded at an angle.

Source: ANSI/AWC NDS National Design Specification for Wood Construction, 2018, tables 12.3.3, 12J,
12K, 12L, 12M, 12N, 12E; equation 12.4-1. Printed in whole pounds, the large ones in tens.
"""

from __future__ import annotations

import math

import pytest

from hangtrue.mechanics.customary import INCH, POUND_FORCE, PSI
from hangtrue.mechanics.dowel import (
    Lateral,
    Member,
    lateral,
    reduction_terms,
    yield_loads,
    yield_loads_in_contact,
)
from hangtrue.mechanics.ranges import OutOfRange
from hangtrue.mechanics.wood import (
    bearing_length,
    bending_yield,
    combined_capacity,
    combined_use,
    dowel_bearing,
    lead_hole,
    least_penetration,
    load_duration_factor,
    penetration_factor,
    screw,
    temperature_factor,
    wet_service_factor,
)
from hangtrue.tables import table


def rounded_bearing(diameter: float, gravity: float) -> float:
    """As tabulated: to the nearest 50 psi."""
    return round(dowel_bearing(diameter, gravity) / PSI / 50) * 50 * PSI


def wood_side(number: str, side_in: float, gravity: float = 0.50) -> Lateral:
    """Wood screw of penetration 10 D, both members of one wood."""
    dowel = screw("wood-screw", number)
    bearing_MPa = rounded_bearing(dowel.diameter, gravity)
    return lateral(
        nominal=dowel.diameter,
        root=dowel.root,
        bending_yield_MPa=dowel.bending_yield_MPa,
        main=Member(bearing_MPa=bearing_MPa, length=bearing_length(dowel, 10 * dowel.diameter)),
        side=Member(bearing_MPa=bearing_MPa, length=side_in * INCH),
    )


@pytest.mark.parametrize(
    ("gravity", "printed_psi"),
    [(0.55, 5550), (0.50, 4650), (0.46, 4000), (0.43, 3500), (0.42, 3350), (0.36, 2550)],
)
def test_table_12_3_3_dowel_bearing_of_small_dowels(gravity: float, printed_psi: int) -> None:
    assert rounded_bearing(4.8, gravity) / PSI == pytest.approx(printed_psi)


def test_table_12_3_3_dowel_bearing_of_a_half_inch_bolt_in_hem_fir() -> None:
    """4,800 psi along and 2,550 across the grain, rounded to 50."""
    along, across = (dowel_bearing(INCH / 2, 0.43, a) / PSI for a in (0.0, math.pi / 2))
    assert along == pytest.approx(4800, abs=25)
    assert across == pytest.approx(2550, abs=25)
    assert across < dowel_bearing(INCH / 2, 0.43, math.pi / 4) / PSI < along


@pytest.mark.parametrize(("number", "printed"), [("10", 90), ("8", 73), ("14", 120)])
def test_table_12l_half_inch_side_member(number: str, printed: int) -> None:
    found = wood_side(number, 0.5)
    assert found.capacity_N / POUND_FORCE == pytest.approx(printed, abs=1)
    assert found.mode == "IIIs"


def test_table_12m_number_10_through_16_gauge_steel() -> None:
    """116 pounds, mode III side."""
    rows = table("mechanics/screws")
    dowel = screw("wood-screw", "10")
    found = lateral(
        nominal=dowel.diameter,
        root=dowel.root,
        bending_yield_MPa=dowel.bending_yield_MPa,
        main=Member(
            bearing_MPa=rounded_bearing(dowel.diameter, 0.50),
            length=bearing_length(dowel, 10 * dowel.diameter),
        ),
        side=Member(
            bearing_MPa=rows["bearing-psi"]["steel-a653-grade-33-sheet"] * PSI,
            length=rows["sheet-gauge"]["16"] * INCH,
        ),
    )
    assert found.capacity_N / POUND_FORCE == pytest.approx(116, abs=1)
    assert found.mode == "IIIs"


@pytest.mark.parametrize(
    ("side_in", "printed"), [(0.75, (72, 90, 105, 121)), (1.0, (72, 97, 118, 141))]
)
def test_table_12n_common_nails(side_in: float, printed: tuple[int, ...]) -> None:
    """6d, 8d, 10d, 16d: 0.113, 0.131, 0.148, 0.162 in; penetration 10 D."""
    for inches, value in zip((0.113, 0.131, 0.148, 0.162), printed, strict=True):
        diameter = inches * INCH
        bearing_MPa = rounded_bearing(diameter, 0.50)
        found = lateral(
            nominal=diameter,
            root=diameter,
            bending_yield_MPa=bending_yield(diameter),
            main=Member(bearing_MPa=bearing_MPa, length=9 * diameter),
            side=Member(bearing_MPa=bearing_MPa, length=side_in * INCH),
        )
        assert found.capacity_N / POUND_FORCE == pytest.approx(value, abs=1)


def test_table_12j_quarter_inch_lag_screw() -> None:
    """Half-inch side, G 0.50: 120 along and 80 across the grain, printed to ten pounds."""
    dowel = screw("lag-screw", "1/4")
    for grain_rad, printed in ((0.0, 120), (math.pi / 2, 80)):
        bearing_MPa = dowel_bearing(dowel.diameter, 0.50, grain_rad)
        member = Member(bearing_MPa=bearing_MPa, length=8 * dowel.diameter)
        found = lateral(
            nominal=dowel.diameter,
            root=dowel.root,
            bending_yield_MPa=dowel.bending_yield_MPa,
            main=member,
            side=Member(bearing_MPa=bearing_MPa, length=INCH / 2),
            grain_rad=grain_rad,
        )
        assert found.capacity_N / POUND_FORCE == pytest.approx(printed, abs=5)
        assert found.mode == "IIIs"


@pytest.mark.parametrize(("inches", "printed"), [(0.5, 650), (0.625, 930)])
def test_table_12e_anchor_bolt_of_a_sill_plate(inches: float, printed: int) -> None:
    """1-1/2 in Douglas fir (5,600 psi) on concrete (7,500 psi, 6 in), in tens of pounds."""
    diameter = inches * INCH
    found = lateral(
        nominal=diameter,
        root=diameter,
        bending_yield_MPa=45_000 * PSI,
        main=Member(
            bearing_MPa=table("mechanics/screws")["bearing-psi"]["concrete-2500-psi"] * PSI,
            length=6 * INCH,
        ),
        side=Member(bearing_MPa=5600 * PSI, length=1.5 * INCH),
    )
    assert found.capacity_N / POUND_FORCE == pytest.approx(printed, abs=5)


@pytest.mark.parametrize(("side_in", "main_in"), [(0.5, 1.9), (1.5, 1.5), (0.06, 3.0)])
def test_general_dowel_equations_without_gap_are_those_of_table_12_3_1a(
    side_in: float, main_in: float
) -> None:
    main = Member(bearing_MPa=32.0, length=main_in * INCH)
    side = Member(bearing_MPa=48.0, length=side_in * INCH)
    general = yield_loads(3.86, 551.6, main, side)
    contact = yield_loads_in_contact(3.86, 551.6, main, side)
    for mode, load_N in contact.items():
        assert general[mode] == pytest.approx(load_N, rel=1e-9), mode


def test_reduction_terms() -> None:
    """Table 12.3.1B: K_D by the root, 3.6 K_theta from 1/4 in, K_D K_theta for a 1/4 lag."""
    assert set(reduction_terms(0.19 * INCH, 0.152 * INCH).values()) == {2.2}
    assert reduction_terms(0.242 * INCH, 0.196 * INCH)["IV"] == pytest.approx(2.46)
    assert reduction_terms(INCH / 2, INCH / 2, math.pi / 2)["II"] == pytest.approx(3.6 * 1.25)
    lag = reduction_terms(0.25 * INCH, 0.173 * INCH, math.pi / 2)["IIIs"]
    assert lag == pytest.approx((10 * 0.173 + 0.5) * 1.25)


@pytest.mark.parametrize(
    ("degrees", "pounds"), [(0, 100.00), (30, 111.40), (45, 125.73), (60, 144.30), (90, 169.30)]
)
def test_combined_load_between_lateral_and_withdrawal(degrees: float, pounds: float) -> None:
    """Equation 12.4-1 with W'p 169.3 and Z' 100 lb, worked by hand."""
    found = combined_capacity(169.3, 100.0, math.radians(degrees))
    assert found == pytest.approx(pounds, abs=0.005)


def test_use_under_combined_load() -> None:
    """A load along the 45 degree line uses its length over 125.73."""
    assert combined_use(50.0, 50.0, 169.3, 100.0) == pytest.approx(
        math.hypot(50, 50) / 125.73, 1e-4
    )
    assert combined_use(0.0, 0.0, 169.3, 100.0) == 0.0
    assert combined_use(169.3, 0.0, 169.3, 100.0) == pytest.approx(1.0)
    assert combined_use(0.0, 100.0, 169.3, 100.0) == pytest.approx(1.0)


def test_six_diameters_in_wood_or_nothing() -> None:
    """A 2 in No. 10 behind an inch of tile and backer leaves 1.0 in: less than 6 D = 1.14 in."""
    dowel = screw("wood-screw", "10")
    assert least_penetration(dowel) / INCH == pytest.approx(1.14)
    with pytest.raises(OutOfRange, match="penetration"):
        penetration_factor(dowel, 1.0 * INCH)
    assert penetration_factor(dowel, 8 * dowel.diameter) == pytest.approx(0.8)
    assert penetration_factor(dowel, 12 * dowel.diameter) == 1.0


def test_adjustment_factors() -> None:
    """Tables 2.3.2, 11.3.3 and 11.3.4; impact is not for connections."""
    assert load_duration_factor("permanent") == 0.9
    assert load_duration_factor("ten-minutes") == 1.6
    with pytest.raises(OutOfRange):
        load_duration_factor("impact")
    assert wet_service_factor("lateral", "wet", 4.8) == 0.7
    assert wet_service_factor("lateral", "fabricated", 4.8) == 0.7
    assert wet_service_factor("lateral", "fabricated", 8.0) == 0.4
    assert wet_service_factor("withdrawal", "wet", 4.8) == 0.7
    assert temperature_factor(20.0) == 1.0
    assert temperature_factor(45.0) == 0.8
    assert temperature_factor(45.0, "wet") == 0.7


def test_lead_holes() -> None:
    """70 and 90 % of the root (from memory): No. 8 0.092 / 0.118, No. 14 0.137 / 0.176 in."""
    for number, soft, hard in (("8", 0.092, 0.118), ("10", 0.106, 0.137), ("14", 0.137, 0.176)):
        dowel = screw("wood-screw", number)
        assert lead_hole(dowel, 0.55, "withdrawal") / INCH == pytest.approx(soft, abs=6e-4)
        assert lead_hole(dowel, 0.67, "withdrawal") / INCH == pytest.approx(hard, abs=6e-4)
        assert lead_hole(dowel, 0.42, "withdrawal") == 0.0
