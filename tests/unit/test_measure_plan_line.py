"""The glass line folded into plan, against figures of plane geometry."""

from __future__ import annotations

import math

import pytest
from shapely import LineString, Polygon

from hangtrue.measure import measure
from hangtrue.measure.plan_line import fold, glass_line
from tests.made_up import brief, turned, width, with_value

RIGHT, WIDE = math.radians(90.0), math.radians(135.0)


def test_a_line_without_a_corner_is_a_straight_line() -> None:
    line = fold([], [], [])
    assert line.place(900.0) == pytest.approx((900.0, 0.0))
    assert line.place(900.0, 40.0) == pytest.approx((900.0, 40.0))
    assert line.run_at(5000.0) == 1


def test_a_return_to_the_right_turns_into_the_shower() -> None:
    line = fold([1000.0], [RIGHT], ["in"])
    assert line.place(1000.0) == pytest.approx((1000.0, 0.0))
    assert line.place(1600.0) == pytest.approx((1000.0, 600.0))
    assert line.place(1600.0, 50.0) == pytest.approx((950.0, 600.0))
    assert line.inward(2) == pytest.approx((-1.0, 0.0))
    assert line.bisector(1) == pytest.approx((-math.sqrt(0.5), math.sqrt(0.5)))


def test_a_return_to_the_left_of_the_front_turns_into_the_shower_too() -> None:
    """The front is run 2: its left end is (0, 0), and run 1 comes toward it from inside."""
    line = fold([600.0], [RIGHT], ["in"], front_run=2)
    assert line.place(0.0) == pytest.approx((0.0, 600.0))
    assert line.place(600.0) == pytest.approx((0.0, 0.0))
    assert line.place(1600.0) == pytest.approx((1000.0, 0.0))
    assert line.inward(1) == pytest.approx((1.0, 0.0))


def test_a_turn_outward_goes_away_from_the_shower() -> None:
    line = fold([1000.0], [RIGHT], ["out"])
    assert line.place(1600.0) == pytest.approx((1000.0, -600.0))


def test_there_and_back_is_one_direction_again() -> None:
    line = fold([500.0, 800.0], [WIDE, WIDE], ["in", "out"])
    assert line.headings == pytest.approx((0.0, math.pi / 4, 0.0))


def test_a_square_with_a_corner_cut_off_has_the_area_of_both() -> None:
    """34 in square less half of 16 in square: 1156 - 128 = 1028 sq in, by plane geometry."""
    slant = 16.0 * math.sqrt(2.0)
    for front in (1, 2, 3):
        line = fold([18.0, 18.0 + slant], [WIDE, WIDE], ["in", "in"], front)
        glass = [line.place(x) for x in (0.0, 18.0, 18.0 + slant, 36.0 + slant)]
        back = line.place(0.0, 34.0, run=1)
        assert line.place(36.0 + slant, 34.0, run=3) == pytest.approx(back)
        assert Polygon([*glass, back]).area == pytest.approx(1028.0)
        assert LineString(glass).length == pytest.approx(36.0 + slant)


def test_a_line_that_starts_left_of_zero_keeps_its_x() -> None:
    """Only a right wall: x is 0 there, and the corner lies at a negative x."""
    line = fold([-600.0], [RIGHT], ["in"], front_run=1, left=-1600.0)
    assert line.place(-1600.0) == pytest.approx((0.0, 0.0))
    assert line.place(-600.0) == pytest.approx((1000.0, 0.0))
    assert line.place(0.0) == pytest.approx((1000.0, 600.0))


def test_an_opening_is_folded_as_estimated() -> None:
    """No angle was read, so the corner is taken as it is wanted."""
    lites = turned(135.0)
    widths = [with_value(width(0), 700.0), with_value(width(0, run=2), 400.0)]
    job = brief(widths, lites=lites)
    opening = measure(job)
    line = glass_line(opening, job.job.wanted)
    end = opening.estimate(opening.end("right")).value
    expected = (700.0 + 400.0 * math.sqrt(0.5), 400.0 * math.sqrt(0.5))
    assert line.place(end) == pytest.approx(expected, abs=0.05)
