"""Textured glass, from the wish to what the plant reads: order, drawing, check on arrival."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from hangtrue.check.finding import Level
from hangtrue.fit.enclosure import Enclosure
from hangtrue.hang.hanging import hang
from hangtrue.hang.records import HangPlan
from hangtrue.job.brief import Brief
from hangtrue.job.read import read_job
from hangtrue.paper.drawings.pane_details import facts
from hangtrue.plan import plan, prove

GULL = Path(__file__).parents[2] / "examples" / "lodge" / "gull.yaml"


def gull(texture: str) -> Brief:
    brief, _ = read_job(GULL)
    assert brief is not None
    wanted = brief.job.wanted.model_copy(update={"texture": texture})
    return replace(brief, job=brief.job.model_copy(update={"wanted": wanted}))


def test_the_pane_sheet_says_so() -> None:
    for texture, says in (("textured", "Tempered textured glass"), ("clear", "Tempered glass")):
        brief = gull(texture)
        made = plan(brief).best.alternative.made
        assert isinstance(made, Enclosure)
        assert any(fact.startswith(says) for fact in facts(brief, made, made.lites[0]))


def test_whoever_takes_the_glass_in_looks_for_it() -> None:
    rough, smooth = (hang(plan(gull(texture))) for texture in ("textured", "clear"))
    assert isinstance(rough, HangPlan)
    assert isinstance(smooth, HangPlan)
    looks = [look for sheet in rough.receiving for look in sheet.looks]
    assert any(look.startswith("textured") for look in looks)
    assert not any(
        look.startswith("textured") for sheet in smooth.receiving for look in sheet.looks
    )


def test_it_is_trusted_with_less_and_carried_without_cups() -> None:
    rough, smooth = (prove(plan(gull(texture))).best.findings for texture in ("textured", "clear"))
    limits = [
        next(f.limit for f in found if f.rule == "glass-stress" and f.where == "fixed 1")
        for found in (rough, smooth)
    ]
    assert limits[0] is not None
    assert limits[1] is not None
    assert limits[0] / limits[1] == 0.75
    carried = [f for f in rough if f.rule == "carrying"]
    assert all("cups do not hold" in f.do for f in carried if f.level > Level.PASS)
