"""The first page says in a customer's words what may be done now and what to do next."""

from __future__ import annotations

import pytest

from hangtrue.check.finding import Finding
from hangtrue.check.verdict import Verdict
from hangtrue.paper import front
from hangtrue.paper.lengths import units_of
from hangtrue.plan import Plan
from tests.unit import packet_plans as plans

CASES = {
    "goes": plans.plan(plans.GOOD),
    "ask": plans.plan(plans.QUESTION),
    "cure": plans.plan(plans.HEAVY, plans.QUESTION),
    "must not": plans.plan(plans.HOLLOW, plans.HEAVY, plans.QUESTION),
    "no fit": plans.plan(plans.QUESTION, made=plans.NO_FIT),
    "named": plans.plan(plans.DISAGREE, alarm=True, named=True),
    "tied": plans.plan(plans.DISAGREE, alarm=True),
}


def steps(plan: Plan) -> tuple[str, ...]:
    return front.next_steps(plan, units_of(plan.brief)).items


@pytest.mark.parametrize("plan", CASES.values(), ids=CASES.keys())
def test_there_are_three_different_things_to_do(plan: Plan) -> None:
    assert len(set(steps(plan))) == front.THINGS


@pytest.mark.parametrize("plan", CASES.values(), ids=CASES.keys())
def test_no_rule_id_stands_on_the_first_page(plan: Plan) -> None:
    page = front.page(plan, units_of(plan.brief), {}, ())
    assert not any(f.rule in str(page.blocks) for f in plan.best.findings)


def test_the_worst_finding_is_cured_first() -> None:
    assert "blocking" in steps(CASES["must not"])[0]
    assert "three hinges" in steps(CASES["cure"])[0]


def test_a_named_slip_is_read_again_first() -> None:
    first = steps(CASES["named"])[0]
    assert "Width at 74 in" in first
    assert "57-5/16" in first


def test_undecided_readings_come_with_the_one_that_settles_them() -> None:
    assert "diagonal" in steps(CASES["tied"])[1]


def test_the_missing_length_is_said_where_nothing_fits() -> None:
    assert "1/4 in is missing" in steps(CASES["no fit"])[0]


@pytest.mark.parametrize("verdict", list(Verdict))
def test_only_what_goes_carries_no_band(verdict: Verdict) -> None:
    assert (front.band(verdict) == "") is (verdict is Verdict.GOES)
    assert (front.sign(verdict) == "stop") is verdict.stops


def test_a_finding_without_a_cure_is_no_step() -> None:
    plan = plans.plan(Finding(rule="x", level=plans.QUESTION.level, where="curb", found="Odd."))
    assert not any("Curb" in step for step in steps(plan))
