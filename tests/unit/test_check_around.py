"""A leaf in the room: angles of first contact against right triangles, whichever way it hangs."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from hangtrue.check.around import entrance, meets, turning
from hangtrue.check.case import Case
from hangtrue.check.proof.swinging import swing
from hangtrue.measure.opening import Linear, StepShape
from tests import corner_case as k
from tests import good_job as g

INCH = 25.4


def bare(case: Case) -> Case:
    """A door without a handle, of thin glass, with its hinge edge at x = 0."""
    door = replace(case.door, thickness=1e-3, origin=(0.0, case.door.origin[1]))
    alone = g.made(case, lites=(door, *case.lites[1:]))
    return g.job(alone, "hardware", {"handle": "none"})


def at(case: Case, x: float, y: float, **more: Any) -> float:
    """Opening in degrees at which the door meets a thing, inches; 180 where it does not."""
    there = k.thing(case, x=f"{x} in", y=f"{y} in", width="2 in", depth="2 in", top="20 in", **more)
    met = meets(there, there.hung[0], "out" if y < 0 else "in")
    return math.degrees(met.angle) if met else 180.0


def test_the_near_corner_decides() -> None:
    """A box of 2 in at (10, -10), and 1 in around it: its near corner is (12, -8) seen from 0."""
    assert at(bare(g.good()), 10.0, -10.0) == pytest.approx(
        math.degrees(math.atan2(8.0, 12.0)), abs=0.01
    )


def test_out_of_reach_it_meets_nothing() -> None:
    """26 in of door; the near corner of the box is 26.9 in away."""
    assert at(bare(g.good()), 21.0, -21.0) == 180.0


def test_inward_is_the_same_from_the_other_side() -> None:
    case = bare(g.good())
    assert at(case, 10.0, 10.0) == pytest.approx(at(case, 10.0, -10.0), abs=1e-9)


def test_a_door_hung_left_for_right_meets_the_mirrored_thing_at_the_same_opening() -> None:
    case = bare(g.good())
    other = g.choice(g.glass_hung(case), hinge_side="right")
    mirrored = at(other, 26.0 - 10.0, -10.0)
    assert mirrored == pytest.approx(at(case, 10.0, -10.0), abs=1e-6)


def test_what_is_above_or_below_the_door_is_not_met() -> None:
    case = bare(g.good())
    high = k.thing(case, x="10 in", y="-10 in", width="2 in", bottom="79 in", top="90 in")
    assert meets(high, high.hung[0], "out") is None


def test_the_swing_of_the_rooms_door_is_a_quarter_circle() -> None:
    """Its hinge 40 in before ours, its leaf 30 in, ours 26 in: law of cosines at our tip.

    26^2 + 40^2 - 2 x 26 x 40 sin(a) = 30^2.
    """
    case = k.thing(
        bare(g.good()), kind="door", x="15 in", y="-40 in", width="30 in", top="76 in",
        swing={"hinge": "left", "width": "30 in"},
    )  # fmt: skip
    other = entrance(case, case.job.obstacles[0])
    assert other
    ours = turning(case, case.hung[0], "out")
    angle = ours.stops_at(other.region(math.pi / 2), clip=False)
    assert math.sin(angle) == pytest.approx((26**2 + 40**2 - 30**2) / (2 * 26 * 40), abs=1e-3)


def test_a_door_in_a_side_wall_swings_the_same_turned_round() -> None:
    """Hinged at its far end in the wall at the left: its leaf reaches toward the glass."""
    case = k.thing(
        bare(g.good()), kind="door", x="-30 in", y="-45 in", depth="30 in", top="76 in",
        swing={"hinge": "far", "width": "30 in"},
    )  # fmt: skip
    other = entrance(case, case.job.obstacles[0])
    assert other
    xs, ys = zip(*other.region(math.pi / 2), strict=True)
    assert (min(xs), max(xs)) == pytest.approx((-30 * INCH, 0.0), abs=0.1)
    assert (min(ys), max(ys)) == pytest.approx((-60 * INCH, -30 * INCH), abs=0.1)


def test_a_door_that_opens_out_of_the_room_sweeps_nothing_in_it() -> None:
    case = k.thing(
        g.good(), kind="door", x="15 in", y="-40 in", width="30 in", top="76 in",
        swing={"hinge": "left", "width": "30 in", "opens": "out of it"},
    )  # fmt: skip
    assert entrance(case, case.job.obstacles[0]) is None


def test_a_step_beside_the_hinge_stops_the_door_past_square() -> None:
    """A knee wall 5 in wide a gap from the axis: the leaf lies on its corner at 90° and a bit."""
    case = g.choice(g.glass_hung(bare(g.good())), hinge_side="right")
    wall = {"name": "knee wall", "kind": "knee wall", "from": "26.5 in", "height": "36 in",
            "width": "5 in", "run": 1}  # fmt: skip
    case = g.job(case, "steps", [wall])
    still = np.zeros(len(case.opening.unknowns))
    low, high, top = (Linear(coefficients=still, constant=x * INCH) for x in (26.5, 58.5, 36.0))
    step = StepShape(name="knee wall", run=1, left=low, right=high, top_left=top, top_right=top)
    case = replace(case, opening=replace(case.opening, standing=(step,)))
    met = meets(g.job(case, "obstacles", []), case.hung[0], "out")
    assert met
    assert met.name == "knee wall"
    assert math.degrees(met.angle) == pytest.approx(
        90.0 + math.degrees(math.atan2(0.5, 2.5)), abs=0.05
    )


def test_a_point_in_the_frame_of_a_leaf_and_back() -> None:
    frame = turning(g.good(), g.good().hung[0], "out").frame
    point = (123.0, -45.0)
    assert frame.plan(frame.within(point)) == pytest.approx(point)


@pytest.mark.parametrize("top", [20.0, 70.0])
def test_an_axis_that_leans_is_met_where_the_thing_reaches_highest(top: float) -> None:
    """By hand: the near corner (12, -8) in, seen from where the axis is at the top of the thing."""
    case = bare(g.room(g.good(), lean_left=40.0))
    hung = case.hung[0]
    axis, low = swing(case, hung).axis, hung.plates[0]
    heights = (case.door.origin[1], top * INCH)
    there = k.thing(case, x="10 in", y="-10 in", width="2 in", depth="2 in", top=f"{top} in")
    met = meets(there, there.hung[0], "out")
    assert met is not None
    by_hand = [
        math.degrees(
            math.atan2(8 * INCH + axis.lean_y * (z - low), 12 * INCH - axis.lean_x * (z - low))
        )
        for z in heights
    ]
    assert math.degrees(met.angle) == pytest.approx(min(by_hand), abs=0.05)
    assert abs(axis.lean_x * (heights[1] - low)) > 1.0
