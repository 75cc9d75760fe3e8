"""Corners, steps and ceilings in the opening: worked by hand, and with next to nothing read."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import pytest
from scipy.optimize import least_squares

from hangtrue.job.document import WantedLite
from hangtrue.job.readings import (
    Diagonal,
    Fall,
    Height,
    Pitch,
    Reading,
    Side,
    Station,
)
from hangtrue.job.room import Step
from hangtrue.job.wishes import Turn
from hangtrue.measure import measure
from hangtrue.measure.adjusting import fit, network
from hangtrue.measure.equations import equation, third_side, touches
from hangtrue.measure.layout import Layout, lay_out
from hangtrue.measure.opening import Linear, Opening
from hangtrue.measure.slips import slips
from hangtrue.units import Angle, Length
from tests.made_up import (
    INCH,
    Room,
    Vector,
    brief,
    ceiling,
    corner_readings,
    cornered_room,
    finder,
    lean,
    read,
    square,
    triangle,
    turned,
    up,
    width,
    with_value,
)

ZERO = Length(0)
RETURN = turned(90.0)
INSTRUMENT = 1.0 / math.sqrt(3.0)


def at(opening: Opening, length: Linear) -> float:
    return opening.estimate(length).value


def opening(
    readings: Sequence[Reading],
    lites: Sequence[WantedLite] = RETURN,
    walls: tuple[Side, ...] = ("left", "right"),
    steps: Sequence[Step] = (),
) -> Opening:
    return measure(brief(readings, unit="mm", lites=lites, walls=walls, steps=steps))


def widths(*lengths: float) -> list[Reading]:
    """One width of each run at the curb."""
    return [with_value(width(0, "tape", run), w) for run, w in enumerate(lengths, 1)]


# --------------------------------------------------------------------------------- the equations


@pytest.mark.parametrize(
    ("before", "after", "degrees", "third"),
    [
        (3.0, 4.0, 90.0, 5.0),
        (36.0, 48.0, 90.0, 60.0),
        (5.0, 12.0, 90.0, 13.0),
        (10.0, 10.0, 60.0, 10.0),
        (10.0, 10.0, 120.0, 10.0 * math.sqrt(3.0)),
        (12.0, 12.0, 135.0, 12.0 * math.sqrt(2.0 + math.sqrt(2.0))),
        (7.0, 8.0, 120.0, 13.0),
        (5.0, 8.0, 60.0, 7.0),
    ],
)
def test_the_law_of_cosines(before: float, after: float, degrees: float, third: float) -> None:
    """Euclid, Elements, book II, propositions 12 and 13; triangles with whole sides, by hand."""
    assert third_side(before, after, math.radians(degrees)) == pytest.approx(third)


KINDS: tuple[Reading, ...] = (
    *corner_readings("mm", 2),
    Diagonal(what="diagonal", left_at=up(0), right_at=up(76), value=ZERO),
    Diagonal(what="diagonal", run=2, left_at=up(0), right_at=up(76), value=ZERO),
    Diagonal(what="diagonal", run=3, left_at=up(72), right_at=up(4), value=ZERO),
    Fall(what="fall", run=2, over=Length(300), value=ZERO),
    Pitch(what="pitch", run=3, over=Length(300), value=ZERO),
    Height(what="height", of="curb", at="corner 2", value=ZERO),
    Height(what="height", of="curb", at="middle", value=ZERO),
    Height(what="height", of="ceiling", at="middle", value=ZERO),
)


def a_room() -> Room:
    return cornered_room(np.random.default_rng(7), 120.0, 75.0)


def a_layout() -> Layout:
    nodes = [width(h) for h in (4, 10, 20, 40, 54, 66, 72)]
    return lay_out(brief([*KINDS, *nodes], lites=turned(120.0, 75.0)).job)


def unknowns_of(room: Room, layout: Layout) -> Vector:
    """Write a room's true shape as the unknowns of a layout."""
    corners = range(1, len(room.corners) + 1)
    known = {"pitch": room.pitch, "pitch run 3": room.pitch}
    known |= {f"corner {k}": room.corners[k - 1] for k in corners}
    known |= {f"angle {k}": room.angles[k - 1] for k in corners}
    known |= {f"square {side}": tilt for side, tilt in room.square.items()}
    for k, name in enumerate(layout.stations):
        known[f"curb {name}"], known[f"ceiling {name}"] = room.curbs[k], room.ceilings[k]
    x = np.zeros(len(layout.place))
    for name, index in layout.place.items():
        what, _, which = name.partition(" ")
        if name in known:
            x[index] = known[name]
        elif what in {"left", "right"}:
            x[index] = room.x("left" if what == "left" else "right", float(which))
    return x


@pytest.mark.parametrize("reading", KINDS, ids=lambda r: r.id or r.what)
def test_a_reading_of_the_true_shape_is_what_the_geometry_says(reading: Reading) -> None:
    room, layout = a_room(), a_layout()
    x = unknowns_of(room, layout)
    assert equation(reading, layout, x).at(x) == pytest.approx(room.reading(reading), abs=0.02)


@pytest.mark.parametrize("reading", KINDS, ids=lambda r: r.id or r.what)
def test_the_coefficients_are_the_derivatives(reading: Reading) -> None:
    layout = a_layout()
    x = unknowns_of(a_room(), layout)
    terms = np.zeros(len(x))
    for index, coefficient in equation(reading, layout, x).terms:
        terms[index] += coefficient
    for name, j in layout.place.items():
        step = np.zeros(len(x))
        step[j] = 1e-6 if name.startswith("angle") else 1e-3
        high = equation(reading, layout, x + step).at(x + step)
        low = equation(reading, layout, x - step).at(x - step)
        assert (high - low) / (2.0 * step[j]) == pytest.approx(terms[j], rel=1e-4, abs=1e-5)


def test_a_reading_of_what_is_not_there_is_not_used() -> None:
    both: tuple[Side, ...] = ("left", "right")
    assert touches(width(0, run=2), both, 2)
    assert not touches(width(0, run=3), both, 2)
    assert not touches(width(0, run=2), ("left",), 2)
    assert touches(width(0, run=2), (), 3)
    assert touches(finder(1), both, 2)
    assert not touches(triangle(2), both, 2)
    assert not touches(ceiling("corner 2"), both, 2)
    assert not touches(square("right"), ("left",), 2)
    assert not touches(Fall(what="fall", run=2, value=ZERO), both, 1)


def test_the_adjustment_is_the_minimum_that_a_general_solver_finds() -> None:
    """Same shape as scipy.optimize.least_squares on the misfit of the made-up room's geometry."""
    room = cornered_room(np.random.default_rng(3), 135.0, 75.0)
    seen = read(room, corner_readings("mm", 2), np.random.default_rng(4), "mm", "normal")
    net = network(brief(seen, unit="mm", lites=turned(135.0, 75.0)))
    result, layout = fit(net), net.layout
    rows = (*net.shape_rows, *net.broad_rows)
    design = np.zeros((len(rows), len(layout.place)))
    for i, row in enumerate(rows):
        for j, a in row.terms:
            design[i, j] += a / row.sigma
    aim = np.array([row.observed / row.sigma for row in rows])

    def misfit(x: Vector) -> Vector:
        made = room_of(x, layout)
        off = [(made.reading(s.reading) - s.observed) / s.sigma for s in result.seen]
        return np.concatenate([off, design @ x - aim])

    start = result.adjustment.x * (1.0 + 1e-4)
    other = least_squares(
        misfit, start, jac="3-point", x_scale="jac", xtol=1e-15, ftol=1e-15, gtol=1e-15
    )
    assert other.x == pytest.approx(result.adjustment.x, abs=2e-6)
    assert 2 * other.cost == pytest.approx(result.adjustment.chi_square, rel=1e-6)


def room_of(x: Vector, layout: Layout) -> Room:
    """Write the unknowns of a layout as a room's shape."""
    known = {name: float(x[i]) for name, i in layout.place.items()}
    left, right = (
        np.array([known.get(f"{side} {h:.1f}", 0.0) for h in layout.heights]) for side in SIDES
    )
    corners = range(1, layout.runs)
    return Room(
        heights=np.array(layout.heights),
        left=left,
        right=right,
        across_left=left * 0.0,
        across_right=left * 0.0,
        curb_right=known["curb right"],
        pitch=math.atan(known["pitch"]),
        corners=tuple(known[f"corner {k}"] for k in corners),
        angles=tuple(known[f"angle {k}"] for k in corners),
        corner_curbs=tuple(known[f"curb corner {k}"] for k in corners),
        ceilings=tuple(known[f"ceiling {station}"] for station in layout.stations),
        square={side: known[f"square {side}"] for side in SIDES},
    )


# -------------------------------------------------------------------------------- worked by hand


def test_runs_lie_one_after_the_other() -> None:
    made = opening(widths(1000.0, 700.0, 500.0), turned(135.0, 135.0))
    assert made.corners == 2
    assert at(made, made.corner(1)) == pytest.approx(1000.0, abs=0.01)
    assert at(made, made.corner(2)) == pytest.approx(1700.0, abs=0.01)
    assert at(made, made.end("right")) == pytest.approx(2200.0, abs=0.01)
    depth = made.stop(3, 0.0) - made.start(3, 0.0)
    assert made.estimate(depth).sd == pytest.approx(made.residuals[2].sigma, rel=1e-3)


@pytest.mark.parametrize(("third", "degrees"), [(1500.0, 90.0), (1505.0, 90.398)])
def test_three_four_five_makes_an_angle(third: float, degrees: float) -> None:
    """900 and 1200 mm: cos = (900² + 1200² - third²) / (2 · 900 · 1200), by hand."""
    read = triangle(1, "tape").model_copy(update={"before": Length(900), "after": Length(1200)})
    made = opening([with_value(read, third)])
    assert math.degrees(at(made, made.angle(1))) == pytest.approx(degrees, abs=0.005)


def test_three_four_five_is_as_good_as_its_tape_and_its_marks() -> None:
    """Third side and both legs with a class II tape read to 1 mm.

    By hand: errors 0.9 mm over 1500 and 1200 mm, 0.7 over 900 mm, with 0.5 for seating and 0.5 for
    reading each; a leg counts by the cosine of the angle beside it, 0.6 and 0.8. Then the angle is
    the third side's error times 1500 / (900 · 1200).
    """
    read = triangle(1, "tape").model_copy(update={"before": Length(900), "after": Length(1200)})
    made = opening([with_value(read, 1500.0)])
    third, short, long = (INSTRUMENT * math.hypot(error, 0.5, 0.5) for error in (0.9, 0.7, 0.9))
    sigma = math.hypot(third, 0.6 * short, 0.8 * long)
    assert made.residuals[0].sigma == pytest.approx(sigma, rel=1e-9)
    sd = made.estimate(made.angle(1)).sd
    assert sd == pytest.approx(sigma * 1500.0 / (900.0 * 1200.0), rel=2e-3)


def test_an_angle_that_nobody_read_is_as_wanted_and_worth_a_reading() -> None:
    made = opening([*widths(900.0, 800.0), *(with_value(lean(s, 72), 0.0) for s in SIDES)])
    assert at(made, made.angle(1)) == pytest.approx(math.pi / 2)
    assert math.degrees(made.estimate(made.angle(1)).sd) == pytest.approx(1.5, abs=0.01)
    words = [advice.words for advice in made.advice]
    assert any("corner 1" in w for w in words)
    again = opening([*widths(900.0, 800.0), with_value(finder(1), math.radians(91.0))])
    assert not any("corner" in advice.words for advice in again.advice)


SIDES: tuple[Side, Side] = ("left", "right")


def test_a_wall_out_of_square_is_read_from_ninety_degrees() -> None:
    made = opening([with_value(square("left"), math.radians(91.0))])
    assert at(made, made.entry("square left")) == pytest.approx(math.radians(1.0), rel=0.01)
    assert not made.knows("square right")


def test_the_curb_is_straight_between_its_corners() -> None:
    """It rises 4 mm to the corner and falls 2 mm after it."""
    heights = [
        Height(id=at, what="height", of="curb", at=at, value=Length(z), with_="tape")
        for at, z in CURBS
    ]
    made = opening([*widths(1000.0, 500.0), *heights])
    for x, z in ((0.0, 0.0), (500.0, 2.0), (1000.0, 4.0), (1250.0, 3.0), (1500.0, 2.0)):
        assert at(made, made.curb(x)) == pytest.approx(z, abs=0.05)


CURBS: tuple[tuple[Station, float], ...] = (("left", 0.0), ("corner 1", 4.0), ("right", 2.0))


def test_a_ceiling_read_once_is_level_and_read_twice_it_slopes() -> None:
    once = opening([*widths(1000.0, 500.0), with_value(ceiling("left", "tape"), 2400.0)])
    assert once.has_ceiling
    assert at(once, once.ceiling(700.0)) == pytest.approx(2400.0, abs=0.01)
    read = [("left", 2400.0), ("corner 1", 2200.0), ("right", 2300.0)]
    sloped = opening(
        [*widths(1000.0, 500.0), *(with_value(ceiling(s, "tape"), z) for s, z in read)]  # type: ignore[arg-type]
    )
    for x, z in ((0.0, 2400.0), (500.0, 2300.0), (1000.0, 2200.0), (1250.0, 2250.0)):
        assert at(sloped, sloped.ceiling(x)) == pytest.approx(z, abs=0.05)


def test_a_straight_line_may_have_a_sloped_ceiling_too() -> None:
    read = [
        with_value(ceiling("left", "tape"), 2400.0),
        with_value(ceiling("right", "tape"), 2100.0),
    ]
    made = opening([*widths(1000.0), *read], lites=RETURN[:1])
    assert at(made, made.ceiling(500.0)) == pytest.approx(2250.0, abs=0.05)


def test_a_sloped_ceiling_over_a_steam_room_is_read_at_every_corner() -> None:
    """Left and right say that it slopes; how high it is at the corner nobody knows."""
    known = [*widths(1000.0, 500.0), *(with_value(lean(s, 72), 0.0) for s in SIDES)]
    known += [with_value(finder(1), math.pi / 2)]
    known += [
        with_value(ceiling("left", "tape"), 2400.0),
        with_value(ceiling("right", "tape"), 2100.0),
    ]
    lites = [lite.model_copy(update={"head": "ceiling"}) for lite in RETURN]
    made = opening(known, lites)
    assert made.advice[0].words == "read the height of the ceiling at corner 1"
    assert made.estimate(made.entry("ceiling corner 1")).sd > 100.0
    assert not any("ceiling" in advice.words for advice in opening(known).advice)


def test_a_ceiling_that_nobody_read_is_not_made_up() -> None:
    made = opening(widths(1000.0, 500.0))
    assert not made.has_ceiling
    with pytest.raises(KeyError, match="ceiling"):
        made.ceiling(500.0)


# ----------------------------------------------------------------------------------- what stands


def knee(**given: object) -> Step:
    known = {"name": "knee wall", "kind": "knee wall", "height": Length(900), "width": Length(125)}
    return Step.model_validate({**known, "with": "tape", **given})


def test_a_step_to_the_end_of_its_run_ends_at_wall_and_corner() -> None:
    made = opening(widths(1000.0, 700.0), steps=[knee(run=2)])
    step = made.step("knee wall")
    assert made.steps == ("knee wall",)
    assert at(made, step.left) == pytest.approx(1000.0, abs=0.01)
    assert at(made, step.right) == pytest.approx(1700.0, abs=0.01)
    assert at(made, step.top_left) == pytest.approx(900.0, abs=0.01)
    assert (step.overhang_left, step.overhang_right) == (0.0, 0.0)


def test_a_riser_is_taped_from_the_left_end_of_its_run() -> None:
    """300 mm beyond the corner, which is known to a tape itself; so is the riser from there."""
    made = opening(widths(1000.0, 700.0), steps=[knee(run=2, **{"from": Length(300)})])
    step = made.step("knee wall")
    assert at(made, step.left) == pytest.approx(1300.0, abs=0.01)
    sigma = INSTRUMENT * math.hypot(0.7, 0.5, 0.5)
    assert made.estimate(step.left - made.corner(1)).sd == pytest.approx(sigma, rel=1e-3)
    both = math.hypot(sigma, made.estimate(made.corner(1)).sd)
    assert made.estimate(step.left).sd == pytest.approx(both, rel=1e-3)


def test_the_base_is_cut_at_caps_and_corners() -> None:
    """A bench from 400 to 700 mm whose cap stands out 10 mm and falls 6 mm; a corner at 1000 mm."""
    bench = knee(
        name="bench",
        kind="bench",
        **{"from": Length(400), "to": Length(700)},
        height=Length(450),
        overhang=Length(10),
        cap_fall=Length(6),
    )
    made = opening(widths(1000.0, 500.0), steps=[bench, knee(run=2)])
    base = made.base(0.0, 1400.0)
    found = [
        (
            s.step,
            *(at(made, length) for length in (s.left, s.right, s.left_height, s.right_height)),
        )
        for s in base
    ]
    expected = [
        ("", 0.0, 390.0, 0.0, 0.0),
        ("bench", 390.0, 710.0, 450.0, 444.0),
        ("", 710.0, 1000.0, 0.0, 0.0),
        ("knee wall", 1000.0, 1400.0, 900.0, 900.0),
    ]
    assert [name for name, *_ in found] == [name for name, *_ in expected]
    for (_, *numbers), (_, *known) in zip(found, expected, strict=True):
        assert numbers == pytest.approx(known, abs=0.05)
    assert [s.step for s in made.base(500.0, 600.0)] == ["bench"]


def test_the_higher_of_two_caps_hides_the_lower() -> None:
    low = knee(name="bench", kind="bench", height=Length(450))
    made = opening(widths(1000.0), lites=RETURN[:1], steps=[low, knee(**{"from": Length(600)})])
    assert [s.step for s in made.base(0.0, 1000.0)] == ["bench", "knee wall"]


def test_a_step_to_a_leaning_wall_follows_it() -> None:
    """The wall leans out by 20 mm over the glass: no sliver of curb beside the cap."""
    leaning = with_value(lean("left", 72), -20.0)
    made = opening([*widths(1000.0), leaning], RETURN[:1], steps=[knee(to=Length(300))])
    assert at(made, made.step("knee wall").left) < -5.0
    assert [s.step for s in made.base(-15.0, 1000.0)] == ["knee wall", ""]


def test_a_wall_has_a_node_at_the_height_of_a_cap() -> None:
    assert 901.7 in opening(widths(1000.0), RETURN[:1], steps=[knee(height=Length(901.7))]).heights


# -------------------------------------------------------------------------------------- free ends


def test_a_line_around_a_free_corner_needs_no_wall() -> None:
    """Three panes, two corners, nothing at the ends: x is 0 at corner 1."""
    lites = [
        lite.model_copy(update={"width": Length(w)})
        for lite, w in zip(turned(90.0, 90.0), (300.0, 1000.0, 400.0), strict=True)
    ]
    made = opening([with_value(width(0, "tape", 2), 1000.0)], lites, walls=())
    assert at(made, made.corner(1)) == 0.0
    assert at(made, made.corner(2)) == pytest.approx(1000.0, abs=0.01)
    assert at(made, made.end("left")) == pytest.approx(-300.0)
    assert at(made, made.end("right")) == pytest.approx(1400.0, abs=0.01)
    assert made.heights == ()


@pytest.mark.parametrize("wall", SIDES)
def test_a_return_may_end_free(wall: Side) -> None:
    lites = [lite.model_copy(update={"width": Length(600)}) for lite in RETURN]
    run = 1 if wall == "left" else 2
    made = opening([with_value(width(0, "tape", run), 900.0)], lites, walls=(wall,))
    length = at(made, made.end("right") - made.end("left"))
    assert length == pytest.approx(1500.0, abs=0.01)
    assert at(made, made.end(wall)) == pytest.approx(0.0, abs=1e-9)
    assert np.isfinite([at(made, made.curb(x)) for x in (-800.0, 0.0, 800.0)]).all()


def test_a_straight_line_without_walls_starts_at_zero() -> None:
    lites = [RETURN[0].model_copy(update={"width": Length(800)})]
    made = opening([], lites, walls=())
    assert (at(made, made.end("left")), at(made, made.end("right"))) == (0.0, 800.0)


@pytest.mark.parametrize(
    "reading",
    [
        with_value(finder(1), math.radians(91.0)),
        with_value(triangle(1), 30 * INCH),
        with_value(triangle(1), 500 * INCH),
        with_value(square("left"), math.radians(88.0)),
        with_value(width(0, run=2), 900.0),
        with_value(ceiling("corner 1"), 2400.0),
        Fall(id="f", what="fall", run=2, value=Length(3.0)),
        Pitch(id="p", what="pitch", run=2, value=Length(3.0)),
    ],
    ids=lambda r: r.id,
)
def test_too_few_readings_are_no_error_but_a_wide_answer(reading: Reading) -> None:
    made = opening([reading], [*RETURN[:1], WantedLite(kind="fixed", turn=Turn())])
    assert np.isfinite(made.shape).all()
    assert len(made.residuals) == 1
    assert np.linalg.eigvalsh(made.covariance).min() > -1e-9
    assert made.advice


# ------------------------------------------------------------------------------------------ slips


def test_an_angle_finder_may_be_read_from_the_wrong_side() -> None:
    (slip,) = slips(with_value(finder(1), math.radians(135.0)), "in")
    assert math.degrees(slip.retyped) == pytest.approx(45.0)
    assert isinstance(slip.retyped, Angle)
    assert slip.words == "angle read from the wrong side"


def test_a_third_side_is_misread_like_any_taped_length() -> None:
    read = with_value(triangle(1), 60.125 * INCH, '60-1/8"')
    found = {round(float(slip.retyped) / INCH, 3) for slip in slips(read, "in")}
    assert {59.125, 61.125, 60.875} <= found
