"""Every kind of reading as an equation, against the geometry of made-up rooms."""

from __future__ import annotations

import math

import numpy as np
import pytest

from hangtrue.job.brief import Brief
from hangtrue.job.readings import (
    Bow,
    CornerAngle,
    Diagonal,
    Fall,
    Height,
    Lean,
    Pitch,
    Reading,
    Width,
)
from hangtrue.measure.equations import equation, observed, span, touches
from hangtrue.measure.layout import Layout, lay_out, node_heights
from hangtrue.units import Angle, Length, Slope
from tests.made_up import INCH, Room, Vector, brief, lean, offset, random_room, up, width

ZERO = Length(0)
KINDS: tuple[Reading, ...] = (
    width(38),
    width(84),
    lean("left", 72),
    lean("right", 38),
    lean("left", 72, "across"),
    lean("right", 38, "across"),
    offset("left", 4),
    offset("right", 76),
    Bow(what="bow", wall="left", from_=up(4), to=up(76), value=ZERO),
    Bow(what="bow", wall="right", from_=up(0), to=up(76), at=up(20), value=ZERO),
    Diagonal(what="diagonal", left_at=up(0), right_at=up(76), value=ZERO),
    Diagonal(what="diagonal", left_at=up(72), right_at=up(4), value=ZERO),
    Fall(what="fall", value=ZERO),
    Fall(what="fall", over=Length(600), value=ZERO),
    Pitch(what="pitch", value=ZERO),
    Pitch(what="pitch", over=Length(300), value=ZERO),
    Height(what="height", of="curb", at="right", value=ZERO),
    Height(what="height", of="curb", at="middle", value=ZERO),
    Height(what="height", of="ceiling", value=ZERO),
)


def name_of(reading: Reading) -> str:
    return reading.id or reading.what


def unknowns_of(room: Room, layout: Layout) -> Vector:
    """Write a room's true shape as the unknowns of a layout."""
    x = np.zeros(len(layout.place))
    for name, index in layout.place.items():
        what, _, which = name.partition(" ")
        match what:
            case "left":
                x[index] = room.x("left", float(which))
            case "right":
                x[index] = room.x("right", float(which))
            case "across":
                x[index] = room.across("left" if which == "left" else "right")
            case "curb":
                x[index] = room.curb_left if which == "left" else room.curb_right
            case "edge":
                side, height = which.split()
                x[index] = room.y(side, float(height)) - room.y(side, 0.0)  # type: ignore[arg-type]
            case "line":
                x[index] = room.lines[which][0]
            case "tilt":
                x[index] = room.lines[which][1]
            case _:
                x[index] = getattr(room, what)
    return x


def a_room() -> Room:
    return random_room(np.random.default_rng(7))


def a_job() -> Brief:
    return brief([*KINDS, *(width(h) for h in (0, 4, 10, 20, 40, 54, 66, 72))])


@pytest.mark.parametrize("reading", KINDS, ids=name_of)
def test_a_reading_of_the_true_shape_is_what_the_geometry_says(reading: Reading) -> None:
    room = a_room()
    layout = lay_out(a_job().job)
    x = unknowns_of(room, layout)
    # The tangent of a pitch is taken for its angle: 0.04 rad over 4 in is 0.002 mm out.
    assert equation(reading, layout, x).at(x) == pytest.approx(room.reading(reading), abs=0.01)


def test_a_corner_angle_is_square_less_lean_and_rise() -> None:
    """The finder's arm ends between two nodes of the made-up wall, so the room is straight here."""
    room = random_room(np.random.default_rng(3), bow_sd=0.0)
    for side in ("left", "right"):
        angle = CornerAngle.model_validate({"what": "angle", "wall": side, "value": "90°"})
        layout = lay_out(brief([angle]).job)
        x = unknowns_of(room, layout)
        assert equation(angle, layout, x).at(x) == pytest.approx(room.reading(angle), abs=2e-6)


@pytest.mark.parametrize("reading", KINDS, ids=name_of)
def test_the_coefficients_are_the_derivatives(reading: Reading) -> None:
    layout = lay_out(a_job().job)
    x = unknowns_of(a_room(), layout)
    terms = np.zeros(len(x))
    for index, coefficient in equation(reading, layout, x).terms:
        terms[index] += coefficient
    for j in range(len(x)):
        step = np.zeros(len(x))
        step[j] = 1e-3
        high = equation(reading, layout, x + step).at(x + step)
        low = equation(reading, layout, x - step).at(x - step)
        assert (high - low) / 2e-3 == pytest.approx(terms[j], abs=1e-5)


def test_a_corner_angle_turns_with_lean_and_with_rise() -> None:
    angle = CornerAngle.model_validate({"what": "angle", "wall": "left", "value": "90°"})
    layout = lay_out(brief([angle, *KINDS]).job)
    x = unknowns_of(a_room(), layout)
    change = np.random.default_rng(1).normal(size=len(x)) * 1e-3
    slope = sum(a * change[i] for i, a in equation(angle, layout, x).terms)
    high, low = (equation(angle, layout, x + s * change).at(x + s * change) for s in (1, -1))
    assert (high - low) / 2 == pytest.approx(slope, rel=1e-4)


@pytest.mark.parametrize(
    ("reading", "over", "expected"),
    [
        (lean("left", 72).model_copy(update={"value": Length(5.0)}), 1828.8, 5.0),
        (lean("left", 72).model_copy(update={"value": Slope(0.003)}), 1828.8, 5.4864),
        (lean("left", 72).model_copy(update={"value": Length(5.0), "toward": "in"}), 1.0, 5.0),
        (lean("left", 72).model_copy(update={"value": Length(5.0), "toward": "out"}), 1.0, -5.0),
        (Fall(what="fall", falls="left", value=Length(2.0)), 1.0, -2.0),
        (Fall(what="fall", falls="right", value=Length(2.0)), 1.0, 2.0),
        (Pitch(what="pitch", falls="out", value=Slope(0.02)), 100.0, -2.0),
        (Pitch(what="pitch", falls="in", value=Slope(0.02)), 100.0, 2.0),
        (
            Bow(what="bow", wall="left", from_=ZERO, to=up(72), toward="out", value=Length(1.5)),
            1.0,
            -1.5,
        ),
        (CornerAngle(what="angle", wall="left", value=Angle(math.pi / 2)), 1.0, math.pi / 2),
    ],
)
def test_words_carry_the_sign(reading: Reading, over: float, expected: float) -> None:
    assert observed(reading, over) == pytest.approx(expected)


def test_a_wall_has_a_node_at_every_height_read_and_no_wide_gap() -> None:
    job = brief([width(0), width(41.0625), lean("left", 66)]).job
    heights = node_heights(job)
    assert {0.0, 1043.0, 1676.4, 1930.4} <= set(heights)
    assert max(np.diff(heights)) <= 200.0
    assert min(np.diff(heights)) > 0.0


def test_a_mistyped_height_does_not_make_a_thousand_nodes() -> None:
    assert len(node_heights(brief([width(0), width(40000)]).job)) < 40


def test_the_frame_stands_at_the_left_foot_or_the_only_wall() -> None:
    both, right = (lay_out(brief([], walls=walls).job) for walls in (("left", "right"), ("right",)))
    assert "left 0.0" not in both.place
    assert "curb left" not in both.place
    assert "right 0.0" not in right.place
    assert not any(name.startswith("left") for name in right.names)


def test_a_reading_of_a_missing_wall_is_not_used() -> None:
    assert not touches(width(0), ("left",))
    assert not touches(lean("right", 72), ("left",))
    assert touches(lean("left", 72), ("left",))
    assert touches(Fall(what="fall", value=ZERO), ())


def test_a_fall_over_the_whole_curb_needs_no_length() -> None:
    layout = lay_out(brief([], walls=("left",)).job)
    x = np.zeros(len(layout.place))
    fall = Fall(what="fall", over=Length(500), value=ZERO)
    assert layout.stated == (None,)
    assert dict(equation(fall, layout, x).terms) == {layout.place["curb right"]: -1.0}
    assert span(fall, layout, x) == 500.0


def test_heights_are_those_of_the_reading() -> None:
    assert pytest.approx(Width.model_validate(width(38).model_dump()).at) == INCH * 38
    assert isinstance(lean("left", 72), Lean)
