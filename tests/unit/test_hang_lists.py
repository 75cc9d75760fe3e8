"""Pieces, quantities and receiving sizes follow from the enclosure."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import pytest

from hangtrue.fit.enclosure import Alternative, NoFit
from hangtrue.hang.hanging import hang
from hangtrue.hang.lists import cartridges, plant_totals
from hangtrue.hang.pieces import block_places, cut_pieces
from hangtrue.hang.records import ListLine, NothingToHang
from hangtrue.hang.shop import shipped_shop
from hangtrue.job.read import read_job
from hangtrue.plan import plan
from tests.unit import hang_jobs as jobs

LODGE = Path(__file__).parents[2] / "examples" / "lodge"


def line(start: str) -> ListLine:
    return next(x for x in jobs.hung().hardware if x.what.startswith(start))


def test_a_wall_channel_reaches_from_the_curb_to_the_top_of_the_glass() -> None:
    work, plan_ = jobs.work(), jobs.hung()
    piece = next(p for p in plan_.pieces if p.id == "channel of fixed 1 at the right wall")
    pane = work.enclosure.lite("fixed 1")
    top = pane.origin[1] + pane.corners[2][1]
    curb = work.opening.estimate(work.opening.curb(pane.origin[0] + pane.corners[1][0])).value
    lean = work.face("right", top) - work.face("right", curb)
    assert piece.length.value == pytest.approx(math.hypot(top - curb, lean), abs=0.05)


def test_a_curb_channel_butts_against_the_wall_channel() -> None:
    """Glass, gap to the wall, less the deep channel's 1-1/16 in."""
    work = jobs.work()
    piece = next(p for p in jobs.hung().pieces if p.id == "channel of fixed 1 on the curb")
    pane = work.enclosure.lite("fixed 1")
    gap = next(j for j in work.enclosure.joints if j.id == "fixed 1 to right wall").gaps[0]
    expected = pane.width_bottom + gap.predicted.value - 17 / 16 * 25.4
    assert piece.length.value == pytest.approx(expected, abs=0.5)
    assert [c.why for c in piece.cuts] == ["drain", "drain"]
    assert all(0 < c.start < c.end < piece.length.value for c in piece.cuts)


def test_the_strip_between_the_hinges_is_notched_where_they_sit() -> None:
    piece = next(p for p in jobs.hung().pieces if p.sort == "hinge strip")
    heights = jobs.work().enclosure.lite("door").hinge_heights
    middles = [(c.start + c.end) / 2 for c in piece.cuts]
    assert middles == pytest.approx(list(heights))


def test_a_strip_is_notched_over_the_channel_that_stands_beside_the_door() -> None:
    """Its lip stands 11/16 in over the curb, the door's foot about 1/2 in."""
    piece = next(p for p in jobs.hung().pieces if p.sort == "strike seal")
    assert [c.why for c in piece.cuts] == ["channel of fixed 1"]
    assert piece.cuts[0].start == 0.0
    assert 3.0 < piece.cuts[0].end < 9.0


def test_a_channel_on_a_leaning_wall_is_cut_at_an_angle() -> None:
    """A wall that leans 2 in over the glass: 27 mm of channel are 0.7 mm longer on one side."""
    work = jobs.work()
    opening = work.opening
    shape = opening.shape.copy()
    for i, name in enumerate(opening.unknowns):
        if name.startswith("right "):
            shape[i] -= 50.8 * float(name.split()[1]) / 1930.0
    leaning = replace(work, opening=replace(opening, shape=shape))
    piece = next(
        p for p in cut_pieces(leaning, jobs.hung().drilling) if p.id.endswith("right wall")
    )
    assert math.degrees(abs(piece.ends[1].angle_rad)) == pytest.approx(1.57, abs=0.2)
    # Its top leans left: cut level there, the left side is longer, and on the curb the right one.
    assert piece.ends[1].words.endswith("longer on the left")
    assert piece.ends[0].words.endswith("longer on the right")


def test_under_a_sloping_ceiling_ends_are_cut_to_the_slope() -> None:
    """A ceiling that falls by s over its run: a plumb cut through d of channel is d s longer.

    The bar falls to the right: its upper side is the longer one at the left, the lower one at the
    right. The channel at the wall is cut to the same slope at its top.
    """
    read, _ = read_job(LODGE / "dunlin.yaml")
    assert read is not None
    made = hang(plan(read))
    assert not isinstance(made, NothingToHang)
    cut = {p.id: p for p in made.pieces if p.sort == "channel"}
    slope = math.atan((84.0625 - 92.0) / 64.25)
    over, wall = (
        cut["channel of fixed 1 on the ceiling"],
        cut["channel of fixed 1 at the left wall"],
    )
    assert [e.words.rpartition(" ")[2] for e in over.ends] == ["top", "bottom"]
    assert [abs(e.angle_rad) for e in over.ends] == pytest.approx([abs(slope)] * 2, abs=0.01)
    assert wall.ends[1].angle_rad == pytest.approx(slope, abs=0.01)
    assert wall.ends[1].words.endswith("longer on the left")


def test_the_covers_are_one_a_screw_and_two_inches_long() -> None:
    made = jobs.hung()
    covers = [p for p in made.pieces if p.sort == "screw cover"]
    assert len(covers) == len(made.drilling.on("right wall"))
    assert {p.length.value for p in covers} == {50.8}


def test_everything_on_the_cut_list_is_in_a_bar() -> None:
    made = jobs.hung()
    assert sum(len(b.pieces) for s in made.cutting for b in s.plan.bars) == len(made.pieces)


def test_screws_anchors_and_sleeves_follow_from_the_holes() -> None:
    holes = jobs.hung().drilling.holes
    assert line("Stainless screw No. 12").quantity == sum(h.screw == "12" for h in holes)
    assert line("Sleeve").quantity == sum(h.sleeve for h in holes)
    assert line("Gasket").quantity == 2 * line("Filler").quantity == 4


def test_sealant_is_beads_bed_and_holes() -> None:
    """Two channels, a 1/2 in bead and a 1/4 in fillet along each, 1/4 in under the bedded one.

    Eight hinge screws through 7/8 in of tile and board by a 1/4 in bit, then 1/8 in; five of the
    channel by 3/16 in, then 1/8 in. 300 ml cartridge, 15 % waste. Geometry: prisms and cylinders.
    """
    joints = {j.id: j for j in jobs.work().enclosure.joints if j.kind == "channel"}
    long = {name: j.gaps[-1].at - j.gaps[0].at for name, j in joints.items()}
    volume = sum(long.values()) * (math.pi * 12.7**2 / 4 + 6.35**2 / 2) / 1000
    volume += long["fixed 1 to curb"] * math.pi * 6.35**2 / 4 / 1000
    inch = 25.4**3 * math.pi / 4 / 1000
    volume += 8 * inch * (7 / 8 * (1 / 4) ** 2 + 23 / 16 * (1 / 8) ** 2)
    volume += 5 * inch * (7 / 8 * (3 / 16) ** 2 + 17 / 16 * (1 / 8) ** 2)
    assert line("Sealant").quantity == math.ceil(volume * 1.15 / 300)
    assert f"{volume:.0f} ml" in line("Sealant").how


def test_a_hinge_between_two_panes_takes_gaskets_filler_and_thread_lock_for_both() -> None:
    """2 mm each side of the glass, 1 mm at each cut-out: common practice, no source."""
    read, _ = read_job(LODGE / "curlew.yaml")
    assert read is not None
    made = hang(plan(read))
    assert not isinstance(made, NothingToHang)
    many = {x.what: x.quantity for x in made.hardware}
    assert many["Gasket 2 mm at a hinge"] == 2 * 2 * 2
    assert many["Filler 1 mm in a hinge cut-out"] == 2 * 2
    assert many["Thread lock"] == pytest.approx(2 * 2 * 4 * 0.05)


def test_no_screw_cover_is_longer_than_the_channel_it_lies_in() -> None:
    read, _ = read_job(LODGE / "sandpiper.yaml")
    assert read is not None
    made = hang(plan(read))
    assert not isinstance(made, NothingToHang)
    riser = next(p for p in made.pieces if p.sort == "channel" and "riser" in p.id)
    cover = next(p for p in made.pieces if p.id == "cover of hole R1")
    assert cover.length.value == riser.length.value < 50.0


def test_a_full_cartridge_is_not_rounded_up() -> None:
    assert cartridges(300.0, 300.0, 0.0) == 1
    assert cartridges(300.1, 300.0, 0.0) == 2
    assert cartridges(0.0, 300.0, 0.15) == 0


def test_every_bit_of_the_plan_is_in_the_van() -> None:
    made = jobs.hung()
    named = {x.what for x in made.hardware if x.group == "tools"}
    assert named == {f"Bit {bit}" for hole in made.drilling.holes for bit in hole.bits}


def test_plant_totals_add_up() -> None:
    panes = jobs.work().enclosure.lites
    totals = plant_totals(panes)
    assert totals.area == pytest.approx(sum(p.area for p in panes))
    assert totals.mass_kg == pytest.approx(sum(p.mass_kg for p in panes))
    fixed = panes[1]
    assert plant_totals([fixed]).edge == pytest.approx(sum(e.length for e in fixed.edges))
    assert (totals.panes, totals.holes, totals.cut_outs) == (2, 2, 2)


def test_a_pane_that_is_square_by_its_sizes_is_square_by_its_diagonals() -> None:
    """Both diagonals alike for the door; with a rake of 1/8 in the fixed pane's differ."""
    door, fixed = jobs.hung().receiving
    one, other = (s.size for s in door.sizes if s.what.startswith("diagonal"))
    assert one == pytest.approx(other)
    one, other = (s.size for s in fixed.sizes if s.what.startswith("diagonal"))
    assert abs(one - other) > 1.0


def test_the_diagonal_of_a_pane_at_the_end_of_its_tolerance_still_passes() -> None:
    door = jobs.hung().receiving[0]
    sizes = {s.what: s for s in door.sizes}
    wide, tall = sizes["width at the bottom"], sizes["height at the left"]
    diagonal = sizes["diagonal, bottom left to top right"]
    longest = math.hypot(wide.size + wide.tolerance, tall.size + tall.tolerance)
    assert longest - diagonal.size == pytest.approx(diagonal.tolerance, rel=0.01)


def test_the_hand_and_the_rake_are_said() -> None:
    door, fixed = jobs.hung().receiving
    assert "hinges on the left, seen from outside" in door.looks
    assert any(look.startswith("right edge out of square: its top") for look in fixed.looks)


def test_a_room_where_nothing_fits_has_nothing_to_hang() -> None:
    """And says why, in the words of the fit."""
    whole = jobs.planned()
    choice = whole.best.alternative.choice
    none = NoFit(choice=choice, missing=3.0, clashes=(), why="the door is wider than the room")
    judged = replace(whole.best, alternative=Alternative(made=none))
    assert hang(replace(whole, best=judged)) == NothingToHang(why=none.why)


def test_the_same_plan_hangs_the_same_twice() -> None:
    assert jobs.hung() == jobs.hung()
    assert jobs.hung(shop=shipped_shop()) == jobs.hung()


def test_a_pane_that_narrows_over_a_step_stands_on_one_short_block_there() -> None:
    """Two blocks of 4 in do not fit under 60 mm of glass: one, half as long as the room."""
    work = jobs.work()
    pane = work.enclosure.lite("fixed 1")
    joint = next(j for j in work.enclosure.joints if j.id == "fixed 1 to curb")
    gaps = (replace(joint.gaps[0], at=800.0), replace(joint.gaps[-1], at=860.0))
    places, length = block_places(work, pane, replace(joint, gaps=gaps))
    assert places == (830.0,)
    assert length == 30.0
