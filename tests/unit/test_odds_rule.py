"""The chance of a remake as a finding: under the shop's limit, over it, or to be settled first."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from hangtrue.check.finding import Finding, Level
from hangtrue.check.verdict import Verdict
from hangtrue.estimate import Estimate
from hangtrue.job.brief import Brief
from hangtrue.job.read import read_job
from hangtrue.odds.cures import after_cures
from hangtrue.paper.terminal import summary
from hangtrue.plan import Plan, plan, prove

LODGE = Path(__file__).parents[2] / "examples" / "lodge"


def brief(name: str, limit: float | None = None) -> Brief:
    found, _ = read_job(LODGE / f"{name}.yaml")
    assert found is not None
    if limit is None:
        return found
    limits = dict(found.profile.limits)
    limits["remake-risk-most"] = limits["remake-risk-most"].model_copy(update={"value": limit})
    return replace(found, profile=found.profile.model_copy(update={"limits": limits}))


@cache
def proved(name: str, limit: float | None = None) -> Plan:
    return prove(plan(brief(name, limit)))


def finding(found: Plan) -> Finding:
    (mine,) = (f for f in found.best.findings if f.rule == "odds")
    return mine


def test_a_risk_the_shop_takes_passes_with_value_limit_and_margin() -> None:
    found = finding(proved("gull"))
    assert found.level is Level.PASS
    assert found.limit == 0.05
    assert found.value == proved("gull").best.odds.remake  # type: ignore[union-attr]
    assert found.margin == pytest.approx(0.05 - found.value.value)  # type: ignore[union-attr]
    assert found.source == "own"


def test_a_cure_on_site_that_is_enough_is_named_with_what_it_leaves() -> None:
    """Wren: 9 % is too much; the deepest channel leaves less than the shop takes."""
    found = proved("wren")
    mine = finding(found)
    assert mine.level is Level.WARN
    assert found.verdict is Verdict.CURE_FIRST
    made = found.best.alternative.made
    cures = after_cures(found.brief, found.opening, made, found.odds.remake)  # type: ignore[arg-type, union-attr]
    assert any(c.remake.value <= 0.05 and c.words.lower() in mine.do.lower() for c in cures)


def test_what_a_reading_would_settle_is_a_question() -> None:
    """Where the limit lies between what a reading leaves and what there is now, it is asked for."""
    now, advice = proved("petrel").odds, proved("petrel").advice
    assert now is not None
    assert advice is not None
    between = (now.remake.value + advice.readings[0].remains) / 2
    mine = finding(proved("petrel", between))
    assert mine.level is Level.NOT_CHECKED
    assert mine.do == advice.sentence


def test_a_risk_at_the_limit_is_no_pass() -> None:
    """Drawing does not tell it from more than the limit."""
    now = proved("sandpiper").odds
    assert now is not None
    assert finding(proved("sandpiper", now.remake.value)).level is Level.WARN
    well = now.remake.value + 3 * now.remake.sd
    assert finding(proved("sandpiper", well)).level is Level.PASS


def test_while_readings_contradict_no_chance_passes() -> None:
    mine = finding(proved("plover"))
    assert mine.level is Level.NOT_CHECKED
    assert mine.value is None
    assert "contradict" in mine.found
    assert mine.do == "Read w3 again first."


def test_while_readings_contradict_the_terminal_says_no_chance() -> None:
    """A chance beside "do not order yet" would be believed."""
    said = summary(proved("plover"))
    assert "not said" in said
    assert " becomes " not in said
    assert "Chance that glass cut to this must be made again: 1 in" in summary(proved("gull"))


def test_the_chance_of_one_gap_is_told_from_that_of_a_remake() -> None:
    """A gap that comes out right four times in five stands beside one remake in two hundred."""
    plan = proved("dunlin")
    fits = next(f for f in plan.best.findings if f.rule == "fits")
    assert fits.probability is not None
    assert plan.odds is not None
    assert fits.probability < 1.0 - plan.odds.remake.value
    assert "not the chance of a remake" in fits.means


def test_the_plan_keeps_odds_cures_and_advice_of_what_is_to_be_built() -> None:
    found = proved("wren")
    assert found.odds is found.best.odds
    assert isinstance(found.odds and found.odds.remake, Estimate)
    assert found.cures
    assert found.advice is not None
