"""Cut files of the lodge, read tag by tag without any drawing library, are the panes of the plan.

The reader below knows nothing but the layout of a DXF file: a group code on one line, its value on
the next (Autodesk, DXF Reference, chapter "DXF Formatting"; from memory). Rounded inside corners
are put back to sharp ones by the tangents of their arcs, then every corner is compared.
"""

from __future__ import annotations

import math
import os
import subprocess
import sys
from collections.abc import Iterator
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest
from shapely import Point as Point2
from shapely import Polygon

from hangtrue.fit.enclosure import Enclosure, Lite
from hangtrue.geometry import Point
from hangtrue.job.read import read_job
from hangtrue.paper.dxf import pane_dxf
from hangtrue.plan import Plan, plan

LODGE = Path(__file__).parents[2] / "examples" / "lodge"
ROOMS = ("gull", "tern", "petrel", "curlew", "dunlin", "sandpiper", "skua")
TOUCH = 1e-6
Vertex = tuple[float, float, float]


@cache
def planned(room: str) -> Plan:
    brief, _ = read_job(LODGE / f"{room}.yaml")
    assert brief is not None
    return plan(brief)


def panes() -> Iterator[tuple[str, Lite]]:
    for room in ROOMS:
        made = planned(room).best.alternative.made
        assert isinstance(made, Enclosure)
        yield from ((room, lite) for lite in made.lites)


def tags(room: str, lite: Lite) -> list[tuple[int, str]]:
    lines = pane_dxf(planned(room), lite).decode("utf-8").splitlines()
    return [(int(code), value.strip()) for code, value in zip(lines[::2], lines[1::2], strict=True)]


def outline(found: list[tuple[int, str]]) -> list[Vertex]:
    """Vertices (x, y, bulge) of the one closed polyline on the layer OUTLINE."""
    starts = [i for i, tag in enumerate(found) if tag == (0, "LWPOLYLINE")]
    bodies = []
    for start in starts:
        end = next(i for i in range(start + 1, len(found)) if found[i][0] == 0)
        bodies.append(found[start + 1 : end])
    (body,) = [b for b in bodies if (8, "OUTLINE") in b]
    assert (70, "1") in body, "it must be closed"
    vertices: list[list[float]] = []
    for code, value in body:
        if code == 10:
            vertices.append([float(value), 0.0, 0.0])
        elif code == 20:
            vertices[-1][1] = float(value)
        elif code == 42:
            vertices[-1][2] = float(value)
    return [(x, y, bulge) for x, y, bulge in vertices]


def sharp(vertices: list[Vertex]) -> list[Point]:
    """Vertices with the crossing of its end tangents put in for every arc; arc ends stay."""
    corners: list[Point] = []
    for (x0, y0, bulge), (x1, y1, _) in pairwise([*vertices, vertices[0]]):
        corners.append((x0, y0))
        if bulge:
            # an end tangent leaves the chord by half of the arc's angle, 2 atan(bulge)
            turn, chord = 2 * math.atan(bulge), math.atan2(y1 - y0, x1 - x0)
            reach = math.dist((x0, y0), (x1, y1)) / (2 * math.cos(turn))
            corners.append(
                (x0 + reach * math.cos(chord - turn), y0 + reach * math.sin(chord - turn))
            )
    return corners


@pytest.mark.parametrize(
    ("room", "lite"), [pytest.param(r, p, id=f"{r}-{p.id}") for r, p in panes()]
)
def test_a_plain_reader_finds_the_pane_of_the_plan(room: str, lite: Lite) -> None:
    """Every corner to a millionth of a millimetre, and nothing beside its edge."""
    corners, pane = sharp(outline(tags(room, lite))), Polygon(lite.outline)
    for corner in lite.outline:
        assert min(math.dist(corner, c) for c in corners) < TOUCH
    assert max(pane.exterior.distance(Point2(c)) for c in corners) < TOUCH
    assert Polygon(corners).area == pytest.approx(pane.area, abs=1e-3)


@pytest.mark.parametrize(
    ("room", "lite"), [pytest.param(r, p, id=f"{r}-{p.id}") for r, p in panes()]
)
def test_a_plain_reader_finds_the_holes_of_the_plan(room: str, lite: Lite) -> None:
    found = tags(room, lite)
    circles = []
    for i, tag in enumerate(found):
        if tag == (0, "CIRCLE"):
            end = next(k for k in range(i + 1, len(found)) if found[k][0] == 0)
            body = dict(found[i + 1 : end])
            circles.append((float(body[10]), float(body[20]), 2 * float(body[40])))
    planned_holes = sorted((*hole.centre, hole.diameter) for hole in lite.holes)
    assert len(circles) == len(planned_holes)
    for circle, hole in zip(sorted(circles), planned_holes, strict=True):
        assert circle == pytest.approx(hole, abs=TOUCH)


CUT = """
import hashlib, sys
from pathlib import Path
from hangtrue.job.read import read_job
from hangtrue.paper.dxf import pane_dxf
from hangtrue.plan import plan
made = plan(read_job(Path(sys.argv[1]))[0])
for lite in made.best.alternative.made.lites:
    print(hashlib.sha256(pane_dxf(made, lite)).hexdigest())
"""


def test_a_cut_file_is_the_same_in_every_process() -> None:
    """Whatever order the process keeps its sets in: the same job gives the same bytes."""
    said = {
        subprocess.run(
            [sys.executable, "-c", CUT, str(LODGE / "petrel.yaml")],
            env={**os.environ, "PYTHONHASHSEED": seed},
            check=True,
            capture_output=True,
        ).stdout
        for seed in ("1", "2", "3", "4", "5")
    }
    assert len(said) == 1
