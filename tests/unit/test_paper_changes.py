"""Two versions of a job compared: what is lost, turned round or moved is said in words."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from hangtrue import cli
from hangtrue.fit.enclosure import Enclosure, Lite
from hangtrue.geometry import Outline, figure, less
from hangtrue.job.document import Job
from hangtrue.paper.changes import changes, changes_text
from hangtrue.paper.pane_changes import features
from hangtrue.plan import Plan
from tests.unit.packet_plans import GOOD, HEAVY, HOLLOW, NO_FIT, QUESTION, enclosure, plan

GULL = Path(__file__).parents[2] / "examples" / "lodge" / "gull.yaml"


def said(old: Plan, new: Plan, group: str = "") -> list[str]:
    """Return the lines of one group, or of all."""
    return [str(change) for change in changes(old, new) if group in {"", change.group}]


def with_pane(index: int, **changed: Any) -> Enclosure:
    """Return the enclosure with one pane changed."""
    made = enclosure()
    lites = list(made.lites)
    lites[index] = replace(lites[index], **changed)
    return replace(made, lites=tuple(lites))


def stepped(lite: Lite, step: Outline) -> dict[str, Any]:
    """Return what changes in a pane whose outline goes over a step."""
    outline = less(lite.outline, [step])
    return {"outline": outline, "area": figure(outline).area}


KNEE: Outline = ((650.0, -1.0), (800.0, -1.0), (800.0, 900.0), (650.0, 900.0))


def test_the_same_plan_twice_has_no_changes() -> None:
    assert changes(plan(GOOD), plan(GOOD)) == ()
    assert changes_text(plan(), plan()).endswith("Nothing changed.")


def test_a_pane_that_lost_its_notch_over_a_step() -> None:
    pane = enclosure().lites[1]
    notched = plan(made=with_pane(1, **stepped(pane, KNEE)))
    assert "pane 2, fixed 1: lost its notch over a step" in said(notched, plan(), "Panes")
    assert "pane 2, fixed 1: gained its notch over a step" in said(plan(), notched, "Panes")


def test_a_notch_that_moves_or_grows() -> None:
    pane = enclosure().lites[1]
    higher = tuple((x, y + 25.4 if y > 0 else y) for x, y in KNEE)
    old, new = (plan(made=with_pane(1, **stepped(pane, step))) for step in (KNEE, higher))
    assert said(old, new, "Panes") == [
        "pane 2, fixed 1: notch over a step, height 35-7/16 in -> 36-7/16 in",
        "pane 2, fixed 1: notch over a step, middle from the bottom 17-11/16 in -> 18-3/16 in",
    ]


def test_the_notches_of_hinges_are_no_steps() -> None:
    whats = [feature.what for feature in features(enclosure().lites[0])]
    assert whats == ["hole for the handle"] * 2 + ["notch for the hinge"] * 2


def test_a_cut_out_of_the_hardware_that_disappears() -> None:
    door = enclosure().lites[0]
    without = with_pane(0, notches=door.notches[:1], holes=(), outline=door.outline)
    lines = said(plan(), plan(made=without), "Panes")
    assert "pane 1, door: lost its holes for the handle" in lines
    assert "pane 1, door: lost 1 of 2 notches for the hinge" in lines


def test_a_hinge_side_that_is_turned_round() -> None:
    lines = said(plan(), plan(made=with_pane(0, hinge_side="right")), "Panes")
    assert lines == ["pane 1, door: hinge side left -> right"]


def test_thickness_sizes_and_edges() -> None:
    pane = enclosure().lites[1]
    edges = (replace(pane.edges[0], rake=3.175, finish="seamed", meets="door"), *pane.edges[1:])
    wider = ((0.0, 0.0), (746.125, 0.0), *pane.corners[2:])
    new = with_pane(1, thickness=12.0, edges=edges, corners=wider, outline=wider)
    assert said(plan(), plan(made=new), "Panes") == [
        "pane 2, fixed 1: thickness 3/8 in -> 1/2 in",
        "pane 2, fixed 1: width at the bottom 29-1/4 in -> 29-3/8 in",
        "pane 2, fixed 1: left edge, out of square 0 in -> 1/8 in",
        "pane 2, fixed 1: left edge, flat polished -> seamed",
        "pane 2, fixed 1: left edge meets left wall -> door",
    ]


def test_a_change_too_small_for_the_tape_is_written_in_decimals() -> None:
    lines = said(plan(), plan(made=with_pane(0, thickness=9.625)), "Panes")
    assert lines == ["pane 1, door: thickness 0.375 in -> 0.379 in"]


def test_panes_that_come_and_go() -> None:
    alone = replace(enclosure(), lites=enclosure().lites[:1])
    assert said(plan(), plan(made=alone), "Panes") == ["pane 2, fixed 1: gone"]
    assert said(plan(made=alone), plan(), "Panes") == ["pane 2, fixed 1: new"]


def test_what_went_in_and_no_longer_does() -> None:
    lost = said(plan(), plan(made=NO_FIT))
    assert f": {NO_FIT.why}" in " ".join(lost)
    assert "nothing went in, and now there are panes" in said(plan(made=NO_FIT), plan())
    assert said(plan(made=NO_FIT), plan(made=NO_FIT)) == []


def test_gaps_and_their_hardware() -> None:
    made = enclosure()
    other = replace(made.joints[0], hardware="heavy")
    new = replace(made, joints=(other, *enclosure(worse=0.8).joints[1:]))
    assert said(plan(), plan(made=new), "Gaps") == [
        "left wall to door: hardware plain -> heavy",
        "door to fixed 1: narrowest 3/16 in -> 7/32 in",
        "door to fixed 1: widest 3/16 in -> 7/32 in",
        "fixed 1 to right wall: narrowest 3/16 in -> 7/32 in",
        "fixed 1 to right wall: widest 3/16 in -> 7/32 in",
    ]


def test_a_verdict_that_changed_and_why() -> None:
    lines = said(plan(GOOD), plan(replace(GOOD, level=HOLLOW.level, found="It leans."), QUESTION))
    assert "was: It goes: the enclosure can be built as drawn." in lines
    assert "is: It must not be hung here as it stands." in lines
    assert "left wall (hinge-wall-plumb): good -> stop: It leans." in lines
    assert any(line.startswith("right wall (backing-known): new, not checked:") for line in lines)
    back = said(plan(HEAVY), plan())
    assert any(line.startswith("door (door-mass): gone, was put right first:") for line in back)


def test_what_is_good_and_was_good_needs_no_line() -> None:
    assert said(plan(GOOD), plan(replace(GOOD, found="The hinge wall leans 1/8 in."))) == []
    assert said(plan(QUESTION), plan(QUESTION, GOOD)) == []


def jobs(*changed: tuple[str, Any]) -> tuple[Plan, Plan]:
    """Return a plan, and one of its job with some fields of the document changed."""
    old = plan()
    document = old.brief.job.model_dump(by_alias=True, mode="python", exclude_none=True)
    for path, value in changed:
        *keys, last = path.split(".")
        here: Any = document
        for key in keys:
            here = here[int(key)] if key.isdigit() else here[key]
        here[last] = value
    job = Job.model_validate(document, context={"unit": "in"})
    return old, replace(old, brief=replace(old.brief, job=job))


def test_a_content_that_changed_under_the_same_version_is_warned_of_first() -> None:
    lines = said(*jobs(("wanted.height", "75 in")))
    assert lines[0].startswith("both are version 2, and yet they differ: raise `version`")
    raised = said(*jobs(("wanted.height", "75 in"), ("job.version", 3)))
    assert raised == ["version: 2 -> 3", "wanted, height: 76 in -> 75 in"]


def test_versions_that_are_exchanged() -> None:
    lines = said(*jobs(("job.version", 1)))
    assert lines == [
        "the new one has the lower version: are the two exchanged?",
        "version: 2 -> 1",
    ]


def test_a_length_written_another_way_is_the_same_length() -> None:
    assert said(*jobs(("wanted.height", "6' 4\""))) == []


@pytest.mark.parametrize(
    ("path", "value", "line"),
    [
        ("walls.left.behind", "hollow", "walls, left, behind: blocking -> hollow"),
        ("hardware.handle", "none", "hardware, handle: handle-bow -> none"),
        ("wanted.hinge_side", "right", "wanted, hinge side: left -> right"),
        ("steps", [{"name": "bench", "kind": "bench", "height": 18, "width": 15}],
         "step bench: new, name bench, kind bench, height 18 in, width 15 in"),
        ("threshold.height", 5, "threshold, height: 4 in -> 5 in"),
    ],
)  # fmt: skip
def test_wishes_and_room(path: str, value: Any, line: str) -> None:
    assert said(*jobs((path, value)), "Room and wishes") == [line]


def test_a_pane_more_and_a_turn() -> None:
    lites = [{"kind": "door"}, {"kind": "fixed", "turn": {"angle": "135°"}}, {"kind": "fixed"}]
    lines = said(*jobs(("wanted.lites", lites)), "Room and wishes")
    assert lines == [
        "wanted, pane 2, turn: new, angle 135°",
        "wanted, pane 3: new, kind fixed",
    ]


def test_readings_changed_added_and_removed() -> None:
    old, _ = jobs()
    rows = [r.model_dump(by_alias=True, exclude_none=True) for r in old.brief.job.readings]
    width, *others = [row | {"value": '58-1/4"'} if row["id"] == "w1" else row for row in rows]
    others = [row for row in others if row["id"] != "f1"]
    others[1] |= {"toward": "out", "with": "plumb-line"}
    extra = {"id": "c1", "what": "pitch", "falls": "in", "value": "1/16 in"}
    assert said(*jobs(("readings", [width, *others, extra])), "Readings") == [
        'w1, width, at 2 in: 58-1/2" -> 58-1/4"',
        "p1, lean, wall left, from 2 in, to 74 in: 1/16 in in -> 1/16 in out",
        "p1, lean, wall left, from 2 in, to 74 in: with level-72 -> plumb-line",
        "c1, pitch: new, 1/16 in in",
        "f1, fall: gone, was 1/16 in right",
    ]


def test_readings_without_a_name_are_told_apart_by_what_they_are_of() -> None:
    """One more at the front renumbers them all, and changes none."""
    old, _ = jobs()
    rows = [r.model_dump(by_alias=True, exclude_none=True) for r in old.brief.job.readings]
    first = {"what": "height", "of": "ceiling", "at": "left", "value": "94 in"}
    before = [row | {"id": f"r{i}"} for i, row in enumerate(rows, 1)]
    after = [row | {"id": f"r{i}"} for i, row in enumerate([first, *rows], 1)]
    was, now = (jobs(("readings", each))[1] for each in (before, after))
    assert said(was, now, "Readings") == ["height, of ceiling, at left: new, 94 in"]


def test_the_command_says_what_changed(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Another handle and another side, planned for real: holes are lost and the door turns."""
    other = tmp_path / "gull.yaml"
    text = GULL.read_text("utf-8").replace("hinge_side: left", "hinge_side: right")
    other.write_text(f"{text}hardware: {{handle: none}}\n", "utf-8")
    assert cli.main(["diff", str(GULL), str(other), "--units", "mm"]) == 1
    out = capsys.readouterr().out
    assert "both are version 2, and yet they differ" in out
    assert "pane 1, door: hinge side left -> right" in out
    assert "pane 1, door: lost its holes for the handle-bow" in out
    assert "pane 2, fixed 1: gained its notches for the plain-glass-hinge" in out


def test_the_command_is_silent_about_the_same_job(capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["diff", str(GULL), str(GULL)]) == 0
    assert "Nothing changed." in capsys.readouterr().out


def test_the_command_refuses_what_cannot_be_read(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    bad = tmp_path / "bad.yaml"
    bad.write_text(GULL.read_text("utf-8").replace("hinge_side: left", "hinge_side: up"), "utf-8")
    assert cli.main(["diff", str(bad), str(tmp_path / "none.yaml")]) == 2
    errors = capsys.readouterr().err
    assert "bad.yaml" in errors
    assert "none.yaml" in errors
