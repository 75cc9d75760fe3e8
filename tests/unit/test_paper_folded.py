"""Drawings of a glass line that turns: true to its folded plan, its steps, its mitres."""

from __future__ import annotations

import io
import json
import math
from dataclasses import replace

import ezdxf
import jsonschema
import pytest
from ezdxf.entities.lwpolyline import LWPolyline
from shapely import Polygon

from hangtrue.check.verdict import Judged
from hangtrue.fit.enclosure import Alternative, Enclosure, Lite
from hangtrue.paper import tables, terminal
from hangtrue.paper.cut import cut_path, step_corners
from hangtrue.paper.dimensions import drawn
from hangtrue.paper.drawings import drawings, folding, plan_of
from hangtrue.paper.drawings.corners import corners
from hangtrue.paper.drawings.pane import cut_file, pane
from hangtrue.paper.drawings.room_plan import room_plan
from hangtrue.paper.dxf import write_dxf
from hangtrue.paper.labels import course
from hangtrue.paper.lengths import Units
from hangtrue.paper.plan_json import plan_json_text, plan_schema
from hangtrue.paper.scene import Line, Path, Sheet, Text
from hangtrue.plan import Plan
from tests.folded_case import FOLDED, RADIUS, folded
from tests.readable import readable

MM = Units(first="mm", both=False)


def planned(name: str) -> Plan:
    room = folded(name)
    best = Judged(alternative=Alternative(made=room.made), findings=())
    return Plan(brief=room.brief, opening=room.opening, best=best, others=())


def words(sheet: Sheet) -> str:
    return " ".join(
        t.words.replace("\u00a0", " ") for t in drawn(sheet.primitives) if isinstance(t, Text)
    )


def panes() -> list[tuple[str, Enclosure, Lite]]:
    return [(name, folded(name).made, lite) for name in FOLDED for lite in folded(name).made.lites]


PANES = [pytest.param(made, lite, id=f"{name}-{lite.id}") for name, made, lite in panes()]


@pytest.mark.parametrize("name", FOLDED)
def test_going_across_a_run_is_the_way_back_from_its_plan(name: str) -> None:
    for run in folded(name).made.runs:
        for x, off in ((run.start, 0.0), (run.end, 12.5), ((run.start + run.end) / 2, -40.0)):
            assert run.across(run.plan(x, off)) == pytest.approx((x, off), abs=1e-9)


@pytest.mark.parametrize("name", FOLDED)
def test_panes_stand_in_plan_where_the_scale_says(name: str) -> None:
    """The cut through each pane, on paper, is its thickness times its width of both faces."""
    room = folded(name)
    sheet = room_plan(room.brief, room.opening, room.made)
    scale = float(sheet.scale.split(":")[1])
    cut = [p for p in sheet.primitives if isinstance(p, Path) and p.fill == "solid"]
    cut = [p for p in cut if p.layer == "outline"]
    standing = [lite for lite in room.made.lites if lite.kind != "transom"]
    for lite, shape in zip(standing, cut, strict=True):
        inner = lite.inside_corners
        wide = (lite.width_bottom + inner[1][0] - inner[0][0]) / 2
        shift = lite.shifts[0] == lite.shifts[1]
        area = Polygon(shape.points).area * scale**2
        assert not shift or area == pytest.approx(wide * lite.thickness, rel=1e-6)


def test_two_walls_of_a_right_angled_room_meet_in_one_course() -> None:
    room = folded("petrel")
    (course_,) = folding.walls(room.opening, room.made.runs)
    assert len(course_) == 3


def test_a_step_that_turns_the_corner_is_mitred_there() -> None:
    """Both footprints share the corner of the curb outside and inside: no hole, no overlap."""
    room = folded("petrel")
    one, other = (
        Polygon(o) for _, o in folding.footprints(room.brief, room.opening, room.made.runs)
    )
    assert one.is_valid
    assert other.is_valid
    assert one.intersection(other).area == pytest.approx(0.0, abs=1e-6)
    assert one.distance(other) == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize(("made", "lite"), PANES)
def test_a_cut_file_is_the_planned_outline_with_true_arcs_at_steps(
    made: Enclosure, lite: Lite
) -> None:
    """Read back by an independent reader: what arcs take away is (1 - pi/4) r2 at each corner."""
    brief = next(folded(n).brief for n in FOLDED if folded(n).made is made)
    document = ezdxf.read(io.StringIO(write_dxf(cut_file(brief, lite))))
    (edge,) = document.modelspace().query("LWPOLYLINE[layer=='OUTLINE']")
    assert isinstance(edge, LWPolyline)
    points = [(x, y) for x, y, _ in edge.get_points("xyb")]
    bulges = [b for _, _, b in edge.get_points("xyb")]
    corners_, planned_bulges = cut_path(lite)
    assert points == [pytest.approx(p, abs=1e-6) for p in corners_]
    assert bulges == pytest.approx(planned_bulges, abs=1e-9)
    assert Polygon(points).is_valid
    for (x, y), step in step_corners(lite):
        assert step.radius == RADIUS
        near = [p for p in points if math.dist(p, (x, y)) < 1.5 * RADIUS]
        assert len(near) == 2, "an inside corner is an arc, never sharp"


def test_a_stepped_pane_gives_every_inside_corner_from_the_datum_corner() -> None:
    room = folded("sandpiper")
    lite = room.made.lite("fixed 1")
    (((x, y), _),) = step_corners(lite)
    said = words(pane(room.brief, room.made, lite))
    for figure in (x, y):
        assert f"{figure:.1f}".removesuffix(".0") in said
    assert f"R {RADIUS:g}" in said
    assert "Foot steps over tub deck" in said


def test_where_the_step_takes_the_stamped_corner_away_the_mark_moves() -> None:
    room = folded("sandpiper")
    said = words(pane(room.brief, room.made, room.made.lite("fixed 1")))
    assert "Safety mark at the bottom right corner" in said


def test_a_mitred_pane_names_both_faces() -> None:
    """Inside face shorter by thickness times tangent of half the turn (plane trigonometry)."""
    room = folded("curlew")
    lite = room.made.lite("fixed 2")
    inner = lite.inside_corners
    bevel = lite.bevel("left")
    assert lite.width_bottom - (inner[1][0] - inner[0][0]) == pytest.approx(
        lite.thickness * math.tan(bevel)
    )
    said = words(pane(room.brief, room.made, lite))
    assert f"mitred {math.degrees(bevel):.1f}° from square, outside face the longer" in said
    assert f"inside face {inner[1][0] - inner[0][0]:.1f}" in said


def test_a_scribed_edge_is_listed_point_by_point() -> None:
    room = folded("many")
    lite = room.made.lite("fixed 1")
    said = words(pane(room.brief, room.made, lite))
    for x, z in lite.edge("left").points:
        figures = [f"{v:.1f}".removesuffix(".0") for v in (z, x)]
        assert f"{figures[0]}: {figures[1]}" in said


def test_every_corner_says_angle_joint_and_who_laps() -> None:
    room = folded("many")
    (sheet,) = corners(room.brief, room.opening, room.made)
    said = words(sheet)
    assert "Corner 1: 135.0°" in said
    assert "turns outward" in said
    assert "each ground 30.0° from square" in said
    assert "Butt: fixed 5 runs past and covers the edge of fixed 4" in said


def test_straight_lines_have_no_sheet_of_corners() -> None:
    room = folded("dunlin")
    assert corners(room.brief, room.opening, room.made) == ()


def test_every_run_has_its_elevation_and_the_whole_is_laid_flat() -> None:
    names = [name for name, _ in drawings(planned("petrel"))]
    assert [n for n in names if n.startswith("elevation")] == [
        "elevation",
        "elevation-run-1",
        "elevation-run-2",
    ]
    assert [n for n, _ in drawings(planned("dunlin")) if n.startswith("elevation")] == ["elevation"]


def test_the_elevation_says_ceiling_transom_and_what_is_before_and_behind() -> None:
    sheets = dict(drawings(planned("dunlin")))
    said = words(sheets["elevation"])
    for part in ("ceiling, left", "ceiling, right", "door top", "transom", "bench, behind"):
        assert part in said
    assert "light, before" in said


def test_doors_of_a_pair_hang_on_their_own_sides_in_plan() -> None:
    """Each leaf swings about its own hinge edge: the left one its left, the right one its right."""
    made = folded("many").made
    left, right = made.doors
    pivots = [folding.swing(made.run(d.run), d, -1)[0] for d in (left, right)]
    frees = [folding.swing(made.run(d.run), d, -1)[1] for d in (left, right)]
    assert pivots[0][0] < frees[0][0] < frees[1][0] < pivots[1][0]


def test_an_arc_of_a_swing_keeps_its_distance_from_the_hinge() -> None:
    made = folded("many").made
    for door in made.doors:
        for way in (-1, 1):
            pivot, shut, opened, bulge = folding.swing(made.run(door.run), door, way)
            arc = course(folding.swung(shut, opened, bulge))
            far = [math.dist(p, pivot) for p in arc]
            assert far == pytest.approx([door.width_bottom] * len(arc), rel=1e-9)


@pytest.mark.parametrize("name", FOLDED)
def test_the_plan_file_carries_corners_runs_bars_and_steps(name: str) -> None:
    plan = planned(name)
    said = json.loads(plan_json_text(plan))
    jsonschema.Draft202012Validator(plan_schema()).validate(said)
    made = said["best"]["made"]
    assert len(made["runs"]) == len(folded(name).made.runs)
    assert len(made["bars"]) == len(folded(name).made.bars)
    assert len(said["opening"]["corners"]) == folded(name).opening.corners
    assert [s["name"] for s in said["opening"]["steps"]] == list(folded(name).opening.steps)
    turned = [j["corner"]["number"] for j in made["joints"] if j["corner"]]
    assert turned == list(range(1, folded(name).opening.corners + 1))


def test_bars_are_listed_with_what_is_cut() -> None:
    room = folded("curlew")
    (bar,) = room.made.bars
    (row,) = tables.bars(room.made.bars, MM).rows
    assert row[1:3] == ("fixed 1", "fixed 2")
    assert row[4] == f"{bar.length.value:.0f}"


def test_the_opening_is_tabled_run_by_run() -> None:
    table = tables.opening(folded("curlew").opening, (30.0, 950.0), MM)
    assert [c.head for c in table.columns][1:6:2] == ["Run 1", "Run 2", "Run 3"]
    assert table.rows[-1][1] == "562.0"


def test_the_terminal_names_runs_corners_steps_and_bars() -> None:
    assert "door, fixed 1 | fixed 2" in terminal.summary(planned("petrel"))
    assert "corner 1, 90.3°: fixed 1 and fixed 2, butt, fixed 1 runs past" in terminal.summary(
        planned("petrel")
    )
    assert "fixed 1: steps over end of the knee wall" in terminal.summary(planned("petrel"))
    assert "bar 1, support bar, fixed 1 to fixed 2: cut to" in terminal.summary(planned("curlew"))


def test_nothing_is_said_of_a_wall_below_the_step_that_hides_it() -> None:
    """Run 2 of the room stands on a knee wall 36 in high: 2 in up there is no opening."""
    table = tables.opening(folded("petrel").opening, (50.8, 965.2), MM)
    low, high = table.rows[-1], table.rows[0]
    assert low[3:5] == ("–", "–")
    assert low[-1] == "–"
    assert high[3] != "–"
    assert low[1] != "–"


@pytest.mark.parametrize("degrees", [60.0, 90.0, 120.0, 144.0, 180.0])
@pytest.mark.parametrize("name", FOLDED)
def test_a_door_opens_to_its_angle_about_its_hinge(name: str, degrees: float) -> None:
    """As far from the hinge as when it is shut, turned by the angle, its arc on that side."""
    made = folded(name).made
    doors = [p for p in made.lites if p.hinge_side]
    for door in doors:
        for way in (-1, 1):
            run = folding.runs(folded(name).opening, made)[door.run - 1]
            pivot, shut, opened, bulge = folding.swing(run, door, way, math.radians(degrees))
            long = math.dist(pivot, shut)
            assert math.dist(pivot, opened) == pytest.approx(long)
            a, b = ((p[0] - pivot[0], p[1] - pivot[1]) for p in (shut, opened))
            turned = math.degrees(
                math.acos(max(-1.0, min(1.0, (a[0] * b[0] + a[1] * b[1]) / long**2)))
            )
            assert turned == pytest.approx(degrees, abs=1e-4)
            off = run.across(opened)[1]
            assert off * way >= -1e-9
            arc = folding.swung(shut, opened, bulge)
            middle = course(arc)[len(course(arc)) // 2]
            assert math.dist(pivot, middle) == pytest.approx(long, rel=1e-6)


def held(name: str, angle: float) -> Sheet:
    """Return the plan of a room whose doors have a stop."""
    room = folded(name)
    wanted = room.brief.job.wanted
    lites = tuple(
        lite.model_copy(update={"stop": angle}) if lite.kind == "door" else lite
        for lite in wanted.lites
    )
    job = room.brief.job.model_copy(update={"wanted": wanted.model_copy(update={"lites": lites})})
    return plan_of(replace(room.brief, job=job), room.opening, room.made)


@pytest.mark.parametrize("name", [n for n in FOLDED if folded(n).made.door])
def test_a_door_is_drawn_open_to_its_stop_with_the_angle(name: str) -> None:
    sheet = held(name, math.radians(105.0))
    assert "stop at 105°" in words(sheet)
    readable(sheet)


def test_a_door_that_would_meet_something_is_dotted_up_to_there() -> None:
    room = folded("petrel")
    door = room.made.door
    assert door is not None
    sheet = room_plan(room.brief, room.opening, room.made, None, {(door.id, -1): math.radians(140)})
    assert "would meet at 140°" in words(sheet)
    assert [p for p in sheet.primitives if isinstance(p, Line) and p.stroke == "dotted"]
    readable(sheet)
