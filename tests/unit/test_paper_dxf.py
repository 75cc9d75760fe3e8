"""What the plant's machine reads back is the pane of the plan, to a millionth of a mm."""

from __future__ import annotations

import io
import math
import os
import subprocess
import sys
from pathlib import Path

import ezdxf
import pytest
from ezdxf.document import Drawing
from ezdxf.entities.lwpolyline import LWPolyline
from shapely import Polygon

from hangtrue.fit.enclosure import Enclosure, Lite
from hangtrue.geometry import Outline, Point, at_height, less
from hangtrue.job.brief import Brief
from hangtrue.paper.cut import cut_path, rounded
from hangtrue.paper.drawings.pane import cut_file
from hangtrue.paper.dxf import write_dxf
from hangtrue.paper.scene import Sheet
from tests.paper_case import ROOMS, case

TOUCH = 1e-6


def lites(name: str) -> list[tuple[Brief, Lite]]:
    made = case(name)
    assert isinstance(made.made, Enclosure)
    return [(made.brief, lite) for lite in made.made.lites]


ALL = [
    pytest.param(brief, lite, id=f"{name}-{lite.id}")
    for name in ROOMS
    for brief, lite in lites(name)
]


def read(sheet: Sheet) -> Drawing:
    """Read it as anybody's reader would."""
    return ezdxf.read(io.StringIO(write_dxf(sheet)))


@pytest.mark.parametrize(("brief", "lite"), ALL)
def test_the_file_is_clean_and_in_mm(brief: Brief, lite: Lite) -> None:
    document = read(cut_file(brief, lite))
    audit = document.audit()
    assert not audit.errors
    assert not audit.fixes
    assert document.dxfversion == "AC1024"  # R2010
    assert document.header["$INSUNITS"] == 4  # mm


@pytest.mark.parametrize(("brief", "lite"), ALL)
def test_every_square_corner_of_the_plan_is_cut_where_it_is(brief: Brief, lite: Lite) -> None:
    document = read(cut_file(brief, lite))
    (edge,) = document.modelspace().query("LWPOLYLINE[layer=='OUTLINE']")
    assert isinstance(edge, LWPolyline)
    assert edge.closed
    cut = [(x, y) for x, y, _ in edge.get_points("xyb")]
    inner = {p for n in lite.notches for p in n.corners}
    for corner in lite.outline:
        if not any(math.dist(corner, p) < TOUCH for p in inner):
            assert min(math.dist(corner, p) for p in cut) < TOUCH


@pytest.mark.parametrize(("brief", "lite"), ALL)
def test_holes_are_circles_of_the_plan(brief: Brief, lite: Lite) -> None:
    circles = read(cut_file(brief, lite)).modelspace().query("CIRCLE[layer=='HOLES']")
    found = sorted((c.dxf.center.x, c.dxf.center.y, 2 * c.dxf.radius) for c in circles)
    planned = sorted((*h.centre, h.diameter) for h in lite.holes)
    assert len(found) == len(planned)
    for a, b in zip(found, planned, strict=True):
        assert a == pytest.approx(b, abs=TOUCH)


@pytest.mark.parametrize(("brief", "lite"), ALL)
def test_a_cut_file_holds_the_cut_and_a_label_and_no_dimension(brief: Brief, lite: Lite) -> None:
    space = read(cut_file(brief, lite)).modelspace()
    assert {e.dxftype() for e in space} <= {"LWPOLYLINE", "CIRCLE", "TEXT"}
    label = " ".join(t.dxf.text for t in space.query("TEXT"))
    assert lite.id in label
    assert "version 2" in label
    assert "seen from outside" in label
    assert f"{lite.thickness:g} mm" in label


def test_inside_corners_are_true_arcs_of_the_stated_radius() -> None:
    """A notch of 60 by 40 with two corners of radius 10 is 2 · (1 − π/4) · 10² smaller."""
    course = ((0.0, 0.0), (40.0, 0.0), (40.0, 60.0), (0.0, 60.0))
    points, bulges = rounded(course, {(40.0, 0.0): 10.0, (40.0, 60.0): 10.0})
    area = Polygon(points).area + sum(
        _segment(a, b, bulge)
        for a, b, bulge in zip(points, (*points[1:], points[0]), bulges, strict=True)
    )
    assert area == pytest.approx(60 * 40 - 2 * (1 - math.pi / 4) * 100, abs=1e-9)
    assert [b for b in bulges if b] == pytest.approx([math.tan(math.pi / 8)] * 2)


def _segment(a: tuple[float, float], b: tuple[float, float], bulge: float) -> float:
    """Area between a chord and its arc, + where the arc turns left."""
    angle = 4 * math.atan(bulge)
    radius = math.dist(a, b) / (2 * math.sin(angle / 2)) if bulge else 0.0
    return radius**2 * (angle - math.sin(angle)) / 2 if bulge else 0.0


def test_every_notch_of_a_door_is_rounded_into_the_glass() -> None:
    """Arcs of a cut-out turn right on an edge that runs anticlockwise: they bite into the pane."""
    _, door = lites("narrow")[0]
    _, bulges = cut_path(door)
    arcs = [b for b in bulges if b]
    assert len(arcs) == 2 * len(door.notches)
    assert all(b < 0 for b in arcs)


def test_the_same_pane_gives_the_same_bytes() -> None:
    brief, lite = lites("inch")[0]
    assert write_dxf(cut_file(brief, lite)) == write_dxf(cut_file(brief, lite))


def test_writing_leaves_nothing_in_the_home_folder(tmp_path: Path) -> None:
    """Nor does it hunt for the machine's fonts."""
    kept = {k: v for k, v in os.environ.items() if not k.startswith("XDG_")}
    code = "import hangtrue.paper.dxf"
    subprocess.run([sys.executable, "-c", code], env=kept | {"HOME": str(tmp_path)}, check=True)
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("rake", [step * 0.79375 for step in range(-24, 25)])
@pytest.mark.parametrize("wide", [600.0, 711.2])
def test_cut_outs_in_a_raked_edge_leave_no_spike(rake: float, wide: float) -> None:
    """A blank of four corners with two notches has twelve, each where it was given."""
    foot, head = (max(0.0, -rake), 0.0), (max(0.0, rake), 1917.7)
    blank = (foot, (foot[0] + wide, 0.0), (foot[0] + wide, 1917.7), head)
    notches = [_square_to(foot, head, y) for y in (254.0, 1663.7)]
    edge = less(blank, notches)
    assert sorted(edge) == sorted((*blank, *(p for notch in notches for p in notch)))


def _square_to(foot: Point, head: Point, y: float) -> Outline:
    """Notch of 63.5 by 41.275 square to the edge from foot to head, about the height y."""
    long = math.dist(foot, head)
    up = ((head[0] - foot[0]) / long, (head[1] - foot[1]) / long)
    x = at_height(foot, head, y)
    corners = ((0.0, -31.75), (41.275, -31.75), (41.275, 31.75), (0.0, 31.75))
    return tuple((x + up[1] * d + up[0] * a, y - up[0] * d + up[1] * a) for d, a in corners)
