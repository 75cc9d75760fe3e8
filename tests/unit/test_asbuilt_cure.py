"""What is moved to bring gaps right: the plate that is off, by what is at hand, and no more."""

from __future__ import annotations

from typing import Literal

import numpy as np
import pytest

from hangtrue.fit.enclosure import Enclosure
from hangtrue.hang.adjustments import Cure, cure
from hangtrue.hang.asbuilt import asbuilt
from hangtrue.hang.asbuilt_document import AsBuiltDocument, GapReading, Packed, ends
from hangtrue.hang.movable import pieces, ways
from hangtrue.hang.rigid import bodies
from hangtrue.hang.shop import shipped_shop
from hangtrue.units import Length
from tests.unit.hung import BRIEF, GAP, hung

INCH = 25.4
SHOP = shipped_shop()


def document(gaps: tuple[GapReading, ...], **more: object) -> AsBuiltDocument:
    return AsBuiltDocument(asbuilt=1, unit="mm", gaps=gaps, **more)  # type: ignore[arg-type]


def displaced(enclosure: Enclosure, motion: np.ndarray) -> tuple[GapReading, ...]:
    """Readings at both ends of every joint, with the panes moved so."""
    rigid = bodies(enclosure)
    return tuple(
        GapReading(
            joint=joint.id,
            at=Length(at),
            value=Length(GAP + float(rigid.gap(joint, at) @ motion)),
        )
        for joint in enclosure.joints
        for at in ends(joint)
    )


def tuned(enclosure: Enclosure, doc: AsBuiltDocument) -> Cure:
    return cure(BRIEF, enclosure, asbuilt(enclosure, BRIEF.profile, doc), SHOP, doc)


def undoing(enclosure: Enclosure, kind: str, place: str, amount: float, **more: object) -> Cure:
    """Move one thing by so much the wrong way, and ask what to do."""
    plain = document(displaced(enclosure, np.zeros(bodies(enclosure).size)), **more)
    found = asbuilt(enclosure, BRIEF.profile, plain)
    way = next(
        w for w in ways(BRIEF, enclosure, found, SHOP, plain) if (w.kind, w.place) == (kind, place)
    )
    return tuned(enclosure, document(displaced(enclosure, -amount * way.motion), **more))


def test_nothing_is_moved_where_all_is_in_range_and_even() -> None:
    enclosure = hung("door left wall", "fixed")
    doc = document(displaced(enclosure, np.zeros(6)))
    found = tuned(enclosure, doc)
    assert (found.needed, found.adjustments) == (False, ())
    assert found.settles


@pytest.mark.parametrize("place", ["upper plate", "lower plate"])
def test_a_plate_that_lacks_an_eighth_of_packing_gets_it(place: str) -> None:
    enclosure = hung("door left wall", "fixed", sd=0.1)
    plate: Literal["upper", "lower"] = "upper" if place == "upper plate" else "lower"
    bare = (Packed(joint="door to left wall", plate=plate, value=Length(0.0)),)
    found = undoing(enclosure, "packing", place, INCH / 8, packing=bare)
    (made,) = found.adjustments
    assert (made.kind, made.place, made.pieces) == ("packing", place, (INCH / 8,))
    assert made.amount == pytest.approx(INCH / 8)
    assert found.settles


def test_packing_that_is_too_much_is_taken_out_where_it_is_there() -> None:
    enclosure = hung("door left wall", "fixed", sd=0.1)
    there = (Packed(joint="door to left wall", plate="upper", value=Length(INCH / 8)),)
    found = undoing(enclosure, "packing", "upper plate", -INCH / 8, packing=there)
    (made,) = found.adjustments
    assert made.amount == pytest.approx(-INCH / 8)


def test_packing_that_is_not_there_cannot_be_taken_out() -> None:
    enclosure = hung("door left wall", "fixed", sd=0.1)
    found = undoing(enclosure, "packing", "upper plate", -INCH / 8)
    assert all(a.amount > 0 for a in found.adjustments if a.kind == "packing")


def test_a_pane_whose_block_is_missing_gets_a_block() -> None:
    enclosure = hung("fixed", "door right wall", sd=0.1)
    found = undoing(enclosure, "block", "right block", INCH / 8)
    (made,) = found.adjustments
    assert (made.kind, made.pane, made.place) == ("block", "fixed 1", "right block")
    assert made.pieces == (INCH / 8,)


def test_a_door_that_slipped_in_its_hinges_is_raised_by_what_it_slipped() -> None:
    """Beyond the play that a hinge has about its place: back to where it was clamped."""
    enclosure = hung("door left wall", "fixed", sd=0.1)
    found = undoing(enclosure, "lift", "", 3.0)
    (made,) = found.adjustments
    assert made.kind == "lift"
    assert made.amount == pytest.approx(3.0, abs=0.1)


def test_a_pane_that_leans_is_righted_by_a_shim_under_one_block() -> None:
    enclosure = hung("fixed", "door left glass", sd=0.1)
    found = undoing(enclosure, "block", "left block", INCH / 32)
    (made,) = found.adjustments
    assert (made.kind, made.pane, made.pieces) == ("block", "fixed 1", (INCH / 32,))


def test_a_door_goes_with_the_pane_that_carries_it() -> None:
    """Raising the right block of the carrier by 1 mm turns both panes alike."""
    enclosure = hung("fixed", "door left glass")
    doc = document(displaced(enclosure, np.zeros(6)))
    found = asbuilt(enclosure, BRIEF.profile, doc)
    way = next(w for w in ways(BRIEF, enclosure, found, SHOP, doc) if w.place == "right block")
    index = found.model.bodies.index
    assert way.motion[index["door"] + 2] == way.motion[index["fixed 1"] + 2] > 0
    hinge = next(j for j in enclosure.joints if j.kind == "hinge")
    assert float(found.model.bodies.gap(hinge, 900.0) @ way.motion) == pytest.approx(0.0)


def test_what_cannot_be_brought_right_is_said_with_what_is_missing() -> None:
    """A door between two walls that is 12 mm too narrow: no packing closes both gaps."""
    enclosure = hung("door left wall", sd=0.1)
    gaps = tuple(
        g.model_copy(update={"value": Length(GAP + 6.0)}) if "wall" in g.joint else g
        for g in displaced(enclosure, np.zeros(3))
    )
    found = tuned(enclosure, document(gaps))
    assert found.needed
    assert not found.settles
    assert found.left


def test_a_reading_that_nothing_explains_is_not_cured() -> None:
    enclosure = hung("door left wall", "fixed", sd=0.1)
    gaps = displaced(enclosure, np.zeros(6))
    slip = tuple(
        g.model_copy(update={"value": Length(GAP + 12.7)}) if i == 0 else g
        for i, g in enumerate(gaps)
    )
    doc = document(slip)
    found = asbuilt(enclosure, BRIEF.profile, doc)
    assert [odd.number for odd in found.stand_out] == [1]
    assert cure(BRIEF, enclosure, found, SHOP, doc).adjustments == ()


def test_the_fewest_pieces_make_up_a_thickness() -> None:
    sizes = (INCH / 32, INCH / 16, INCH / 8)
    assert pieces(3 * INCH / 16, sizes) == (INCH / 8, INCH / 16)
    assert pieces(0.1, sizes) == ()


def test_a_hinge_on_glass_is_never_packed() -> None:
    enclosure = hung("fixed", "door left glass")
    doc = document(displaced(enclosure, np.zeros(6)))
    found = asbuilt(enclosure, BRIEF.profile, doc)
    assert "packing" not in {w.kind for w in ways(BRIEF, enclosure, found, SHOP, doc)}
