"""A rule signs what it finds, may not be silent, and passes nothing on memory alone."""

from __future__ import annotations

from collections.abc import Iterable

import pytest

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import Rule, SilentRuleError, rule
from hangtrue.check.rules import RULES
from hangtrue.source import source
from tests import good_job as g


def made(origin: str, *findings: Finding) -> Rule:
    """Make a rule that always finds the same."""

    @rule(id="made-up", title="Made up", why="For the test.", source=origin)
    def judge(_case: Case) -> Iterable[Finding]:
        return findings

    return judge


PASSED = Finding(level=Level.PASS, where="curb", found="Good.")


def test_a_silent_rule_is_a_bug() -> None:
    with pytest.raises(SilentRuleError, match="made-up"):
        made("practice").apply(g.good())


def test_a_finding_is_signed_with_its_rule_and_source() -> None:
    (finding,) = made("practice", PASSED).apply(g.good())
    assert (finding.rule, finding.source, finding.level) == ("made-up", "practice", Level.PASS)


def test_memory_passes_nothing() -> None:
    (finding,) = made("en-12150-memory", PASSED).apply(g.good())
    assert finding.level is Level.NOT_CHECKED
    assert "memory" in finding.means


@pytest.mark.parametrize("level", [Level.FAIL, Level.WARN, Level.NOTE])
def test_memory_may_warn(level: Level) -> None:
    bad = Finding(level=level, where="curb", found="Bad.")
    assert [f.level for f in made("en-12150-memory", bad).apply(g.good())] == [level]


@pytest.mark.parametrize("one", RULES, ids=lambda one: one.id)
def test_a_rule_says_what_and_why_and_where_from(one: Rule) -> None:
    """In whole sentences, with a source that stands in the table."""
    assert one.why.endswith(".")
    assert one.title
    assert not one.title.endswith(".")
    assert source(one.source).title


@pytest.mark.parametrize("one", RULES, ids=lambda one: one.id)
def test_a_rule_stands_in_a_file_of_its_own_name(one: Rule) -> None:
    assert one.judge.__module__ == f"hangtrue.check.rules.{one.id.replace('-', '_')}"
