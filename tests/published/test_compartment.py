"""The floor of a shower: least area and largest circle.

Sources
-------
- International Residential Code, P2708.1, and International Plumbing Code, 421.4: 900 sq in
  (0.58 m2) and 30 in; one dimension down to 25 in where the area is 1300 sq in or more.
- Uniform Plumbing Code, 408.6: 1024 sq in (0.6606 m2) and a circle of 30 in; not asked of receptors
  of 30 x 60 in and more.
- Compartments across a corner, square of 34 in with 16 in cut off: circle 30.46 in, area
  1028 sq in, which passes both; 36 in with 18 in: 31.63 in and 1134 sq in; 36 in with 12 in:
  35.15 in and 1224 sq in.
"""

from __future__ import annotations

import math

import pytest

from hangtrue.check.compartment import corner_compartment, floor, floor_area, largest_circle
from hangtrue.check.finding import Level
from hangtrue.geometry import Outline
from tests import good_job as g

INCH = 25.4
RIGHT = math.pi / 2
CORNERS = [(34, 16, 30.46, 1028), (36, 18, 31.63, 1134), (36, 12, 35.15, 1224)]


def across_a_corner(side: float, cut: float) -> Outline:
    """Glass across a corner of the room: pane, door at 45 degrees, pane; mm."""
    length, taken = side * INCH, cut * INCH
    step = (length - taken) / math.sqrt(2)
    door = taken * math.sqrt(2)
    line = ((-step, step), (0.0, 0.0), (door, 0.0), (door + step, step))
    outline = floor(line, (math.radians(45), math.radians(135)))
    assert outline
    return outline


@pytest.mark.parametrize(("side", "cut", "circle", "area"), CORNERS)
def test_a_compartment_across_a_corner(side: int, cut: int, circle: float, area: float) -> None:
    """The closed form, in inches to the printed digits."""
    wide, floor = corner_compartment(float(side), float(cut))
    assert wide == pytest.approx(circle, abs=0.005)
    assert floor == pytest.approx(area, abs=0.5)


@pytest.mark.parametrize(("side", "cut", "circle", "area"), CORNERS)
def test_its_floor_is_closed_by_the_walls(side: int, cut: int, circle: float, area: float) -> None:
    """From the glass line and the directions of the two walls alone, by a general library."""
    outline = across_a_corner(side, cut)
    assert floor_area(outline) / INCH**2 == pytest.approx(area, abs=1e-6)
    assert largest_circle(outline) / INCH == pytest.approx(circle, abs=0.006)


@pytest.mark.parametrize("side", [30.0, 36.0])
def test_the_largest_circle_of_a_rectangle_is_its_shorter_side(side: float) -> None:
    outline = floor(((0.0, 0.0), (60.0, 0.0)), (RIGHT, RIGHT), side)
    assert outline
    assert floor_area(outline) == pytest.approx(60.0 * side)
    assert largest_circle(outline) == pytest.approx(side, abs=0.01)


def test_the_ends_of_three_runs_on_one_wall_close_a_floor() -> None:
    """Round a free corner of the room: back wall, return, front, return."""
    line = ((0.0, 900.0), (0.0, 0.0), (1200.0, 0.0), (1200.0, 900.0))
    outline = floor(line, (0.0, math.pi))
    assert outline
    assert floor_area(outline) == pytest.approx(1200.0 * 900.0)


def test_walls_that_face_each_other_close_nothing_without_a_depth() -> None:
    assert floor(((0.0, 0.0), (1500.0, 0.0)), (RIGHT, RIGHT)) is None
    assert floor(((0.0, 0.0), (1500.0, 0.0)), (RIGHT + 0.01, RIGHT - 0.01)) is None


PRACTICES = [
    # code, depth behind 58-1/2 in of glass, area, circle
    ("irc", "30-1/2 in", Level.PASS, Level.PASS),
    ("irc", "26 in", Level.PASS, Level.PASS),  # 1521 sq in: down to 25 in
    ("irc", "22 in", Level.PASS, Level.FAIL),  # 1287 sq in: no exception
    ("irc", "14 in", Level.FAIL, Level.FAIL),
    ("ipc", "26 in", Level.PASS, Level.PASS),
    ("upc", "26 in", Level.PASS, Level.FAIL),  # the circle has no exception
    ("upc", "17 in", Level.FAIL, Level.FAIL),  # 994 sq in
    ("none", "14 in", Level.PASS, Level.PASS),  # no code named: nothing asked
]


@pytest.mark.parametrize(("code", "depth", "area", "circle"), PRACTICES)
def test_what_each_code_asks(code: str, depth: str, area: Level, circle: Level) -> None:
    case = g.under(g.job(g.good(), "inside.depth", depth), jurisdiction=code)
    assert g.worst(case, "compartment-area").level is area
    assert g.worst(case, "compartment-circle").level is circle


def test_the_uniform_code_asks_nothing_of_a_long_receptor() -> None:
    """60-1/2 by 30-1/2 in; a circle of 30 in would fit as well."""
    case = g.room(g.job(g.good(), "inside.depth", "30-1/2 in"), width=60.5 * INCH)
    assert "no least area" in g.worst(g.under(case, jurisdiction="upc"), "compartment-area").found
