"""Steps, projections and obstacles suit the walls and runs they stand at, or it is said why not."""

import pytest

from tests.unit.corner_jobs import CORNER, alone, changed, said

KNEE = "{name: knee wall, kind: knee wall, run: 2, height: 36, width: 5}"
TOILET = "{name: toilet, kind: toilet, x: 14, y: -32, width: 15, depth: 28, top: 26}"


def step(words: str) -> str:
    """Return a step of the good job with other words after its kind."""
    return f"{{name: bench, kind: bench, height: 18, width: 15, {words}}}"


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ("run: 3", "there is no run 3"),
        ("run: 2, to: 34-1/2", "its run is only 864 mm long"),
        ("run: 2, from: 40", "its run is only 864 mm long"),
        ("run: 2, from: -2, to: 8", "along its run"),
        ("run: 2, from: 12, to: 12", "along its run"),
        ("run: 1, from: 20", "past fixed 1, which is 12 wide"),
        ("run: 2, height: 80", "not below the glass top"),
    ],
)
def test_a_step_that_is_not_under_its_pane(words: str, says: str) -> None:
    text = step(words).replace("height: 18, ", "") if "height" in words else step(words)
    problem = alone(changed((KNEE, text)))
    assert problem.field.startswith("steps[1]")
    assert says in problem.wrong


def test_two_steps_in_one_place() -> None:
    both = f"{step('run: 2, to: 12-1/2')}\n  - {step('run: 2, from: 12')}"
    problem = alone(changed((KNEE, both)))
    assert problem.field == "steps[2]"
    assert "overlaps step 1" in problem.wrong
    side_by_side = f"{step('run: 2, to: 12')}\n  - {step('run: 2, from: 12')}"
    assert said(changed((KNEE, side_by_side))) == {}


@pytest.mark.parametrize(
    ("words", "field", "says"),
    [
        ("from: 42, to: 41, stands_out: 3/8", "from", "lower height"),
        ("from: 41, to: 42, stands_out: 0", "stands_out", "cannot be"),
        ("from: 41, to: 42, stands_out: -3/8", "stands_out", "more than 0"),
        ("from: 41, to: 42", "stands_out", "is missing"),
    ],
)
def test_a_projection_that_cannot_be(words: str, field: str, says: str) -> None:
    text = f"{{behind: unknown, projections: [{{name: border, {words}}}]}}"
    found = said(changed(("{behind: unknown}", text)))
    assert set(found) == {f"walls.right.projections[1].{field}"}
    assert says in found[f"walls.right.projections[1].{field}"]


@pytest.mark.parametrize(
    ("words", "field", "says"),
    [
        ("kind: valve, x: -2, y: 20, top: 40", "x", "reaches into the left wall"),
        ("kind: bench, x: 6, y: 20, width: 16, depth: 16, top: 18", "x", "left wall"),
        ("kind: light, x: 20, y: -20, bottom: 90, top: 80", "bottom", "above its upper end"),
        ("kind: light, x: 20, y: -20, width: -3, top: 80", "width", "below nothing"),
        (
            "kind: vanity, x: 20, y: -60, top: 34, swing: {hinge: left, width: 30}",
            "swing",
            "a vanity that swings",
        ),
    ],
)
def test_an_obstacle_that_cannot_be_there(words: str, field: str, says: str) -> None:
    found = said(changed((TOILET, f"{{name: it, {words}}}")))
    assert says in found[f"obstacles[1].{field}"]


def test_an_obstacle_beside_the_shower_in_a_wider_room_is_asked_about() -> None:
    problem = alone(changed(("x: 14, y: -32", "x: 2, y: -32")))
    assert problem.level == "sure?"
    assert "is the room wider" in problem.do


def test_beyond_a_corner_there_is_no_wall_to_reach_into() -> None:
    """The front ends at a corner on the right, and what stands there is in the room."""
    assert said(changed(("x: 14, y: -32", "x: 60, y: 10"))) == {}


def test_an_obstacle_in_the_right_wall() -> None:
    """Without the return the front of 40-1/2 in ends at the right wall."""
    straight = CORNER[: CORNER.index("  - {what: width, run: 2")]
    straight = straight.replace(f"  - {KNEE}\n", "").replace("steps:\n", "")
    straight = straight.replace(", turn: {angle: 90°, way: in, joint: butt, laps: before}", "")
    problem = alone(straight.replace("x: 14, y: -32", "x: 36, y: 32"))
    assert problem.field == "obstacles[1].x"
    assert "into the right wall" in problem.wrong


def test_a_step_is_measured_with_a_tape_and_not_with_a_level() -> None:
    problem = alone(changed((KNEE, step("run: 2, with: level-72"))))
    assert problem.field == "steps[1].with"
    assert "not read with a level" in problem.wrong
