"""What a reading, as it was typed, might have been."""

from __future__ import annotations

import pytest

from hangtrue.job.readings import CornerAngle, Pitch, Reading
from hangtrue.measure.slips import slips, typed_unit
from hangtrue.units import Angle, Length, Slope, Unit, length
from tests.made_up import INCH, lean, width


def typed(text: str, unit: Unit = "in") -> Reading:
    return width(0).model_copy(update={"value": length(text, unit)})


def might_be(reading: Reading, words: str, unit: Unit = "in") -> list[float]:
    return [round(float(s.retyped), 3) for s in slips(reading, unit) if s.words == words]


@pytest.mark.parametrize(
    ("text", "words", "inches"),
    [
        ('58-3/8"', "one inch too long", [57.375]),
        ('58-3/8"', "one inch too short", [59.375]),
        ('58-3/8"', "one foot too long", [46.375]),
        ('58-3/8"', "fraction read from the wrong side", [58.625]),
        ('58-1/2"', "fraction read from the wrong side", []),
        ('58-3/8"', "fraction counted down from the whole inch", [57.625]),
        ('58-3/8"', "two digits swapped", [85.375]),
        ("62 in", "two digits swapped", [26.0]),
        ("4' 10 1/2\"", "two digits swapped", [49.5]),
        ("4' 10 1/2\"", "fraction read from the wrong side", []),
        ("55 in", "two digits swapped", []),
        ("58", "fraction left out", [58 + n / 8 for n in range(1, 8)]),
        ('58-3/8"', "fraction left out", []),
    ],
)
def test_slips_of_an_inch_tape(text: str, words: str, inches: list[float]) -> None:
    assert might_be(typed(text), words) == pytest.approx([i * INCH for i in inches], abs=1e-3)


@pytest.mark.parametrize(
    ("text", "words", "mm"),
    [
        ("1486 mm", "100 mm too long", [1386]),
        ("1486 mm", "10 mm too short", [1496]),
        ("1486 mm", "two digits swapped", [4186, 1846, 1468]),
        ("1486 mm", "one inch too long", []),
        ("148.6 cm", "10 mm too long", [1476]),
        ("1486 mm", "fraction left out", []),
    ],
)
def test_slips_of_a_metric_tape(text: str, words: str, mm: list[float]) -> None:
    assert might_be(typed(text), words) == pytest.approx(mm)


def test_a_bare_number_slips_in_the_jobs_unit() -> None:
    assert typed_unit("1486", "mm") == "mm"
    assert typed_unit("58", "in") == "in"
    assert typed_unit("58 1/2", "in") == "in"
    assert typed_unit("148.6 cm", "in") == "cm"


def test_signs_flip_where_there_is_a_sign() -> None:
    leaning = lean("left", 72).model_copy(update={"value": Length(6.35, "1/4 in")})
    pitched = Pitch(what="pitch", value=Slope(0.02))
    assert might_be(leaning, "sign flipped") == [-6.35]
    assert might_be(pitched, "sign flipped") == [-0.02]
    assert might_be(typed("58 in"), "sign flipped") == []
    assert list(slips(CornerAngle(what="angle", wall="left", value=Angle(1.5)), "in")) == []


def test_all_ways_of_one_slip_share_its_rate() -> None:
    dropped = [s.rate for s in slips(typed("58 in"), "in") if s.words == "fraction left out"]
    assert len(dropped) == 7
    assert sum(dropped) == pytest.approx(0.002)
