"""When water may run: the sealant, its section, and the air of the room."""

from __future__ import annotations

import pytest

from hangtrue.hang.cure_time import (
    Air,
    cure,
    cure_hours,
    is_sealed,
    saturation_pressure,
    section,
    unsuited,
)
from hangtrue.mechanics.ranges import OutOfRange
from tests.unit.hung import BRIEF, THICK, hung

ROOM = Air(temperature=23.0, humidity=0.5)

STEAM = {5.0: 8.726, 10.0: 12.282, 20.0: 23.393, 23.0: 28.104, 30.0: 42.470, 40.0: 73.849}
"""Saturation pressure of water, hPa: IAPWS-IF97 steam tables, digits from memory."""


@pytest.mark.parametrize("temperature", STEAM)
def test_saturation_pressure_is_that_of_the_steam_tables(temperature: float) -> None:
    """Within 0.4 %: the short formula rounds the full one; humidity is known far worse."""
    assert saturation_pressure(temperature) == pytest.approx(STEAM[temperature], rel=4e-3)


def test_in_the_air_of_the_data_sheet_a_day_cures_the_depth_of_a_day() -> None:
    assert cure_hours(3.0, "neutral", ROOM) == pytest.approx(24.0)


def test_twice_the_depth_takes_four_times_as_long() -> None:
    assert cure_hours(6.0, "neutral", ROOM) == pytest.approx(4 * cure_hours(3.0, "neutral", ROOM))


def test_half_the_humidity_takes_twice_as_long() -> None:
    dry = Air(temperature=23.0, humidity=0.25)
    assert cure_hours(3.0, "neutral", dry) == pytest.approx(48.0)


def test_a_cold_room_takes_longer() -> None:
    cold = Air(temperature=8.0, humidity=0.5)
    assert cure_hours(3.0, "neutral", cold) > 2 * cure_hours(3.0, "neutral", ROOM)


@pytest.mark.parametrize(
    "air", [Air(temperature=2.0, humidity=0.5), Air(temperature=20, humidity=0.95)]
)
def test_where_no_data_sheet_gives_figures_none_are_made_up(air: Air) -> None:
    with pytest.raises(OutOfRange):
        cure_hours(3.0, "neutral", air)


def test_water_never_comes_sooner_than_a_day() -> None:
    """24 h before water: common practice, no source."""
    warm = Air(temperature=38.0, humidity=0.8)
    found = cure(hung("fixed"), air=warm)
    assert found.water_hours == 24.0
    assert found.slowest is None
    assert max(found.joints.values()) < 24.0


def test_the_deepest_joint_decides() -> None:
    enclosure = hung("fixed", "fixed", between="silicone", held="channel")
    found = cure(enclosure)
    assert found.slowest == "fixed 1 to fixed 2"
    assert found.water_hours == max(found.joints.values()) > 24.0


def test_a_butt_joint_cures_from_both_faces_and_one_at_a_wall_from_inside_only() -> None:
    enclosure = hung("fixed", "fixed", held="silicone")
    by_id = {j.id: section(enclosure, j) for j in enclosure.joints if is_sealed(enclosure, j)}
    assert by_id["fixed 1 to fixed 2"].cure_depth == THICK / 2
    assert by_id["fixed 1 to left wall"].open_faces == 1


def test_an_enclosure_without_fixed_glass_needs_no_cure() -> None:
    found = cure(hung("door left wall"))
    assert (found.joints, found.slowest) == ({}, None)


def test_acid_from_acetoxy_sealant_is_kept_off_stone() -> None:
    """Common practice, no source."""
    stone = BRIEF.job.threshold.model_copy(update={"material": "stone"})
    job = BRIEF.job.model_copy(update={"threshold": stone})
    assert unsuited("acetoxy", job) == ("stone",)
    assert unsuited("neutral", job) == ()
    assert unsuited("acetoxy", BRIEF.job) == ()
