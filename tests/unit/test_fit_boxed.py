"""A boxed set goes in, or not, where its own adjustment says so."""

from __future__ import annotations

import pytest

from hangtrue.fit import fit
from hangtrue.fit.enclosure import Enclosure, NoFit
from hangtrue.fit.layout import bite
from hangtrue.job.hardware import Channel
from hangtrue.units import Length
from tests.openings import boxed, brief, made, opening

EIGHTH = 25.4 / 8
DOOR, FIXED = 650.0, 550.0
LEAST = DOOR + FIXED + EIGHTH + EIGHTH + 3 * 25.4 / 16
"""Door hard against the least of hinge and strike, fixed pane 1/8 in off the floor of its channel
(and that 1/16 in thick): 1/8 + 1/8 + 3/16 in of gaps."""
MOST = LEAST + 25.4 / 2
SET = boxed(("door", DOOR, 1900.0), ("fixed", FIXED, 1906.0), least=LEAST, most=MOST)


def ways(width: float, lean_right: float = 0.0) -> Enclosure | NoFit:
    given = brief("door", "fixed", box=SET, exact=True)
    (way,) = fit(given, opening(width=width, lean_right=lean_right))
    assert way.squared is None
    return way.made


@pytest.mark.parametrize("width", [LEAST, (LEAST + MOST) / 2, MOST])
def test_it_goes_into_its_least_and_its_greatest_opening(width: float) -> None:
    made = ways(width)
    assert isinstance(made, Enclosure)
    assert made.margin.mm >= -1e-6


@pytest.mark.parametrize("width", [LEAST - EIGHTH, MOST + EIGHTH])
def test_it_does_not_go_into_an_eighth_less_or_more(width: float) -> None:
    made = ways(width)
    assert isinstance(made, NoFit)
    words = " ".join(c.requirement for c in made.clashes)
    assert "by-hand-set" in words


def test_panes_keep_their_size_and_have_no_chain() -> None:
    made = ways((LEAST + MOST) / 2)
    assert isinstance(made, Enclosure)
    assert [pane.width_bottom for pane in made.lites] == pytest.approx([DOOR, FIXED])
    assert [pane.height_left for pane in made.lites] == pytest.approx([1900.0, 1906.0])
    assert all(pane.chains == () for pane in made.lites)


def test_tops_are_in_one_line() -> None:
    made = ways((LEAST + MOST) / 2)
    assert isinstance(made, Enclosure)
    tops = {round(pane.origin[1] + pane.height_left, 6) for pane in made.lites}
    assert len(tops) == 1


def test_how_deep_it_sits_in_its_channel() -> None:
    """Half-way, every gap is in the middle of its range: bite half-way between its ends."""
    made = ways((LEAST + MOST) / 2)
    assert isinstance(made, Enclosure)
    given = brief("door", "fixed", box=SET)
    channel = given.item("channel-set", Channel)
    (joint,) = (j for j in made.joints if j.hardware == "channel-set")
    found = bite(channel, joint.gaps[0].predicted.value)
    deepest = float(channel.depth - channel.floor_gap_least)
    assert found == pytest.approx((deepest + float(channel.bite_least)) / 2, abs=1e-6)


def test_a_wall_further_out_of_plumb_than_the_maker_allows_is_named() -> None:
    plumb = boxed(
        ("door", DOOR, 1900.0), ("fixed", FIXED, 1906.0), least=LEAST, most=MOST, plumb=2.0
    )
    given = brief("door", "fixed", box=plumb, exact=True)
    (way,) = fit(given, opening(width=LEAST + 6.0, lean_right=4.0))
    assert isinstance(way.made, NoFit)
    assert "right wall: at most 2 mm out of plumb (by-hand-set)" in way.made.why


def test_a_leaning_wall_eats_up_the_adjustment() -> None:
    """4 mm of lean leaves 4 mm less of it."""
    lean = 4.0
    assert isinstance(ways(MOST, lean_right=lean), Enclosure)
    assert isinstance(ways(LEAST + lean - 1.0, lean_right=lean), NoFit)


def test_uncertainty_does_not_decide_whether_it_goes_in() -> None:
    """At the end of its range the margin is nought, in mm and in standard deviations."""
    given = brief("door", "fixed", box=SET)
    enclosure = made(fit(given, opening(width=MOST, sd=1.0)))
    assert enclosure.margin.mm == pytest.approx(0.0, abs=1e-6)
    assert enclosure.margin.sigmas == pytest.approx(0.0, abs=1e-6)


def test_panes_weigh_what_their_maker_says_and_keep_their_own_thickness() -> None:
    thick = SET.panes[1].model_copy(update={"thickness": Length(6.0), "mass_kg": 17.5})
    box = SET.model_copy(update={"panes": (SET.panes[0], thick)})
    given = brief("door", "fixed", box=box, order="free", hinge_side="right")
    enclosure = made(fit(given, opening(width=LEAST + 6.0)))
    fixed, door = enclosure.lites
    assert (fixed.thickness, door.thickness) == (6.0, 8.0)
    assert fixed.mass_kg == 17.5
    assert door.mass_kg == pytest.approx(door.area * 8.0 * 2.5e-6)
