"""Screws are where the maker says; where nobody says, the shop's share stands in and it is said."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Bar, Chain, Enclosure
from hangtrue.hang.bars import along_the_line
from hangtrue.hang.drilling import drilling
from hangtrue.hang.hanging import hang
from hangtrue.hang.mounting import GUESSED, plate_screws
from hangtrue.hang.records import HangPlan
from hangtrue.hang.templates import templates
from hangtrue.hang.work import Work
from hangtrue.job.hardware import Hinge, Item
from hangtrue.job.read import read_job
from hangtrue.plan import plan
from hangtrue.units import length
from tests.unit import hang_jobs as jobs

LODGE = Path(__file__).parents[2] / "examples" / "lodge"
BAR = Bar(
    id="bar 1",
    kind="support",
    hardware="support-bar",
    run=1,
    holds="fixed 1",
    to="left wall",
    ends=((900.0, 0.0, 1900.0), (0.0, 0.0, 1900.0)),
    length=Estimate(900.0),
    chain=Chain(size="length", at_height=1900.0, opening=900.0, deductions=(), glass=900.0),
)


def with_item(item_id: str, **said: Any) -> Work:
    """Return the Gull room with more said of one fitting."""
    work = jobs.work()
    item: Item = work.brief.items[item_id].model_copy(update=said)
    return replace(work, brief=replace(work.brief, items={**work.brief.items, item_id: item}))


def hinge_holes(work: Work) -> list[Any]:
    return [h for h in drilling(work)[0].holes if h.part.startswith("hinge 1")]


def test_the_shops_share_stands_in_and_every_hole_and_template_says_so() -> None:
    """Common practice, no source: columns half the plate apart, to be held against the plate."""
    work = jobs.work()
    found = hinge_holes(work)
    assert sorted({h.off for h in found}) == pytest.approx([-12.7, 12.7])
    assert all(GUESSED in h.flags for h in found)
    plan, _ = drilling(work)
    (plate,) = (t for t in templates(work, plan) if t.id == "hinge plate plain-wall-hinge")
    assert any("not the maker's" in note for note in plate.notes)


def test_the_makers_columns_are_taken_as_written() -> None:
    work = with_item("plain-wall-hinge", screw_columns=length("1-1/4 in"))
    found = hinge_holes(work)
    assert sorted({h.off for h in found}) == pytest.approx([-15.875, 15.875])
    assert not any(GUESSED in h.flags for h in found)
    plan, _ = drilling(work)
    (plate,) = (t for t in templates(work, plan) if t.id == "hinge plate plain-wall-hinge")
    assert not any("not the maker's" in note for note in plate.notes)


def test_a_plate_beside_the_glass_is_drilled_beside_it() -> None:
    """Facing the left wall from the opening, the shower is to the right."""
    offset = length("1/2 in")
    work = with_item("plain-wall-hinge", screw_columns=length("1 in"), plate_offset=offset)
    assert sorted({h.off for h in hinge_holes(work)}) == pytest.approx([0.0, 25.4])
    plan, _ = drilling(work)
    (plate,) = (t for t in templates(work, plan) if t.id.startswith("hinge plate"))
    line = plate.line("plumb").start[0]
    assert sorted({d.centre[0] - line for d in plate.drills}) == pytest.approx([0.0, 25.4])
    box = [x for x, _ in plate.rings[0].points]
    assert (min(box) + max(box)) / 2 - line == pytest.approx(12.7)
    assert plate.id.endswith("left wall")
    assert any("toward the shower, which is on the right" in note for note in plate.notes)


def test_the_hinge_with_its_plate_to_one_side_is_shipped_so() -> None:
    hinge = jobs.work().brief.items["offset-wall-hinge"]
    assert isinstance(hinge, Hinge)
    assert hinge.plate_offset
    middle = sum(across for _, across in plate_screws(hinge, 0.5)) / hinge.screws
    assert middle == pytest.approx(hinge.plate_offset)


def test_a_flange_has_the_screws_of_its_maker() -> None:
    work = with_item("support-bar", flange_screws=3, flange_rows=length("40 mm"))
    plan, _ = drilling(replace(work, enclosure=replace(work.enclosure, bars=(BAR,))))
    flange = [h for h in plan.holes if h.part == "flange of bar 1"]
    assert [h.above_datum for h in flange] == pytest.approx([1880.0, 1900.0, 1920.0])
    assert not any(GUESSED in h.flags for h in flange)
    work = jobs.work()
    plan, _ = drilling(replace(work, enclosure=replace(work.enclosure, bars=(BAR,))))
    assert all(GUESSED in h.flags for h in plan.holes if h.part == "flange of bar 1")


def test_a_clamp_has_the_screws_of_its_maker() -> None:
    said = {"screws": 2, "screw_columns": length("20 mm"), "plate_offset": length("5 mm")}
    work = with_item("clamp-wall-square", **said)
    joint = next(j for j in work.enclosure.joints if j.id == "fixed 1 to right wall")
    gaps = tuple(replace(g, at_fitting=k in {3, 10}) for k, g in enumerate(joint.gaps))
    clamped = replace(joint, kind="clamp", hardware="clamp-wall-square", gaps=gaps)
    joints = tuple(clamped if j.id == joint.id else j for j in work.enclosure.joints)
    plan, _ = drilling(replace(work, enclosure=replace(work.enclosure, joints=joints)))
    assert {round(h.off, 6) for h in plan.on("right wall")} == {-5.0, 15.0}
    assert not any(GUESSED in h.flags for h in plan.on("right wall"))


def test_clamps_and_flanges_have_strips_with_their_holes_on_the_side_they_are_drilled() -> None:
    """Facing the right wall from the opening, the shower is to the left."""
    said = {"screws": 2, "screw_columns": length("20 mm"), "plate_offset": length("5 mm")}
    work = with_item("clamp-wall-square", **said)
    joint = next(j for j in work.enclosure.joints if j.id == "fixed 1 to right wall")
    gaps = tuple(replace(g, at_fitting=k in {3, 10}) for k, g in enumerate(joint.gaps))
    clamped = replace(joint, kind="clamp", hardware="clamp-wall-square", gaps=gaps)
    joints = tuple(clamped if j.id == joint.id else j for j in work.enclosure.joints)
    work = replace(work, enclosure=replace(work.enclosure, joints=joints, bars=(BAR,)))
    plan, _ = drilling(work)
    strips = {t.id: t for t in templates(work, plan)}
    strip = strips["clamps of fixed 1 at the right wall"]
    line, zero = strip.line("plumb").start[0], strip.line("level").start[1]
    drawn = sorted((d.centre[1] - zero, line - d.centre[0]) for d in strip.drills)
    wanted = sorted((h.height.value, h.off) for h in plan.on("right wall"))
    for one, other in zip(drawn, wanted, strict=True):
        assert one == pytest.approx(other)
    flange = strips["flange of bar 1 at the left wall"]
    assert len(flange.drills) == len([h for h in plan.holes if h.joint == BAR.id])


def test_a_hinge_that_must_not_be_hung_has_no_template() -> None:
    behind = jobs.text().replace("behind: blocking", "behind: unknown", 1)
    blocking = behind.partition("    blocking:")[2].partition("    solid_bedded")[0]
    found = jobs.hung(behind.replace(f"    blocking:{blocking}", "", 1))
    assert not any(t.id.startswith("hinge plate") for t in found.templates)
    assert found.stops


def test_a_brace_meets_the_wall_away_from_the_glass() -> None:
    """Geometry: at 45 degrees it lies as far off the glass as its other end along it."""
    brief, _ = read_job(LODGE / "sandpiper.yaml")
    assert brief is not None
    made = plan(brief)
    enclosure = made.best.alternative.made
    assert isinstance(enclosure, Enclosure)
    (bar,) = enclosure.bars
    plan_ = hang(made)
    assert isinstance(plan_, HangPlan)
    (start, end) = bar.ends
    offs = [h.off for h in plan_.drilling.holes if h.joint == bar.id]
    assert offs == pytest.approx([abs(start[0] - end[0])] * len(offs), abs=0.01)
    assert offs


def test_a_bar_to_the_ceiling_is_drilled_along_its_own_run() -> None:
    """Geometry: round a corner, places overhead count along the glass, not across the room."""
    brief, _ = read_job(LODGE / "petrel.yaml")
    assert brief is not None
    made = plan(brief).best.alternative.made
    assert isinstance(made, Enclosure)
    second = made.runs[1]
    x = (second.start + second.end) / 2
    end = (*second.plan(x), 2400.0)
    bar = replace(BAR, run=2, to="ceiling", ends=(end, end))
    assert along_the_line(made, bar, end) == pytest.approx((x, 0.0), abs=1e-6)
    assert abs(end[0] - x) > 1.0


def test_the_template_of_a_flange_is_about_its_middle() -> None:
    """One hand holds it: 560 mm off the glass it is no larger, and it says where it goes."""
    brief, _ = read_job(LODGE / "sandpiper.yaml")
    assert brief is not None
    found = hang(plan(brief))
    assert isinstance(found, HangPlan)
    (flange,) = (t for t in found.templates if t.id.startswith("flange"))
    assert max(flange.size) < 220.0
    drilled = [h for h in found.drilling.holes if h.joint == "bar 1"]
    (low, high) = sorted(d.centre[1] for d in flange.drills)
    apart = max(h.height.value for h in drilled) - min(h.height.value for h in drilled)
    assert high - low == pytest.approx(apart)
    assert "560" in flange.notes[0]
    assert "inside the glass line" in flange.notes[0]
