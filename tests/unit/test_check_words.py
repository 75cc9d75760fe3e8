"""Lengths, masses, chances and readings as findings say them."""

from __future__ import annotations

from dataclasses import replace

import pytest

from hangtrue.check.case import Case, asked
from hangtrue.check.wording import article, corrected, into, listed, named, percent, sentence
from hangtrue.estimate import Estimate
from hangtrue.measure.opening import NextReading
from tests import good_job as g


def in_unit(unit: str) -> Case:
    """Say the good job's figures in another unit; its lengths carry their own."""
    case = g.good()
    job = case.job.model_copy(update={"unit": unit})
    return replace(case, brief=replace(case.brief, job=job))


@pytest.mark.parametrize(
    ("unit", "mm", "said"),
    [
        ("in", 3.175, '1/8"'),
        ("in", 0.9, '1/32"'),
        ("in", 720.725, '28-3/8"'),
        ("in", 0.2, 'under 1/32"'),
        ("in", 0.0, '0"'),
        ("in", 1e-9, '0"'),
        ("mm", 3.175, "3.2 mm"),
        ("mm", 720.725, "721 mm"),
        ("mm", 0.01, "under 0.1 mm"),
        ("cm", 3.175, "0.32 cm"),
        ("cm", 720.725, "72.1 cm"),
        ("cm", 0.01, "under 0.01 cm"),
    ],
)
def test_a_length_in_the_jobs_unit(unit: str, mm: float, said: str) -> None:
    assert in_unit(unit).say(mm) == said


def test_a_place_is_no_finer_than_it_is_set_out() -> None:
    assert g.good().size(20.0) == '13/16"'
    assert in_unit("mm").size(20.4) == "20 mm"


def test_an_uncertain_length_says_what_it_may_be_off_by() -> None:
    """Two standard deviations; an exact one says nothing."""
    case = in_unit("mm")
    assert case.give(Estimate(5.0, 0.4)) == "5.0 mm (give or take 0.8 mm)"
    assert case.give(Estimate(5.0)) == "5.0 mm"


def test_a_mass_reads_pounds_first_where_the_job_is_in_inches() -> None:
    assert g.good().weigh(30.84) == "68 lb (30.8 kg)"
    assert in_unit("mm").weigh(30.84) == "30.8 kg"


@pytest.mark.parametrize(
    ("chance", "said"),
    [(0.5, "50 %"), (0.999, "over 99 %"), (1.0, "over 99 %"), (0.001, "under 1 %")],
)
def test_no_chance_is_certain(chance: float, said: str) -> None:
    assert percent(chance) == said


def test_rows_and_sentences() -> None:
    assert listed([]) == ""
    assert listed(["one"]) == "one"
    assert listed(["one", "two", "three"], "or") == "one, two or three"
    assert sentence("wide") == "Wide"
    assert (article("door"), article("fixed 1")) == ("the door", "fixed 1")
    assert (into(1.0), into(-1.0)) == ("into the opening", "out of the opening")


READINGS = [
    {"what": "width", "at": "36 in", "value": "58 in"},
    {"what": "lean", "wall": "left", "from": 0, "to": 72, "value": "1/8 in"},
    {"what": "lean", "wall": "left", "plane": "across", "from": 0, "to": 72, "value": 0},
    {"what": "offset", "wall": "right", "line": "laser 1", "at": "36 in", "value": "6 in"},
    {"what": "bow", "wall": "left", "from": 0, "to": 72, "value": 0},
    {"what": "diagonal", "left_at": "1 in", "right_at": "72 in", "value": "92 in"},
    {"what": "fall", "value": 0},
    {"what": "pitch", "value": "1/8 in"},
    {"what": "height", "of": "ceiling", "at": "left", "value": "94 in"},
    {"what": "angle", "wall": "right", "value": "89.6°"},
    {"what": "square", "wall": "left", "value": "90.5°"},
    {"what": "corner", "value": "135°"},
    {"what": "triangle", "before": "36 in", "after": "48 in", "value": "60 in"},
]
NAMES = [
    'the width at 36" (reading r1)',
    "the lean of the left wall in the plane of the glass (reading r2)",
    "the lean of the left wall across the glass (reading r3)",
    'the offset from laser 1 to the right wall at 36" (reading r4)',
    "the bow of the left wall (reading r5)",
    'the diagonal from 1" at the left to 72" at the right (reading r6)',
    "the fall of the curb (reading r7)",
    "the pitch of the curb (reading r8)",
    "the height of the ceiling at the left (reading r9)",
    "the angle at the foot of the right wall (reading r10)",
    "the squareness to the glass of the left wall (reading r11)",
    "the angle of corner 1 (reading r12)",
    "the angle of corner 1, from leg to leg (reading r13)",
]


def test_every_kind_of_reading_has_a_name() -> None:
    case = g.job(g.good(), "readings", READINGS)
    assert [named(case, f"r{n}") for n in range(1, len(READINGS) + 1)] == NAMES
    assert named(case, "nowhere") == "reading nowhere"


def test_a_corrected_angle_is_in_degrees_and_all_else_a_length() -> None:
    case = g.job(g.good(), "readings", READINGS)
    assert corrected(case, "r10", 1.5673) == "89.8°"
    assert corrected(case, "r1", 1447.8) == '57"'


def test_a_reading_to_take_is_a_sentence() -> None:
    words = "tape the width at 36 in"
    assert asked(NextReading(words=words, why="narrows", gain=0.5)) == "Tape the width at 36 in."
