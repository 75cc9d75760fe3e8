"""Lengths, slopes and angles are read as people write them, exactly, and written back."""

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangtrue import units
from hangtrue.units import UnitsError


@pytest.mark.parametrize(
    ("typed", "mm"),
    [
        ('58-1/2"', 1485.9),
        ("58 1/2 in", 1485.9),
        ('58½"', 1485.9),
        ("58-1/2”", 1485.9),
        ("58-1/2''", 1485.9),
        ("58 1/2 in.", 1485.9),
        ("4' 10 1/2\"", 1485.9),
        ("4'10-1/2\"", 1485.9),
        ("4 ft 10.5 in", 1485.9),
        ("1486 mm", 1486.0),
        ("148.6 cm", 1486.0),
        ("148,6 cm", 1486.0),
        ("1.486 m", 1486.0),
        ("-1/4 in", -6.35),
        ("−1/4 in", -6.35),
        (".5 in", 12.7),
        ("5 1/2 ft", 1676.4),
    ],
)
def test_a_length_is_read_as_people_write_it(typed: str, mm: float) -> None:
    assert units.length(typed) == mm
    assert units.length(typed).typed == typed


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("3/17 in", "on no tape"),
        ("58 9/8 in", "a whole or more"),
        ("58.5 1/2 in", "one or the other"),
        ("1/2 mm", "write decimals"),
        ("4' 3 mm", "mixes feet"),
        ("58", "has no unit"),
        ("1,486 mm", "decimal mark or thousands"),
        ("nan", "is not a length"),
        ("inf mm", "is not a length"),
        ("1e3 mm", "is not a length"),
        ("--1 in", "is not a length"),
        ("wide", "is not a length"),
        ("", "is not a length"),
        ("9" * 400 + " mm", "too long"),
    ],
)
def test_what_is_no_length_is_refused_with_the_remedy(typed: str, says: str) -> None:
    with pytest.raises(UnitsError, match=says):
        units.length(typed)


def test_a_bare_number_is_in_the_unit_of_the_job() -> None:
    assert units.length("58-1/2", "in") == units.length("58-1/2 in")
    assert units.length("1486", "mm") == 1486.0
    assert units.length("148.6", "cm") == 1486.0


@pytest.mark.parametrize(
    ("typed", "ratio"),
    [
        ("1/4 in in 72 in", 1 / 288),
        ('1/4" in 72"', 1 / 288),
        ("1/4 in over 6 ft", 1 / 288),
        ("1/4 in per ft", 1 / 48),
        ("1/4 in/ft", 1 / 48),
        ("3 mm/m", 0.003),
        ("-3 mm/m", -0.003),
        ("2 %", 0.02),
        ("1:50", 0.02),
        ("45°", 1.0),
        ("0.4 deg", math.tan(math.radians(0.4))),
    ],
)
def test_a_slope_is_rise_over_run(typed: str, ratio: float) -> None:
    assert units.slope(typed) == pytest.approx(ratio, rel=1e-12)
    assert units.slope(typed).typed == typed


@pytest.mark.parametrize("typed", ["3/17", "1/50", "1:0", "1/4 in in 0 in", "steep", "3 mm", ""])
def test_what_is_no_slope_is_refused(typed: str) -> None:
    with pytest.raises(UnitsError):
        units.slope(typed, "in")


def test_an_angle_is_in_degrees_and_says_so() -> None:
    assert units.angle("90°") == pytest.approx(math.pi / 2)
    with pytest.raises(UnitsError, match="is not an angle"):
        units.angle("90")


@given(st.integers(0, 400), st.integers(0, 63), st.sampled_from([2, 4, 8, 16, 32, 64]))
def test_every_fraction_of_a_tape_is_read_exactly(whole: int, num: int, den: int) -> None:
    num %= den
    for typed in (f"{whole}-{num}/{den} in", f'{whole} {num}/{den}"'):
        exact = (whole + Fraction(num, den)) * Fraction(254, 10)
        assert units.length(typed) == float(exact)


@given(st.integers(-4000, 4000))
def test_sixteenths_come_back_as_they_were_written(sixteenths: int) -> None:
    written = units.inches(sixteenths * 25.4 / 16)
    assert units.length(written) == float(Fraction(sixteenths, 16) * Fraction(254, 10))
    assert units.inches(units.length(written)) == written


@given(st.integers(-8000, 8000))
def test_thirty_seconds_come_back_as_they_were_written(parts: int) -> None:
    written = units.inches(parts * 25.4 / 32, 32)
    assert units.inches(units.length(written), 32) == written


@given(st.integers(-9999, 9999))
def test_millimetres_come_back_as_they_were_written(mm: int) -> None:
    assert units.length(units.millimetres(mm)) == float(mm)


@given(st.text(max_size=60))
def test_any_text_is_a_finite_quantity_or_is_refused(text: str) -> None:
    for read in (units.length, units.slope):
        for unit in (None, "in", "mm"):
            try:
                assert math.isfinite(read(text, unit))
            except UnitsError:
                continue


@given(st.text(alphabet="0123456789 -+/.,'\"inmcft°%:½″′⁄", max_size=44))
def test_any_row_of_the_usual_marks_is_a_finite_quantity_or_is_refused(text: str) -> None:
    for read in (units.length, units.slope):
        try:
            assert math.isfinite(read(text, "in"))
        except UnitsError:
            continue
