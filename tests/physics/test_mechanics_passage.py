"""Getting a pane in: the sofa-in-the-corner length, tilts, doorways, against brute force."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangtrue.mechanics.passage import (
    carried,
    longest_round_turn,
    passes_doorway,
    passes_flight,
    passes_turn,
    shortest_under,
)
from hangtrue.mechanics.ranges import OutOfRange


def test_a_ladder_round_a_corner() -> None:
    """The classical answer without thickness: (a^2/3 + b^2/3)^3/2."""
    classical = (900 ** (2 / 3) + 1200 ** (2 / 3)) ** 1.5
    assert longest_round_turn(900.0, 1200.0) == pytest.approx(classical)


def test_equal_passages_turn_at_half_a_right_angle() -> None:
    """2 (sqrt(2) a - w)."""
    assert longest_round_turn(1000.0, 1000.0, 100.0) == pytest.approx(
        2 * (math.sqrt(2) * 1000 - 100)
    )


@given(width=st.floats(300, 1500), height=st.floats(300, 2400), headroom=st.floats(250, 3000))
def test_shortest_attitude_against_every_tenth_of_a_degree(
    width: float, height: float, headroom: float
) -> None:
    found = shortest_under(width, height, headroom)
    ways = [carried(width, height, t) for t in np.linspace(0, math.pi / 2, 901)]
    lengths = [way.length for way in ways if way.height <= headroom]
    if found is None:
        assert not lengths
    else:
        assert found.height <= headroom + 1e-6
        assert not lengths or found.length <= min(lengths) + 1e-6


def test_a_pane_taller_than_the_hall_goes_tilted() -> None:
    way = shortest_under(900.0, 2400.0, 2300.0)
    assert way is not None
    assert way.attitude == "tilted" or way.height <= 2300.0
    assert shortest_under(900.0, 2400.0, 850.0) is None


@pytest.mark.parametrize(
    ("pane", "doorway", "how"),
    [
        ((900, 1900), (750, 1980), "upright"),
        ((900, 2100), (750, 1980), "on its side"),
        ((2050, 2100), (750, 1980), "tilted"),
        ((700, 900), (750, 500), "flat"),
        ((2200, 2300), (750, 1980), None),
    ],
)
def test_doorways(pane: tuple[float, float], doorway: tuple[float, float], how: str | None) -> None:
    assert passes_doorway(*pane, doorway, around=20.0) == how


def test_room_for_hands_can_close_a_doorway() -> None:
    assert passes_doorway(900, 1900, (750, 1980), around=400.0) is None


def test_a_turn_that_a_pane_passes_and_one_it_does_not() -> None:
    way = passes_turn(900.0, 2000.0, (900.0, 900.0), 2400.0, 150.0)
    assert way is not None
    assert way.attitude == "upright"
    assert passes_turn(2300.0, 2000.0, (800.0, 800.0), 2050.0, 150.0) is None
    with pytest.raises(OutOfRange, match="thickness"):
        longest_round_turn(800.0, 900.0, 800.0)


@pytest.mark.parametrize(
    ("pane", "flight", "how"),
    [
        ((700, 1900), (900, 2700, 0.7), "upright"),
        ((700, 1900), (900, 2000, 0.2), "on its side"),
        ((1100, 1900), (900, 2000, 0.7), "tilted"),
        ((900, 1900), (1000, 900, 0.7), "flat"),
        ((1600, 1900), (900, 2000, 0.7), None),
    ],
)
def test_stairs(
    pane: tuple[float, float], flight: tuple[float, float, float], how: str | None
) -> None:
    """h + w tan(slope) plumb; the short side square to the slope; the short side between walls."""
    assert passes_flight(*pane, flight, 60.0) == how


@given(width=st.floats(300, 1500), height=st.floats(300, 2400), headroom=st.floats(700, 3000))
def test_stairs_against_every_tilt(width: float, height: float, headroom: float) -> None:
    """Turned in its plane to every tenth of a degree: square to the slope it must go under."""
    slope = math.radians(40)
    extents = [carried(width, height, t).height for t in np.linspace(0, math.pi / 2, 901)]
    fits = min(extents) <= headroom * math.cos(slope)
    found = passes_flight(width, height, (300.0, headroom, slope), 60.0)
    assert (found in {"upright", "on its side", "tilted"}) is fits or found == "flat"


def test_a_low_turn_is_passed_lying_flat() -> None:
    way = passes_turn(600.0, 1500.0, (1600.0, 1600.0), 500.0, 60.0)
    assert way is not None
    assert way.attitude == "flat"
