"""The sheets before and after: blocking, ready to measure, the walk, sign-off, hand-over."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path

import pytest
from pydantic import TypeAdapter

from hangtrue.hang.adjustments import cure as tune
from hangtrue.hang.asbuilt import asbuilt
from hangtrue.hang.asbuilt_document import AsBuiltDocument, GapReading
from hangtrue.hang.before import builder_sheet, ready_to_measure, sign_off
from hangtrue.hang.cure_time import cure
from hangtrue.hang.handover import handover
from hangtrue.hang.measuring_sheet import measuring_sheet, noted
from hangtrue.hang.shop import shipped_shop
from hangtrue.job.brief import Brief
from hangtrue.job.document import Blocking, Wall, Walls
from hangtrue.job.read import read_job
from hangtrue.job.readings import Reading
from hangtrue.job.room import Above, Step
from hangtrue.job.wishes import Turn, WantedLite
from hangtrue.units import Length
from tests.openings import brief
from tests.unit.hung import BRIEF, FOOT, HEIGHT, PLATES, hung

INCH = 25.4
LODGE = Path(__file__).parents[2] / "examples" / "lodge"


def corner() -> Brief:
    """A door and a pane in front, and a return on a knee wall to the right wall."""
    made = brief("door", "fixed", WantedLite(kind="fixed", turn=Turn()))
    step = Step.model_validate(
        {"name": "knee wall", "kind": "knee wall", "run": 2, "height": "900 mm", "width": "110 mm"}
    )
    job = made.job.model_copy(update={"steps": (step,), "above": Above(kind="ceiling")})
    return Brief(job=job, profile=made.profile, items=made.items, instruments={}, boxed_set=None)


@pytest.mark.parametrize(
    "given", [brief("door", "fixed"), brief("fixed", walls=("left",)), corner()]
)
def test_readings_are_numbered_in_the_order_of_the_walk(given: Brief) -> None:
    sheet = measuring_sheet(given)
    assert [line.number for line in sheet] == list(range(1, len(sheet) + 1))
    stations = list(dict.fromkeys(line.station for line in sheet))
    walked = [
        s
        for i, s in enumerate([line.station for line in sheet])
        if i == 0 or s != sheet[i - 1].station
    ]
    assert walked == stations, "no station is gone back to"


def test_the_walk_goes_from_the_left_wall_round_the_corner_to_the_right_wall_and_back() -> None:
    stations = list(dict.fromkeys(line.station for line in measuring_sheet(corner())))
    assert stations == [
        "left wall", "run 1 (the front)", "corner 1", "run 2", "right wall",
        "back along the ceiling",
    ]  # fmt: skip


@pytest.mark.parametrize("given", [brief("door", "fixed"), corner()])
def test_every_line_can_be_typed_into_the_job_as_it_stands(given: Brief) -> None:
    reader: TypeAdapter[Reading] = TypeAdapter(Reading)
    for line in measuring_sheet(given):
        said = dict(line.given)
        if said["what"] == "step":
            continue
        typed = {k: f"{v} mm" if isinstance(v, float) else v for k, v in said.items()}
        typed |= {"value": "90°" if typed["what"] in {"corner", "square"} else "10 mm"}
        if typed["what"] == "triangle":
            typed |= {"before": "600 mm", "after": "800 mm"}
        reader.validate_python(typed, context={"unit": "mm"})


def test_heights_of_readings_are_marks_of_the_tape_of_the_job() -> None:
    """2 in from foot and top in a job in inches, 50 mm in one in mm: common practice, no source."""
    for room, wanted in (("gull", [2.0, 38.0, 74.0]), ("tern", [50.0, 975.0, 1900.0])):
        read, _ = read_job(LODGE / f"{room}.yaml")
        assert read is not None
        unit = 25.4 if read.job.unit == "in" else 1.0
        widths = [x.low for x in measuring_sheet(read) if x.kind == "width"]
        assert [low / unit for low in widths if low is not None] == pytest.approx(wanted)


def test_both_diagonals_of_a_run_are_read_the_second_the_other_way() -> None:
    lines = [dict(x.given) for x in measuring_sheet(BRIEF) if x.kind.startswith("diagonal")]
    assert len(lines) == 2
    assert lines[0]["left_at"] == lines[1]["right_at"]
    assert lines[0]["right_at"] == lines[1]["left_at"]


def test_what_is_behind_each_wall_is_written_down_and_only_of_walls_there_are() -> None:
    both, one = noted(BRIEF.job), noted(brief("fixed", walls=("left",)).job)
    assert [line.split(":")[0] for line in both[:2]] == ["Left wall", "Right wall"]
    assert len(both) == len(one) + 1
    assert not any("ight wall" in line for line in one)


def test_over_a_knee_wall_nothing_is_read_below_its_cap() -> None:
    lines = [line for line in measuring_sheet(corner()) if line.station in {"run 2", "right wall"}]
    assert all(line.low is None or line.low > 900.0 for line in lines)


def test_an_end_without_a_wall_has_no_width_to_be_read() -> None:
    kinds = {line.kind for line in measuring_sheet(brief("fixed", walls=("left",)))}
    assert "width" not in kinds
    assert {"lean", "across", "fall", "pitch"} <= kinds


def test_blocking_goes_from_the_floor_to_above_the_top_hinge() -> None:
    """2x lumber, at least 5-1/2 in wide on the glass line: common practice, no source."""
    sheet = builder_sheet(BRIEF, hung("door left wall", "fixed"))
    wood = next(b for b in sheet.blocking if b.carries == "the hinge of door")
    assert (wood.wall, wood.low) == ("left", 0.0)
    assert wood.high > PLATES[1] + 3.5 * INCH / 2
    assert 2 * wood.each_side == pytest.approx(5.5 * INCH, abs=1.0)
    assert wood.depth == pytest.approx(1.5 * INCH, abs=1.0)


def test_a_channel_needs_wood_over_its_whole_height() -> None:
    sheet = builder_sheet(BRIEF, hung("door left wall", "fixed"))
    wood = next(b for b in sheet.blocking if b.carries == "the channel of fixed 1")
    assert wood.high == FOOT + HEIGHT


def test_before_anything_is_fitted_every_wall_is_asked_for_what_a_hinge_needs() -> None:
    sheet = builder_sheet(BRIEF, None)
    assert {b.wall for b in sheet.blocking} == {"left", "right"}
    assert all(w.flat_most is not None for w in sheet.walls)


@pytest.mark.parametrize(
    ("behind", "to", "there"),
    [("unknown", 2000, "unknown"), ("blocking", 2000, "yes"), ("blocking", 1200, "no")],
)
def test_wood_that_is_there_is_told_from_wood_that_is_not(
    behind: str, to: float, there: str
) -> None:
    wood = Blocking.model_validate({"from": "0 mm", "to": f"{to} mm", "depth": "40 mm"})
    wall = Wall(behind=behind, blocking=(wood,))  # type: ignore[arg-type]
    job = BRIEF.job.model_copy(update={"walls": Walls(left=wall, right=Wall())})
    made = Brief(job=job, profile=BRIEF.profile, items=BRIEF.items, instruments={})
    sheet = builder_sheet(made, hung("door left wall", "fixed"))
    assert next(b.there for b in sheet.blocking if b.wall == "left") == there


def test_what_nobody_answered_stays_open_before_measuring() -> None:
    lines = ready_to_measure(BRIEF.job)
    assert all(line.open for line in lines)
    assert any("left wall" in line.question for line in lines)


def test_the_customer_signs_for_layout_swing_gaps_and_what_cannot_be_promised() -> None:
    enclosure = hung("door left wall", "fixed")
    signed = sign_off(BRIEF, enclosure)
    assert signed.row == ("door", "fixed 1")
    assert signed.hinges == (("door", "left", "wall"),)
    assert {gap.joint for gap in signed.gaps} == {
        j.id for j in enclosure.joints if j.kind != "channel"
    }
    assert any("every drop" in text for text in signed.cannot_promise)


def test_hand_over_says_when_water_may_run_and_when_to_tighten_again() -> None:
    enclosure = hung("door left wall", "fixed")
    found = cure(enclosure)
    sheet = handover(enclosure, found, datetime(2026, 6, 2, 15, 0))  # noqa: DTZ001 -- wall clock
    assert sheet.no_water_before
    waited = sheet.no_water_before - datetime(2026, 6, 2, 15, 0)  # noqa: DTZ001
    assert waited.total_seconds() / 3600 == pytest.approx(found.water_hours, abs=1 / 60)
    assert waited.total_seconds() / 3600 >= found.water_hours
    assert waited.total_seconds() / 3600 >= 24.0
    assert sheet.tighten == ("door to left wall",)
    assert sheet.tighten_on == (date(2026, 7, 14), date(2027, 6, 2))


def test_hand_over_leaves_a_blank_for_every_gap_that_was_not_read() -> None:
    sheet = handover(hung("door left wall", "fixed"), cure(hung("door left wall", "fixed")))
    assert {line.place for line in sheet.gaps} == {"bottom", "middle", "top", "left", "right"}
    assert all(line.measured is None for line in sheet.gaps)
    assert sheet.no_water_before is None


def test_gaps_that_were_read_stand_on_the_hand_over_sheet() -> None:
    enclosure = hung("door left wall", "fixed")
    doc = AsBuiltDocument(
        asbuilt=1,
        unit="mm",
        gaps=(GapReading(joint="door to left wall", at="top", value=Length(4.5)),),
    )
    found = asbuilt(enclosure, BRIEF.profile, doc)
    tuned = tune(BRIEF, enclosure, found, shipped_shop(), doc)
    sheet = handover(enclosure, cure(enclosure), tuning=tuned)
    read = {(g.joint, g.place): g.measured for g in sheet.gaps if g.measured is not None}
    assert read == {("door to left wall", "top"): 4.5}


def test_a_screen_is_handed_over_without_a_word_about_doors() -> None:
    sheet = handover(hung("fixed"), cure(hung("fixed")))
    assert not any("door" in text.lower() for text in (*sheet.care, *sheet.water_test))
