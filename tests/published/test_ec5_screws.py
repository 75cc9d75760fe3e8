"""A screw in C24 by Eurocode 5.

Sources: EN 1995-1-1:2004 + A1:2008, sections 8.2, 8.3, 8.7; a worked example in a public notebook:
d 5 mm, head 10 mm, C24 (350 kg/m3), service class 2, permanent, t1 38 mm, penetration 50 mm,
f_u 540 MPa, predrilled, F_ax 300 N, F_v 500 N. The notebook prints 395.77 N for the axial design
capacity; its lateral 949.58 N took the *design* axial value into the rope term, which is the
characteristic one's place: with that, 1002.9 N.
"""

from __future__ import annotations

import math

import pytest

from hangtrue.mechanics.dowel import Member
from hangtrue.mechanics.eurocode5 import (
    combined_use,
    design,
    effective_number,
    embedment,
    head_pull_through,
    modification_factor,
    shear_across_gap,
    single_shear,
    steel_plate_shear,
    with_rope,
    withdrawal,
    withdrawal_declared,
    withdrawal_strength,
    yield_moment,
)
from hangtrue.mechanics.ranges import OutOfRange

C24 = 350.0
K_MOD = 0.60


def modes() -> dict[str, float]:
    bearing_MPa = embedment(5.0, C24, predrilled=True)
    side = Member(bearing_MPa=bearing_MPa, length=38.0)
    main = Member(bearing_MPa=bearing_MPa, length=50.0)
    found = single_shear(5.0, yield_moment(540.0, 5.0), side, main)
    return {str(mode): value for mode, value in found.items()}


def test_head_pull_through_governs_the_axial_capacity() -> None:
    head_N = head_pull_through(10.0, C24)
    assert head_N == pytest.approx(857.5)
    assert design(head_N, K_MOD) == pytest.approx(395.77, abs=0.005)


def test_embedment_and_yield_moment() -> None:
    """27.265 MPa, 10,637 N mm."""
    assert embedment(5.0, C24, predrilled=True) == pytest.approx(27.265, abs=0.0005)
    assert yield_moment(540.0, 5.0) == pytest.approx(10_637, abs=0.5)
    assert embedment(5.0, C24, predrilled=False) == pytest.approx(0.082 * 350 * 5**-0.3)


def test_johansen_mode_f_governs() -> None:
    """1958.5 N; with a quarter of 857.5 N 2172.9 N; design 1002.9 N."""
    found = modes()
    assert min(found, key=found.__getitem__) == "f"
    assert found["f"] == pytest.approx(1958.5, abs=0.05)
    bearing_MPa = embedment(5.0, C24, predrilled=True)
    side = Member(bearing_MPa=bearing_MPa, length=38.0)
    main = Member(bearing_MPa=bearing_MPa, length=50.0)
    roped = with_rope(single_shear(5.0, yield_moment(540.0, 5.0), side, main), 857.5)
    assert min(roped.values()) == pytest.approx(2172.9, abs=0.05)
    assert design(min(roped.values()), K_MOD) == pytest.approx(1002.9, abs=0.05)
    printed = design(found["f"] + 395.77 / 4, K_MOD)
    assert printed == pytest.approx(949.58, abs=0.05)


def test_the_printed_uses() -> None:
    """0.76 axial, 0.53 lateral, 0.85 by the notebook's own capacities."""
    assert pytest.approx(0.76, abs=0.005) == 300 / 395.77
    assert combined_use(300.0, 500.0, 395.77, 949.58) == pytest.approx(0.85, abs=0.005)


def test_the_withdrawal_formula_is_not_for_five_millimetres() -> None:
    """The notebook used it at 5 mm (17.056 MPa); the clause says 6 to 12 mm."""
    with pytest.raises(OutOfRange, match="6 to 12 mm"):
        withdrawal_strength(5.0, 50.0, C24)
    by_hand = 0.52 * 8**-0.5 * 80**-0.1 * 350**0.8
    assert withdrawal_strength(8.0, 80.0, C24) == pytest.approx(by_hand)
    assert withdrawal(8.0, 80.0, C24) == pytest.approx(by_hand * 8 * 80)
    assert withdrawal(8.0, 80.0, C24, 4) == pytest.approx(4**0.9 * by_hand * 8 * 80)
    steep = withdrawal(8.0, 80.0, C24, 1, math.radians(30))
    assert steep == pytest.approx(by_hand * 8 * 80 / (1.2 * 0.75 + 0.25))


def test_declared_strength_scales_with_density() -> None:
    found = withdrawal_declared(12.0, 350.0, 5.0, 40.0, 310.0)
    assert found == pytest.approx(12.0 * 5 * 40 * (310 / 350) ** 0.8)
    assert effective_number(4) == pytest.approx(4**0.9)


def test_johansen_without_his_five_and_fifteen_per_cent_is_the_general_dowel_equations() -> None:
    """Modes c to f at no gap: the same equilibrium, found by two routes."""
    found = modes()
    bearing_MPa = embedment(5.0, C24, predrilled=True)
    side = Member(bearing_MPa=bearing_MPa, length=38.0)
    main = Member(bearing_MPa=bearing_MPa, length=50.0)
    pure = min(found["c"], found["d"] / 1.05, found["e"] / 1.05, found["f"] / 1.15)
    assert shear_across_gap(5.0, yield_moment(540.0, 5.0), side, main, 0.0) == pytest.approx(pure)
    assert shear_across_gap(5.0, yield_moment(540.0, 5.0), side, main, 25.0) < 0.6 * pure


def test_a_steel_plate_between_thin_and_thick() -> None:
    """2.3 sqrt(M f d) for a thick plate and a deep screw, 1.15 sqrt(2 M f d) for a thin one."""
    wood = Member(bearing_MPa=27.265, length=60.0)
    root = math.sqrt(10_637 * 27.265 * 5)
    assert steel_plate_shear(5.0, 10_637, wood, 6.0) == pytest.approx(2.3 * root)
    assert steel_plate_shear(5.0, 10_637, wood, 2.0) == pytest.approx(1.15 * math.sqrt(2) * root)
    middle = (2.3 + 1.15 * math.sqrt(2)) / 2 * root
    assert steel_plate_shear(5.0, 10_637, wood, 3.75) == pytest.approx(middle)


def test_factors_from_memory() -> None:
    assert modification_factor("permanent") == 0.60
    with pytest.raises(OutOfRange):
        modification_factor("eternal")
