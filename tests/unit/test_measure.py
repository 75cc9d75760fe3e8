"""`measure` as a whole: worked examples, too few readings, wrong readings, what to read next."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.optimize import least_squares

from hangtrue.job import library
from hangtrue.job.profile import Profile
from hangtrue.job.read import read_job_text
from hangtrue.job.readings import CornerAngle, Diagonal, Height, Pitch, Reading
from hangtrue.measure import measure
from hangtrue.measure.adjusting import fit, network
from hangtrue.measure.opening import Opening
from hangtrue.units import Length, Slope
from tests.made_up import (
    GLASS,
    INCH,
    Room,
    Vector,
    brief,
    changed,
    diagonal,
    flipped,
    lean,
    offset,
    random_room,
    read,
    square_room,
    usual_readings,
    width,
    with_value,
)


def straight_walls() -> Profile:
    """Return the shop profile for walls that do not bow."""
    profile = library.shipped_profiles()["inch-shop"]
    none = profile.limit("prior-bow-sd").model_copy(update={"value": 1e-4})
    return profile.model_copy(update={"limits": {**profile.limits, "prior-bow-sd": none}})


def opening_width(opening: Opening, height: float) -> tuple[float, float]:
    found = opening.estimate(opening.wall("right", height) - opening.wall("left", height))
    return found.value, found.sd


def honest(seed: int = 5, **kinds: bool) -> tuple[Room, tuple[Reading, ...]]:
    rng = np.random.default_rng(seed)
    room = random_room(rng)
    return room, read(room, usual_readings("in", **kinds), rng, "in")


# -------------------------------------------------------------------------------- worked by hand


def test_three_widths_of_straight_walls_worked_by_hand() -> None:
    """1000, 1003, 1000 mm at bottom, middle, top.

    By hand: the straight line through three equally spaced, equally good values is their mean,
    1001, level by symmetry. Residuals (adjusted less read) +1, -2, +1; variance of the line 5/6 of
    one reading's at the ends and 1/3 in the middle, so redundancy 1/6, 2/3, 1/6.
    """
    readings = [with_value(width(h), w) for h, w in ((0, 1000.0), (38, 1003.0), (76, 1000.0))]
    opening = measure(brief(readings, profile=straight_walls()))
    sigma = opening.residuals[0].sigma
    for height, share in ((0.0, 5 / 6), (GLASS / 2, 1 / 3), (GLASS, 5 / 6)):
        value, sd = opening_width(opening, height)
        assert value == pytest.approx(1001.0, abs=2e-3)
        assert sd == pytest.approx(sigma * math.sqrt(share), rel=1e-3)
    assert [r.adjusted - r.observed for r in opening.residuals] == pytest.approx(
        [1.0, -2.0, 1.0], abs=2e-3
    )
    assert [r.redundancy for r in opening.residuals] == pytest.approx(
        [1 / 6, 2 / 3, 1 / 6], abs=1e-3
    )
    w = -2.0 / (sigma * math.sqrt(2 / 3))
    assert opening.residuals[1].normalised == pytest.approx(w, rel=2e-3)
    assert opening.agreement.degrees_of_freedom == pytest.approx(1.0, abs=0.01)
    assert opening.agreement.chi_square == pytest.approx(6.0 / sigma**2, rel=2e-3)


def test_two_leans_of_one_wall_are_weighed() -> None:
    """3 mm and 6 mm with the same level: the mean, and a sd smaller by the root of 2."""
    twice = [lean("left", 72).model_copy(update={"id": f"l{i}"}) for i in (1, 2)]
    readings = [with_value(r, v) for r, v in zip(twice, (3.0, 6.0), strict=True)]
    opening = measure(brief([*readings, with_value(width(0), 900.0)]))
    found = opening.estimate(opening.lean("left", 0.0, 72 * INCH))
    assert found.value == pytest.approx(4.5, abs=0.01)
    assert found.sd == pytest.approx(opening.residuals[0].sigma / math.sqrt(2.0), rel=1e-2)


def test_the_curb_falls_as_read() -> None:
    """A fall of 1/16 in to the left: the right end is higher by 1/16 in."""
    job, problems = read_job_text(
        """
        hangtrue: 1
        job: {id: lodge-tern}
        unit: in
        walls: {left: {}, right: {}}
        threshold: {height: 4, width: 4-1/2}
        wanted: {lites: [door], height: 76}
        readings:
          - {what: width, at: 0, value: 30-1/2}
          - {what: fall, falls: left, value: 1/16 in, with: level-24}
          - {what: pitch, falls: in, value: 1/4 in per ft, with: level-24}
          - {what: height, of: ceiling, value: 94}
        """
    )
    assert job, problems
    opening = measure(job)
    assert opening.estimate(opening.entry("curb left")).value == 0.0
    assert opening.estimate(opening.entry("curb right")).value == pytest.approx(1.5875, abs=0.01)
    assert opening.estimate(opening.entry("pitch")).value == pytest.approx(0.25 / 12, rel=0.01)
    assert opening.estimate(opening.entry("ceiling")).value == pytest.approx(94 * INCH, abs=0.01)


def test_offsets_from_one_line_share_its_tilt() -> None:
    """A wall found by offsets from one laser line is no better plumbed than the line itself."""
    room = square_room()
    room = Room(
        heights=room.heights,
        left=room.left,
        right=room.right,
        across_left=room.across_left,
        across_right=room.across_right,
        lines={"laser": (400.0, 0.0)},
    )
    many = [offset("left", h) for h in (0, 20, 38, 54, 76)]
    rng = np.random.default_rng(1)
    opening = measure(brief(read(room, many, rng, "mm", "none"), profile=straight_walls()))
    found = opening.estimate(opening.lean("left", 0.0, GLASS))
    assert found.value == pytest.approx(0.0, abs=1e-6)
    assert found.sd > 0.3e-3 / math.sqrt(3.0) * GLASS


# ---------------------------------------------------------------------- against a general library


def test_the_adjustment_is_the_minimum_that_a_general_solver_finds() -> None:
    """Same shape as scipy.optimize.least_squares on the same misfit, to 1e-6 mm.

    The solver works on numerical derivatives of the made-up room's own geometry, which limits it.
    """
    _, readings = honest(diagonals=True)
    net = network(brief(readings))
    result = fit(net)
    layout, seen = net.layout, result.seen
    heights = np.array(layout.heights)

    def room(x: Vector) -> Room:
        value = {name: float(x[i]) for name, i in layout.place.items()}
        left, right = (
            np.array([value.get(f"{side} {h:.1f}", 0.0) for h in layout.heights])
            for side in ("left", "right")
        )
        return Room(
            heights=heights,
            left=left,
            right=right,
            across_left=value["across left"] * heights,
            across_right=value["across right"] * heights,
            curb_right=value["curb right"],
            pitch=math.atan(value["pitch"]),
        )

    rows = (*net.shape_rows, *net.broad_rows)
    design = np.zeros((len(rows), len(layout.place)))
    for i, row in enumerate(rows):
        for j, a in row.terms:
            design[i, j] += a / row.sigma
    aim = np.array([row.observed / row.sigma for row in rows])

    def misfit(x: Vector) -> Vector:
        made = room(x)
        read_off = [(made.reading(s.reading) - s.observed) / s.sigma for s in seen]
        return np.concatenate([read_off, design @ x - aim])

    start = result.adjustment.x + np.random.default_rng(1).normal(0.0, 0.3, len(layout.place))
    other = least_squares(misfit, start, jac="3-point", xtol=1e-15, ftol=1e-15, gtol=1e-15)
    assert other.x == pytest.approx(result.adjustment.x, abs=1e-6)
    assert 2 * other.cost == pytest.approx(result.adjustment.chi_square, rel=1e-9)


# ------------------------------------------------------------------------------ too few readings


@pytest.mark.parametrize(
    "readings",
    [
        [],
        [with_value(lean("left", 72), 3.0)],
        [with_value(diagonal("up", 0, 76), 2100.0)],
        [with_value(diagonal("up", 0, 76), 1000.0)],
        [with_value(offset("left", 20), 150.0)],
        [Pitch(id="p", what="pitch", value=Slope(0.02))],
        [Height(id="h", what="height", of="ceiling", value=Length(2400))],
        [CornerAngle.model_validate({"what": "angle", "wall": "left", "value": "89°"})],
    ],
    ids=["none", "lean", "diagonal", "impossible diagonal", "offset", "pitch", "height", "angle"],
)
def test_too_few_readings_are_no_error_but_a_wide_answer(readings: list[Reading]) -> None:
    opening = measure(brief(readings))
    assert np.isfinite(opening.shape).all()
    assert len(opening.residuals) == len(readings)
    assert np.linalg.eigvalsh(opening.covariance).min() > -1e-9
    assert opening.advice
    if not any(isinstance(r, Diagonal) for r in readings):
        assert opening_width(opening, 0.0)[1] > 500.0
        assert "width" in opening.advice[0].words


@pytest.mark.parametrize("walls", [("left",), ("right",), ()])
def test_a_free_end_is_no_error(walls: tuple) -> None:  # type: ignore[type-arg]
    readings = [
        r for r in honest()[1] if r.id in {"fall", "pitch"} or any(w in r.id for w in walls)
    ]
    opening = measure(brief(readings, walls=walls, lites=("fixed",)))
    assert not opening.agreement.alarm
    assert {name.split()[0] for name in opening.unknowns} & {"left", "right"} == set(walls)
    for side in walls:
        assert opening.estimate(opening.lean(side, 0.0, GLASS)).sd < 3.0


def test_a_wall_without_a_lean_is_what_to_plumb_next() -> None:
    readings = [with_value(width(h), 900.0) for h in (0, 38, 76)]
    readings += [with_value(lean("left", h), 0.0) for h in (38, 72)]
    several = [with_value(width(0).model_copy(update={"id": f"w{i}"}), 900.0) for i in range(3)]
    opening = measure(brief(several))
    assert opening.advice[0].why == "narrows"
    assert "plumb" in opening.advice[0].words or "top" in opening.advice[0].words
    gains = [a.gain for a in measure(brief(readings)).advice]
    assert gains == sorted(gains, reverse=True)
    assert all(0.0 < gain <= 1.0 for gain in gains)


def test_a_reading_that_nothing_checks_is_said_to_be_so() -> None:
    opening = measure(brief([with_value(width(0), 900.0)]))
    only = opening.residuals[0]
    assert only.redundancy < 1e-5
    assert only.normalised == 0.0
    assert only.detectable > 1000.0


# -------------------------------------------------------------------------------- wrong readings


def test_an_inch_in_a_width_is_named_corrected_and_left_out() -> None:
    room, readings = honest()
    right = next(r.value for r in readings if r.id == "width 76")
    opening = measure(brief(changed(readings, "width 76", INCH, "in")))
    named = opening.agreement.named
    assert opening.agreement.alarm
    assert named is not None
    assert (named.reading, named.slip) == ("width 76", "one inch too long")
    assert named.corrected == pytest.approx(right)
    assert opening.set_aside == ("width 76",)
    assert [r.reading for r in opening.residuals] == [r.id for r in readings]
    value, sd = opening_width(opening, GLASS)
    assert value == pytest.approx(room.width(GLASS), abs=4 * sd)


def test_the_reading_left_out_keeps_the_residual_it_had() -> None:
    """Its w against all the others is the w it had among them."""
    _, readings = honest()
    wrong = changed(readings, "width 76", INCH, "in")
    opening = measure(brief(wrong))
    among = fit(network(brief(wrong)))
    i = [s.reading.id for s in among.seen].index("width 76")
    share = among.adjustment.redundancy[i]
    w = among.adjustment.residuals[i] / (among.seen[i].sigma * math.sqrt(share))
    kept = next(r for r in opening.residuals if r.reading == "width 76")
    assert kept.normalised == pytest.approx(w, rel=1e-6)
    assert kept.redundancy == pytest.approx(share, rel=1e-6)


def test_a_flipped_lean_is_named() -> None:
    rng = np.random.default_rng(2)
    room = square_room(900.0)
    leaning = Room(
        heights=room.heights,
        left=room.heights * 0.005,
        right=room.right,
        across_left=room.across_left,
        across_right=room.across_right,
    )
    readings = read(leaning, usual_readings("mm"), rng, "mm")
    named = measure(brief(flipped(readings, "lean left 72"), unit="mm")).agreement.named
    assert named is not None
    assert (named.reading, named.slip) == ("lean left 72", "sign flipped")
    assert named.corrected == pytest.approx(0.005 * 72 * INCH, abs=2.0)


def test_a_width_read_at_another_height_is_named() -> None:
    """The room narrows by 60 mm to the top; the top width was read in the middle."""
    room = square_room(900.0)
    leaning = Room(
        heights=room.heights,
        left=room.heights * 0.016,
        right=room.right - room.heights * 0.016,
        across_left=room.across_left,
        across_right=room.across_right,
    )
    readings = read(leaning, usual_readings("mm"), np.random.default_rng(2), "mm")
    middle = next(r.value for r in readings if r.id == "width 38")
    wrong = [with_value(r, middle) if r.id == "width 76" else r for r in readings]
    named = measure(brief(wrong, unit="mm")).agreement.named
    assert named is not None
    assert (named.reading, named.slip) == ("width 76", "belongs to another height, 38 in")


def test_a_tie_is_said_to_be_one_and_the_next_reading_decides() -> None:
    """Bottom and top width and one lean of each wall: 10 mm too much could be in any of them."""
    readings = [with_value(width(0), 900.0), with_value(width(76), 910.0)]
    readings += [with_value(lean(side, 72), 0.0) for side in ("left", "right")]
    opening = measure(brief(readings, unit="mm"))
    assert opening.agreement.alarm
    assert opening.agreement.named is None
    assert len({s.reading for s in opening.agreement.suspects}) >= 2
    assert opening.set_aside == ()
    decider = opening.agreement.decider
    assert decider is not None
    assert decider.why == "decides"
    assert decider.gain > 3.0


def test_two_slips_at_once_are_said_to_be_more_than_one() -> None:
    _, readings = honest(diagonals=True)
    twice = changed(readings, "width 76", 4 * INCH, "in")
    twice = changed(twice, "diagonal up", -3 * INCH, "in")
    agreement = measure(brief(twice)).agreement
    assert agreement.alarm
    assert agreement.named is None
    assert agreement.suspects


def test_bowed_walls_that_all_readings_agree_on_raise_no_alarm() -> None:
    """Both walls belly 9 mm in, as three leans of each and the widths say."""
    heights = square_room().heights
    belly = 9.0 * np.sin(np.pi * heights / GLASS)
    room = Room(
        heights=heights,
        left=belly,
        right=900.0 - belly,
        across_left=0 * heights,
        across_right=0 * heights,
    )
    kinds = [*usual_readings("mm", diagonals=True), lean("left", 54), lean("right", 54)]
    kinds += [width(h, "tape") for h in (20, 54)]
    opening = measure(brief(read(room, kinds, np.random.default_rng(3), "mm"), unit="mm"))
    assert not opening.agreement.alarm
    found = opening.estimate(opening.bow("left", 0.0, GLASS / 2, GLASS))
    assert found.value == pytest.approx(9.0, abs=2.0)


def test_nonsense_is_answered_too() -> None:
    """A width of 30 ft among three of 3 ft, a lean of a yard: an alarm, no crash."""
    _, readings = honest()
    wild = [with_value(r, 9144.0) if r.id == "width 38" else r for r in readings]
    wild = [with_value(r, 900.0) if r.id == "lean left 38" else r for r in wild]
    opening = measure(brief(wild))
    assert opening.agreement.alarm
    assert np.isfinite(opening.shape).all()


def test_a_reading_of_a_wall_that_is_not_there_is_not_used() -> None:
    _, readings = honest()
    opening = measure(brief(readings, walls=("left",)))
    assert {r.reading for r in opening.residuals} == {
        "lean left 72",
        "lean left 38",
        "fall",
        "pitch",
    }


def test_the_answer_cannot_be_changed_by_accident() -> None:
    opening = measure(brief(honest()[1]))
    with pytest.raises(ValueError, match="read-only"):
        opening.shape[0] = 1.0
    with pytest.raises(ValueError, match="read-only"):
        opening.covariance[0, 0] = 1.0


def test_same_readings_same_answer() -> None:
    job = brief(changed(honest()[1], "width 0", -INCH, "in"))
    one, two = measure(job), measure(job)
    assert np.array_equal(one.shape, two.shape)
    assert one.agreement == two.agreement
    assert one.advice == two.advice


def test_heights_read_between_nodes_are_used() -> None:
    """A sixteenth lies between two tenths of a mm."""
    reading = with_value(width(0).model_copy(update={"at": Length(998.5375)}), 900.0)
    opening = measure(brief([reading]))
    assert opening_width(opening, 998.5375)[0] == pytest.approx(900.0, abs=0.01)
