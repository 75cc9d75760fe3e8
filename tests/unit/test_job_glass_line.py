"""The glass line as written is folded into plan the way the conventions say."""

import math

import pytest

from hangtrue.job.glass_line import crossing, folded, run_length
from hangtrue.job.wishes import Turn
from hangtrue.units import angle
from tests.unit.corner_jobs import CORNER, changed
from tests.unit.jobs import read


def turn(degrees: float, way: str = "in") -> Turn:
    return Turn.model_validate({"angle": angle(f"{degrees}°"), "way": way})


def near(points: tuple[tuple[float, float], ...]) -> list[tuple[float, float]]:
    return [(round(x, 6) + 0.0, round(y, 6) + 0.0) for x, y in points]


def test_in_turns_toward_the_shower_and_out_away_from_it() -> None:
    """x to the right, y into the shower: a right angle inward ends at + y."""
    assert near(folded((3, 4), (turn(90),), 1)) == [(0, 0), (3, 0), (3, 4)]
    assert near(folded((3, 4), (turn(90, "out"),), 1)) == [(0, 0), (3, 0), (3, -4)]


def test_the_front_run_points_along_x() -> None:
    """A return at the left comes out of the shower toward its corner."""
    assert near(folded((4, 3), (turn(90),), 2)) == [(0, 0), (0, -4), (3, -4)]


def test_two_corners_of_135_degrees_close_a_square_corner() -> None:
    """Each turns by 45°, so that first and last run stand at a right angle."""
    (_, a, b, c) = folded((10, math.sqrt(2), 10), (turn(135), turn(135)), 1)
    assert (b[0] - a[0], b[1] - a[1]) == pytest.approx((1, 1))
    assert (c[0] - b[0], c[1] - b[1]) == pytest.approx((0, 10))


def test_a_line_that_closes_on_itself_crosses() -> None:
    """Equal sides round an equilateral triangle: the third ends where the first begins."""
    sixty = (turn(60), turn(60))
    assert crossing(folded((5, 5, 5.001), sixty, 1)) == (1, 3)
    assert crossing(folded((5, 5, 4.9), sixty, 1)) is None


def test_the_length_of_a_run_is_as_read_or_as_its_panes_are_wanted() -> None:
    brief, _ = read(CORNER)
    assert brief
    assert run_length(brief.job, 1) == pytest.approx(40.5 * 25.4)
    unread, _ = read(changed(("  - {what: width, at: 4, value: 40-1/2}\n", "")))
    assert unread
    assert run_length(unread.job, 1) == pytest.approx(40 * 25.4)
    unsaid, _ = read(changed(("  - {what: width, run: 2, at: 40, value: 34}\n", "")))
    assert unsaid
    assert run_length(unsaid.job, 2) is None
