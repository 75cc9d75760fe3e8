"""The work packet read back by other programs: PDF, DXF, workbook, text, calendar."""

from __future__ import annotations

import csv
import io
import math
import re
from dataclasses import replace
from datetime import date, datetime, timedelta
from functools import cache
from pathlib import Path
from typing import Any

import ezdxf
import pdfplumber
import pytest
import zxingcpp
from icalendar import Calendar
from openpyxl import load_workbook

from hangtrue.cli import main
from hangtrue.hang.tiling import MARGIN, pages
from hangtrue.hang.timetable import clock
from hangtrue.job.profile import Language
from hangtrue.job.read import read_job
from hangtrue.paper import qr, work_packet
from hangtrue.paper.language import speaking
from hangtrue.paper.sheets_xlsx import DataList, comma_text, workbook
from hangtrue.paper.template_pages import (
    plotter_sheets,
    slug,
    template_sheet,
    template_sheets,
)
from hangtrue.paper.work_pages import work_document
from hangtrue.paper.work_set import WorkSet, work_set
from hangtrue.plan import Plan, plan
from tests.readable import readable

LODGE = Path(__file__).parent.parent.parent / "examples" / "lodge"
MM = 72 / 25.4
"""Points to the mm."""
PAPER = {"gull": (215.9, 279.4), "tern": (210.0, 297.0)}
"""ANSI/ASME Y14.1 sheet A and ISO 216 A4, mm."""
FIRST = date(2026, 6, 1)


@cache
def planned(name: str) -> Plan:
    brief, problems = read_job(LODGE / f"{name}.yaml")
    assert brief is not None, problems
    return plan(brief)


@cache
def worked(name: str) -> WorkSet:
    return work_set(planned(name))


@cache
def files(name: str) -> dict[str, bytes]:
    return work_packet.contents(planned(name), FIRST)


def one(name: str, ending: str) -> bytes:
    return next(content for path, content in files(name).items() if path.endswith(ending))


# -------------------------------------------------------------------------------------- templates


@pytest.mark.parametrize("name", PAPER)
def test_every_hole_of_every_template_is_on_paper_where_it_is_on_the_wall(name: str) -> None:
    """The PDF measured by another program: rims of the holes, to a tenth of a mm."""
    hanging = worked(name).hanging
    assert hanging is not None
    paper = planned(name).brief.profile.paper
    sheets = [(t, p) for t in hanging.hung.templates for p in pages(t, paper)]
    found = 0
    with pdfplumber.open(io.BytesIO(one(name, "-templates.pdf"))) as read:
        assert len(read.pages) == len(sheets)
        for (template, sheet), page in zip(sheets, read.pages, strict=True):
            rims = [
                (c["x0"] / MM, c["bottom"] / MM, c["x1"] / MM, c["top"] / MM) for c in page.curves
            ]
            for drill in template.drills:
                x, y = sheet.on_paper(drill.centre)
                left, low, right, high = sheet.window
                r = drill.diameter / 2
                within = (
                    left + r < drill.centre[0] < right - r and low + r < drill.centre[1] < high - r
                )
                if not within:
                    continue
                found += 1
                down = page.height / MM - y
                wanted = (x - r, down + r, x + r, down - r)
                assert any(max(map(abs, map(float.__sub__, rim, wanted))) < 0.1 for rim in rims)
    assert found > 5


@pytest.mark.parametrize("name", PAPER)
def test_every_sheet_of_a_template_has_its_paper_and_a_bar_of_four_inches(name: str) -> None:
    with pdfplumber.open(io.BytesIO(one(name, "-templates.pdf"))) as read:
        for page in read.pages:
            size = sorted((page.width / MM, page.height / MM))
            assert size == pytest.approx(sorted(PAPER[name]), abs=0.01)
            lengths = [
                math.hypot(s["x1"] - s["x0"], s["bottom"] - s["top"]) / MM
                for s in (*page.lines, *page.curves)
            ]
            assert any(abs(length - 101.6) < 0.1 for length in lengths)
            words = page.extract_text()
            assert "BACK OF THIS SHEET" in words
            assert "100 mm" in words


@cache
def plotted(name: str) -> bytes:
    """Templates of a job, each on one sheet of a plotter."""
    made = planned(name)
    brief = made.brief.written_in(None, templates="plotter")
    listed = work_packet.contents(replace(made, brief=brief))
    return next(content for path, content in listed.items() if path.endswith("-templates.pdf"))


@pytest.mark.parametrize("name", PAPER)
def test_a_plotter_gets_every_template_in_one_piece(name: str) -> None:
    """One page each, as large as the template with its margin and words; 2 m channels as well."""
    hanging = worked(name).hanging
    assert hanging is not None
    with pdfplumber.open(io.BytesIO(plotted(name))) as read:
        assert len(read.pages) == len(hanging.hung.templates)
        for template, page in zip(hanging.hung.templates, read.pages, strict=True):
            spare = (page.width / MM - template.size[0], page.height / MM - template.size[1])
            assert min(spare) >= 2 * MARGIN - 0.01
            words = page.extract_text()
            assert "BACK OF THIS SHEET" in words
            assert "measure it before use" in words
        assert max(page.height / MM for page in read.pages) > 1500.0


@pytest.mark.parametrize("name", PAPER)
def test_holes_and_lines_on_a_plotter_are_where_they_are_on_the_wall(name: str) -> None:
    """Rims, level lines, plumb lines and bars read back by another program, to a tenth of a mm."""
    hanging = worked(name).hanging
    assert hanging is not None
    with pdfplumber.open(io.BytesIO(plotted(name))) as read:
        for template, page in zip(hanging.hung.templates, read.pages, strict=True):
            foot = page.height / MM - MARGIN
            shown = [
                (s["x0"] / MM, s["x1"] / MM, s["top"] / MM, s["bottom"] / MM)
                for s in (*page.lines, *page.curves)
            ]
            rims = [
                (x - r, x + r, y - r, y + r)
                for d in template.drills
                if (r := d.diameter / 2)
                for x, y in [(d.centre[0] + MARGIN, foot - d.centre[1])]
            ]
            guides = [
                (*sorted((a[0] + MARGIN, b[0] + MARGIN)), *sorted((foot - a[1], foot - b[1])))
                for g in template.lines
                if g.role in ("level", "plumb", "check bar")
                for a, b in [(g.start, g.end)]
            ]
            assert guides
            for wanted in (*rims, *guides):
                off = (max(map(abs, map(float.__sub__, s, wanted))) for s in shown)
                assert min(off) < 0.1, (template.id, wanted)


def test_the_check_diagonal_is_as_long_as_it_says() -> None:
    """By Pythagoras, on a template that has room on one sheet: both its ends are drawn."""
    with pdfplumber.open(io.BytesIO(one("gull", "-templates.pdf"))) as read:
        page = read.pages[0]
        text = page.extract_text().split("diagonal ")[1]
        said = float(text.split("(")[1].split(" mm")[0])
        ends = [
            (s["x0"] / MM, s["top"] / MM, s["x1"] / MM, s["bottom"] / MM)
            for s in (*page.lines, *page.curves)
            if 11.0 < math.hypot(s["x1"] - s["x0"], s["bottom"] - s["top"]) / MM < 13.0
            and min(s["x1"] - s["x0"], s["bottom"] - s["top"]) > 1.0
        ]
    longest = max(math.hypot(b[2] - a[0], b[1] - a[3]) for a in ends for b in ends)
    assert longest == pytest.approx(said, abs=0.1)


def test_a_job_in_inches_says_no_length_in_mm_alone() -> None:
    """Only gasket and filler are sold by the mm."""
    with pdfplumber.open(io.BytesIO(one("gull", "-work.pdf"))) as read:
        text = "\n".join(page.extract_text() for page in read.pages)
    assert re.search(r"Thickness 3/8 in \(10 mm\)", text)
    alone = re.findall(r"(?<![(\d.])(\d+(?:\.\d+)?) mm\b", re.sub(r"\([^)]*\)", "()", text))
    assert set(alone) <= {"1", "2"}


def test_the_hand_over_has_its_dates_where_the_day_is_known() -> None:
    """Six weeks and a year, as in the calendar (common practice, no source)."""
    found = work_set(planned("gull"), date(2026, 6, 1))
    assert found.hanging
    assert found.hanging.handover.tighten_on == (date(2026, 7, 13), date(2027, 6, 1))
    assert found.hanging.handover.no_water_before is not None
    sheets = [page for page in work_document(found, dated=True).pages if page.title == "Hand-over"]
    said = str(sheets[0].blocks)
    assert "On: 2026-07-13 and 2027-06-01" in said
    assert "No water before: 2026-06-02" in said


@pytest.mark.parametrize("name", ["gull", "dunlin", "skua"])
def test_first_water_is_the_same_on_the_time_sheet_the_hand_over_and_the_calendar(
    name: str,
) -> None:
    found = work_set(planned(name), FIRST)
    assert found.hanging
    shower = found.hanging.times[1].shower
    assert shower is not None
    day, hour, minute = clock(shower)
    said = f"{FIRST + timedelta(days=day - 1)} {hour:02d}:{minute:02d}"
    assert f"{found.hanging.handover.no_water_before:%Y-%m-%d %H:%M}" == said
    calendar: Any = Calendar.from_ical(one(name, ".ics"))
    starts = {str(e["SUMMARY"]).split(":")[0]: e["DTSTART"].dt for e in calendar.walk("VEVENT")}
    assert f"{starts['First water, not before']:%Y-%m-%d %H:%M}" == said


def test_the_dxf_of_a_template_holds_its_holes_at_true_size() -> None:
    hanging = worked("gull").hanging
    assert hanging is not None
    for template in hanging.hung.templates:
        text = one("gull", f"-{slug(template.id)}.dxf").decode()
        circles = ezdxf.read(io.StringIO(text)).modelspace().query('CIRCLE[layer=="HOLES"]')
        made = sorted((c.dxf.center.x, c.dxf.center.y, c.dxf.radius) for c in circles)
        wanted = sorted((*d.centre, d.diameter / 2) for d in template.drills)
        assert len(made) == len(wanted)
        for a, b in zip(made, wanted, strict=True):
            assert a == pytest.approx(b, abs=1e-6)


def test_a_whole_template_lies_within_its_sheet() -> None:
    hanging = worked("tern").hanging
    assert hanging is not None
    for template in hanging.hung.templates:
        sheet = template_sheet(template)
        assert (sheet.width, sheet.height) == template.size


# ------------------------------------------------------------------------------------------ sheets


def test_every_work_sheet_carries_job_version_and_its_number() -> None:
    with pdfplumber.open(io.BytesIO(one("gull", "-work.pdf"))) as read:
        count = len(read.pages)
        for number, page in enumerate(read.pages, 1):
            words = page.extract_text()
            assert "lodge-gull" in words
            assert f"{number} of {count}" in words
            dots = [s for s in (*page.lines, *page.curves, *page.rects) if s["top"] / MM > 240]
            assert dots


def test_a_receiving_list_is_not_broken_over_two_sheets() -> None:
    with pdfplumber.open(io.BytesIO(one("petrel", "-work.pdf"))) as read:
        sheets = [page.extract_text() for page in read.pages]
    lists = [s for s in sheets if "Width at the bottom" in s or "Received by" in s]
    assert sum(s.count("Received by") for s in lists) == 3
    assert all(s.count("Width at the bottom") == s.count("Received by") for s in lists)


def test_cautions_of_drilling_stand_on_the_sheet_that_is_drilled_by() -> None:
    found = worked("gull")
    page = next(p for p in work_document(found).pages if p.title == "Drilling plan: walls")
    said = {block.text for block in page.blocks if block.kind == "caution"}
    assert {found.caution("pipes"), found.caution("silica"), found.caution("wet")} <= said


def test_every_caution_of_a_step_is_printed_at_it_or_at_the_step_before() -> None:
    found = worked("gull")
    hanging = found.hanging
    assert hanging is not None
    page = next(p for p in work_document(found).pages if p.title == "Steps, in order")
    rows = next(block.rows for block in page.blocks if block.kind == "table")
    seen: set[str] = set()
    for step, row in zip(hanging.steps, rows, strict=True):
        cell = row[1]
        assert not isinstance(cell, str)
        seen |= set(cell.warned)
        assert {found.caution(name) for name in step.cautions} - {""} <= seen


def test_where_nothing_may_be_hung_nothing_is_there_to_order_or_drill_by() -> None:
    stopped = next(
        found
        for name in ("skua", "heron", "dunlin", "curlew", "plover", "wren", "sandpiper")
        if (found := planned(name)).verdict.stops
    )
    names = work_packet.contents(stopped, FIRST)
    assert not any(n.endswith((".dxf", "-templates.pdf", ".ics")) for n in names)
    titles = {page.title for page in work_document(work_set(stopped)).pages}
    measured = {"Measuring sheet", "Where each reading is taken"}
    assert titles == {"Work packet", "For builder and tiler", "Ready to measure"} | measured


# ------------------------------------------------------------------------------------------- lists


def test_the_square_of_every_sheet_is_read_by_another_program_as_job_and_version() -> None:
    """Printed at 200 dots to the inch and read from the picture of the sheet."""
    with pdfplumber.open(io.BytesIO(one("gull", "-work.pdf"))) as read:
        for page in (read.pages[0], read.pages[-1]):
            found = zxingcpp.read_barcodes(page.to_image(resolution=200).original)
            assert [square.text for square in found] == [qr.said("lodge-gull", 2)]


def test_text_that_begins_like_a_formula_stays_text_in_every_list() -> None:
    evil = DataList(name="x", title="X", heads=("a", "b"), rows=(("=1+1", 2.5), ("+cmd", "-3")))
    sheet = load_workbook(io.BytesIO(workbook((evil,), "job"))).worksheets[0]
    assert [c.data_type for c in sheet[3]] == ["s", "n"]
    assert sheet["A3"].value == "=1+1"
    rows = list(csv.reader(io.StringIO(comma_text(evil).decode("utf-8-sig"))))
    assert rows[1:] == [["'=1+1", "2.5"], ["'+cmd", "'-3"]]


def test_workbook_and_text_hold_the_same_rows() -> None:
    book = load_workbook(io.BytesIO(one("gull", "-lists.xlsx")))
    assert len(book.sheetnames) == sum(n.endswith(".csv") for n in files("gull"))
    for sheet in book.worksheets:
        text = one("gull", f"-{slug(sheet.title)}.csv").decode("utf-8-sig")
        rows = list(csv.reader(io.StringIO(text)))
        values = [
            ["" if v is None else v for v in row]
            for row in sheet.iter_rows(min_row=2, values_only=True)
        ]
        assert len(rows) == len(values)
        for a, b in zip(rows[1:], values[1:], strict=True):
            for said, value in zip(a, b, strict=True):
                assert (
                    (float(said) == value)
                    if isinstance(value, float | int)
                    else (said.lstrip("'") == str(value).lstrip("'"))
                )


def test_holes_in_the_workbook_are_those_of_the_plan() -> None:
    hanging = worked("gull").hanging
    assert hanging is not None
    sheet = load_workbook(io.BytesIO(one("gull", "-lists.xlsx")))["holes"]
    rows = {row[0]: row for row in sheet.iter_rows(min_row=3, values_only=True)}
    for hole in hanging.hung.drilling.holes:
        height = rows[hole.id][3]
        assert isinstance(height, float | int)
        assert height * 25.4 == pytest.approx(hole.height.value, abs=0.02)


def test_visits_begin_on_the_day_that_was_named_and_water_waits_for_the_cure() -> None:
    hanging = worked("gull").hanging
    assert hanging is not None
    events: Any = Calendar.from_ical(one("gull", ".ics")).walk("VEVENT")
    starts = {str(e["SUMMARY"]).split(":")[0]: e["DTSTART"].dt for e in events}
    ends = {str(e["SUMMARY"]).split(":")[0]: e["DTEND"].dt for e in events}
    work, water = ends["Hang the glass"], starts["First water, not before"]
    assert starts["Hang the glass"].date() == FIRST
    assert isinstance(work, datetime)
    assert (water - work).total_seconds() / 3600 >= min(24.0, hanging.cure.water_hours) - 1.0
    assert len({str(e["UID"]) for e in events}) == len(events)


def test_without_a_day_there_is_no_calendar_and_the_first_sheet_says_so() -> None:
    assert not any(n.endswith(".ics") for n in work_packet.contents(planned("gull")))
    first = work_document(worked("gull")).pages[0]
    assert any(b.kind == "text" and "no calendar" in b.text for b in first.blocks)


def test_the_same_job_and_version_give_the_same_bytes() -> None:
    assert work_packet.contents(planned("tern"), FIRST) == files("tern")


def test_a_folder_that_holds_something_else_is_left_alone(tmp_path: Path) -> None:
    out = tmp_path / "out"
    written = work_packet.write_work(planned("gull"), out, FIRST)
    assert len(written) == len(files("gull"))
    work_packet.write_work(planned("gull"), out, FIRST)
    (out / "letter.txt").write_text("mine", encoding="utf-8")
    with pytest.raises(FileExistsError):
        work_packet.write_work(planned("gull"), out, FIRST)
    assert (out / "letter.txt").read_text(encoding="utf-8") == "mine"


def test_the_command_says_what_it_wrote_and_ends_with_what_may_be_done(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["work", str(LODGE / "gull.yaml"), "--out", str(tmp_path / "gull")]) == 0
    assert "No calendar" in capsys.readouterr().out
    assert main(["work", str(LODGE / "heron.yaml"), "--out", str(tmp_path / "heron")]) == 1
    assert "before measuring" in capsys.readouterr().out
    wrong = tmp_path / "wrong.yaml"
    wrong.write_text("hangtrue: 1", encoding="utf-8")
    assert main(["work", str(wrong), "--out", str(tmp_path / "wrong")]) == 2
    assert not (tmp_path / "wrong").exists()


@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize("name", PAPER)
def test_templates_can_be_read_in_either_language(name: str, language: Language) -> None:
    """Words on no other words and on no line, nothing off the sheet, tiled and in one piece."""
    found = worked(name)
    assert found.hanging is not None
    listed, paper = found.hanging.hung.templates, found.plan.brief.profile.paper
    with speaking(language):
        tiled = template_sheets(listed, paper, found.units, "lodge")
        whole = plotter_sheets(listed, found.units, "lodge")
    for sheet in (*tiled, *whole):
        readable(sheet)


def test_the_command_writes_templates_for_a_plotter(tmp_path: Path) -> None:
    job = str(LODGE / "gull.yaml")
    assert main(["work", job, "--out", str(tmp_path / "gull"), "--templates", "plotter"]) == 0
    hanging = worked("gull").hanging
    assert hanging is not None
    (path,) = (tmp_path / "gull").glob("*-templates.pdf")
    with pdfplumber.open(path) as read:
        assert len(read.pages) == len(hanging.hung.templates)
