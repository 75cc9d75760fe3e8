"""The plan as JSON keeps its schema, says everything the plan holds, and is the same every time."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import jsonschema
import pytest

from hangtrue.job.problems import Problem
from hangtrue.paper.plan_json import plan_json, plan_json_text, plan_schema
from hangtrue.plan import Plan
from tests.unit import packet_plans as plans

PROBLEM = Problem(
    line=12, field="readings[2].value", wrong="62 in?", do="look again", level="sure?"
)
CASES = {
    "goes": plans.plan(plans.GOOD),
    "must not": plans.plan(plans.HOLLOW, plans.HEAVY, plans.QUESTION, units="mm", paper="a4"),
    "no fit": plans.plan(plans.QUESTION, made=plans.NO_FIT),
    "contradicts": plans.plan(plans.DISAGREE, alarm=True),
}


@pytest.mark.parametrize("plan", CASES.values(), ids=CASES.keys())
def test_every_plan_keeps_the_published_schema(plan: Plan) -> None:
    schema = plan_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.Draft202012Validator(schema).validate(json.loads(plan_json_text(plan, [PROBLEM])))


def test_every_field_of_the_schema_is_described() -> None:
    undescribed = [name for name, field in fields(plan_schema()) if not field.get("description")]
    assert undescribed == []


def test_a_key_that_nobody_published_breaks_the_schema() -> None:
    said = plan_json(CASES["goes"])
    said["best"]["made"]["panes"][0]["extra"] = 1
    assert not jsonschema.Draft202012Validator(plan_schema()).is_valid(said)


def test_the_same_plan_gives_the_same_bytes() -> None:
    again = plans.plan(plans.GOOD)
    assert plan_json_text(CASES["goes"]) == plan_json_text(again)


def test_lengths_are_rounded_to_a_millionth_and_finite() -> None:
    text = plan_json_text(CASES["goes"])
    said = json.loads(text, parse_constant=pytest.fail)
    del said["opening"]["shape"], said["opening"]["covariance"]
    for value in numbers(said):
        assert value == round(value, 6)


def test_chains_add_up_in_what_is_written() -> None:
    for pane in plan_json(CASES["goes"])["best"]["made"]["panes"]:
        for chain in pane["chains"]:
            total = chain["opening"] + sum(step["amount"] for step in chain["steps"])
            assert total == pytest.approx(chain["glass"], abs=5e-6)


def test_what_nothing_checks_has_no_detectable_slip() -> None:
    residuals = {r["reading"]: r for r in plan_json(CASES["goes"])["opening"]["residuals"]}
    assert residuals["f1"]["detectable"] is None
    assert residuals["w1"]["detectable"] == 5.1
    assert residuals["w1"]["typed"] == '58-1/2"'


def test_the_verdict_says_whether_glass_may_be_ordered() -> None:
    allowed = {name: plan_json(plan)["verdict"]["may_order"] for name, plan in CASES.items()}
    assert allowed == {"goes": True, "must not": False, "no fit": False, "contradicts": False}


def test_problems_of_the_document_are_in_it() -> None:
    assert plan_json(CASES["goes"], [PROBLEM])["problems"][0]["line"] == 12


def fields(schema: dict[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    for part in (schema, *schema["$defs"].values()):
        for name, field in part.get("properties", {}).items():
            yield f"{part['title']}.{name}", field


def numbers(value: Any) -> Iterator[float]:
    if isinstance(value, float):
        yield value
    elif isinstance(value, dict | list):
        for part in value.values() if isinstance(value, dict) else value:
            yield from numbers(part)
