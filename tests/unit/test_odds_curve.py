"""The curve of the odds over a width, as it is drawn: every point where its chance is."""

from __future__ import annotations

import math

import pytest

from hangtrue.odds.sizes import Curve
from hangtrue.paper.drawings.odds_curve import ROOM, odds_curve
from hangtrue.paper.language import speaking, told
from hangtrue.paper.lengths import Units
from hangtrue.paper.scene import Circle, Line, Sheet, Text
from hangtrue.paper.scene import Path as Run
from hangtrue.paper.svg import write_svg

MM = Units(first="mm", both=False, fraction=16)
WIDTHS = tuple(700.0 + k for k in range(-4, 5))
RISKS = (1.0, 0.1, 0.02, 0.01, 0.02, 0.001, 0.001, 0.1, 1.0)


def curve(remake: tuple[float, ...] = RISKS) -> Curve:
    return Curve(pane="door", widths=WIDTHS, remake=remake, chosen=700.0)


def drawn(of: Curve, limit: float = 0.05) -> Sheet:
    return odds_curve(of, limit, MM, "chance-over-width-1")


def points(sheet: Sheet) -> tuple[tuple[float, float], ...]:
    (run,) = (p for p in sheet.primitives if isinstance(p, Run))
    return run.points


def words(sheet: Sheet) -> list[str]:
    return [part.words for part in sheet.primitives if isinstance(part, Text)]


def test_a_tenth_of_the_chance_is_always_as_far_down() -> None:
    """Three powers of ten from top to bottom: common logarithms."""
    left, low, right, high = ROOM
    found = points(drawn(curve()))
    for (x, y), width, risk in zip(found, WIDTHS, RISKS, strict=True):
        assert x == pytest.approx(left + (width - 696.0) / 8.0 * (right - left))
        assert y == pytest.approx(high + math.log10(risk) / 3.0 * (high - low))


def test_the_limit_of_the_shop_is_a_dashed_line_at_its_chance() -> None:
    (line,) = (p for p in drawn(curve()).primitives if isinstance(p, Line) and p.stroke == "dashed")
    _, low, _, high = ROOM
    assert line.start[1] == line.end[1] == pytest.approx(high + math.log10(0.05) / 3 * (high - low))
    assert "the shop's limit: 5 %" in words(drawn(curve()))
    assert not any("limit" in said for said in words(drawn(curve(), limit=1.0)))


def test_the_chosen_width_and_a_better_one_are_said_and_ringed() -> None:
    sheet = drawn(curve())
    assert "Chosen: 700 mm, chance of a remake 2 %." in words(sheet)
    assert "Best odds: 701 mm, chance of a remake 0.1 %." in words(sheet)
    ringed = [c for c in sheet.primitives if isinstance(c, Circle) and c.weight == "middle"]
    assert [c.centre for c in ringed] == [points(sheet)[4], points(sheet)[5]]


def test_where_the_chosen_width_is_the_best_nothing_else_is_recommended() -> None:
    flat = drawn(curve((1.0, 0.1, 0.01, 0.01, 0.01, 0.01, 0.01, 0.1, 1.0)))
    assert not any("Best odds" in said for said in words(flat))


@pytest.mark.parametrize("risk", [0.0, 1e-12])
def test_what_cannot_be_told_is_hollow_and_on_the_lowest_line(risk: float) -> None:
    sheet = drawn(curve((1.0, 0.1, 0.01, risk, risk, risk, 0.01, 0.1, 1.0)))
    hollow = [c for c in sheet.primitives if isinstance(c, Circle) and c.fill == "none"]
    assert {c.centre[1] for c in hollow} == {ROOM[1]}
    assert "chance of a remake less than 1 in a million" in sheet.description


def test_nothing_leaves_the_paper_however_alike_the_chances() -> None:
    for same in (0.0, 1e-7, 0.4, 1.0):
        sheet = drawn(curve((same,) * 9))
        assert all(0.0 <= x <= sheet.width and 0.0 <= y <= sheet.height for x, y in points(sheet))


def test_the_drawing_speaks_spanish() -> None:
    with speaking("es"):
        assert told(drawn(curve()).title).startswith("Probabilidad de volver a fabricar según")


def test_the_same_curve_is_the_same_drawing() -> None:
    assert write_svg(drawn(curve())) == write_svg(drawn(curve()))
