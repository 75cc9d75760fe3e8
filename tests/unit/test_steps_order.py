"""The steps of any layout: in an order that breaks no rule, with nobody in two places at once."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hangtrue.fit.enclosure import Enclosure
from hangtrue.hang.cautions import applying
from hangtrue.hang.cure_time import SEALED, cure
from hangtrue.hang.graph import Activity, Circle, order
from hangtrue.hang.hanging import hang
from hangtrue.hang.records import HangPlan
from hangtrue.hang.steps import Step, steps
from hangtrue.hang.timetable import DAY, clock, in_the_day, timetable
from hangtrue.job.read import read_job, read_job_text
from hangtrue.plan import plan
from hangtrue.tables import table
from tests.unit.hung import BRIEF, Held, drilled, hung, mirror_words

LODGE = Path(__file__).parents[2] / "examples" / "lodge"
QUICK = settings(max_examples=60, deadline=None)


@st.composite
def rows(draw: st.DrawFn) -> tuple[str, ...]:
    """Draw a row of panes in which every door hangs on a wall or on fixed glass beside it."""
    panes = [draw(st.sampled_from(["fixed", "door"])) for _ in range(draw(st.integers(1, 5)))]
    told = []
    for i, pane in enumerate(panes):
        if pane == "fixed":
            told.append(pane)
            continue
        beside = {"left": panes[i - 1] if i else "wall", "right": (*panes, "wall")[i + 1]}
        sides = [s for s, what in beside.items() if what != "door"]
        if not sides:
            told.append("fixed")
            panes[i] = "fixed"
            continue
        side = draw(st.sampled_from(sides))
        on = "wall" if beside[side] == "wall" else "glass"
        told.append(f"door {side} {on}")
    return tuple(told)


@st.composite
def layouts(draw: st.DrawFn) -> Enclosure:
    row = draw(rows())
    held: list[Held] = ["channel", "clamp", "silicone"]
    return hung(
        *row,
        held=draw(st.sampled_from(held)),
        between=draw(st.sampled_from(held[1:])),
        turns=draw(st.sets(st.integers(1, 4), max_size=2)),  # type: ignore[arg-type]
        transom=draw(st.booleans()),
        bars=draw(st.booleans()),
    )


def waits_for(step: Step) -> tuple[str, ...]:
    """Kind of a step and of what it waits for."""
    return step.kind, *sorted(need.step.partition(":")[0] for need in step.needs)


def made(enclosure: Enclosure) -> tuple[Step, ...]:
    return steps(BRIEF, enclosure, cure(enclosure), drilled(enclosure))


@given(layouts())
@QUICK
def test_every_step_comes_after_all_it_needs(enclosure: Enclosure) -> None:
    seen: set[str] = set()
    for step in made(enclosure):
        assert {need.step for need in step.needs} <= seen
        seen.add(step.id)


@given(layouts(), st.integers(1, 3))
@QUICK
def test_on_the_clock_nothing_starts_before_what_it_needs_has_ended(
    enclosure: Enclosure, crew: int
) -> None:
    todo = made(enclosure)
    table_ = timetable(todo, crew)
    slots = {slot.id: slot for slot in table_.slots}
    assert len(slots) == len(todo)
    for step in todo:
        for need in step.needs:
            assert slots[need.step].finish <= slots[step.id].start + 1e-6
    assert table_.finish >= table_.path.duration - 1e-6


@given(layouts(), st.integers(1, 3))
@QUICK
def test_nobody_is_in_two_places_at_once(enclosure: Enclosure, crew: int) -> None:
    todo = {step.id: step for step in made(enclosure)}
    slots = timetable(tuple(todo.values()), crew).slots
    for moment in (slot.start for slot in slots):
        busy = [s for s in slots if s.start <= moment + 1e-6 < s.finish - 1e-6]
        assert sum(min(todo[s.id].people, crew) for s in busy) <= crew


@given(layouts())
@QUICK
def test_all_is_set_dry_before_anything_is_sealed(enclosure: Enclosure) -> None:
    names = [step.kind for step in made(enclosure)]
    dry = [i for i, k in enumerate(names) if k in {"set", "set_transom", "hang", "tune", "swing"}]
    wet = [i for i, k in enumerate(names) if k in {"clean_joints", "seal"}]
    assert not wet or not dry or max(dry) < min(wet)


@given(layouts())
@QUICK
def test_sealant_goes_between_fixed_glass_and_what_it_meets_and_nowhere_else(
    enclosure: Enclosure,
) -> None:
    doors = {door.id for door in enclosure.doors}
    sealed = {step.subject for step in made(enclosure) if step.kind == "seal"}
    for joint in enclosure.joints:
        wanted = joint.kind in SEALED and not doors & set(joint.between)
        assert (joint.id in sealed) == wanted


@given(layouts())
@QUICK
def test_no_water_and_no_swing_on_fresh_panes_before_the_cure(enclosure: Enclosure) -> None:
    order_ = [step.kind for step in made(enclosure)]
    if "cure" in order_:
        after = order_[order_.index("cure") :]
        assert "water_test" in after
        assert "swing" not in after
        carried = [door for door in enclosure.doors if door.hung_on == "glass"]
        assert after.count("first_swing") == len(carried)


@given(layouts())
@QUICK
def test_a_pane_that_carries_a_door_is_held_before_the_door_hangs_on_it(
    enclosure: Enclosure,
) -> None:
    place = {step.id: i for i, step in enumerate(made(enclosure))}
    for joint in enclosure.joints:
        ends = set(joint.between)
        doors = {d.id for d in enclosure.doors if d.hung_on == "glass"} & ends
        if joint.kind != "hinge" or not doors:
            continue
        (door,), (pane,) = doors, ends - doors
        assert place[f"set: {pane}"] < place[f"tighten: {pane}"] < place[f"hang: {door}"]


@given(layouts())
@QUICK
def test_clamps_between_panes_go_on_when_both_stand(enclosure: Enclosure) -> None:
    """So that no glass meets glass."""
    place = {step.id: i for i, step in enumerate(made(enclosure))}
    for joint in enclosure.joints:
        if f"join_glass: {joint.id}" in place:
            for pane in joint.between:
                assert place[f"set: {pane}"] < place[f"join_glass: {joint.id}"]


@given(rows())
@QUICK
def test_the_mirror_image_of_a_layout_has_the_mirror_image_of_its_steps(
    row: tuple[str, ...],
) -> None:
    one = made(hung(*row))
    other = made(hung(*mirror_words(row)))
    assert Counter((s.kind, s.minutes, s.people) for s in one) == Counter(
        (s.kind, s.minutes, s.people) for s in other
    )
    assert Counter(map(waits_for, one)) == Counter(map(waits_for, other))
    path = [timetable(work, 2).path.duration for work in (one, other)]
    assert path[0] == pytest.approx(path[1])


def test_a_door_on_the_wall_comes_before_the_pane_that_it_closes_on() -> None:
    place = {step.id: i for i, step in enumerate(made(hung("door left wall", "fixed")))}
    assert place["tune: door"] < place["set: fixed 1"] < place["line_up: door to fixed 1"]
    assert place["line_up: door to fixed 1"] < place["tighten: fixed 1"]


def test_a_door_on_glass_comes_after_the_pane_that_carries_it() -> None:
    place = {step.id: i for i, step in enumerate(made(hung("door right glass", "fixed")))}
    assert place["tighten: fixed 1"] < place["hang: door"]


def test_a_transom_is_up_before_the_door_below_it() -> None:
    todo = made(hung("door left wall", "fixed", transom=True))
    place = {step.id: i for i, step in enumerate(todo)}
    assert place["set_transom: transom"] < place["hang: door"]


def test_a_door_alone_waits_for_the_sealant_in_its_screw_holes() -> None:
    kinds = [step.kind for step in made(hung("door left wall"))]
    assert "seal" not in kinds
    assert kinds.index("seal_holes") < kinds.index("cure") < kinds.index("water_test")


ROOMS = (
    "curlew",
    "dunlin",
    "gull",
    "heron",
    "petrel",
    "plover",
    "sandpiper",
    "skua",
    "tern",
    "wren",
)


@pytest.mark.parametrize("room", ROOMS)
def test_the_steps_of_the_lodge_are_about_its_panes_joints_and_holes(room: str) -> None:
    brief, _ = read_job(LODGE / f"{room}.yaml")
    assert brief
    planned = plan(brief)
    enclosure, hung_ = planned.best.alternative.made, hang(planned)
    assert isinstance(enclosure, Enclosure)
    assert isinstance(hung_, HangPlan)
    todo = steps(brief, enclosure, cure(enclosure), hung_.drilling)
    subjects = {step.subject for step in todo}
    assert {pane.id for pane in enclosure.lites} <= subjects
    assert {joint.id for joint in enclosure.joints if joint.kind != "open"} <= subjects
    assert timetable(todo, 2).days == (2 if hung_.drilling.holes else 1)
    holes = {hole.joint for hole in hung_.drilling.holes}
    channels = {joint.id for joint in enclosure.joints if joint.kind == "channel"}
    of = {kind: {s.subject for s in todo if s.kind == kind} for kind in {s.kind for s in todo}}
    assert of.get("drill", set()) == holes == of.get("seal_holes", set())
    assert of.get("fix_channel", set()) == channels & holes
    assert of.get("bed_channel", set()) == channels - holes


def test_the_channel_at_a_riser_is_another_than_that_on_the_cap() -> None:
    brief, _ = read_job(LODGE / "sandpiper.yaml")
    assert brief
    planned = plan(brief)
    enclosure, hung_ = planned.best.alternative.made, hang(planned)
    assert isinstance(enclosure, Enclosure)
    assert isinstance(hung_, HangPlan)
    todo = steps(brief, enclosure, cure(enclosure), hung_.drilling)
    titles = [step.title for step in todo if step.kind == "drill"]
    assert len(set(titles)) == len(titles)
    assert "Drill for the channel at the riser of the tub deck, beside fixed 1" in titles


def test_a_handle_of_the_jobs_own_is_fitted_too() -> None:
    text = (LODGE / "gull.yaml").read_text("utf-8")
    own = (
        "hardware: {handle: our-handle}\nitems:\n  - {id: our-handle, title: Our handle, "
        "kind: handle, from_edge: 2-1/2, holes: [{shape: hole, width: 12 mm}]}\n\nreadings:"
    )
    brief, problems = read_job_text(text.replace("readings:", own, 1))
    assert brief
    assert problems == ()
    enclosure = plan(brief).best.alternative.made
    assert isinstance(enclosure, Enclosure)
    todo = steps(brief, enclosure, cure(enclosure), drilled(enclosure))
    assert "handle" in {step.kind for step in todo}


def test_a_bedded_channel_is_cut_and_bedded_but_not_drilled() -> None:
    enclosure = hung("fixed")
    todo = steps(BRIEF, enclosure, cure(enclosure), drilled(enclosure, ["fixed 1 to curb"]))
    kinds = [step.kind for step in todo if step.subject == "fixed 1 to curb"]
    assert [kind for kind in kinds if "channel" in kind] == ["cut_channel", "bed_channel"]
    assert "drill" not in kinds
    order_ = [step.id for step in todo]
    bed = next(step for step in todo if step.kind == "bed_channel")
    assert order_.index(bed.id) < order_.index("set: fixed 1")
    assert all(order_.index(s.id) < order_.index(bed.id) for s in todo if s.kind == "drill")


def test_a_screen_has_no_step_of_a_door() -> None:
    kinds = {step.kind for step in made(hung("fixed"))}
    assert not kinds & {"hang", "tune", "sweep", "strike_seal", "handle", "swing"}
    assert {"set", "seal", "cure", "water_test"} <= kinds


def test_every_caution_that_applies_stands_at_a_step() -> None:
    enclosure = hung("door left wall", "fixed", "door right glass", "fixed")
    placed = {name for step in made(enclosure) for name in step.cautions}
    assert placed == set(applying(BRIEF, enclosure))


def test_a_light_pane_is_set_by_one_and_a_heavy_one_by_two() -> None:
    """HSE INDG143: 25 kg at the waist is the guide for a man alone; this pane weighs 33 kg."""
    set_ = next(s for s in made(hung("fixed")) if s.kind == "set")
    assert (set_.people, "heavy" in set_.cautions) == (2, True)
    laid = next(s for s in made(hung("door left wall")) if s.kind == "fit_hinges")
    assert (laid.people, "heavy" in laid.cautions) == (2, True)


def test_a_door_on_glass_alone_is_not_told_of_screws_in_wood() -> None:
    assert "solid-wood" in applying(BRIEF, hung("door left wall", "fixed"))
    assert "solid-wood" not in applying(BRIEF, hung("fixed", "door left glass"))


def test_one_who_works_alone_is_told_when_help_must_come() -> None:
    todo = made(hung("door left wall", "fixed"))
    two = sum(s.minutes for s in todo if s.people > 1)
    alone = timetable(todo, 1)
    assert sum(stretch.minutes for stretch in alone.called) == pytest.approx(two)
    assert timetable(todo, 2).called == ()


def test_two_are_not_slower_than_one_and_no_faster_than_the_longest_way() -> None:
    todo = made(hung("fixed", "door right glass", "fixed"))
    one, two = timetable(todo, 1), timetable(todo, 2)
    assert two.worked < one.worked
    worked = sum(s.minutes for s in todo if s.people and s.kind != "first_swing")
    assert one.worked <= worked


def test_work_that_does_not_fit_into_the_day_waits_for_the_next() -> None:
    hours = table("hang/steps")["day"]["hours"] * 60.0
    assert in_the_day(hours - 10.0, 10.0) == hours - 10.0
    assert in_the_day(hours - 10.0, 11.0) == DAY
    assert clock(DAY + 30.0) == (2, 8, 30)


def test_work_that_waits_for_itself_is_named() -> None:
    work = [Activity(id="a", duration=1, after=("b",)), Activity(id="b", duration=1, after=("a",))]
    with pytest.raises(Circle, match=r"a.*b|b.*a"):
        order(work)


def test_the_tables_name_only_what_there_is() -> None:
    data = table("hang/steps")
    for rule in data["rules"]:
        assert {*rule["first"], *rule["then"]} <= set(data["steps"])
        assert rule["why"]
    for row in data["steps"].values():
        assert set(row.get("cautions", ())) <= set(table("cautions"))
        assert row["check"].endswith(".")


def test_common_practice_of_the_steps() -> None:
    """Common practice, no source."""
    data = table("hang/steps")["steps"]
    assert "medium to high torque" in data["fit_hinges"]["check"]
    assert "low torque" in data["hang"]["check"]
    assert "tops are even" in data["line_up"]["check"]
    assert "more than a pane that is perfectly plumb" in data["line_up"]["check"]
    assert "along the inside" in data["seal"]["title"]
    assert "tape off before the skin" in data["seal"]["check"]
    assert "filled between glass and inner lip first" in data["seal"]["check"]
    assert any("2 mm each side" in c for c in data["fit_hinges"]["consumables"])
    assert any("1 mm between hinge" in c for c in data["fit_hinges"]["consumables"])


def test_a_stop_that_was_wished_is_fixed_before_the_door_swings_through() -> None:
    """Common practice, no source: the stop is there before the door goes all the way."""
    read, _ = read_job(LODGE / "curlew.yaml")
    assert read is not None
    made = plan(read).best.alternative.made
    assert isinstance(made, Enclosure)
    work = {s.id: s for s in steps(read, made, cure(made), drilled(made))}
    assert "stop: door" in {need.step for need in work["swing: door"].needs}
