"""Doors and their hands, corners, tops and bars go together, or it is said why not."""

import pytest

from tests.unit.corner_jobs import CORNER, alone, changed, said
from tests.unit.jobs import GOOD, broken, read

THIRD = "{kind: fixed, turn: {angle: 90°, way: in, joint: butt, laps: before}}"
FIRST = "{kind: door, width: 28}"


def test_a_corner_over_a_step_is_a_good_job() -> None:
    brief, problems = read(CORNER)
    assert problems == ()
    assert brief
    wanted = brief.job.wanted
    assert wanted.runs == ((0, 1), (2,))
    assert wanted.front == 1
    assert wanted.pane_ids == ("door", "fixed 1", "fixed 2")
    assert [turn.angle.typed for turn in wanted.turns] == ["90°"]
    assert brief.job.steps[0].with_ == "tape-hb44", "the inch tape, as for readings"


def test_a_turn_before_the_first_pane_is_left_out() -> None:
    text = changed((FIRST, "{kind: door, width: 28, turn: {angle: 135°}}"))
    assert "cannot turn before its first pane" in alone(text).wrong
    brief, _ = read(text)
    assert brief
    assert len(brief.job.wanted.turns) == 1


@pytest.mark.parametrize("angle", ["59.9°", "45°", "180°", "270°", "-90°"])
def test_an_angle_that_is_not_planned(angle: str) -> None:
    """At 90° the readings of the corner agree, so the angle is the only thing said."""
    problem = alone(changed(("angle: 90°", f"angle: {angle}")))
    assert problem.field == "wanted.lites[3].turn.angle"
    assert "60° to less than 180°" in problem.wrong


@pytest.mark.parametrize("angle", ["60°", "135°", "179°"])
def test_every_angle_from_60_to_less_than_180_degrees_is_planned(angle: str) -> None:
    text = changed(("angle: 90°", f"angle: {angle}"))
    assert "wanted.lites[3].turn.angle" not in said(text)


def test_laps_belong_to_a_butt_joint() -> None:
    problem = alone(changed(("joint: butt", "joint: mitre")))
    assert problem.field == "wanted.lites[3].turn.laps"
    assert "a mitre joint" in problem.wrong


def test_a_hinge_at_a_corner_needs_a_door_there() -> None:
    text = changed(("joint: butt, laps: before", "joint: hinge"))
    assert "no door meets" in alone(text).wrong


def test_a_row_with_a_corner_is_not_mirrored() -> None:
    problem = alone(changed(("  bars: []", "  order: free")))
    assert problem.field == "wanted.order"


SPIRAL = """\
hangtrue: 1
job: {id: knot}
unit: mm
walls: {left: {behind: masonry}}
threshold: {kind: floor, height: 0, width: 100}
wanted:
  lites:
    - {kind: fixed, width: 1000}
    - {kind: fixed, width: 900, turn: {angle: 90°}}
    - {kind: fixed, width: 800, turn: {angle: 90°}}
    - {kind: fixed, width: LAST, turn: {angle: 90°, way: WAY}}
  height: 2000
readings:
  - {what: lean, wall: left, from: 0, to: 1900, value: 0}
"""


def test_a_glass_line_that_crosses_itself() -> None:
    """Round three right angles inward the fourth run of 950 mm meets the first, 900 mm away."""
    brief, problems = read(SPIRAL.replace("LAST", "950").replace("WAY", "in"))
    assert brief is None, "there is nothing to plan along such a line"
    assert [p.field for p in problems] == ["wanted.lites"]
    assert "run 4 meets run 1" in problems[0].wrong


@pytest.mark.parametrize(("last", "way"), [("850", "in"), ("950", "out")])
def test_a_glass_line_that_only_comes_near_itself(last: str, way: str) -> None:
    assert read(SPIRAL.replace("LAST", last).replace("WAY", way))[1] == ()


@pytest.mark.parametrize("word", ["sliding", "bypass", "folding", "curved", "bent"])
@pytest.mark.parametrize(
    ("written", "field"),
    [("[{}, fixed]", "wanted.lites[1]"), ("[{{kind: {}}}, fixed]", "wanted.lites[1].kind")],
)
def test_sliding_and_curved_panes_are_not_planned(word: str, written: str, field: str) -> None:
    brief, problems = read(broken("[door, fixed]", written.format(word)))
    assert brief is None
    assert len(problems) == 1
    assert problems[0].field == field
    assert "curved enclosures are not planned" in problems[0].wrong


@pytest.mark.parametrize(
    ("lites", "field", "says"),
    [
        ("[{kind: door, hinge: right}, door]", "wanted.lites[1].hinge", "clash"),
        ("[door, {kind: door, hinge: left}]", "wanted.lites[2].hinge", "clash"),
        ("[door, door]\n  hinge_side: left", "wanted.hinge_side", "left and right"),
        ("[door, fixed, door]", "wanted.lites", "fixed pane between"),
        ("[door, door, door]", "wanted.lites", "3 doors"),
        ("[door, {kind: fixed, hinge: left}]", "wanted.lites[2].hinge", "is fixed"),
        ("[door, {kind: fixed, head: transom}]", "wanted.lites[2].head", "only a door"),
        ("[door, {kind: fixed, head: ceiling}]", "wanted.lites[2].head", "above: {kind: ceiling}"),
        ("[{kind: door, head: transom}, fixed]", "wanted.lites[1].head", "a transom, but nothing"),
        ("[{kind: door, head: transom}, fixed]", "wanted.lites", "where the door ends"),
        ("[door, fixed]\n  transom_at: 70", "wanted.transom_at", "no door with"),
        ("[fixed]\n  hinge_side: left", "wanted.hinge_side", "no door"),
    ],
)
def test_panes_that_do_not_go_together(lites: str, field: str, says: str) -> None:
    assert says in said(broken("[door, fixed]", lites))[field]


@pytest.mark.parametrize("lites", ["[door, door]", "[{kind: door, hinge: left}, door]"])
def test_a_double_door_is_a_good_job(lites: str) -> None:
    brief, problems = read(broken("[door, fixed]", lites))
    assert problems == ()
    assert brief
    assert brief.job.wanted.pane_ids == ("door 1", "door 2")


def free_end(lites: str) -> str:
    """Return a screen that hangs on its left wall and ends free at the right."""
    return (
        GOOD[: GOOD.index("readings:")]
        .replace("  right: {behind: unknown}\n", "")
        .replace("[door, fixed]", lites)
        + "readings:\n  - {what: lean, wall: left, from: 0, to: 72, toward: in, value: 1/8}\n"
    )


@pytest.mark.parametrize(
    ("lites", "says"),
    [
        ("[fixed, {kind: door, width: 14}]", ""),
        ("[fixed, {kind: door, width: 14, hinge: left}]", ""),
        ("[fixed, {kind: door, width: 14, hinge: right}]", "nothing to hang on"),
        ("[fixed, door]", "how wide"),
        ("[{kind: door, width: 24}]", ""),
    ],
)
def test_a_flap_hangs_at_the_side_that_carries_it(lites: str, says: str) -> None:
    found = " ".join(said(free_end(lites)).values())
    assert says in found
    assert bool(says) == bool(found)


STEAM = broken("[door, fixed]", "[{kind: door, head: transom}, {kind: fixed, head: ceiling}]")
STEAM = STEAM.replace("threshold:", "above: {kind: ceiling}\nthreshold:").replace(
    "  height: 78\n", "  height: 78\n  transom_at: 76\n"
)


def steam(*ceilings: str) -> str:
    """Return a steam room with these readings of its ceiling."""
    return STEAM + "".join(f"  - {{what: height, of: ceiling, {c}}}\n" for c in ceilings)


def test_a_sloped_ceiling_over_glass_that_follows_it_is_a_good_job() -> None:
    """Ceilings that differ by more than any slip are a slope here, and asked about elsewhere."""
    assert read(steam("at: left, value: 94", "at: right, value: 86"))[1] == ()
    level = STEAM.replace("{kind: door, head: transom}, {kind: fixed, head: ceiling}", "door")
    level = level.replace("above: {kind: ceiling}\n", "").replace("  transom_at: 76\n", "")
    rows = "  - {what: height, of: ceiling, at: left, value: 94}\n"
    rows += "  - {what: height, of: ceiling, at: right, value: 86}\n"
    assert [p.field for p in read(level + rows)[1]] == ["readings[6].value"]


def test_a_ceiling_that_nobody_read_is_asked_for() -> None:
    problem = alone(steam())
    assert problem.level == "sure?"
    assert "nobody read the ceiling" in problem.wrong


def test_a_ceiling_below_the_glass_top() -> None:
    low = broken("readings:\n", "readings:\n  - {what: height, of: ceiling, value: 77-1/2}\n")
    problem = alone(low)
    assert problem.field == "readings[1].value"
    assert "below the top of the glass at 78" in problem.wrong


def test_a_ceiling_below_the_door_under_the_transom() -> None:
    problem = alone(steam("at: left, value: 94", "at: right, value: 75"))
    assert problem.field == "readings[6].value"
    assert "under the transom" in problem.wrong


@pytest.mark.parametrize(
    ("bar", "field", "says"),
    [
        ("{kind: support, holds: fixed 3, to: left wall}", "holds", "no such pane"),
        ("{kind: support, holds: pane, to: ceiling}", "holds", "write door, fixed 1, fixed 2"),
        ("{kind: support, holds: fixed 2, to: across}", "holds", "does not stand there"),
        ("{kind: header, run: 3, holds: door, to: left wall}", "run", "there is no run 3"),
        ("{kind: header, holds: door, to: left wall, item: hook}", "item", "nobody knows"),
        ("{kind: header, holds: door, to: left wall, item: knob}", "item", "head bar"),
    ],
)
def test_a_bar_that_holds_nothing(bar: str, field: str, says: str) -> None:
    problem = alone(changed(("bars: []", f"bars: [{bar}]")))
    assert problem.field == f"wanted.bars[1].{field}"
    assert says in str(problem)


def test_a_bar_to_a_wall_that_is_not_there() -> None:
    text = free_end("[{kind: fixed, width: 34}]").replace(
        "  height: 78\n",
        "  height: 78\n  bars: [{kind: support, holds: fixed 1, to: right wall}]\n",
    )
    assert alone(text).wrong == "there is no right wall"


@pytest.mark.parametrize("stop", ["59°", "181°"])
def test_a_stop_that_no_door_has(stop: str) -> None:
    problem = alone(changed((FIRST, f"{{kind: door, width: 28, stop: {stop}}}")))
    assert problem.field == "wanted.lites[1].stop"
    assert "60° to 180°" in problem.wrong


@pytest.mark.parametrize("stop", ["60°", "105°", "180°"])
def test_a_stop_from_60_to_180_degrees_is_taken(stop: str) -> None:
    brief, problems = read(changed((FIRST, f"{{kind: door, width: 28, stop: {stop}}}")))
    assert problems == ()
    assert brief
    assert brief.job.wanted.lites[0].stop is not None


def test_fixed_glass_has_no_stop() -> None:
    problem = alone(changed((THIRD, THIRD.replace("kind: fixed", "kind: fixed, stop: 90°"))))
    assert problem.field.endswith("stop")
    assert "this pane is fixed" in problem.wrong
