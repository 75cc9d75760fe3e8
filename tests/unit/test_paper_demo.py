"""The drawings of the lodge, planned from its job documents, can be read like the made-up ones."""

from __future__ import annotations

import io
from functools import cache
from pathlib import Path as Folder

import ezdxf
import pytest

from hangtrue.fit.enclosure import Enclosure
from hangtrue.job.profile import Language
from hangtrue.job.read import read_job
from hangtrue.paper.drawings import drawings
from hangtrue.paper.dxf import pane_dxf
from hangtrue.paper.language import speaking
from hangtrue.paper.svg import write_svg
from hangtrue.plan import Plan, plan
from tests.readable import readable

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


@cache
def planned(job: str) -> Plan:
    brief, problems = read_job(LODGE / f"{job}.yaml")
    assert brief is not None, problems
    return plan(brief)


@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize("job", JOBS)
def test_the_drawings_of_the_lodge_can_be_read(job: str, language: Language) -> None:
    """Words on no other words and on no line, nothing off the sheet; Spanish takes more room."""
    with speaking(language):
        sheets = drawings(planned(job))
    for _, sheet in sheets:
        readable(sheet)


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
