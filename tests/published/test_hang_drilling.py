"""Pilot and clearance holes, sealant volume, and the habits of drilling.

Clearance and pilot holes: a printed chart of wood screw holes, inch sizes, as restated; published
charts disagree by up to 1/16 in. Lead holes: ANSI/AWC NDS 2018, 12.1.5.2, 90 % of the root diameter
over G 0.6, 70 % from 0.5; root diameters from its table L3. The US gallon is 231 cubic inches
(NIST Handbook 44, appendix C). Habits: common practice, no source.
"""

from __future__ import annotations

import pytest

from hangtrue.hang.layers import drilled, pilot
from hangtrue.hang.lists import joint_section, sealant_ml
from hangtrue.hang.shop import FixingRule, shipped_shop
from hangtrue.job.document import Layer
from hangtrue.units import Length, length

INCH = 25.4
SHOP = shipped_shop()
LAYERS = (
    Layer(material="porcelain tile", thickness=Length(10.0)),
    Layer(material="cement board", thickness=Length(12.7)),
)
CHART = {  # number: clearance, pilot in softwood, pilot in hardwood; in
    "8": (11 / 64, 5 / 64, 3 / 32),
    "10": (3 / 16, 3 / 32, 7 / 64),
    "12": (7 / 32, 7 / 64, 1 / 8),
}
SPREAD = 1 / 16 * INCH


def rule(holds: str, on: str, into: str) -> FixingRule:
    found = SHOP.fixing(holds, on, into)
    assert found is not None
    return found


def bits(holds: str, on: str, into: str) -> list[str]:
    made = drilled("", LAYERS, rule(holds, on, into), SHOP, into=into, wood=1.5 * INCH)
    assert made.snags == ()
    return [p.bit.typed for p in made.passes if p.bit]


# ----------------------------------------------------------- habits: common practice, no source


def test_hinge_screws_quarter_inch_to_the_stud_then_an_eighth() -> None:
    """1/4 in bit through tile to the stud and 1/8 in pilot (common practice, no source)."""
    assert bits("hinge", "wall", "blocking") == ["1/4 in", "1/4 in", "1/8 in"]


def test_a_wall_channel_where_there_is_a_stud() -> None:
    """3/16 in to the stud and 1/8 in pilot (common practice, no source)."""
    assert bits("channel", "wall", "stud") == ["3/16 in", "3/16 in", "1/8 in"]


def test_a_wall_channel_where_there_is_no_stud() -> None:
    """5/16 in hole with an anchor (common practice, no source)."""
    assert set(bits("channel", "wall", "hollow")) == {"5/16 in"}
    assert "anchor" in rule("channel", "wall", "hollow").anchor


@pytest.mark.parametrize(
    ("base", "bit", "anchor"), [("fibreglass", "1/8 in", False), ("solid surface", "5/16 in", True)]
)
def test_holes_in_a_base(base: str, bit: str, anchor: bool) -> None:  # noqa: FBT001
    """1/8 in in fibreglass, 5/16 in with anchors in a composite (common practice, no source)."""
    found = rule("channel", "base", base)
    assert found.clearance_typed == bit
    assert bool(found.anchor) is anchor


def test_gasket_filler_covers_and_bead() -> None:
    """2 mm each side of the glass, 1 mm filler, covers about 2 in, bead 1/2 in.

    Common practice, no source.
    """
    assert SHOP.mm["hinge.gasket"] == 2.0
    assert SHOP.mm["hinge.filler"] == 1.0
    assert SHOP.mm["pieces.screw_cover"] == pytest.approx(2 * INCH)
    assert SHOP.mm["sealant.channel_bead"] == pytest.approx(INCH / 2)


def test_hinge_screws_are_tight_in_the_metal_and_not_in_the_wood() -> None:
    """Medium to high torque into the metal, low into the wood (common practice, no source)."""
    torque = rule("hinge", "wall", "stud").torque
    assert "medium to high into the metal" in torque
    assert "low into the wood" in torque


# ----------------------------------------------------------------------------------- published


@pytest.mark.parametrize("number", CHART)
def test_every_clearance_hole_clears_its_screw(number: str) -> None:
    """No fixing's hole is narrower than the chart's clearance for its screw."""
    wide = [r.clearance for r in SHOP.fixings if r.screw == number and r.pilot is not None]
    assert wide
    assert min(wide) >= CHART[number][0] * INCH - 1e-9


@pytest.mark.parametrize("number", CHART)
def test_every_pilot_lies_among_the_charts(number: str) -> None:
    """Within the 1/16 in by which published charts differ from each other."""
    _, soft, hard = CHART[number]
    for found in (r for r in SHOP.fixings if r.screw == number and r.pilot is not None):
        assert soft * INCH - SPREAD <= (found.pilot or 0.0) <= hard * INCH + SPREAD


@pytest.mark.parametrize(
    ("species", "share"), [("southern-pine", 0.70), ("red-oak", 0.90), ("white-oak", 0.90)]
)
def test_hard_wood_gets_the_lead_hole_of_the_nds(species: str, share: float) -> None:
    """No. 12: root 0.171 in; the widest bit of the shop up to 70 or 90 % of it, never less."""
    habit = length("1/8 in")
    lead = share * 0.171 * INCH
    bit = pilot(rule("hinge", "wall", "blocking"), species, SHOP)
    assert bit is not None
    assert bit.diameter <= max(lead, habit) + 1e-9
    assert max(lead, habit) - bit.diameter < INCH / 64
    assert bit.diameter < 0.171 * INCH


def test_softwood_keeps_the_habit() -> None:
    """G 0.42: the NDS asks for no lead hole in withdrawal; the habit's 1/8 in stays."""
    bit = pilot(rule("hinge", "wall", "blocking"), "spruce-pine-fir", SHOP)
    assert bit is not None
    assert bit.typed == "1/8 in"


@pytest.mark.parametrize(
    ("wide", "deep", "feet"),
    [(1 / 4, 1 / 4, 308), (3 / 8, 1 / 4, 205), (1 / 2, 1 / 4, 154), (1 / 2, 1 / 2, 77)],
)
def test_feet_of_joint_to_the_gallon(wide: float, deep: float, feet: int) -> None:
    """Coverage as sealant tables print it, from memory; the gallon is 3785.411784 ml."""
    volume = sealant_ml(joint_section(wide * INCH, deep * INCH), feet * 12 * INCH)
    assert volume == pytest.approx(3785.411784, rel=0.002)
