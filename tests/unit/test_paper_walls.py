"""Wall faces: joints where the tiles end, zones where nobody drills, every hole at its height."""

from __future__ import annotations

import re
from functools import cache

import pytest

from hangtrue.fit.enclosure import Enclosure
from hangtrue.hang.before import builder_sheet
from hangtrue.hang.hanging import hang
from hangtrue.hang.records import HangPlan
from hangtrue.job.profile import Language
from hangtrue.job.read import read_job
from hangtrue.paper.drawings.drill_sections import drill_sections
from hangtrue.paper.drawings.drilled_level import drilled_levels
from hangtrue.paper.drawings.riser_faces import drilled_risers
from hangtrue.paper.drawings.wall_faces import blocking, drilled_walls
from hangtrue.paper.language import speaking
from hangtrue.paper.lengths import Units
from hangtrue.paper.scene import Circle, Hatch, Line, Path, Sheet, Text
from hangtrue.plan import Plan, plan
from tests.readable import readable, texts
from tests.unit import hang_jobs as jobs

INCH = 25.4
TILES = (
    "tiles: {width: 12, height: 24, joint: 1/8, first_joint_up: 6-1/4, "
    "first_joint_across: -3, bond: half}"
)
PIPES = (
    "keep_out:",
    "  - {name: hot pipe, from: 38, to: 44, each_side: 2}",
    "  - {name: cable, from: 63, to: 66, deeper_than: 1}",
)
TALL = 180.0
JOB = jobs.with_left(TILES, *PIPES)


@cache
def hung() -> HangPlan:
    return jobs.hung(JOB)


@cache
def face() -> Sheet:
    """Return the faces of both walls with their holes."""
    work = jobs.work(JOB)
    (sheet,) = drilled_walls(work.brief, work.opening, work.enclosure, hung().drilling, TALL)
    return sheet


@cache
def wood() -> Sheet:
    work = jobs.work(JOB)
    asked = builder_sheet(work.brief, work.enclosure)
    holes = hung().drilling.holes
    return blocking(work.brief, work.opening, work.enclosure, asked, 130.0, holes)


def scale(sheet: Sheet) -> float:
    return float(sheet.scale.split(":")[1])


def joints(*, level: bool) -> list[float]:
    """Places of the joint lines, mm on paper."""
    axis = 1 if level else 0
    lines = [p for p in face().primitives if isinstance(p, Line) and p.layer == "hidden"]
    return sorted(
        {round(p.start[axis], 3) for p in lines if abs(p.start[axis] - p.end[axis]) < 1e-9}
    )


def datum() -> tuple[float, float]:
    """Where the glass line of the left wall and the datum are on paper."""
    lines = [p for p in face().primitives if isinstance(p, Line) and p.layer == "centre"]
    floor = min(p.start[1] for p in face().primitives if isinstance(p, Line) and p.layer == "curb")
    return min(p.start[0] for p in lines), floor + 4.0 * INCH / scale(face())


def test_level_joints_are_a_tile_and_a_joint_apart() -> None:
    """24 in of tile and 1/8 in of joint, from the one that was read at 6-1/4 in."""
    _, zero = datum()
    wanted = [(6.25 + k * 24.125) * INCH / scale(face()) + zero for k in range(4)]
    shown = [y for y in joints(level=True) if y < wanted[-1] + 1.0]
    assert shown == pytest.approx(wanted[: len(shown)], abs=0.01)
    assert len(shown) >= 3


def test_upright_joints_stand_under_each_other_in_every_second_row() -> None:
    """12-1/8 in from joint to joint; the rows between are offset by half of that."""
    middle, _ = datum()
    steps = {round((x - middle) * scale(face()) / INCH, 2) for x in joints(level=False)}
    assert {-3.0, 9.12} <= {round(s, 2) for s in steps} or {-3.0, 9.13} <= steps
    assert any(abs(s - (-3.0 + 12.125 / 2)) < 0.02 for s in steps)
    assert all(min((s + 3) % 6.0625, -(s + 3) % 6.0625) < 0.02 for s in steps)


def test_zones_where_nobody_drills_are_crossed_and_named_with_their_heights() -> None:
    crossed = [p for p in face().primitives if isinstance(p, Hatch) and p.layer == "wall"]
    assert len(crossed) == 4, "two zones, hatched both ways"
    (pipe, _, cable, _) = crossed
    height = max(y for _, y in pipe.outline) - min(y for _, y in pipe.outline)
    wide = max(x for x, _ in pipe.outline) - min(x for x, _ in pipe.outline)
    assert (wide, height) == pytest.approx(
        (4 * INCH / scale(face()), 6 * INCH / scale(face())), abs=0.01
    )
    assert max(x for x, _ in cable.outline) - min(x for x, _ in cable.outline) > wide
    words = " ".join(t.words for t in texts(face())).replace("\u00a0", " ")
    assert "KEEP OUT: hot pipe 38 [965] to 44 [1118]" in words
    assert "KEEP OUT: cable" in words
    assert "from 1 [25] deep" in words


def test_every_hole_has_its_number_and_height() -> None:
    words = " ".join(t.words for t in texts(face()))
    named = set(re.findall(r"\bW\d+\b", words))
    assert named == {h.id for h in hung().drilling.holes if h.id.startswith("W")}
    dots = [p for p in face().primitives if isinstance(p, Circle) and p.fill == "solid"]
    assert len(dots) == len(named)


def test_holes_stand_at_their_height_to_scale() -> None:
    _, zero = datum()
    dots = sorted(
        p.centre[1] for p in face().primitives if isinstance(p, Circle) and p.fill != "none"
    )
    heights = sorted(h.above_datum for h in hung().drilling.holes if h.id.startswith("W"))
    assert [(y - zero) * scale(face()) for y in dots] == pytest.approx(heights, abs=0.01)


def test_a_hole_too_near_to_a_cable_is_ringed() -> None:
    ringed = [p for p in face().primitives if isinstance(p, Circle) and p.fill == "none"]
    flagged = [h for h in hung().drilling.holes if any(f.startswith("too near") for f in h.flags)]
    assert len(ringed) == len(flagged)


def test_what_builders_get_shows_wood_pipes_and_holes_to_come() -> None:
    words = " ".join(t.words for t in texts(wood())).replace("\u00a0", " ")
    for said in ("wood to here", "thick", "KEEP OUT: hot pipe", "dots: holes to come"):
        assert said in words
    dots = [p for p in wood().primitives if isinstance(p, Circle) and p.fill == "solid"]
    assert len(dots) == len([h for h in hung().drilling.holes if h.id.startswith("W")])


@pytest.mark.parametrize("sheet", [face, wood])
def test_wall_faces_can_be_read(sheet: object) -> None:
    assert callable(sheet)
    readable(sheet())


def test_a_way_of_drilling_is_cut_through_to_scale() -> None:
    hole = hung().drilling.holes[0]
    (sheet,) = drill_sections((("A", hole),), Units(first="mm", both=False))
    readable(sheet)
    assert "Way A" in [t.words for t in sheet.primitives if isinstance(t, Text)]
    sides = [p for p in sheet.primitives if isinstance(p, Line) and p.layer == "holes"]
    long = max(p.end[0] for p in sides) - min(p.start[0] for p in sides)
    assert long * scale(sheet) == pytest.approx(hole.depth, abs=0.01)
    assert isinstance(jobs.work().enclosure, Enclosure)


def test_no_section_where_no_layer_is_known() -> None:
    assert not drill_sections((), Units(first="mm", both=False))


def test_wall_faces_in_spanish_have_room_at_the_same_scale() -> None:
    work = jobs.work(JOB)
    asked, holes = builder_sheet(work.brief, work.enclosure), hung().drilling
    made = work.brief, work.opening, work.enclosure
    with speaking("es"):
        spoken = (*drilled_walls(*made, holes, TALL), blocking(*made, asked, 130.0, holes.holes))
    for sheet, english in zip(spoken, (face(), wood()), strict=True):
        assert sheet.scale == english.scale
        readable(sheet)
    words = " ".join(t.words for t in texts(spoken[0]))
    assert "NO BARRENAR: hot pipe" in words
    assert "KEEP OUT" not in words


@cache
def sandpiper() -> tuple[Plan, HangPlan]:
    """A screen over a tub deck, whose riser carries a channel."""
    brief, problems = read_job(jobs.GULL.parent / "sandpiper.yaml")
    assert brief is not None, problems
    made = plan(brief)
    hanging = hang(made)
    assert isinstance(hanging, HangPlan)
    return made, hanging


@pytest.mark.parametrize("language", ["en", "es"])
def test_every_hole_stands_on_some_drawing(language: Language) -> None:
    """In walls, in what is level, and in the riser of a step."""
    made, hanging = sandpiper()
    enclosure, drilling = made.best.alternative.made, hanging.drilling
    assert isinstance(enclosure, Enclosure)
    with speaking(language):
        sheets = (
            *drilled_walls(made.brief, made.opening, enclosure, drilling, TALL),
            *drilled_levels(made.brief, made.opening, enclosure, drilling),
            *drilled_risers(made.brief, made.opening, drilling),
        )
    for sheet in sheets:
        readable(sheet)
    words = " ".join(t.words for sheet in sheets for t in texts(sheet))
    assert set(re.findall(r"\b[A-Z]\d+\b", words)) == {h.id for h in drilling.holes}


def test_a_riser_is_as_high_and_as_wide_as_its_step() -> None:
    made, hanging = sandpiper()
    (sheet,) = drilled_risers(made.brief, made.opening, hanging.drilling)
    (step,) = made.brief.job.steps
    (front,) = [p for p in sheet.primitives if isinstance(p, Path) and p.layer == "curb"]
    xs, ys = zip(*front.points, strict=True)
    size = ((max(xs) - min(xs)) * scale(sheet), (max(ys) - min(ys)) * scale(sheet))
    assert size == pytest.approx((float(step.width), float(step.height)), abs=2.0)
