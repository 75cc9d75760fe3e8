"""What the wishes leave open is enumerated, and no more than the room allows."""

from __future__ import annotations

import pytest

from hangtrue.fit import fit
from hangtrue.fit.enclosure import NoFit
from hangtrue.fit.ways import designation
from hangtrue.units import Length
from tests.openings import boxed, brief, opening


def decided(*lites: str, **wanted: object) -> list[tuple[object, ...]]:
    """Order, hinge side, what the door hangs on and glass of every alternative."""
    found = fit(brief(*lites, **wanted), opening())  # type: ignore[arg-type]
    return [(c.order, c.hinge_side, c.hung_on, c.thickness) for c in (a.choice for a in found)]


def test_nothing_open_is_one_way() -> None:
    assert decided("door", "fixed") == [(("door", "fixed"), "left", "wall", 10.0)]


def test_a_door_beside_a_fixed_pane_hangs_on_wall_or_glass() -> None:
    assert decided("door", "fixed", hinge_side="free") == [
        (("door", "fixed"), "left", "wall", 10.0),
        (("door", "fixed"), "right", "glass", 10.0),
    ]


def test_a_free_order_is_tried_both_ways() -> None:
    found = decided("door", "fixed", hinge_side="free", order="free")
    assert [(order, side) for order, side, *_ in found] == [
        (("door", "fixed"), "left"),
        (("door", "fixed"), "right"),
        (("fixed", "door"), "left"),
        (("fixed", "door"), "right"),
    ]
    mirrored = fit(brief("door", "fixed", order="free"), opening())
    assert [a.choice.mirrored for a in mirrored] == [False, True]


def test_free_glass_is_what_the_plant_offers_and_every_fitting_takes() -> None:
    """The hinge takes 10 to 12 mm; the plant also offers 8 mm."""
    found = fit(brief("door", thickness="free"), opening(width=800.0))
    assert [a.choice.thickness for a in found] == [10.0, 12.0]
    masses = [a.made.lites[0].mass_kg for a in found if not isinstance(a.made, NoFit)]
    assert masses[1] / masses[0] == pytest.approx(1.2, rel=0.01)


def test_three_eighths_of_an_inch_goes_as_ten_millimetres() -> None:
    found = fit(brief("door", thickness="free", shop="inch-shop"), opening(width=800.0))
    assert [a.choice.thickness for a in found] == pytest.approx([9.525, 12.7])
    assert designation(6.35) == 6.0


def test_a_door_does_not_hang_on_a_free_end() -> None:
    room = opening(walls=("left",))
    free = brief("fixed", "door", walls=("left",), hinge_side="free")
    assert [a.choice.hinge_side for a in fit(free, room)] == ["left"]
    (none,) = fit(brief("fixed", "door", walls=("left",), hinge_side="right"), room)
    assert isinstance(none.made, NoFit)
    assert "hang" in none.made.why


def test_no_glass_that_suits_every_fitting_is_an_answer() -> None:
    """Clamps that take nothing under 10 mm with a plant that offers only 8 mm."""
    given = brief("door", thickness="free")
    plant = given.profile.plant.model_copy(update={"glass": (Length(8.0),)})
    thin = given.profile.model_copy(update={"plant": plant})
    given = type(given)(
        job=given.job, profile=thin, items=given.items, instruments=given.instruments
    )
    (none,) = fit(given, opening(width=800.0))
    assert isinstance(none.made, NoFit)
    assert any("plain-wall-hinge takes glass" in c.requirement for c in none.made.clashes)


@pytest.mark.parametrize(("reversible", "ways"), [(True, 2), (False, 1)])
def test_a_reversible_set_is_tried_left_for_right(*, reversible: bool, ways: int) -> None:
    box = boxed(("door", 650.0, 1900.0), ("fixed", 550.0, 1906.0), least=1210.0, most=1222.0)
    box = box.model_copy(update={"reversible": reversible})
    given = brief("door", "fixed", box=box, order="free", hinge_side="free")
    found = fit(given, opening(width=1216.0))
    assert len(found) == ways
    assert {a.choice.cut for a in found} == {"boxed"}
    assert {a.choice.hung_on for a in found} == {"wall"}


def test_choices_say_what_they_are() -> None:
    (way,) = fit(brief("door", "fixed"), opening())
    assert str(way.choice) == "door, fixed; hinges left on the wall; 10 mm; square"
