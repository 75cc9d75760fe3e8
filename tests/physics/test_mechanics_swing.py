"""Swept floor, contacts and clear way of a leaf, against sectors, brute force and trigonometry."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point as Place

from hangtrue.mechanics.ranges import OutOfRange
from hangtrue.mechanics.swing import (
    PlanLeaf,
    at_opening,
    clear_between,
    clear_opening,
    clearance,
    opens_to,
    swept,
)

THIN = PlanLeaf(start=0.0, end=700.0, thickness=1e-3)
DOOR = PlanLeaf(start=-30.0, end=720.0, thickness=10.0, offset=22.0)
QUARTER = math.pi / 2


def box(left: float, low: float, width: float, height: float) -> tuple[tuple[float, float], ...]:
    return ((left, low), (left + width, low), (left + width, low + height), (left, low + height))


def test_a_thin_leaf_sweeps_a_quarter_of_a_disc() -> None:
    exact = math.pi * 700**2 / 4
    found = swept(THIN, 0.0, QUARTER).area
    assert exact <= found <= exact + 0.06 * 700 * QUARTER


@settings(max_examples=40)
@given(
    angle=st.floats(-1.5, 2.5),
    along=st.floats(-30, 720),
    out=st.floats(17, 27),
)
def test_every_place_of_the_leaf_is_in_the_swept_region(
    angle: float, along: float, out: float
) -> None:
    """Offset axis, glass that reaches behind it, swing to both sides."""
    x = along * math.cos(angle) - out * math.sin(angle)
    y = along * math.sin(angle) + out * math.cos(angle)
    assert REGION.distance(Place(x, y)) < 1e-9


REGION = swept(DOOR, -1.5, 2.5)


def test_the_swept_region_reaches_no_farther_than_the_leaf() -> None:
    farthest = REGION.hausdorff_distance(Place(0, 0))
    assert DOOR.reach <= farthest <= DOOR.reach + 0.051


def test_a_handle_makes_the_sweep_wider() -> None:
    knob = box(650.0, 27.0, 40.0, 45.0)
    with_knob = PlanLeaf(start=0.0, end=700.0, thickness=10.0, fittings=(knob,))
    plain = PlanLeaf(start=0.0, end=700.0, thickness=10.0)
    assert swept(with_knob, 0, QUARTER).covers(Place(-60.0, 670.0))
    assert not swept(plain, 0, QUARTER).covers(Place(-60.0, 670.0))


def test_a_leaf_stops_at_a_wall_where_trigonometry_says() -> None:
    """A wall at y = 500 meets the strike edge of a thin leaf at asin(500 / 700)."""
    wall = box(-2000.0, 500.0, 4000.0, 100.0)
    assert opens_to(THIN, [wall], 0.0, 2.0) == pytest.approx(math.asin(500 / 700), abs=1e-4)
    assert opens_to(THIN, [wall], 0.0, 0.5) == 0.5
    assert opens_to(THIN, [wall], 0.0, -2.0) == -2.0
    assert opens_to(THIN, [], 0.0, 2.0) == 2.0


def test_first_contact_against_small_steps() -> None:
    toilet = box(150.0, 420.0, 380.0, 700.0)
    blocked = [toilet, box(-400.0, 300.0, 60.0, 60.0)]
    found = opens_to(DOOR, blocked, 0.0, 2.5)
    steps = np.linspace(0.0, 2.5, 5001)
    touching = [a for a in steps if clearance(DOOR, toilet, float(a), float(a)) < 1e-3]
    assert found == pytest.approx(touching[0], abs=1e-3)


def test_clearance_is_nothing_where_they_meet() -> None:
    assert clearance(THIN, box(300.0, 300.0, 100.0, 100.0), 0.0, QUARTER) == 0.0
    assert clearance(THIN, box(800.0, 0.0, 100.0, 100.0), 0.0, QUARTER) == pytest.approx(
        100.0, abs=0.06
    )
    assert clearance(THIN, ((0.0, 720.0),), 0.0, QUARTER) == pytest.approx(20.0, abs=0.06)


def test_clear_way_at_a_right_angle_and_before() -> None:
    """Square, the offset leaf is behind its axis; at 60 degrees its nearest face counts."""
    assert clear_opening(DOOR, (730.0, 0.0), QUARTER) == pytest.approx(730.0)
    half = clear_opening(THIN, (700.0, 0.0), math.radians(60))
    assert half == pytest.approx(700.0 * math.sin(math.radians(60)), rel=1e-5)
    assert clear_opening(THIN, (700.0, 0.0), math.radians(120)) == pytest.approx(700.0)


def test_an_offset_leaf_on_the_other_side_narrows_the_way() -> None:
    """Opening away from the axis' side, the glass comes to stand in the way."""
    assert clear_opening(DOOR, (730.0, 0.0), -QUARTER) == pytest.approx(730.0 - 22.0 - 5.0)
    assert at_opening(DOOR, -QUARTER).bounds[2] == pytest.approx(27.0)


def test_mirrored_leaf_sweeps_the_mirrored_region() -> None:
    other = PlanLeaf(start=-30.0, end=720.0, thickness=10.0, offset=-22.0)
    assert swept(other, 1.5, -2.5).area == pytest.approx(REGION.area, rel=1e-6)


def test_a_leaf_that_ends_before_it_starts_is_refused() -> None:
    with pytest.raises(OutOfRange, match="strike edge"):
        swept(PlanLeaf(start=100.0, end=50.0, thickness=10.0), 0.0, 1.0)
    with pytest.raises(OutOfRange, match="thickness"):
        swept(PlanLeaf(start=0.0, end=50.0, thickness=0.0), 0.0, 1.0)


def test_two_doors_open_square_leave_what_lies_between_their_faces() -> None:
    """Axes 1500 apart, glass of 10 on each axis: half a thickness is lost at either side."""
    leaf = PlanLeaf(start=0.0, end=740.0, thickness=10.0)
    assert clear_between(leaf, leaf, 1500.0, QUARTER, QUARTER) == pytest.approx(1490.0)


def test_two_doors_stopped_short_leave_the_width_between_their_tips() -> None:
    """Thin leaves at 60 degrees: each tip stands cos 60 of its length into the way."""
    sixty = math.radians(60)
    exact = 1500.0 - 2 * 700.0 * math.cos(sixty)
    assert clear_between(THIN, THIN, 1500.0, sixty, sixty) == pytest.approx(exact, abs=0.01)
