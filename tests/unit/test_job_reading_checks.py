"""Readings of runs, corners and walls: each is of something that is there, and can be."""

import math

import pytest

from hangtrue.job.readings import Triangle
from hangtrue.units import Length
from tests.unit.corner_jobs import added, alone, changed
from tests.unit.jobs import with_reading


@pytest.mark.parametrize(
    ("reading", "field", "says"),
    [
        ("{what: width, run: 3, at: 4, value: 30}", "run", "the glass line has 2"),
        ("{what: diagonal, run: 4, left_at: 0, right_at: 70, value: 80}", "run", "no run 4"),
        ("{what: fall, run: 3, value: 0}", "run", "no run 3"),
        ("{what: pitch, run: 3, value: 0}", "run", "no run 3"),
        ("{what: corner, corner: 2, value: 90°}", "corner", "turns once"),
        ("{what: triangle, corner: 3, before: 30, after: 40, value: 50}", "corner", "no corner 3"),
        ("{what: height, of: curb, at: corner 2, value: 0}", "at", "no corner 2"),
        ("{what: corner, corner: 9, value: 90°}", "corner", "less than 8"),
        ("{what: height, of: curb, at: corner 9, value: 0}", "at", "corner 7"),
    ],
)
def test_a_reading_of_a_run_or_corner_that_is_not_there(
    reading: str, field: str, says: str
) -> None:
    problem = alone(added(reading))
    assert problem.field == f"readings[8].{field}"
    assert says in str(problem)


def test_a_straight_glass_line_has_no_corner() -> None:
    text = with_reading("{what: corner, value: 90°}")
    assert "the glass line turns nowhere" in alone(text).wrong


@pytest.mark.parametrize(
    "reading",
    [
        "{what: square, wall: right, value: 90°}",
        "{what: lean, wall: right, from: 0, to: 70, value: 0}",
        "{what: bow, wall: right, from: 4, to: 76, value: 0}",
    ],
)
def test_a_reading_of_a_wall_that_no_run_touches(reading: str) -> None:
    """The return ends free: what was read of a right wall is of nothing."""
    text = changed(
        ("  right: {behind: unknown}\n", ""),
        ("{kind: fixed, turn:", "{kind: fixed, width: 34, turn:"),
        ("  - {what: square, wall: right, value: 89.8°}\n", f"  - {reading}\n"),
        ("  - {what: width, run: 2, at: 40, value: 34}\n", ""),
    )
    assert alone(text).wrong == "there is no right wall"


def test_a_width_of_a_run_that_ends_free_is_left_out() -> None:
    text = changed(
        ("  right: {behind: unknown}\n", ""),
        ("{kind: fixed, turn:", "{kind: fixed, width: 34, turn:"),
        ("  - {what: square, wall: right, value: 89.8°}\n", ""),
    )
    assert "there is no right wall" in alone(text).wrong
    assert alone(text).field == "readings[2]", "the width of the first run ends at the corner"


@pytest.mark.parametrize(
    ("sides", "says"),
    [
        ("before: 30, after: 40, value: 70", "cannot end 70 apart"),
        ("before: 30, after: 40, value: 10", "cannot end 10 apart"),
        ("before: 30, after: 40, value: 30", "make 48.2°"),
    ],
)
def test_legs_that_cannot_make_that_distance(sides: str, says: str) -> None:
    problem = alone(added(f"{{what: triangle, {sides}}}"))
    assert problem.field == "readings[8].value"
    assert says in problem.wrong


def test_the_law_of_cosines_at_a_corner() -> None:
    """Euclid, Elements, book II, propositions 12 and 13; 3-4-5 is right, equal sides make 60°."""

    def angle(before: float, after: float, across: float) -> float:
        read = Triangle(
            what="triangle", before=Length(before), after=Length(after), value=Length(across)
        )
        return math.degrees(read.angle)

    assert angle(3, 4, 5) == pytest.approx(90, abs=1e-12)
    assert angle(7, 7, 7) == pytest.approx(60, abs=1e-12)
    assert angle(1, 1, math.sqrt(2 + math.sqrt(2))) == pytest.approx(135, abs=1e-12)
    assert math.isnan(angle(3, 4, 8))


@pytest.mark.parametrize(
    ("reading", "says"),
    [
        ("{what: corner, value: 84°}", "reads 84°, and is wanted at 90°"),
        ("{what: corner, value: 135°}", "reads 135°"),
        ("{what: triangle, before: 30, after: 40, value: 53}", "reads 97.4°"),
    ],
)
def test_a_corner_far_from_nominal_is_asked_about(reading: str, says: str) -> None:
    problem = alone(added(reading))
    assert problem.level == "sure?"
    assert says in problem.wrong


@pytest.mark.parametrize(
    ("reading", "says"),
    [
        ("{what: corner, value: 40°}", "cannot be an inside angle"),
        ("{what: square, wall: right, value: 20°}", "cannot be an angle between wall"),
    ],
)
def test_an_angle_that_cannot_be(reading: str, says: str) -> None:
    assert says in alone(added(reading)).wrong


def test_a_corner_is_read_with_an_angle_finder() -> None:
    problem = alone(added("{what: corner, value: 90°, with: tape}"))
    assert problem.do == "write angle-finder"
