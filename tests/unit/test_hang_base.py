"""Holes in what the glass stands on, in the riser of a step and overhead: layers, stops, rules.

Common practice, no source: the riser of a step is held as its top, because the same waterproofing
lies under both; no hole goes through it.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from hangtrue.hang.hanging import hang
from hangtrue.hang.records import DrillHole, HangPlan
from hangtrue.hang.shop import FixingRule, Shop, shipped_shop
from hangtrue.job.read import read_job_text
from hangtrue.plan import Plan, plan

LODGE = Path(__file__).parents[2] / "examples" / "lodge"
KNEE = "{name: end of the knee wall, kind: knee wall, run: 1, from: 38"
DECK = "{name: tub deck, kind: tub deck"
PAN = "threshold: {kind: pan lip, height: 450, width: 60, material: acrylic}"


@cache
def planned(room: str) -> Plan:
    brief, problems = read_job_text((LODGE / f"{room}.yaml").read_text("utf-8"), LODGE)
    assert brief, problems
    return plan(brief)


def hung(room: str, *changed: tuple[str, str], shop: Shop | None = None) -> HangPlan:
    """Hang a room of the lodge whose job says something else that no pane depends on."""
    text = (LODGE / f"{room}.yaml").read_text("utf-8")
    for old, new in changed:
        assert old in text
        text = text.replace(old, new)
    brief, problems = read_job_text(text, LODGE)
    assert brief
    assert problems == ()
    made = hang(replace(planned(room), brief=brief), shop)
    assert isinstance(made, HangPlan)
    return made


def on(plan_: HangPlan, surface: str) -> tuple[DrillHole, ...]:
    return plan_.drilling.on(surface)


def test_the_riser_of_a_stone_knee_wall_is_bedded_like_its_top() -> None:
    found = hung("petrel").drilling.bedded
    own = [b.removeprefix("channel of fixed 1, on the ") for b in found if "fixed 1" in b]
    assert own == [
        f"{surface}: bedded in a full bead of sealant, no hole"
        for surface in ("curb", "end of the knee wall", "riser of the end of the knee wall")
    ]


def test_the_riser_of_an_acrylic_deck_is_screwed_short_of_the_waterproofing() -> None:
    (hole,) = on(hung("sandpiper"), "riser of the tub deck")
    assert hole.id == "R1"
    assert hole.along == pytest.approx(120.0, abs=3.0), "where the deck ends"
    assert 0.0 < hole.above_datum < 30.0, "between the lip and the deck"
    assert any("waterproofing behind" in flag for flag in hole.flags)
    assert all(layer.layer == "acrylic" for layer in hole.passes)


def test_a_step_may_be_made_of_something_else_than_the_curb() -> None:
    found = hung("sandpiper", (DECK, f"{DECK}, material: tile"))
    assert on(found, "riser of the tub deck") == ()
    assert on(found, "tub deck") == ()
    assert len(on(found, "curb")) == 2, "the lip itself is acrylic still"


def test_a_framed_knee_wall_takes_screws_in_its_end_stud() -> None:
    layers = (
        "[{material: porcelain tile, thickness: 3/8}, {material: cement board, thickness: 1/2}]"
    )
    found = hung("petrel", (KNEE, f"{KNEE}, behind: stud, layers: {layers}"))
    holes = on(found, "riser of the end of the knee wall")
    assert len(holes) >= 2
    for hole in holes:
        assert [p.layer for p in hole.passes] == ["porcelain tile", "cement board", "solid wood"]
        assert [str(p.bit) for p in hole.passes] == [
            "3/16 in diamond", "3/16 in carbide", "1/8 in twist",
        ]  # fmt: skip
    heights = [hole.above_datum for hole in holes]
    assert heights == sorted(heights)
    assert heights[-1] < 36 * 25.4, "under the cap"
    strips = [t.id for t in found.templates if "riser" in t.id]
    assert strips == ["channel of fixed 1 at the riser of the end of the knee wall"]


def test_a_shop_may_have_a_rule_of_its_own_for_risers() -> None:
    rule = FixingRule(holds="channel", on="riser", into=("stone",), fixing="glued", torque="none",
                      behind="sound stone", bedded=True)  # fmt: skip
    shop = shipped_shop()
    own = replace(shop, fixings=(*shop.fixings, rule))
    assert own.fixing("channel", "riser", "stone") == rule
    assert own.fixing("channel", "base", "stone") == shop.fixing("channel", "base", "stone")
    assert any("riser" in b and "glued" in b for b in hung("petrel", shop=own).drilling.bedded)


def test_the_layers_of_a_lip_are_drilled_one_by_one_and_no_deeper_than_the_stop() -> None:
    layers = "[{material: acrylic, thickness: 5}, {material: plywood, thickness: 40}]"
    found = hung("sandpiper", (PAN, PAN.replace("acrylic}", f"acrylic, layers: {layers}}}")))
    for hole in on(found, "curb"):
        assert [(p.layer, p.start, p.end) for p in hole.passes] == [
            ("acrylic", 0.0, 5.0),
            ("plywood", 5.0, hole.depth),
        ]
        assert hole.depth == pytest.approx(20.0)


def test_a_membrane_above_the_stop_is_said() -> None:
    layers = "[{material: acrylic, thickness: 5}, {material: membrane, thickness: 1}]"
    found = hung("sandpiper", (PAN, PAN.replace("acrylic}", f"acrylic, layers: {layers}}}")))
    said = [s for s in found.snags if s.where == "curb"]
    assert any("the waterproofing lies 5.0 mm deep" in s.wrong for s in said)
    assert any("the layers end at 6.0 mm" in s.wrong for s in said)
    assert all("goes through the waterproofing" in h.flags[0] for h in on(found, "curb"))


def test_the_layers_of_a_ceiling_are_drilled_one_by_one() -> None:
    for hole in on(hung("dunlin"), "ceiling"):
        assert [p.layer for p in hole.passes] == ["porcelain tile", "cement board", "solid wood"]
        assert not any("nobody said what the layers are" in flag for flag in hole.flags)


def test_a_layer_of_a_curb_that_nobody_knows_stops_the_work() -> None:
    layers = "[{material: unobtainium, thickness: 25}]"
    found = hung("sandpiper", (PAN, PAN.replace("acrylic}", f"acrylic, layers: {layers}}}")))
    assert any("nobody knows which bit goes through “unobtainium”" in s.wrong for s in found.snags)
    assert found.stops


def test_a_short_channel_has_one_fixing_in_its_middle() -> None:
    """120 mm of deck: two fixings would stand nearer than a hand apart."""
    (hole,) = on(hung("sandpiper"), "tub deck")
    assert 40.0 < hole.along < 100.0


def test_wood_of_unknown_thickness_is_asked_for_and_no_depth_behind_it_is_made_up() -> None:
    found = hung("dunlin")
    assert not any("behind the wood" in snag.wrong for snag in found.snags)
    for hole in on(found, "ceiling"):
        assert any("nobody said how thick the wood is" in flag for flag in hole.flags)


def test_a_transom_that_the_plan_knows_no_fitting_for_is_said() -> None:
    said = [s for s in hung("dunlin").snags if s.where == "transom"]
    assert ["maker's drawing" in s.do for s in said] == [True]
    assert not any(s.where == "transom" for s in hung("petrel").snags)
