"""Bolts across a gap between the members.

Source: American Wood Council, Technical Report 12, General Dowel Equations for Calculating Lateral
Connection Values, 2012, example 3.1 "Bolted connection with gap": 1/2 in bolt, 45,000 psi, 1-1/2 in
members of hem-fir. Printed in whole pounds: tolerance 0.51.
"""

from __future__ import annotations

import pytest

from hangtrue.mechanics.customary import INCH, POUND_FORCE, PSI
from hangtrue.mechanics.dowel import MODES, Lateral, Member, lateral
from hangtrue.mechanics.ranges import OutOfRange
from hangtrue.mechanics.wood import bearing_length, dowel_bearing, screw
from hangtrue.tables import table


def bolted(gap_in: float) -> Lateral:
    member = Member(bearing_MPa=4800 * PSI, length=1.5 * INCH)
    return lateral(
        nominal=INCH / 2,
        root=INCH / 2,
        bending_yield_MPa=45_000 * PSI,
        main=member,
        side=member,
        gap=gap_in * INCH,
    )


@pytest.mark.parametrize(
    ("gap_in", "printed"),
    [
        (0.0, (900, 900, 414, 550, 550, 663)),
        (0.25, (900, 900, 370, 482, 482, 576)),
        (0.50, (900, 900, 333, 426, 426, 501)),
    ],
)
def test_example_3_1_every_mode(gap_in: float, printed: tuple[int, ...]) -> None:
    found = bolted(gap_in)
    for mode, value in zip(MODES, printed, strict=True):
        assert found.by_mode_N[mode] / POUND_FORCE == pytest.approx(value, abs=0.51)
    assert found.mode == "II"
    assert found.capacity_N / POUND_FORCE == pytest.approx(min(printed), abs=0.51)


def through_tile(number: str, gravity: float, gap_in: float) -> float:
    """Steel hinge plate 1/4 in thick, 1-1/2 in of screw in the stud, tip included; pounds."""
    dowel = screw("wood-screw", number)
    plate_MPa = table("mechanics/screws")["bearing-psi"]["steel-a36-plate"] * PSI
    wood_MPa = round(dowel_bearing(dowel.diameter, gravity) / PSI / 50) * 50 * PSI
    found = lateral(
        nominal=dowel.diameter,
        root=dowel.root,
        bending_yield_MPa=dowel.bending_yield_MPa,
        main=Member(bearing_MPa=wood_MPa, length=bearing_length(dowel, 1.5 * INCH)),
        side=Member(bearing_MPa=plate_MPa, length=0.25 * INCH),
        gap=gap_in * INCH,
    )
    return found.capacity_N / POUND_FORCE


@pytest.mark.parametrize(("number", "gravity"), [("8", 0.42), ("10", 0.42), ("10", 0.50)])
def test_tile_and_backer_cost_most_of_the_lateral_strength(number: str, gravity: float) -> None:
    """What the equations say of an inch between plate and stud: a quarter to a third is left."""
    assert 0.2 < through_tile(number, gravity, 1.0) / through_tile(number, gravity, 0.0) < 0.36


def test_a_wider_gap_is_never_stronger() -> None:
    values = [through_tile("10", 0.42, gap) for gap in (0.0, 0.1, 0.5, 1.0, 3.0, 30.0)]
    assert values == sorted(values, reverse=True)
    assert values[-1] > 0


def test_a_gap_below_nothing_is_refused() -> None:
    with pytest.raises(OutOfRange, match="gap"):
        bolted(-0.1)
