"""The limits of the shipped instruments against the texts they come from.

Directive 2014/32/EU of the European Parliament and of the Council (Measuring Instruments
Directive), Annex X, Material measures (MI-008), chapter I: maximum permissible error a + b L mm, L
in metres rounded up to the next whole metre, with a = 0.1, 0.3, 0.6 and b = 0.1, 0.2, 0.4 for
classes I, II and III; where one end is a surface (a hook or a butted end) 0.1, 0.2 or 0.3 mm is
added.

NIST Handbook 44, section 5.52 Linear measures, tolerances for metal tapes: 1/32 in up to 6 ft,
1/16 in from 7 ft to 30 ft, 1/8 in from 31 ft to 55 ft.
"""

import math

import pytest

from hangtrue.job.library import shipped_instruments
from hangtrue.source import source


@pytest.mark.parametrize(("metres", "limit"), [(1.0, 0.5), (2.0, 0.7), (3.0, 0.9)])
def test_class_two_tape_with_a_hook(metres: float, limit: float) -> None:
    """MI-008: a + b L is 0.5, 0.7, 0.9 mm for 1, 2, 3 m; a hook adds 0.2 mm."""
    tape = shipped_instruments()["tape"]
    assert tape.length_error(metres * 1000) == pytest.approx(limit + 0.2)


@pytest.mark.parametrize(("metres", "limit"), [(1.0, 0.2), (2.0, 0.3), (3.0, 0.4)])
def test_class_one_tape_and_rule(metres: float, limit: float) -> None:
    """MI-008: a + b L is 0.2, 0.3, 0.4 mm for 1, 2, 3 m; a hook adds 0.1 mm."""
    tools = shipped_instruments()
    assert tools["tape-class-1"].length_error(metres * 1000) == pytest.approx(limit + 0.1)
    assert tools["rule"].length_error(metres * 1000) == pytest.approx(limit)


def test_a_metre_begun_counts_whole() -> None:
    """MI-008: L is the length rounded up to the next whole metre."""
    tape = shipped_instruments()["tape"]
    assert tape.length_error(1001.0) == tape.length_error(2000.0)
    assert tape.length_error(-1500.0) == tape.length_error(1500.0)


@pytest.mark.parametrize(
    ("feet", "inches"),
    [(1, 1 / 32), (6, 1 / 32), (7, 1 / 16), (30, 1 / 16), (31, 1 / 8), (55, 1 / 8)],
)
def test_inch_tape(feet: int, inches: float) -> None:
    """Handbook 44, 5.52: the steps of the table."""
    tape = shipped_instruments()["tape-hb44"]
    assert tape.length_error(feet * 304.8) == pytest.approx(inches * 25.4)


def test_a_length_past_the_table_is_no_better_known_than_its_last_row() -> None:
    tape = shipped_instruments()["tape-hb44"]
    assert tape.length_error(110 * 304.8) == pytest.approx(2 / 8 * 25.4)


def test_half_a_millimetre_per_metre_is_a_good_vial() -> None:
    """0.5 mm/m = 0.029 degrees: usual for spirit levels (common practice, no source)."""
    level = shipped_instruments()["level-72"]
    assert math.degrees(math.atan(level.slope_error)) == pytest.approx(0.029, abs=0.0005)


def test_a_tenth_of_a_degree_is_worse_than_a_good_vial() -> None:
    """0.1 degree = 1.745 mm/m, by trigonometry."""
    tools = shipped_instruments()
    assert tools["digital-level"].slope_error * 1000 == pytest.approx(1.745, abs=0.0005)
    assert tools["digital-level"].slope_error > tools["level-24"].slope_error


def test_every_instrument_names_a_known_source() -> None:
    for instrument in shipped_instruments().values():
        assert source(instrument.source).title
