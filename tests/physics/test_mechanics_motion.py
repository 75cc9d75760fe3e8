"""Turning about a leaning axis: energy, rest, drop of the corner, shims; a vector model."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.spatial.transform import Rotation

from hangtrue.mechanics.hinge_axis import (
    Axis,
    axis_through,
    handle_force,
    lowest,
    place,
    rest_angle,
    rise,
    shim_to_rest_at,
    stays_put,
    swing_time,
    torque,
)
from hangtrue.mechanics.ranges import OutOfRange

G = 9.80665
LEANS = st.floats(-0.03, 0.03)


@given(lean_x=LEANS, lean_y=LEANS, opening=st.floats(-2.0, 2.0))
def test_torque_is_the_slope_of_the_height_of_the_mass(
    lean_x: float, lean_y: float, opening: float
) -> None:
    """Full vector model by another library: turn the leaf, take the height, differentiate."""
    axis = Axis(lean_x=lean_x, lean_y=lean_y)
    up = np.array([lean_x, lean_y, 1.0])
    up /= np.linalg.norm(up)
    closed = np.array([1.0, 0.0, 0.0]) - up[0] * up
    closed *= 375.0 / np.linalg.norm(closed)

    def height(angle: float) -> float:
        return float(Rotation.from_rotvec(angle * up).apply(closed)[2])

    step = 1e-4
    slope = (height(opening + step) - height(opening - step)) / (2 * step)
    assert torque(axis, 40.0, 375.0, opening) == pytest.approx(-40 * G * slope, abs=0.05)
    x, y, z = place(axis, 375.0, 0.0, opening)
    assert (x, y, z) == pytest.approx(tuple(Rotation.from_rotvec(opening * up).apply(closed)))


@given(lean_x=LEANS, lean_y=LEANS, opening=st.floats(-1.6, 1.6))
def test_small_leans_by_the_plain_formula(lean_x: float, lean_y: float, opening: float) -> None:
    plain = 40 * G * 375 * (-lean_x * math.sin(opening) + lean_y * math.cos(opening))
    found = torque(Axis(lean_x=lean_x, lean_y=lean_y), 40.0, 375.0, opening)
    assert found == pytest.approx(plain, abs=40 * G * 375 * 0.03 * 2e-3)


def test_energy_from_release_to_rest() -> None:
    """What the mass drops is what the leaf gains: integrated motion, with the torque alone."""
    axis = Axis(lean_x=0.012, lean_y=0.004)
    width, mass = 750.0, 40.0
    inertia = mass * width**2 / 3
    rest = rest_angle(axis)

    def motion(_: float, state: np.ndarray) -> list[float]:
        return [state[1], 1000 * torque(axis, mass, width / 2, state[0]) / inertia]

    seconds = swing_time(axis, 2 * width / 3, math.pi / 2, rest)
    run = solve_ivp(motion, (0.0, seconds), [math.pi / 2, 0.0], rtol=1e-9, atol=1e-12)
    angle, speed = run.y[:, -1]
    assert angle == pytest.approx(rest, abs=1e-6)
    dropped = rise(axis, width / 2, math.pi / 2) - rise(axis, width / 2, rest)
    assert inertia * speed**2 / 2 == pytest.approx(mass * G * 1000 * dropped, rel=1e-6)


def test_time_to_an_opening_on_the_way_and_beyond() -> None:
    axis = Axis(lean_x=0.02, lean_y=0.0)
    whole = swing_time(axis, 500.0, 1.2, 0.0)
    part = swing_time(axis, 500.0, 1.2, 0.6)
    beyond = swing_time(axis, 500.0, 1.2, -1.2)
    assert 0 < part < whole
    assert beyond == pytest.approx(2 * whole)
    assert swing_time(axis, 500.0, -1.2, 0.0) == pytest.approx(whole)
    with pytest.raises(OutOfRange, match="opening to pass"):
        swing_time(axis, 500.0, 0.5, 1.0)


def test_rest_follows_the_lean() -> None:
    """Towards the free edge closed; towards the opening side a quarter turn; away open."""
    assert rest_angle(Axis(lean_x=0.01, lean_y=0.0)) == pytest.approx(0.0)
    assert rest_angle(Axis(lean_x=0.0, lean_y=0.01)) == pytest.approx(math.pi / 2)
    assert abs(rest_angle(Axis(lean_x=-0.01, lean_y=0.0))) == pytest.approx(math.pi)
    assert rest_angle(Axis(lean_x=0.01, lean_y=0.006)) == pytest.approx(math.atan(0.6), abs=1e-4)
    with pytest.raises(OutOfRange, match="plumb"):
        rest_angle(Axis(lean_x=0.0, lean_y=0.0))


@pytest.mark.parametrize("rest_degrees", [-20.0, 0.0, 31.0])
def test_the_shim_moves_the_rest_to_where_it_was_asked(rest_degrees: float) -> None:
    spacing = 1500.0
    before = Axis(lean_x=0.01, lean_y=0.006)
    shim = shim_to_rest_at(before, spacing, math.radians(rest_degrees))
    after = axis_through((0, 0, 250), (0.01 * spacing, 0.006 * spacing + shim, 250 + spacing))
    assert math.degrees(rest_angle(after)) == pytest.approx(rest_degrees, abs=1e-6)


def test_no_shim_across_helps_an_axis_that_leans_away() -> None:
    with pytest.raises(OutOfRange, match="towards the free edge"):
        shim_to_rest_at(Axis(lean_x=-0.01, lean_y=0.0), 1500.0, 0.0)


def test_strike_corner_drops_least_where_a_search_says() -> None:
    axis = Axis(lean_x=-0.008, lean_y=0.005)
    found, at = lowest(axis, 750.0, 0.0, math.pi / 2)
    searched = min((rise(axis, 750.0, a), a) for a in np.linspace(0, math.pi / 2, 20_001))
    assert found == pytest.approx(searched[0], abs=1e-6)
    assert at == pytest.approx(searched[1], abs=1e-3)


def test_a_plumb_door_stays_where_it_is_and_a_leaning_one_needs_a_hand() -> None:
    assert stays_put(Axis(lean_x=0.0, lean_y=0.0), 40.0, 375.0, 1.0, 0.0)
    axis = Axis(lean_x=0.01, lean_y=0.0)
    assert not stays_put(axis, 40.0, 375.0, 1.0, 500.0)
    push = handle_force(axis, 40.0, 375.0, 1.0, 700.0)
    assert push * 700.0 == pytest.approx(-torque(axis, 40.0, 375.0, 1.0))
    assert push > 0
