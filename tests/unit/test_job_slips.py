"""Sizes that cannot be are refused; those hard to believe are asked about and still used."""

import pytest

from hangtrue.job.problems import any_wrong
from tests.unit.jobs import GOOD, broken, only, read, with_reading


@pytest.mark.parametrize(
    ("text", "field"),
    [
        (with_reading("{what: width, at: 4, value: 0}"), "readings[5].value"),
        (with_reading("{what: width, at: 4, value: -58}"), "readings[5].value"),
        (with_reading("{what: width, at: 4, value: 7 m}"), "readings[5].value"),
        (with_reading("{what: width, at: 400, value: 58}"), "readings[5].at"),
        (
            with_reading("{what: lean, wall: left, from: 0, to: 72, value: 90°}"),
            "readings[5].value",
        ),
        (with_reading("{what: angle, wall: left, value: 9°}"), "readings[5].value"),
        (broken("height: 78", "height: 7.8"), "wanted.height"),
        (broken("width: 4-1/2", "width: 0"), "threshold.width"),
        (broken("depth: 1-1/2", "depth: 0"), "walls.left.blocking[1].depth"),
    ],
)
def test_a_size_that_cannot_be_is_wrong(text: str, field: str) -> None:
    problem = only(text)
    assert problem.field == field
    assert problem.level == "wrong"
    assert "cannot be" in problem.wrong


@pytest.mark.parametrize(
    ("text", "field"),
    [
        (
            with_reading("{what: lean, wall: left, from: 0, to: 72, value: 2-1/2}"),
            "readings[5].value",
        ),
        (with_reading("{what: bow, wall: left, from: 0, to: 72, value: 1}"), "readings[5].value"),
        (broken("height: 78", "height: 50"), "wanted.height"),
        (broken("width: 4-1/2", "width: 14"), "threshold.width"),
        (broken("height: 78", "height: 78\n  handle_height: 60"), "wanted.handle_height"),
    ],
)
def test_a_size_that_is_hard_to_believe_is_asked_about_and_used(text: str, field: str) -> None:
    problem = only(text)
    assert problem.field == field
    assert problem.level == "sure?"
    brief, problems = read(text)
    assert brief
    assert not any_wrong(problems)


def test_a_glass_height_counts_from_the_curb_whatever_the_datum() -> None:
    """A mark one metre above the curb: the same glass, its top 38-5/8 in above the mark."""
    text = with_reading("{what: height, of: curb, at: left, value: -1 m}")
    marked = text.replace("unit: in", "unit: in\ndatum: mark").replace(
        "height: 78", "height: 38-5/8"
    )
    assert read(marked)[1] == ()


ALONE = GOOD.replace("  - {what: width, at: 40, value: 58-7/16}\n", "").replace(
    "  - {what: width, at: 76, value: 58-3/8}\n", ""
)


@pytest.mark.parametrize("width", ["15 in", "130 in"])
def test_an_opening_too_narrow_or_too_wide_to_believe(width: str) -> None:
    problem = only(ALONE.replace("58-1/2", width))
    assert problem.level == "sure?"
    assert "unusual for a width between walls" in problem.wrong


@pytest.mark.parametrize(
    ("typed", "meant"),
    [("148.6 mm", "cm written as mm"), ("58.5 mm", "inches written as mm"), ("1486", "inches")],
)
def test_a_slip_of_unit_is_named(typed: str, meant: str) -> None:
    problem = only(ALONE.replace("58-1/2", typed))
    assert meant in problem.do


def around(widths: list[str]) -> str:
    """Return the good job with these widths, bottom to top."""
    rows = "".join(
        f"  - {{what: width, at: {10 * i}, value: {width}}}\n" for i, width in enumerate(widths)
    )
    return GOOD[: GOOD.index("  - {what: width")] + rows


@pytest.mark.parametrize(
    ("widths", "field", "meant"),
    [
        (["26", "62", "26-1/8"], "readings[2].value", "did you mean 26?"),
        (["58-1/2", "85-1/2", "58-3/8"], "readings[2].value", "did you mean 58-1/2?"),
        (["58-1/2", "58-1/2", "48-1/2"], "readings[3].value", 'did you mean 58-1/2"?'),
        (["1486 mm", "1484 mm", "1684 mm", "1485 mm"], "readings[3].value", "1486 mm?"),
        (["1486 mm", "1386 mm", "1485 mm"], "readings[2].value", "did you mean 1486 mm?"),
        (["58-1/2", "58-1/2", "61"], "readings[3].value", "read it again"),
    ],
)
def test_a_width_far_from_its_companions_is_asked_about(
    widths: list[str], field: str, meant: str
) -> None:
    text = around(widths)
    if "mm" in widths[0]:
        text = text.replace("unit: in", "unit: mm").replace("1-1/2", "38").replace("4-1/2", "114")
        text = text.replace("height: 78", "height: 1980").replace("height: 4,", "height: 100,")
        text = text.replace("to: 80", "to: 2000")
    problem = only(text)
    assert problem.field == field
    assert problem.level == "sure?"
    assert meant in problem.do


@pytest.mark.parametrize("widths", [["58-1/2", "58", "57-1/2"], ["58-1/2", "59-1/2", "58-1/2"]])
def test_what_walls_can_do_is_left_to_the_adjustment(widths: list[str]) -> None:
    """A taper of an inch, or one inch too much in the middle: the leans decide, not a rule."""
    assert read(around(widths))[1] == ()


def test_of_two_widths_that_disagree_one_is_asked_about() -> None:
    assert only(around(["26", "62"])).field == "readings[2].value"
