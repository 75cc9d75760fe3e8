"""Calculation sheets as pages: every sheet is there, its figures as an engineer writes them."""

from __future__ import annotations

from pathlib import Path

import pytest

from hangtrue.job.read import read_job
from hangtrue.paper.blocks import Heading, Table, Text
from hangtrue.paper.calculation_pages import calculations, written
from hangtrue.plan import Plan, plan, prove

LODGE = Path(__file__).parents[2] / "examples" / "lodge"


@pytest.fixture(scope="module", params=["gull", "skua", "heron"])
def proved(request: pytest.FixtureRequest) -> Plan:
    brief, _ = read_job(LODGE / f"{request.param}.yaml")
    assert brief
    return prove(plan(brief))


def test_every_sheet_has_its_heading_inputs_steps_and_result(proved: Plan) -> None:
    """One page that runs on: a heading, what is assumed, two tables and a sentence for each."""
    (page,) = calculations(proved)
    headings = [b.text for b in page.blocks if isinstance(b, Heading)]
    assert headings == sorted(sheet.title for sheet in proved.best.sheets)
    tables = [b for b in page.blocks if isinstance(b, Table)]
    assert len(tables) == 2 * len(headings)
    said = {b.text for b in page.blocks if isinstance(b, Text)}
    assert {sheet.result for sheet in proved.best.sheets} <= said


def test_every_source_of_a_step_is_numbered_and_named(proved: Plan) -> None:
    (page,) = calculations(proved)
    (named,) = (b.text for b in page.blocks if isinstance(b, Text) and b.text.startswith("Sources"))
    rows = [row for b in page.blocks if isinstance(b, Table) for row in b.rows]
    numbers = {str(row[-1]).split("]")[0] for row in rows if str(row[-1]).startswith("[")}
    assert numbers
    assert all(f"{number}]" in named for number in numbers)


def test_a_plan_without_proofs_has_no_such_page() -> None:
    brief, _ = read_job(LODGE / "gull.yaml")
    assert brief
    assert calculations(plan(brief)) == ()


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (0.0, "0"),
        (4.0, "4"),
        (-0.00092, "−0.0009200"),
        (0.0057998, "0.005800"),
        (1e-13, "0.0000"),
        (32.3446, "32.34"),
        (711.24, "711.2"),
        (71_700.0, "71700"),
        (4_608_123.4, "4.608 × 10^6"),
        ("wood-screw 10", "wood-screw 10"),
    ],
)
def test_values_are_written_to_four_digits(value: float | str, text: str) -> None:
    assert written(value) == text
