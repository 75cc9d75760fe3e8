"""The Gull room, its wall tiles and pipes as each test of the hanging wants them."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from pathlib import Path

from hangtrue.hang.hanging import hang
from hangtrue.hang.records import HangPlan
from hangtrue.hang.shop import Shop, shipped_shop
from hangtrue.hang.work import Work
from hangtrue.job.brief import Brief
from hangtrue.job.read import read_job_text
from hangtrue.plan import Plan, plan

GULL = Path(__file__).parents[2] / "examples" / "lodge" / "gull.yaml"
LEFT = "name: window wall"
"""Where something more is said of the left wall, which carries the door."""


@cache
def text() -> str:
    """Return the job as it stands in the examples."""
    return GULL.read_text("utf-8")


def with_left(*lines: str) -> str:
    """Say something more of the left wall."""
    return text().replace(LEFT, "\n    ".join((LEFT, *lines)), 1)


def brief(document: str) -> Brief:
    """Read a job that has nothing wrong."""
    found, problems = read_job_text(document)
    assert found is not None, problems
    return found


@cache
def planned() -> Plan:
    """Plan the room as it stands; what only the holes care about is changed afterwards."""
    return plan(brief(text()))


def plan_of(document: str) -> Plan:
    """Return the same plan for a job that differs only in what no pane depends on."""
    return replace(planned(), brief=brief(document))


def hung(document: str = "", shop: Shop | None = None) -> HangPlan:
    """Hang the room."""
    made = hang(plan_of(document or text()), shop)
    assert isinstance(made, HangPlan)
    return made


def work(document: str = "", shop: Shop | None = None) -> Work:
    """Return what is hung, as every list gets it."""
    whole = plan_of(document or text())
    made = whole.best.alternative.made
    return Work(
        brief=whole.brief,
        opening=whole.opening,
        enclosure=made,  # type: ignore[arg-type]
        shop=shop or shipped_shop(),
    )


def replaced(pattern: str, by: str) -> str:
    """Return the job with something written otherwise."""
    changed = re.sub(pattern, by, text(), count=1)
    assert changed != text()
    return changed
