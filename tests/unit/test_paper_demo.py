"""The drawings of the lodge, planned from its job documents, can be read like the made-up ones."""

from __future__ import annotations

import io
from functools import cache
from itertools import combinations
from pathlib import Path as Folder

import ezdxf
import pytest
from shapely import LineString, box

from hangtrue.fit.enclosure import Enclosure
from hangtrue.job.read import read_job
from hangtrue.paper import lettering
from hangtrue.paper.dimensions import drawn
from hangtrue.paper.drawings import drawings
from hangtrue.paper.dxf import pane_dxf
from hangtrue.paper.labels import course
from hangtrue.paper.scene import Hatch, Line, Path, Sheet, Text
from hangtrue.paper.svg import write_svg
from hangtrue.plan import Plan, plan

LODGE = Folder(__file__).parents[2] / "examples" / "lodge"
JOBS = (
    "curlew",
    "dunlin",
    "gull",
    "heron",
    "petrel",
    "plover",
    "sandpiper",
    "skua",
    "tern",
    "wren",
)
EDGE = 0.01
"""Boxes may touch, mm."""
BLEED = 0.3
"""A letter may touch a line by this much before it is hard to read, mm."""


@cache
def planned(job: str) -> Plan:
    brief, problems = read_job(LODGE / f"{job}.yaml")
    assert brief is not None, problems
    return plan(brief)


def texts(sheet: Sheet) -> list[Text]:
    return [p for p in drawn(sheet.primitives) if isinstance(p, Text)]


@pytest.mark.parametrize("job", JOBS)
def test_no_words_stand_on_other_words_or_off_the_sheet(job: str) -> None:
    for name, sheet in drawings(planned(job)):
        paper = box(0, 0, sheet.width, sheet.height).buffer(EDGE)
        boxes = [(t.words, box(*lettering.box(t)).buffer(-EDGE)) for t in texts(sheet)]
        for words, area in boxes:
            assert paper.contains(area), (name, words)
        for (words, area), (other, beside) in combinations(boxes, 2):
            assert area.disjoint(beside), (name, words, other)


@pytest.mark.parametrize("job", JOBS)
def test_no_line_strikes_words_out_or_leaves_the_sheet(job: str) -> None:
    """Hatching lies behind the picture and is left aside."""
    for name, sheet in drawings(planned(job)):
        paper = box(0, 0, sheet.width, sheet.height).buffer(EDGE)
        plain = [p for p in sheet.primitives if not isinstance(p, Hatch)]
        lines = [_course(p) for p in drawn(plain) if isinstance(p, Line | Path)]
        assert all(paper.contains(line) for line in lines), name
        for text in texts(sheet):
            area = box(*lettering.box(text)).buffer(-BLEED)
            assert not any(line.intersects(area) for line in lines), (name, text.words)


def _course(part: Line | Path) -> LineString:
    """Points of a line; of a filled sign only its first point, for it lies beside words."""
    if isinstance(part, Line):
        return LineString((part.start, part.end))
    points = course(part)
    return LineString(points if part.fill == "none" else (points[0], points[0]))


@pytest.mark.parametrize("job", JOBS)
def test_the_same_job_gives_the_same_drawings(job: str) -> None:
    first = [write_svg(sheet) for _, sheet in drawings(planned(job))]
    planned.cache_clear()
    assert [write_svg(sheet) for _, sheet in drawings(planned(job))] == first


@pytest.mark.parametrize("job", JOBS)
def test_every_plan_has_its_opening_and_every_pane_its_drawing(job: str) -> None:
    names = [name for name, _ in drawings(planned(job))]
    made = planned(job).best.alternative.made
    panes = (
        [lite.id.replace(" ", "-") for lite in made.lites] if isinstance(made, Enclosure) else []
    )
    assert names[0] == "opening"
    assert [name for name in names if name.startswith("pane-")] == [f"pane-{p}" for p in panes]
    assert len(set(names)) == len(names)


@pytest.mark.parametrize("job", JOBS)
def test_every_cut_file_reads_back_clean_with_its_holes(job: str) -> None:
    made = planned(job).best.alternative.made
    for lite in made.lites if isinstance(made, Enclosure) else ():
        document = ezdxf.read(io.StringIO(pane_dxf(planned(job), lite).decode()))
        assert not document.audit().errors
        layers = {layer.dxf.name for layer in document.layers}
        assert {"OUTLINE", "HOLES", "CUTOUTS", "TEXT"} <= layers
        assert len(document.modelspace().query("CIRCLE")) == len(lite.holes)
