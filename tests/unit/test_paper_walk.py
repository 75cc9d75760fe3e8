"""The picture of the measuring sheet: every number of the list once, where the reading is taken."""

from __future__ import annotations

import math
from functools import cache
from pathlib import Path as File

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Point

from hangtrue.hang.measuring_sheet import BlankReading, measuring_sheet
from hangtrue.job.read import read_job
from hangtrue.measure import measure
from hangtrue.paper.drawings.balloons import RADIUS, Mark, ballooned
from hangtrue.paper.drawings.walk import walk
from hangtrue.paper.drawings.walk_plan import headings
from hangtrue.paper.drawn_pages import HEADING, ROOM
from hangtrue.paper.scene import Circle, Path, Sheet, Text
from tests.folded_case import FOLDED, folded
from tests.readable import readable

LODGE = File(__file__).parents[2] / "examples" / "lodge"
JOBS = sorted(p.stem for p in LODGE.glob("*.yaml") if "readings:" in p.read_text("utf-8"))


@cache
def shown(name: str) -> tuple[Sheet, tuple[BlankReading, ...]]:
    brief, problems = read_job(LODGE / f"{name}.yaml")
    assert brief is not None, problems
    readings = measuring_sheet(brief)
    return walk(brief, measure(brief), readings), readings


def circles(sheet: Sheet) -> list[Circle]:
    return [p for p in sheet.primitives if isinstance(p, Circle) and p.radius == RADIUS]


def numbers(sheet: Sheet) -> dict[int, tuple[float, float]]:
    """Middle of the circle of each number."""
    found = [p for p in sheet.primitives if isinstance(p, Text) and p.words.isdecimal()]
    return {int(t.words): (t.at[0], t.at[1] + t.height / 2) for t in found}


@pytest.mark.parametrize("name", JOBS)
def test_every_number_of_the_list_stands_once_in_the_picture(name: str) -> None:
    sheet, readings = shown(name)
    texts = sorted(
        int(p.words) for p in sheet.primitives if isinstance(p, Text) and p.words.isdecimal()
    )
    assert texts == [r.number for r in readings]
    assert len(circles(sheet)) == len(readings)


@pytest.mark.parametrize("name", JOBS)
def test_no_circle_touches_another(name: str) -> None:
    places = [c.centre for c in circles(shown(name)[0])]
    for n, a in enumerate(places):
        assert all(math.dist(a, b) > 2 * RADIUS for b in places[:n])


@pytest.mark.parametrize("name", JOBS)
def test_the_picture_can_be_read_and_goes_onto_its_page(name: str) -> None:
    sheet, _ = shown(name)
    readable(sheet)
    assert sheet.height <= ROOM["letter"][1] - HEADING


@pytest.mark.parametrize("name", JOBS)
def test_widths_stand_over_each_other_from_low_to_high(name: str) -> None:
    sheet, readings = shown(name)
    at = numbers(sheet)
    for run in {dict(r.given).get("run") for r in readings if r.kind == "width"}:
        here = [r for r in readings if r.kind == "width" and dict(r.given)["run"] == run]
        heights = [at[r.number][1] for r in sorted(here, key=lambda r: r.low or 0.0)]
        assert heights == sorted(heights)


@pytest.mark.parametrize("name", JOBS)
def test_readings_of_the_left_wall_stand_left_of_those_of_the_right(name: str) -> None:
    sheet, readings = shown(name)
    at = numbers(sheet)
    kinds = ("lean", "across", "bow")
    sides = {
        side: [at[r.number][0] for r in readings if r.kind in kinds and r.station == f"{side} wall"]
        for side in ("left", "right")
    }
    assert all(x < sheet.width / 4 for x in sides["left"])
    assert all(x > 3 * sheet.width / 4 for x in sides["right"])


@pytest.mark.parametrize("name", FOLDED)
def test_the_plan_turns_as_the_glass_line_does(name: str) -> None:
    """Its headings are those of the runs that panes were made for, to what was measured."""
    room = folded(name)
    wanted = [run.heading for run in room.made.runs] or [0.0]
    found = headings(room.brief)
    for a, b in zip(found, wanted, strict=True):
        assert math.remainder(a - b, math.tau) == pytest.approx(0.0, abs=math.radians(3.0))


@given(st.lists(st.tuples(st.floats(10, 170), st.floats(10, 90)), min_size=1, max_size=25))
@settings(max_examples=30, deadline=None)
def test_circles_find_room_however_lines_lie(places: list[tuple[float, float]]) -> None:
    """Numbers of lines that lie anywhere do not touch as long as the sheet has room."""
    marks = [
        Mark(number=n, courses=(((x, y), (x + 8.0, y)),)) for n, (x, y) in enumerate(places, 1)
    ]
    made = ballooned(marks, (), (0.0, 0.0, 180.0, 110.0))
    middles = [p.centre for p in made if isinstance(p, Circle)]
    assert len(middles) == len(marks)
    near = [math.dist(a, b) for n, a in enumerate(middles) for b in middles[:n]]
    assert all(d > 2 * RADIUS for d in near)


def test_a_line_ends_at_the_rim_of_its_circle() -> None:
    (mark,) = (Mark(number=7, courses=(((10.0, 50.0), (90.0, 50.0)),)),)
    made = ballooned((mark,), (), (0.0, 0.0, 100.0, 100.0))
    disc = Point(next(p.centre for p in made if isinstance(p, Circle))).buffer(RADIUS - 0.1)
    lines = [LineString(p.points) for p in made if isinstance(p, Path)]
    assert lines
    assert all(line.disjoint(disc) for line in lines)
