"""The folder: whole or not at all, the same bytes again, and one set of numbers in every file."""

from __future__ import annotations

import io
import json
from dataclasses import replace
from functools import cache
from pathlib import Path

import ezdxf
import pdfplumber
import pytest
from ezdxf.entities import LWPolyline
from pdfplumber.page import Page

from hangtrue.fit.enclosure import Enclosure
from hangtrue.job.read import read_job
from hangtrue.paper import packet
from hangtrue.paper.drawn_pages import pane_name
from hangtrue.paper.lengths import units_of
from hangtrue.paper.packet import contents, file_stem, write_packet
from hangtrue.plan import Plan, plan

LODGE = Path(__file__).parents[2] / "examples" / "lodge"


def planned(name: str) -> Plan:
    brief, _ = read_job(LODGE / f"{name}.yaml")
    assert brief is not None
    return plan(brief)


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
PLANS = {name: planned(name) for name in JOBS}
ALL = pytest.mark.parametrize("name", PLANS)
MM = 72 / 25.4
"""Points to the mm."""


@ALL
def test_every_job_of_the_lodge_gets_a_packet_and_its_data(name: str, tmp_path: Path) -> None:
    made = PLANS[name]
    names = [file.name for file in write_packet(made, (), tmp_path / "out")]
    assert f"{file_stem(made)}-packet.pdf" in names
    assert f"{file_stem(made)}-plan.json" in names
    assert all(file.startswith(file_stem(made)) for file in names)
    assert [p.name for p in tmp_path.iterdir()] == ["out"]


@ALL
def test_cut_files_exist_only_where_glass_may_be_ordered(name: str) -> None:
    made, way = PLANS[name], PLANS[name].best.alternative
    cut = [file for file in files_of(name) if file.startswith("panes/") or "-pane-" in file]
    if made.verdict.stops:
        assert cut == []
    elif way.choice.cut == "boxed":
        assert not any(file.endswith(".dxf") for file in cut)
    else:
        assert isinstance(way.made, Enclosure)
        assert len(cut) == 2 * len(way.made.lites)


@ALL
def test_the_same_job_gives_the_same_bytes(name: str) -> None:
    assert contents(planned(name)) == files_of(name)


@pytest.mark.parametrize("name", ["curlew", "heron", "petrel", "tern"])
def test_no_page_of_a_real_job_runs_out_of_its_margins(name: str) -> None:
    with pdfplumber.open(io.BytesIO(pdf_of(name))) as read:
        for page in read.pages:
            words = page.extract_words()
            assert max(w["x1"] for w in words) <= page.width - 11.9 * MM
            assert max(w["bottom"] for w in words) <= page.height - 8 * MM
        assert "Opening as measured" in read.pages[1].extract_text()


def test_pdf_svg_dxf_and_json_tell_the_same_sizes() -> None:
    made, files = PLANS["gull"], files_of("gull")
    stem, units = file_stem(made), units_of(made.brief)
    panes = json.loads(files[f"{stem}-plan.json"])["best"]["made"]["panes"]
    enclosure = made.best.alternative.made
    assert isinstance(enclosure, Enclosure)
    with pdfplumber.open(io.BytesIO(pdf_of("gull"))) as read:
        pages = [page.extract_text() + upward(page) for page in read.pages[:8]]
    for lite, pane in zip(enclosure.lites, panes, strict=True):
        name = pane_name(lite)
        svg = files[f"drawings/{stem}-{name}.svg"].decode()
        sheet = next(t for t in pages if f"Pane: {lite.id}" in t)
        for key in ("width_bottom", "width_top", "height_left", "height_right"):
            written = units.alone.figure(pane[key])
            assert f">{written}<" in svg
            assert written in sheet
            assert written in pages[0]
        far = tuple(max(point[axis] for point in pane["outline"]) for axis in (0, 1))
        assert extent(files[f"panes/{stem}-{name}.dxf"]) == pytest.approx(far, abs=1e-3)


def upward(page: Page) -> str:
    """Text that is read from the right; the reader of PDFs takes it apart, the file does not."""
    return "".join(char["text"] for char in page.chars if char["matrix"][1])


def extent(dxf: bytes) -> tuple[float, float]:
    """Width and height of everything on the layer of the outline."""
    document = ezdxf.read(io.StringIO(dxf.decode()))
    assert document.audit().errors == []
    points = [
        point
        for entity in document.modelspace().query("LWPOLYLINE")
        if isinstance(entity, LWPolyline) and entity.dxf.layer == "OUTLINE"
        for point in entity.get_points("xy")
    ]
    xs, ys = zip(*points, strict=True)
    return max(xs) - min(xs), max(ys) - min(ys)


def test_a_packet_replaces_the_one_before_it(tmp_path: Path) -> None:
    out = tmp_path / "out"
    write_packet(PLANS["gull"], (), out)
    files = write_packet(PLANS["heron"], (), out)
    assert all("heron" in f.name for f in files)


def test_a_folder_with_other_files_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "job.yaml").write_text("mine")
    with pytest.raises(FileExistsError, match="no packet"):
        write_packet(PLANS["heron"], (), tmp_path)
    assert [p.name for p in tmp_path.iterdir()] == ["job.yaml"]


def test_nothing_is_written_when_something_breaks(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object) -> bytes:
        raise OSError("no paper")

    monkeypatch.setattr(packet, "pdf", broken)
    with pytest.raises(OSError, match="no paper"):
        write_packet(PLANS["heron"], (), tmp_path / "out")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("job_id", "stem"),
    [("Lodge / Gull", "lodge-gull-v2"), ("../../etc", "etc-v2"), ("\u5c71", "job-v2")],
)
def test_a_job_id_makes_a_harmless_file_name(job_id: str, stem: str) -> None:
    made = PLANS["gull"]
    head = made.brief.job.job.model_copy(update={"id": job_id})
    job = made.brief.job.model_copy(update={"job": head})
    assert file_stem(replace(made, brief=replace(made.brief, job=job))) == stem


@cache
def files_of(name: str) -> dict[str, bytes]:
    return contents(PLANS[name])


def pdf_of(name: str) -> bytes:
    return files_of(name)[f"{file_stem(PLANS[name])}-packet.pdf"]


@ALL
def test_every_drawing_that_leaves_the_packet_says_its_version(name: str) -> None:
    head = PLANS[name].brief.job.job
    for file, content in files_of(name).items():
        if file.endswith(".svg"):
            said = content.decode()
            assert head.id in said, file
            assert f"version {head.version}" in said, file


@ALL
def test_every_sheet_says_its_version_in_the_title_block(name: str) -> None:
    head = PLANS[name].brief.job.job
    with pdfplumber.open(io.BytesIO(pdf_of(name))) as read:
        for page in read.pages:
            foot = page.crop((0, page.height - 32 * MM, page.width, page.height)).extract_text()
            assert "Version" in foot
            assert f"\n{head.version} {head.date}" in foot


@ALL
def test_lists_follow_one_another_and_leave_no_sheet_nearly_empty(name: str) -> None:
    """Of the sheets of lists only the last may be short; it begins no list of its own."""
    with pdfplumber.open(io.BytesIO(pdf_of(name))) as read:
        pages = list(read.pages)
        first = next(i for i, p in enumerate(pages) if "Findings, worst first" in p.extract_text())
        for page in pages[first:-1]:
            body = [
                w["bottom"] for w in page.extract_words() if w["bottom"] < page.height - 32 * MM
            ]
            assert max(body) > page.height / 2
