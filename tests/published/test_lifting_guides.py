"""Filters for lifting by hand and pads that hold by vacuum.

Sources: Health and Safety Executive, Manual handling (L23) and Manual handling at work (INDG143):
filters, twisting, frequency, teams with a worked team of two; EN 13155 and ASME BTH-1 (the latter
from memory) for factors on vacuum pads.
"""

from __future__ import annotations

import math

import pytest

from hangtrue.mechanics.lifting import (
    cup_design_factor,
    cup_force,
    cup_mass,
    hse_filter,
    hse_filter_extended,
    people_needed,
    reference_mass,
    team_capacity,
)
from hangtrue.mechanics.ranges import OutOfRange

ZONES = {
    "above-shoulder": (10, 7),
    "shoulder": (20, 13),
    "elbow-to-knuckle": (25, 16),
    "knuckle-to-mid-lower-leg": (20, 13),
    "mid-lower-leg-to-floor": (10, 7),
}


@pytest.mark.parametrize("zone", ZONES)
def test_filters_close_to_the_body(zone: str) -> None:
    assert (hse_filter(zone, "men"), hse_filter(zone, "women")) == ZONES[zone]


def test_arms_extended_overhead() -> None:
    """The one printed cell: 5 kg."""
    assert hse_filter_extended("above-shoulder", "men") == 5


@pytest.mark.parametrize(
    ("degrees", "per_minute", "share"),
    [(0, 0.5, 1.0), (60, 0.5, 0.9), (100, 0.5, 0.8), (0, 1.5, 0.7), (0, 6, 0.5), (0, 13, 0.2)],
)
def test_twisting_and_frequency(degrees: float, per_minute: float, share: float) -> None:
    """10 % and 20 % off beyond 45 and 90 degrees; 30, 50 and 80 % off at 1-2, 5-8, above 12."""
    found = hse_filter(
        "elbow-to-knuckle", "men", twist_rad=math.radians(degrees), per_minute=per_minute
    )
    assert found == pytest.approx(25 * share)


def test_two_people_lift_two_thirds_of_their_sum() -> None:
    """2 x 20 kg: 26.6 kg (cut, not rounded)."""
    assert team_capacity((20.0, 20.0)) == pytest.approx(26.6, abs=0.1)
    assert team_capacity((25.0, 25.0, 25.0)) == pytest.approx(37.5)


def test_a_heavy_door_is_beyond_three_fit_people() -> None:
    assert people_needed(24.0, 25.0) == 1
    assert people_needed(33.0, 25.0) == 2
    assert people_needed(37.0, 25.0) == 3
    assert people_needed(45.0, 25.0) is None


def test_reference_masses_from_memory() -> None:
    assert reference_mass("men") == 25
    assert reference_mass("women", "younger-or-older") == 15


def test_a_200_mm_cup_at_60_kpa() -> None:
    """1885 N; half of it 96 kg straight off, 48 kg along the pane at a friction of 0.5; by hand."""
    force_N = cup_force(200.0, 0.060)
    assert force_N == pytest.approx(1885, abs=0.5)
    assert cup_mass(force_N, 2.0) == pytest.approx(96, abs=0.5)
    assert cup_mass(force_N, 2.0, 0.5) == pytest.approx(48, abs=0.5)


def test_design_factor_of_a_pad() -> None:
    """2 lying flat, 4 upright."""
    assert cup_design_factor(0.0) == 2
    assert cup_design_factor(math.pi / 2) == 4


def test_no_guide_knows_a_team_of_five() -> None:
    with pytest.raises(OutOfRange, match="people in the team"):
        team_capacity((25.0,) * 5)
    with pytest.raises(OutOfRange, match="vacuum"):
        cup_force(200.0, 0.2)
