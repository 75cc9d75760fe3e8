"""Every hole is somewhere in words and figures, and what cannot be drilled is said."""

from __future__ import annotations

import itertools
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Bar, Chain, Joint
from hangtrue.hang.drilling import drilling
from hangtrue.hang.hanging import hang
from hangtrue.hang.layers import drilled
from hangtrue.hang.records import HangPlan
from hangtrue.hang.shop import shipped_shop
from hangtrue.hang.tile_grid import Mount, Obstructions, from_joints, jointly, outside, short_by
from hangtrue.hang.work import Work
from hangtrue.job.document import KeepOut, Layer, TileGrid
from hangtrue.plan import plan as make
from hangtrue.plan import prove
from hangtrue.units import Length
from tests.unit import hang_jobs as jobs

TILES = "tiles: {width: 12, height: 12, joint: 1/8, first_joint_up: %s, first_joint_across: -6}"
HINGE = 266.0
"""Height of the lower hinge above the datum in the Gull room, mm, to the nearest one."""


def tiles(**changes: float | str) -> TileGrid:
    sizes = {"width": 300.0, "height": 200.0, "joint": 4.0} | changes
    lengths = {"first_joint_up": 0.0, "first_joint_across": 0.0} | sizes
    return TileGrid.model_validate(
        {k: v if isinstance(v, str) else Length(v) for k, v in lengths.items()}
    )


# --------------------------------------------------------------------------------- tile grid


@pytest.mark.parametrize(
    ("up", "across", "distance"),
    [
        (102.0, 152.0, 100.0),  # the middle of a tile: half its lower size from an edge
        (0.0, 152.0, -2.0),  # the middle of a level joint: half a joint deep in it
        (12.0, 152.0, 10.0),
        (102.0, 304.0, -2.0),  # the next upright joint
        (102.0, -20.0, 18.0),
        (204.0 + 7.0, 152.0, 5.0),  # above the next level joint
    ],
)
def test_the_distance_to_the_edge_of_the_tile(up: float, across: float, distance: float) -> None:
    found = from_joints(tiles(), np.array([up]), np.array([across]))
    assert found[0] == pytest.approx(distance)


def test_every_second_row_of_a_half_bond_is_offset() -> None:
    bond = tiles(bond="half")
    low, high = from_joints(bond, np.array([102.0, 306.0]), np.array([0.0, 0.0]))
    assert low == pytest.approx(-2.0)
    assert high == pytest.approx(100.0)


def test_a_zone_is_left_up_down_or_sideways() -> None:
    zone = keep_out(100.0, 200.0, 30.0)
    up, across = np.array([150.0, 150.0, 90.0, 90.0]), np.array([0.0, 40.0, 0.0, 40.0])
    assert outside(zone, up, across) == pytest.approx([-30.0, 10.0, 10.0, np.hypot(10.0, 10.0)])


def keep_out(low: float, high: float, each_side: float | None = None) -> KeepOut:
    side = None if each_side is None else Length(each_side)
    return KeepOut.model_validate(
        {"name": "pipe", "from": Length(low), "to": Length(high), "each_side": side}
    )


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.floats(-12.0, 12.0), min_size=2, max_size=3),
    st.floats(0.0, 200.0),
    st.floats(60.0, 160.0),
)
def test_all_plates_together_as_well_as_trying_every_row(
    offsets: list[float], first_joint: float, apart: float
) -> None:
    """The row of places from one mount to the next costs no more than any row of all."""
    mounts = [
        Mount(
            part=f"{i}",
            planned=100.0 + 130.0 * i + offset,
            low=100.0 + 130.0 * i + offset - 20.0,
            high=100.0 + 130.0 * i + offset + 20.0,
            holes=((-30.0, 50.0), (30.0, 50.0)),
            diameter=6.0,
            depth=50.0,
        )
        for i, offset in enumerate(offsets)
    ]
    near = Obstructions(
        tiles=tiles(height=70.0, first_joint_up=first_joint),
        keep_outs=(keep_out(140.0, 150.0),),
        from_tile_edge=10.0,
        keep_out_margin=5.0,
    )
    step = 4.0
    row = jointly(mounts, near, apart_least=apart, step=step)

    def cost(places: tuple[float, ...]) -> float:
        return sum(
            1000.0 * float(short_by(m, np.array([x]), near)[0]) + abs(x - m.planned)
            for m, x in zip(mounts, places, strict=True)
        )

    choices = [[m.planned + step * k for k in range(-5, 6)] for m in mounts]
    rows = [
        p
        for p in itertools.product(*choices)
        if all(b - a >= apart - step / 2 for a, b in itertools.pairwise(p))
    ]
    if rows:
        assert cost(row) == pytest.approx(min(map(cost, rows)))
    else:
        assert row == tuple(m.planned for m in mounts)


# -------------------------------------------------------------------------------- the layers


def layer(material: str, mm: float) -> Layer:
    return Layer(material=material, thickness=Length(mm))


def test_a_hinge_screw_goes_through_tile_and_board_into_wood() -> None:
    shop = shipped_shop()
    rule = shop.fixing("hinge", "wall", "blocking")
    assert rule is not None
    layers = (layer("porcelain tile", 10.0), layer("cement board", 12.0))
    made = drilled("left wall", layers, rule, shop, into="blocking", wood=38.0)
    assert [str(p.bit) for p in made.passes] == [
        "1/4 in diamond",
        "1/4 in carbide",
        "1/8 in twist",
    ]
    assert [(p.start, p.end) for p in made.passes[:2]] == [(0.0, 10.0), (10.0, 22.0)]
    assert made.depth - 22.0 >= rule.thread - 1e-6
    assert made.snags == ()


@pytest.mark.parametrize("material", ["horn", "tempered glass"])
def test_a_layer_without_a_bit_is_said(material: str) -> None:
    shop = shipped_shop()
    rule = shop.fixing("hinge", "wall", "blocking")
    assert rule is not None
    made = drilled("left wall", (layer(material, 10.0),), rule, shop, wood=38.0)
    assert len(made.snags) == 1
    assert made.snags[0].stops
    assert material in made.snags[0].wrong


@pytest.mark.parametrize(
    ("material", "family"),
    [
        ("porcelain tile", "tile"),
        ("glass mosaic", "tile"),
        ("Fibreglass", "fibreglass"),
        ("cement board", "board"),
        ("waterproof board", "board"),
        ("liquid waterproofing", "membrane"),
        ("gypsum board", "gypsum"),
        ("quartz composite", "composite"),
        ("plywood", "wood"),
        ("concrete block", "masonry"),
    ],
)
def test_a_material_is_known_by_a_word_in_its_name(material: str, family: str) -> None:
    found = shipped_shop().family(material)
    assert found is not None
    assert found.name == family


def test_a_shop_without_the_bit_is_told_which_one() -> None:
    shop = replace(
        shipped_shop(), bits=tuple(b for b in shipped_shop().bits if b.kind != "diamond")
    )
    plan, snags = drilling(jobs.work(shop=shop))
    assert "no 1/4 in diamond bit for porcelain tile" in {s.wrong for s in snags}
    assert all(p.bit is None for h in plan.holes for p in h.passes if "tile" in p.layer)


def test_a_wall_too_thick_for_the_longest_screw_is_said() -> None:
    document = jobs.replaced(r"cement board, thickness: 1/2", "cement board, thickness: 3-1/2")
    _, snags = drilling(jobs.work(document))
    assert any("no screw of the shop is long enough" in s.wrong and s.stops for s in snags)


def test_a_screw_that_comes_out_behind_thin_wood_is_said() -> None:
    document = jobs.replaced(r"depth: 1-1/2", "depth: 1")
    _, snags = drilling(jobs.work(document))
    assert any("behind the wood" in s.wrong for s in snags)


def test_a_membrane_is_sealed_and_drilled_with_the_bit_of_what_is_behind_it() -> None:
    shop = shipped_shop()
    rule = shop.fixing("channel", "wall", "stud")
    assert rule is not None
    layers = (layer("tile", 8.0), layer("waterproofing membrane", 1.0), layer("cement board", 12.0))
    made = drilled("left wall", layers, rule, shop, into="stud", wood=38.0)
    assert made.seals
    assert str(made.passes[1].bit) == "3/16 in carbide"


def test_masonry_is_drilled_behind_the_tile() -> None:
    shop = shipped_shop()
    rule = shop.fixing("clamp", "wall", "masonry")
    assert rule is not None
    made = drilled("left wall", (layer("tile", 8.0),), rule, shop, into="masonry")
    assert [str(p.bit) for p in made.passes] == ["5/16 in diamond", "5/16 in masonry"]
    assert made.passes[-1].end == made.depth == rule.anchor_depth


# --------------------------------------------------------------------------------- the room


def test_the_holes_of_the_gull_room() -> None:
    """Two plates of four screws at the left wall, a channel at the right one, none in the curb."""
    plan = jobs.hung().drilling
    assert [h.surface for h in plan.holes].count("left wall") == 8
    assert plan.surfaces == ("left wall", "right wall")
    assert [h.id for h in plan.holes] == [f"W{k}" for k in range(1, len(plan.holes) + 1)]
    assert plan.bedded
    hinge = [h for h in plan.holes if h.part == "hinge 1 of door"]
    assert sum(h.above_datum for h in hinge) / 4 == pytest.approx(HINGE, abs=0.5)
    assert {h.off for h in hinge} == {-min(h.off for h in hinge) * s for s in (1, -1)}
    assert all(h.torque and h.behind and h.fixing for h in plan.holes)


def test_heights_count_from_the_highest_curb_point() -> None:
    """The curb of the Gull room falls to the right: its highest point is at the datum."""
    hole = jobs.hung().drilling.holes[0]
    assert hole.height.value == pytest.approx(hole.above_datum, abs=0.5)
    raised = jobs.work()
    assert raised.highest_curb.value >= raised.opening.estimate(raised.opening.curb(700.0)).value


def test_channel_fixings_keep_the_spacing_of_the_shop() -> None:
    plan, mm = jobs.hung().drilling, shipped_shop().mm
    heights = [h.above_datum for h in plan.on("right wall")]
    apart = [b - a for a, b in itertools.pairwise(heights)]
    assert max(apart) <= mm["spacing.channel_apart_most"] + 1e-6


def test_plates_move_clear_of_a_tile_joint_and_the_pane_moves_with_them() -> None:
    """A level joint right through the lower row of screws of the lower plate."""
    joint = (HINGE - 31.75) / 25.4
    plan = jobs.hung(jobs.with_left(TILES % round(joint, 2)))
    moved = {m.part: m for m in plan.drilling.moved}
    assert moved["hinge 1 of door"].in_glass
    grid = plan_tiles(joint)
    for hole in plan.drilling.on("left wall"):
        clear = from_joints(grid, np.array([hole.above_datum]), np.array([hole.off]))[0] - 3.175
        assert clear >= 9.525 - 0.01
        assert hole.edge == pytest.approx(clear)
    door = next(p for p in plan.panes if p.id == "door")
    as_fitted = jobs.work().enclosure.lite("door")
    by = moved["hinge 1 of door"].by
    assert door.hinge_heights[0] == pytest.approx(as_fitted.hinge_heights[0] + by)
    assert door.area == as_fitted.area
    assert min(y for _, y in door.notches[0].corners) == pytest.approx(
        min(y for _, y in as_fitted.notches[0].corners) + by
    )
    assert any(
        s.where == "hinge 1 of door" and "order by the pane sheets" in s.do for s in plan.snags
    )


def plan_tiles(joint: float) -> TileGrid:
    found = jobs.brief(jobs.with_left(TILES % round(joint, 2))).job.walls.left
    assert found is not None
    assert found.tiles is not None
    return found.tiles


def test_an_upright_joint_under_a_column_of_screws_cannot_be_dodged_and_is_flagged() -> None:
    lines = TILES.replace("first_joint_across: -6", "first_joint_across: 14 mm") % 1
    plan = jobs.hung(jobs.with_left(lines))
    assert {s.where for s in plan.snags if "too near" in s.wrong} >= {
        "hinge 1 of door",
        "hinge 2 of door",
    }
    assert plan.stops


def test_a_plate_leaves_a_pipe_zone_where_it_can() -> None:
    plan = jobs.hung(jobs.with_left("keep_out: [{name: hot pipe, from: 5, to: 8}]"))
    heights = [h.above_datum for h in plan.drilling.on("left wall")]
    assert min(heights) >= 8 * 25.4 + 25.4
    assert not any("hot pipe" in flag for h in plan.drilling.holes for flag in h.flags)


def test_a_plate_that_cannot_leave_a_pipe_zone_says_do_not_drill() -> None:
    plan = jobs.hung(jobs.with_left("keep_out: [{name: hot pipe, from: 2, to: 20}]"))
    flagged = [h for h in plan.drilling.holes if any("hot pipe" in f for f in h.flags)]
    assert {h.part for h in flagged} == {"hinge 1 of door"}
    assert plan.stops


def test_a_pipe_deeper_than_the_stop_is_no_obstacle() -> None:
    zone = "keep_out: [{name: hot pipe, from: 2, to: 20, deeper_than: 4}]"
    plan = jobs.hung(jobs.with_left(zone))
    assert plan.drilling.moved == ()


@pytest.mark.parametrize("behind", ["hollow", "unknown", "acrylic"])
def test_no_hinge_is_hung_on_what_does_not_hold_it(behind: str) -> None:
    document = jobs.replaced(r"behind: blocking\n(    blocking:\n.*\n)", f"behind: {behind}\n")
    plan = jobs.hung(document)
    assert plan.drilling.on("left wall") == ()
    assert any("no hinge hangs on a hollow-wall anchor" in s.do and s.stops for s in plan.snags)


@pytest.mark.parametrize(("answer", "word"), [("no", "hollow tile"), ("unknown", "tap the tile")])
def test_a_hollow_tile_is_flagged_at_every_hole(answer: str, word: str) -> None:
    plan = jobs.hung(jobs.replaced("solid_bedded: yes", f"solid_bedded: {answer}"))
    for hole in plan.drilling.on("left wall"):
        assert any(flag.startswith(word) for flag in hole.flags)


def test_a_hole_beside_the_known_wood_is_flagged() -> None:
    plan = jobs.hung(jobs.replaced("to: 84", "to: 40"))
    flagged = {h.part for h in plan.drilling.holes if "no wood is known to be here" in h.flags}
    assert flagged == {"hinge 2 of door"}


# ------------------------------------------------------------------------- base, clamps, bars


@pytest.mark.parametrize(
    ("material", "bit"), [("fibreglass", "1/8 in twist"), ("solid surface", "5/16 in twist")]
)
def test_a_curb_channel_is_screwed_to_a_base(material: str, bit: str) -> None:
    plan = jobs.hung(jobs.replaced("material: stone", f"material: {material}")).drilling
    holes = plan.on("curb")
    assert holes
    assert {str(b) for h in holes for b in h.bits} == {bit}
    assert all(h.id.startswith("C") for h in holes)
    assert all("sealant" in " ".join(h.flags) for h in holes)
    curb = jobs.work().opening
    for hole in holes:
        assert hole.above_datum == pytest.approx(
            curb.estimate(curb.curb(hole.along)).value, abs=1.0
        )


@pytest.mark.parametrize("material", ["stone", "tile", "unknown"])
def test_nothing_pierces_the_waterproofing_of_a_tiled_curb(material: str) -> None:
    plan = jobs.hung(jobs.replaced("material: stone", f"material:  {material}")).drilling
    assert plan.on("curb") == ()
    assert any("bedded" in words for words in plan.bedded)


def with_joint(joint: Joint, **changes: Any) -> Work:
    """Return the Gull room with one joint changed."""
    work = jobs.work()
    joints = tuple(replace(j, **changes) if j.id == joint.id else j for j in work.enclosure.joints)
    return replace(work, enclosure=replace(work.enclosure, joints=joints))


def test_clamps_are_drilled_where_they_sit() -> None:
    joint = next(j for j in jobs.work().enclosure.joints if j.id == "fixed 1 to right wall")
    gaps = tuple(replace(g, at_fitting=k in {3, 10}) for k, g in enumerate(joint.gaps))
    work = with_joint(joint, kind="clamp", hardware="clamp-wall-square", gaps=gaps)
    plan, _ = drilling(work)
    places = [g.at for g in gaps if g.at_fitting]
    assert [h.above_datum for h in plan.on("right wall")] == pytest.approx(places)
    assert {h.fitting for h in plan.on("right wall")} == {"clamp-wall-square"}


def test_the_flange_of_a_support_bar_is_drilled_at_its_height() -> None:
    work = jobs.work()
    bar = Bar(
        id="bar 1",
        kind="support",
        hardware="support-bar",
        run=1,
        holds="fixed 1",
        to="left wall",
        ends=((900.0, 0.0, 1900.0), (0.0, 0.0, 1900.0)),
        length=Estimate(900.0),
        chain=Chain(size="length", at_height=1900.0, opening=900.0, deductions=(), glass=900.0),
    )
    plan, _ = drilling(replace(work, enclosure=replace(work.enclosure, bars=(bar,))))
    flange = [h for h in plan.holes if h.part == "flange of bar 1"]
    assert {h.surface for h in flange} == {"left wall"}
    assert sum(h.above_datum for h in flange) / len(flange) == pytest.approx(1900.0)


def test_no_hole_contradicts_what_was_proved_for_its_screw() -> None:
    """The list takes the shop's screw; a finding about another one is named at every such hole."""
    plan = prove(make(jobs.brief((jobs.GULL.parent / "dunlin.yaml").read_text("utf-8"))))
    found = hang(plan)
    assert isinstance(found, HangPlan)
    told = {f.where: f.fastened for f in plan.best.findings if f.rule == "fixed-screws"}
    holes = [h for h in found.drilling.holes if h.surface in told and "channel" in h.part]
    assert {h.surface for h in holes} == {"left wall", "right wall"}
    for hole in holes:
        of = told[hole.surface]
        assert of is not None
        named = any("fixed-screws" in flag for flag in hole.flags)
        assert named is (of.size != hole.screw)
    assert any("fixed-screws" in snag.wrong for snag in found.snags)
