"""Made to measure: sizes against arithmetic done by hand."""

from __future__ import annotations

import numpy as np
import pytest

from hangtrue.fit import fit
from hangtrue.fit.enclosure import Enclosure, NoFit
from hangtrue.job.document import WantedLite
from hangtrue.units import Length
from tests.openings import TOP, brief, made, on_grid, opening

USUAL = 25.4 * 3 / 16


def test_a_door_alone_leaves_the_usual_gap_at_both_sides() -> None:
    """800 - 2 x 3/16 in = 790.475 mm, which a plant with a fine grid cuts exactly."""
    wanted = on_grid(brief("door", exact=True), 0.025)
    enclosure = made(fit(wanted, opening(width=800.0)))
    door = enclosure.lites[0]
    assert door.width_bottom == pytest.approx(800.0 - 2 * USUAL, abs=1e-6)
    assert door.width_top == door.width_bottom
    gaps = [g.predicted.value for j in enclosure.joints if j.upright for g in j.gaps]
    assert gaps == pytest.approx([USUAL] * len(gaps), abs=1e-6)


def test_a_size_is_rounded_down_and_the_rest_shared_by_both_gaps() -> None:
    """790.475 mm becomes 790 mm; each gap grows by a share in proportion to its range."""
    enclosure = made(fit(brief("door", exact=True), opening(width=800.0)))
    assert enclosure.lites[0].width_bottom == pytest.approx(790.0, abs=1e-9)
    hinge, strike = (j.gaps[0].predicted.value for j in enclosure.joints[:2])
    assert hinge + strike == pytest.approx(10.0, abs=1e-9)
    assert hinge > USUAL < strike


def test_the_door_stands_its_sweep_above_the_highest_curb() -> None:
    """Usual gap 1/2 in at the foot: 1900 - 12.7 = 1887.3 mm, cut as 1887 mm."""
    enclosure = made(fit(brief("door", exact=True), opening(width=800.0)))
    assert enclosure.lites[0].height_left == pytest.approx(1887.0, abs=1e-9)
    assert enclosure.lites[0].origin[1] == pytest.approx(13.0, abs=1e-6)


@pytest.mark.parametrize("lean", [5.0, 8.0, 11.0, -7.0])
def test_a_fixed_pane_is_raked_as_its_wall_leans(lean: float) -> None:
    enclosure = made(fit(brief("door", "fixed", exact=True), opening(lean_right=lean)))
    fixed = enclosure.lite("fixed 1")
    rake = next(e.rake for e in fixed.edges if e.where == "right")
    assert enclosure.choice.cut == "raked"
    assert rake == pytest.approx(-lean * fixed.height_right / TOP, abs=1.0)
    assert enclosure.lite("door").width_bottom == enclosure.lite("door").width_top


def test_a_hinge_edge_stays_plumb_and_is_packed() -> None:
    """The wall leans out 2 mm over the glass: the upper plate has more gap than the lower."""
    enclosure = made(fit(brief("door", "fixed", exact=True), opening(lean_left=-2.0)))
    door = enclosure.lite("door")
    assert all(edge.rake == 0.0 for edge in door.edges)
    plates = [g.predicted.value for g in enclosure.joints[0].gaps if g.at_fitting]
    low, high = door.hinge_heights
    assert plates[1] - plates[0] == pytest.approx(2.0 * (high - low) / TOP, abs=1e-9)


def test_what_leans_little_is_cut_square() -> None:
    (way,) = fit(brief("door", "fixed", exact=True), opening(lean_right=2.0))
    assert way.choice.cut == "square"
    assert way.squared is None


def test_the_squared_alternative_shows_its_wedge() -> None:
    """Squared, the gap in the channel changes by the lean; raked, by less than a step."""
    (way,) = fit(brief("door", "fixed", exact=True), opening(lean_right=8.0))
    assert isinstance(way.made, Enclosure)
    assert isinstance(way.squared, Enclosure)
    spread = [
        np.ptp([g.predicted.value for g in e.joints[2].gaps]) for e in (way.made, way.squared)
    ]
    height = way.made.lite("fixed 1").height_right
    assert spread[0] < 1.0
    assert spread[1] == pytest.approx(8.0 * height / TOP, abs=1e-6)


def test_wished_widths_are_kept() -> None:
    wish = WantedLite(kind="fixed", width=Length(640.0))
    enclosure = made(fit(brief("door", wish), opening(width=1300.0)))
    assert enclosure.lite("fixed 1").width_bottom == pytest.approx(640.0, abs=1e-9)


def test_an_open_door_takes_the_usual_width_and_the_fixed_pane_the_rest() -> None:
    enclosure = made(fit(brief("door", "fixed"), opening(width=1500.0)))
    assert enclosure.lite("door").width_bottom == pytest.approx(700.0, abs=1e-9)


def test_two_fixed_panes_beside_a_door_are_alike() -> None:
    enclosure = made(fit(brief("fixed", "door", "fixed"), opening(width=1500.0)))
    first, second = enclosure.lite("fixed 1"), enclosure.lite("fixed 2")
    assert first.width_bottom == pytest.approx(second.width_bottom, abs=1.0)


def test_a_fixed_foot_follows_a_falling_curb() -> None:
    """The curb rises 9 mm to the right: more than a square foot hides."""
    enclosure = made(fit(brief("door", "fixed", exact=True), opening(curb=(0.0, 9.0))))
    fixed = enclosure.lite("fixed 1")
    foot = next(e for e in fixed.edges if e.where == "bottom")
    assert foot.rake == pytest.approx(9.0 * fixed.width_bottom / 1500.0, abs=1.0)
    assert enclosure.lite("door").height_left == enclosure.lite("door").height_right


def test_a_screen_with_a_free_edge_has_no_joint_there() -> None:
    wish = WantedLite(kind="fixed", width=Length(800.0))
    room = opening(walls=("left",))
    enclosure = made(fit(brief(wish, walls=("left",)), room))
    assert [j.id for j in enclosure.joints] == ["fixed 1 to left wall", "fixed 1 to curb"]
    assert next(e for e in enclosure.lites[0].edges if e.where == "right").meets == "free"


def test_a_door_too_wide_for_habit_is_made_all_the_same() -> None:
    """Habits give way where nothing fits with them; whether that will do is for the checks."""
    enclosure = made(fit(brief("door"), opening(width=950.0)))
    assert enclosure.lites[0].width_bottom > 914.4


def test_what_no_pane_can_bridge_is_named_with_the_missing_millimetres() -> None:
    """A hinge wall 20 mm out of plumb: packing takes up 1/4 in of it between the two plates."""
    (way,) = fit(brief("door", exact=True), opening(width=800.0, lean_left=20.0))
    assert isinstance(way.made, NoFit)
    assert way.made.missing > 1.0
    assert {c.joint for c in way.made.clashes} == {"door to left wall"}
    assert len(way.made.clashes) == 2
    assert "hinge" in way.made.why


def test_the_missing_millimetres_are_what_each_side_lacks() -> None:
    """Wished door 810 in 800: gaps of at least 1/8 in each are short by (810 + 6.35 - 800) / 3.

    The two gaps and the wish give way alike.
    """
    wish = WantedLite(kind="door", width=Length(810.0))
    (way,) = fit(brief(wish, exact=True), opening(width=800.0))
    assert isinstance(way.made, NoFit)
    assert way.made.missing == pytest.approx((810.0 + 6.35 - 800.0) / 3, abs=1e-6)
    assert {c.joint for c in way.made.clashes} == {
        "door", "door to left wall", "door to right wall",
    }  # fmt: skip


def test_three_hinges_where_two_do_not_carry() -> None:
    heavy = brief("door", exact=True, thickness=Length(12.0))
    assert len(made(fit(heavy, opening(width=800.0))).lites[0].hinge_heights) == 3
    light = brief("door", exact=True, thickness=Length(8.0))
    assert len(made(fit(light, opening(width=700.0))).lites[0].hinge_heights) == 2


def test_a_falling_curb_does_not_make_panes_narrow() -> None:
    """A narrower foot would have a hair more margin over it; nobody wants that."""
    room = opening(walls=("left",), curb=(0.0, 5.0), sd=0.5)
    enclosure = made(fit(brief("fixed", "door", walls=("left",)), room))
    assert [pane.width_bottom for pane in enclosure.lites] == pytest.approx([838.0, 700.0])
    between = made(fit(brief("fixed", "door", "fixed"), opening(curb=(0.0, 6.0), sd=0.5)))
    assert between.lite("door").width_bottom == pytest.approx(700.0, abs=1.0)


def test_a_narrow_opening_takes_the_door_that_fits() -> None:
    """Not the usual door then, but one as wide as a fixed strip of its least width leaves."""
    enclosure = made(fit(brief("door", "fixed"), opening(width=800.0)))
    door, fixed = enclosure.lites
    assert fixed.width_bottom >= 150.0
    assert 558.8 <= door.width_bottom < 700.0


def test_three_doors_are_not_planned() -> None:
    (way,) = fit(brief("door", "door", "door"), opening())
    assert isinstance(way.made, NoFit)
    assert "more than two doors" in way.made.why
