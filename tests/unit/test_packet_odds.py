"""The odds on paper and in the plan file say what the odds found, and the same every time."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import jsonschema
import pytest

from hangtrue.check.verdict import Verdict
from hangtrue.fit.enclosure import Enclosure
from hangtrue.job.profile import Prices
from hangtrue.job.read import read_job
from hangtrue.odds import odds
from hangtrue.odds.cures import after_cures
from hangtrue.odds.next_reading import advise
from hangtrue.odds.wording import said_chance, said_error
from hangtrue.paper import odds_pages
from hangtrue.paper.blocks import Abreast, Block, Cell, Page, Table, Text
from hangtrue.paper.lengths import units_of
from hangtrue.paper.plan_json import plan_json, plan_json_text, plan_schema
from hangtrue.plan import Plan, plan, with_odds
from tests.unit import packet_plans as by_hand

LODGE = Path(__file__).parents[2] / "examples" / "lodge"


@cache
def planned(name: str, prices: Prices | None = None) -> Plan:
    """Return a room of the lodge with its odds, without the other proofs."""
    brief, _ = read_job(LODGE / f"{name}.yaml")
    assert brief is not None
    priced = replace(brief, profile=brief.profile.model_copy(update={"prices": prices}))
    found = plan(priced)
    return with_odds(found, odds(priced, found.opening, enclosure(found)))


def enclosure(found: Plan) -> Enclosure:
    made = found.best.alternative.made
    assert isinstance(made, Enclosure)
    return made


def page(found: Plan) -> Page:
    (only,) = odds_pages.odds(found, units_of(found.brief))
    return only


def said(blocks: tuple[Block, ...]) -> str:
    return " ".join(block.text for block in blocks if isinstance(block, Text))


def tables(found: Plan) -> list[Table]:
    every: list[Table] = []
    for block in page(found).blocks:
        if isinstance(block, Table):
            every.append(block)
        if isinstance(block, Abreast):
            every.extend(block.tables)
    return every


def words(cell: str | Cell) -> str:
    return cell.text if isinstance(cell, Cell) else cell


def under(found: Plan, head: str) -> list[list[str]]:
    (table,) = (t for t in tables(found) if t.columns[0].head == head)
    return [[words(cell) for cell in row] for row in table.rows]


def test_the_sheet_says_the_chance_its_error_and_the_seed() -> None:
    found = planned("gull")
    assert found.odds is not None
    text = said(page(found).blocks)
    assert said_chance(found.odds.remake.value) in text
    assert f"± {said_error(found.odds.remake.sd)} from drawing" in text
    assert "20,000 draws from seed 1" in text


def test_every_joint_has_a_row_and_the_weakest_stands_out() -> None:
    found = planned("gull")
    assert found.odds is not None
    rows = under(found, "Joint")
    assert [row[1] for row in rows] == [
        said_chance(j.fails) if j.fails else "–" for j in found.odds.joints
    ]
    (table,) = (t for t in tables(found) if t.columns[0].head == "Joint")
    strong = [row[0].text for row in table.rows if isinstance(row[0], Cell) and row[0].strong]
    assert len(strong) == 1
    assert all(name in strong[0].lower() for name in found.odds.weakest.joint.split(" to "))


def test_cures_and_drivers_are_those_that_were_worked_out() -> None:
    found = planned("gull")
    assert found.odds is not None
    cures = after_cures(found.brief, found.opening, enclosure(found), found.odds.remake)
    on_site = under(found, "What may still be done on site")
    assert [row[1] for row in on_site] == [said_chance(c.remake.value) for c in cures]
    drivers = under(found, "What drives it")
    assert drivers[0][:2] == ["Height of door", "plant"]
    assert drivers[-1][0] == "All else"


def test_readings_worth_taking_are_said_with_minutes_and_gain() -> None:
    found = planned("plover")
    assert found.odds is not None
    advice = advise(found.brief, found.opening, enclosure(found), found.odds)
    text = said(page(found).blocks)
    assert advice.sentence in text
    assert "minutes" in advice.sentence
    assert advice.whether.sentence in text
    assert [row[2] for row in under(found, "Or")] == [
        said_chance(w.remains) for w in advice.readings[1:]
    ]


def test_while_readings_contradict_the_sheet_says_what_its_chances_are_worth() -> None:
    assert planned("plover").verdict is Verdict.READ_AGAIN
    assert odds_pages.UNSETTLED in said(page(planned("plover")).blocks)
    assert odds_pages.UNSETTLED not in said(page(planned("gull")).blocks)


def test_money_only_where_prices_are_stated() -> None:
    assert "No prices are stated" in said(page(planned("gull")).blocks)
    priced = planned("plover", Prices(money="EUR", remake=10_000.0, hour=60.0))
    assert priced.odds is not None
    text = said(page(priced).blocks)
    assert f"Expected cost of a remake: {10_000 * priced.odds.remake.value:,.0f} EUR" in text
    assert "No prices" not in text
    assert all(len(row) == 4 for row in under(priced, "Or"))


def test_without_odds_there_is_no_sheet() -> None:
    nothing = by_hand.plan(made=by_hand.NO_FIT)
    assert odds_pages.odds(nothing, units_of(nothing.brief)) == ()
    unproved = replace(planned("gull"), odds=None)
    assert odds_pages.odds(unproved, units_of(unproved.brief)) == ()


def test_the_plan_file_carries_the_odds_within_its_schema() -> None:
    found = planned("gull")
    assert found.odds is not None
    written = plan_json(found)
    jsonschema.Draft202012Validator(plan_schema()).validate(written)
    assert written["odds"]["remake"]["value"] == pytest.approx(found.odds.remake.value, abs=1e-6)
    assert (written["odds"]["draws"], written["odds"]["seed"]) == (20_000, 1)
    shares = [joint["fails"] for joint in written["odds"]["joints"]]
    assert sum(shares) == pytest.approx(written["odds"]["remake"]["value"], abs=1e-5)
    assert plan_json(replace(found, odds=None))["odds"] is None


def test_the_plan_file_carries_what_drives_the_odds_and_whether_to_read_again() -> None:
    found = planned("plover")
    written = plan_json(found)["odds"]
    jsonschema.Draft202012Validator(plan_schema()).validate(plan_json(found))
    assert sum(driver["share"] for driver in written["drivers"]) == pytest.approx(1.0, abs=1e-4)
    assert [c["words"] for c in written["cures"]] == [c.words for c in found.cures]
    assert found.advice is not None
    assert written["whether"]["sentence"] == found.advice.whether.sentence
    assert written["whether"]["without"] is None
    assert written["whether"]["visits"] == pytest.approx(found.advice.whether.visits, abs=1e-5)
    priced = plan_json(planned("plover", Prices(money="EUR", remake=10_000.0, hour=60.0)))["odds"]
    assert priced["whether"]["without"] == pytest.approx(
        10_000.0 * priced["remake"]["value"], abs=0.01
    )
    assert priced["whether"]["there"] < priced["whether"]["without"]


def test_the_same_job_gives_the_same_odds_to_the_byte() -> None:
    found = planned("gull")
    again = with_odds(found, odds(found.brief, found.opening, enclosure(found)))
    assert plan_json_text(again) == plan_json_text(found)
    assert page(again) == page(found)
