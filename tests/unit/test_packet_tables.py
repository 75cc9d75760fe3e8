"""The lists of the packet: what stands in a row, and what is left out."""

from __future__ import annotations

from dataclasses import asdict, replace

import pytest

from hangtrue.check.finding import Finding, Level
from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Enclosure
from hangtrue.job.problems import Problem
from hangtrue.paper import finding_tables, reading_tables, reading_words, tables
from hangtrue.paper.blocks import Cell, Table
from hangtrue.paper.contents import document
from hangtrue.paper.coverage import texts
from hangtrue.paper.lengths import Units
from tests.unit import packet_plans as plans

MM = Units(first="mm", both=False)
INCHES = Units(first="in", both=False)
GOES = plans.plan(plans.GOOD)


def column(table: Table, head: str) -> list[str]:
    index = next(i for i, c in enumerate(table.columns) if c.head == head)
    return [
        cell.text if isinstance(cell, Cell) else cell for cell in (r[index] for r in table.rows)
    ]


def test_deductions_as_printed_add_up_to_the_glass_as_printed() -> None:
    """To the last printed digit of each step, so that it can be checked by hand."""
    for table in tables.chains(plans.enclosure().lites[0], MM):
        *steps, glass = (float(v.replace("− ", "-").replace("+ ", "")) for v in column(table, "mm"))
        assert sum(steps) == pytest.approx(glass, abs=0.005 * (len(steps) + 1))


def test_findings_stand_worst_first() -> None:
    table = finding_tables.findings((plans.QUESTION, plans.HOLLOW, plans.HEAVY), INCHES)
    assert column(table, "Level") == ["Stop", "Put right first", "Not checked"]


def test_findings_that_say_the_same_share_a_row_and_keep_their_rules() -> None:
    same = tuple(replace(plans.QUESTION, rule=rule) for rule in ("one", "two"))
    (row,) = finding_tables.findings(same, INCHES).rows
    assert isinstance(row[1], Cell)
    assert row[1].small[0].startswith("one, two")


def test_findings_with_figures_never_share_a_row() -> None:
    other = replace(plans.HEAVY, value=Estimate(40.0, 0.1))
    assert len(finding_tables.findings((plans.HEAVY, other), MM).rows) == 2


def test_a_missed_limit_shows_its_margin_below_zero() -> None:
    table = finding_tables.findings((plans.HEAVY,), MM)
    assert column(table, "Margin") == ["-2.6 kg"]
    assert column(table, "Limit") == ["≤ 30.0 kg"]


@pytest.mark.parametrize(
    ("unit", "value", "written"),
    [
        ("mm", 25.4, "1 in"),
        ("kg", 45.359237, "100 lb"),
        ("deg", 1.25, "1.2°"),
        ("mm/m", 1000 / 12 * 0.25, "0.250 in/ft"),
        ("mm2", 92903.04, "1.0 sq ft"),
        ("", 0.0580357, "0.058"),
        ("", 0.000265, "0.0003"),
        ("", 8.41e-20, "0"),
        ("", 1234.5, "1234"),
    ],
)
def test_figures_are_written_in_the_units_of_the_papers(
    unit: str, value: float, written: str
) -> None:
    """1 ft2 = 0.09290304 m2, 1 lb = 0.45359237 kg, exactly (NIST SP 811, appendix B)."""
    assert finding_tables.quantity(value, unit, INCHES) == written


def test_a_plus_minus_too_small_to_see_is_left_out() -> None:
    sure = Finding(
        rule="x", level=Level.NOTE, where="door", found="It weighs.", unit="kg",
        value=Estimate(30.0, 1e-6),
    )  # fmt: skip
    assert "±" not in "".join(texts([str(c) for c in finding_tables.findings((sure,), MM).rows[0]]))


def test_every_joint_shows_its_ends_and_fittings_beside_the_square_cut() -> None:
    raked, squared = plans.enclosure(), plans.enclosure(worse=1.2)
    table = tables.gaps(raked.joints, squared.joints, MM)
    assert column(table, "Joint")[0] == "Left wall to door, hinge"
    drawn, square = ([float(v) for v in column(table, h)] for h in ("As drawn", "Cut square"))
    strike = column(table, "Joint").index("Door to fixed 1, strike")
    assert square[strike] - drawn[strike] == pytest.approx(1.2, abs=0.05)
    assert column(table, "At").count("273") == 3


def test_a_gap_outside_its_range_is_said_to_be() -> None:
    wide = plans.enclosure(worse=9.0)
    rows = tables.gaps(wide.joints, (), MM).rows
    assert any(isinstance(c, Cell) and c.small == ("out of range",) for row in rows for c in row)


def test_every_way_that_lost_says_why() -> None:
    best = GOES.best
    worse = replace(best, findings=(plans.HOLLOW,))
    made = best.alternative.made
    assert isinstance(made, Enclosure)
    tight = replace(made, margin=replace(made.margin, sigmas=0.4, mm=0.3))
    tighter = replace(best, alternative=replace(best.alternative, made=tight))
    said = column(tables.others(best, (*GOES.others, worse, tighter), MM), "Why it was not taken")
    assert "6.4 mm is missing" in said[0]
    assert "hollow" in said[1]
    assert said[2].startswith("Less room to spare: 0.3 mm")


def test_a_bare_number_is_read_back_in_the_unit_of_the_job() -> None:
    width = GOES.brief.job.readings[0]
    bare = width.model_copy(update={"value": type(width.value)(1485.9, "58-1/2")})
    assert reading_words.typed(bare, "in") == "58-1/2 in"
    assert reading_words.typed(width, "in") == '58-1/2"'


def test_directions_stand_with_the_value_that_they_sign() -> None:
    lean, fall = GOES.brief.job.readings[2], GOES.brief.job.readings[5]
    assert reading_words.typed(lean, "in") == "1/16 in, inward"
    assert reading_words.typed(fall, "in") == "1/16 in, falls right"


def test_a_reading_that_nothing_checks_is_said_to_be_unchecked() -> None:
    table = reading_tables.readings(GOES.brief.job, GOES.opening, MM)
    assert column(table, "Checked")[-1] == "nothing"
    assert column(table, "Least slip")[-1] == "none"


def test_a_corner_angle_is_listed_in_degrees() -> None:
    table = reading_tables.readings(GOES.brief.job, GOES.opening, MM)
    assert column(table, "Adjusted")[4] == "89.93°"


def test_what_is_odd_in_the_document_is_in_the_packet() -> None:
    odd = Problem(line=12, field="readings[2].value", wrong="62?", do="look again", level="sure?")
    said = texts(asdict(document(GOES, (), (odd,))))
    assert "readings[2].value" in tuple(said)
