"""The packet read back: pages, title blocks, bands and figures, as a reader would find them."""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import replace

import pdfplumber
import pytest
from pdfplumber.pdf import PDF

from hangtrue.paper.contents import document
from hangtrue.paper.frame import unprintable
from hangtrue.paper.pdf import pdf
from hangtrue.paper.scene import Circle, Sheet, Text
from hangtrue.plan import Plan
from tests.unit import packet_plans as plans

MM = 72 / 25.4
"""Points to the mm."""
PAPERS = {"letter": (215.9, 279.4), "a4": (210.0, 297.0)}
"""ANSI/ASME Y14.1 sheet A and ISO 216 A4, mm."""
NAMES = ("opening", "plan", "elevation", "gaps", "pane-door", "pane-fixed-1")


def sheet(name: str, width: float = 180.0, height: float = 150.0) -> Sheet:
    return Sheet(
        name=name,
        width=width,
        height=height,
        title=name.capitalize(),
        description="A drawing.",
        primitives=(
            Text(at=(10.0, 10.0), words=f"drawing of the {name}"),
            Text(at=(10.0, 4.0), words="seen from outside, scale 1:12"),
            Circle(centre=(90.0, 75.0), radius=50.0, layer="outline"),
        ),
        scale="1:12",
    )


SHEETS = tuple((name, sheet(name)) for name in NAMES)


def packet(plan: Plan, sheets: Sequence[tuple[str, Sheet]] = SHEETS) -> PDF:
    return pdfplumber.open(io.BytesIO(pdf(document(plan, sheets))))


def texts(plan: Plan, sheets: Sequence[tuple[str, Sheet]] = SHEETS) -> list[str]:
    with packet(plan, sheets) as read:
        return [page.extract_text() for page in read.pages]


@pytest.mark.parametrize("paper", PAPERS)
def test_every_page_has_the_profiles_paper(paper: str) -> None:
    width, height = PAPERS[paper]
    with packet(plans.plan(plans.GOOD, paper=paper)) as read:
        for page in read.pages:
            assert page.width / MM == pytest.approx(width, abs=0.01)
            assert page.height / MM == pytest.approx(height, abs=0.01)


def test_every_sheet_carries_the_whole_title_block() -> None:
    pages = texts(plans.plan(plans.HOLLOW, plans.QUESTION))
    for number, text in enumerate(pages, 1):
        for field in (
            "Seaside lodge refit · lodge-gull",
            "Gull room, first floor",
            "2026-05-04",
            f"{number} of {len(pages)}",
            "Ines",
            "Checked by (sign)",
        ):
            assert field in text


def test_a_drawing_stands_at_its_own_size() -> None:
    """The circle is 100 mm across on the sheet, so it is on the page."""
    with packet(plans.plan(plans.GOOD)) as read:
        page = next(p for p in read.pages if "drawing of the plan" in p.extract_text())
        assert "1:12" in page.extract_text()
        assert page.curves[0]["width"] / MM == pytest.approx(100.0, abs=0.2)


def test_a_drawing_that_had_to_shrink_claims_no_scale() -> None:
    tall = tuple((name, sheet(name, height=400.0)) for name in NAMES)
    assert "1:12" not in "".join(texts(plans.plan(plans.GOOD), tall))


def test_the_drawing_of_the_first_page_says_that_it_is_not_to_scale() -> None:
    first = texts(plans.plan(plans.GOOD))[0]
    assert "not to scale" in first
    assert "1:12" not in first


def test_nothing_stands_outside_the_margins() -> None:
    with packet(plans.plan(plans.HOLLOW, plans.HEAVY, plans.QUESTION, plans.GOOD)) as read:
        for page in read.pages:
            for char in page.chars:
                assert char["x0"] >= 12 * MM
                assert char["x1"] <= page.width - 12 * MM
                assert char["bottom"] <= page.height - 8 * MM


def test_the_whole_packet_can_be_searched_and_is_tagged() -> None:
    with packet(plans.plan(plans.GOOD)) as read:
        assert read.metadata["Title"] == "Seaside lodge refit, Gull room, first floor, version 2"
        catalog = read.doc.catalog
        assert catalog["MarkInfo"]["Marked"] is True
        assert "StructTreeRoot" in catalog


@pytest.mark.parametrize(
    ("plan", "words"),
    [
        (plans.plan(plans.HOLLOW), "DO NOT ORDER"),
        (plans.plan(plans.DISAGREE, alarm=True), "DO NOT ORDER"),
        (plans.plan(plans.QUESTION), "HOLD"),
    ],
)
def test_every_sheet_with_sizes_says_that_glass_is_not_to_be_ordered(
    plan: Plan, words: str
) -> None:
    shown = ("28-3/8", "drawing of the elevation", "drawing of the gaps", "As drawn")
    banded = [text for text in texts(plan) if any(words in text for words in shown)]
    assert len(banded) >= 3
    assert all(words in text for text in banded)


def test_what_goes_has_no_band() -> None:
    said = "".join(texts(plans.plan(plans.GOOD)))
    assert "DO NOT ORDER" not in said
    assert "HOLD" not in said


def test_contradicting_readings_get_no_pane_sheet() -> None:
    assert not any(
        "drawing of the pane" in t for t in texts(plans.plan(plans.DISAGREE, alarm=True))
    )
    assert any("drawing of the pane" in t for t in texts(plans.plan(plans.HOLLOW)))


def test_no_fit_gets_a_packet_that_says_why() -> None:
    plan = plans.plan(plans.QUESTION, made=plans.NO_FIT)
    pages = texts(plan, [("opening", sheet("opening"))])
    assert "leans in more than the hinges can take up" in pages[0]
    assert "1/4 in is missing" in pages[0]


def test_the_same_plan_gives_the_same_bytes() -> None:
    plan = plans.plan(plans.GOOD)
    assert pdf(document(plan, SHEETS)) == pdf(document(plan, SHEETS))


def test_what_a_user_wrote_is_never_markup() -> None:
    nasty = '#panic("x") *b* $x$ #read("/etc/passwd") \\ ` <a> //'
    pages = texts(plans.plan(plans.GOOD, room=nasty[:40], title="#import"))
    assert '#panic("x") *b* $x$' in pages[0]


def test_a_long_name_is_cut_to_its_field_and_not_over_the_next() -> None:
    with packet(plans.plan(plans.GOOD, made_by="Maximiliane von und zu " * 4)) as read:
        page = read.pages[0]
        found = page.search("Checked by")[0]
        typed = page.search("Maximil")[-1]
        assert typed["x1"] <= found["x0"]


def test_letters_that_the_font_lacks_are_printed_as_question_marks_and_named() -> None:
    plan = plans.plan(plans.GOOD, made_by="\u5c71\u7530")
    assert unprintable(document(plan, SHEETS)) == ("\u5c71", "\u7530")
    first = texts(plan)[0]
    assert "??" in first
    assert "U+5C71" in first


def test_long_cures_make_the_drawing_smaller_and_not_a_second_page() -> None:
    wordy = [
        replace(plans.QUESTION, rule=f"r{i}", where=f"wall {i}", do="Find out what is there. " * 14)
        for i in range(3)
    ]
    pages = texts(plans.plan(*wordy))
    assert "drawing of the elevation" in pages[0]
    assert "Opening as measured" in pages[1]


def test_a_long_list_runs_on_with_its_head_and_title_block() -> None:
    many = [
        replace(plans.QUESTION, rule=f"r{i}", found=f"Nobody has looked at place {i}.")
        for i in range(60)
    ]
    pages = [t for t in texts(plans.plan(*many)) if "Found, what it means" in t]
    assert len(pages) >= 2
    assert all("Findings, worst first" in page for page in pages)


def test_a_word_without_end_stays_in_its_column() -> None:
    endless = replace(plans.QUESTION, found="x" * 400, do="y" * 400)
    with packet(plans.plan(endless)) as read:
        for page in read.pages:
            assert max(char["x1"] for char in page.chars) <= page.width - 12 * MM


def test_the_lines_for_notes_end_above_the_title_block() -> None:
    with packet(plans.plan(plans.GOOD)) as read:
        last = read.pages[-1]
        ruled = [e["top"] for e in (*last.lines, *last.rects) if e["x1"] - e["x0"] > 170 * MM]
        words = last.extract_words()
    (block,) = (w for w in words if w["text"] == "Job" and w["top"] > 200 * MM)
    (heading,) = (w for w in words if w["text"] == "Notes")
    assert len([y for y in ruled if heading["bottom"] < y < block["top"] - 2 * MM]) > 3
    assert not [y for y in ruled if block["top"] - 0.5 * MM < y < block["bottom"] + 3 * MM]
