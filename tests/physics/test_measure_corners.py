"""Made-up rooms with corners: recovered as well as stated, however they are looked at."""

from __future__ import annotations

import math
from functools import cache
from itertools import product

import numpy as np
import pytest

from hangtrue.estimate import Estimate
from hangtrue.job.brief import Brief
from hangtrue.job.read import read_job_text
from hangtrue.job.readings import (
    Bow,
    Corner,
    Diagonal,
    Fall,
    Height,
    Lean,
    Offset,
    Pitch,
    Reading,
    Side,
    Square,
    Triangle,
    Width,
)
from hangtrue.job.room import Step
from hangtrue.measure import measure
from hangtrue.measure.opening import Agreement, Linear, Opening
from hangtrue.units import Angle, Length
from tests.made_up import (
    GLASS,
    INCH,
    Room,
    Vector,
    brief,
    changed,
    corner_readings,
    cornered_room,
    read,
    turned,
    with_value,
)

ROOMS = 1000
COVERAGE = 0.95
REACH = 1.959964
LEVEL = 0.01
HEIGHTS = (0.0, 38 * INCH, GLASS)
CAP = 900.0
"""Height of the knee wall, mm."""

LINES = {"return": (90.0,), "two corners": (135.0, 135.0), "wide and narrow": (120.0, 75.0)}
SAME = 1e-6
OTHER: dict[str, Side] = {"left": "right", "right": "left"}


def inches_of_height(height: float) -> str:
    return f"{height / INCH:.0f} in"


# ----------------------------------------------------------------------------------- coverage


def knee_wall(rng: np.random.Generator, length: float, runs: int) -> tuple[Step, dict[str, float]]:
    """A knee wall at the right end of the last run as somebody taped it, and as it is.

    The tape of class II: 0.5 mm and 0.2 mm for each metre begun, read to 1 mm, seated to 0.5 mm.
    """
    riser, top = rng.uniform(0.3, 0.7) * length, rng.uniform(500.0, CAP)
    fall = rng.normal(0.0, 2.0)

    def taped(true: float) -> Length:
        error = 0.5 + 0.2 * max(math.ceil(abs(true) / 1000.0), 1)
        return Length(true + rng.normal(0.0, math.hypot(error, 0.5, 0.5) / math.sqrt(3.0)))

    step = Step(
        name="knee wall",
        kind="knee wall",
        run=runs,
        from_=taped(riser),
        height=taped(top),
        cap_fall=taped(fall),
        width=Length(125),
        with_="tape",
    )
    return step, {"riser": riser, "cap left": top, "cap right": top - fall}


def truths(room: Room, step: dict[str, float]) -> dict[str, float]:
    """What glass is made from, by name."""
    runs = range(1, len(room.corners) + 2)
    found = {
        f"width of run {run} at {inches_of_height(h)}": room.width(h, run)
        for run, h in product(runs, HEIGHTS)
    }
    found |= {f"angle {k}": angle for k, angle in enumerate(room.angles, 1)}
    found |= {f"fall {k}": room.curbs[k - 1] - room.curbs[k] for k in runs}
    found |= {f"square {side}": room.square[side] for side in ("left", "right")}
    found |= {f"ceiling {k}": height for k, height in enumerate(room.ceilings)}
    return found | step


def estimates(opening: Opening) -> dict[str, Estimate]:
    """The same, as estimated."""
    runs = range(1, opening.corners + 2)
    stations = ["left", *(f"corner {k}" for k in runs[:-1]), "right"]
    lengths: dict[str, Linear] = {
        f"width of run {run} at {inches_of_height(h)}": opening.stop(run, h) - opening.start(run, h)
        for run, h in product(runs, HEIGHTS)
    }
    lengths |= {f"angle {k}": opening.angle(k) for k in runs[:-1]}
    for k in runs:
        left, right = (opening.entry(f"curb {stations[j]}") for j in (k - 1, k))
        lengths[f"fall {k}"] = left - right
    lengths |= {f"square {side}": opening.entry(f"square {side}") for side in ("left", "right")}
    lengths |= {f"ceiling {k}": opening.entry(f"ceiling {at}") for k, at in enumerate(stations)}
    knee = opening.step("knee wall")
    lengths["riser"] = knee.left - opening.start(knee.run, 0.0)
    lengths |= {"cap left": knee.top_left, "cap right": knee.top_right}
    return {name: opening.estimate(length) for name, length in lengths.items()}


@cache
def deviations(line: str) -> dict[str, Vector]:
    """Error over standard deviation of every length in every room, (ROOMS,) each."""
    rng = np.random.default_rng(12)
    degrees = LINES[line]
    found: dict[str, list[float]] = {}
    for _ in range(ROOMS):
        room = cornered_room(rng, *degrees)
        runs = len(degrees) + 1
        step, placed = knee_wall(rng, room.width(0.0, runs), runs)
        seen = read(room, corner_readings("mm", len(degrees)), rng, "mm", "normal")
        opening = measure(brief(seen, unit="mm", lites=turned(*degrees), steps=[step]))
        true = truths(room, placed)
        for name, e in estimates(opening).items():
            found.setdefault(name, []).append((e.value - true[name]) / e.sd)
    return {name: np.array(z) for name, z in found.items()}


@pytest.mark.parametrize("line", LINES)
def test_intervals_hold_the_truth_as_often_as_they_say(line: str) -> None:
    """Within what 1,000 rooms can tell, once in a thousand for each of some sixty lengths."""
    band = 3.3 * math.sqrt(COVERAGE * (1.0 - COVERAGE) / ROOMS)
    for name, z in deviations(line).items():
        assert float((np.abs(z) < REACH).mean()) == pytest.approx(COVERAGE, abs=band), name


@pytest.mark.parametrize("line", LINES)
def test_estimates_are_not_biased(line: str) -> None:
    for name, z in deviations(line).items():
        assert float(z.mean()) == pytest.approx(0.0, abs=3.3 / math.sqrt(ROOMS)), name


# --------------------------------------------------------------------------------- other views


def readings(seed: int = 1) -> tuple[Reading, ...]:
    """Everything that is usually read of a line with two corners, with diagonals."""
    rng = np.random.default_rng(seed)
    room = cornered_room(rng, *LINES["two corners"])
    kinds: list[Reading] = [*corner_readings("mm", 2)]
    kinds += [
        Diagonal(
            id=f"diagonal of run {run}",
            what="diagonal",
            run=run,
            left_at=Length(0),
            right_at=Length(GLASS),
            value=Length(0),
        )
        for run in (1, 2, 3)
    ]
    return read(room, kinds, rng, "mm", "normal")


def found(opening: Opening, low: float = 0.0) -> dict[str, tuple[float, float]]:
    """Value and sd of what matters, by name; heights above `low`."""
    runs = range(1, opening.corners + 2)
    lengths = {
        f"width {run} {h:.0f}": opening.stop(run, h + low) - opening.start(run, h + low)
        for run, h in product(runs, HEIGHTS)
    }
    lengths |= {f"angle {k}": opening.angle(k) for k in runs[:-1]}
    stations = ["left", *(f"corner {k}" for k in runs[:-1]), "right"]
    for k in runs:
        one, other = (opening.entry(f"curb {stations[j]}") for j in (k - 1, k))
        lengths[f"fall {k}"] = one - other
    for k in runs[:-1]:
        rise = opening.entry(f"ceiling corner {k}") - opening.entry(f"curb corner {k}")
        lengths[f"room at corner {k}"] = rise
    lengths |= {f"square {side}": opening.entry(f"square {side}") for side in opening.walls}
    lengths |= {f"lean {s}": opening.lean(s, low, low + GLASS) for s in opening.walls}
    known = {name: opening.estimate(length) for name, length in lengths.items()}
    return {name: (e.value, e.sd) for name, e in known.items()}


def same(
    one: dict[str, tuple[float, float]], other: dict[str, tuple[float, float]], within: float = SAME
) -> None:
    assert one.keys() == other.keys()
    for name, value in one.items():
        assert other[name] == pytest.approx(value, abs=within), name


def mirrored(reading: Reading, runs: int) -> Reading:
    """The same reading as somebody on the other side of the glass would write it."""

    def put(**update: object) -> Reading:
        return reading.model_copy(update=update)

    match reading:
        case Bow() | Lean() | Offset() | Square():
            return put(wall=OTHER[reading.wall])
        case Width():
            return put(run=runs + 1 - reading.run)
        case Diagonal():
            ends = {"left_at": reading.right_at, "right_at": reading.left_at}
            return put(run=runs + 1 - reading.run, **ends)
        case Fall():
            return with_value(put(run=runs + 1 - reading.run), -float(reading.value))
        case Corner():
            return put(corner=runs - reading.corner)
        case Triangle():
            legs = {"before": reading.after, "after": reading.before}
            return put(corner=runs - reading.corner, **legs)
        case Height(at=at) if at.startswith("corner "):
            return put(at=f"corner {runs - int(at.removeprefix('corner '))}")
        case Height(at=at):
            return put(at=OTHER[at])
        case _:
            return reading


def renamed(name: str, runs: int) -> str:
    """Name of the same thing in the mirror."""
    what, _, which = name.partition(" ")
    match what:
        case "width":
            run, height = which.split()
            return f"width {runs + 1 - int(run)} {height}"
        case "angle":
            return f"angle {runs - int(which)}"
        case "room":
            return f"room at corner {runs - int(which.split()[-1])}"
        case "fall":
            return f"fall {runs + 1 - int(which)}"
        case _:
            return f"{what} {OTHER[which]}"


def test_mirroring_the_room_mirrors_the_answer() -> None:
    seen, lites = readings(), turned(*LINES["two corners"])
    here = found(measure(brief(seen, lites=lites)))
    there = found(measure(brief([mirrored(r, 3) for r in seen], lites=lites, datum="curb right")))
    back = {renamed(name, 3): value for name, value in there.items()}
    back |= {n: (-v, sd) for n, (v, sd) in back.items() if n.startswith("fall")}
    same(here, {name: back[name] for name in here})


def lower(reading: Reading, mark: float) -> Reading:
    """The same reading with heights above a mark."""

    def down(**heights: float) -> Reading:
        return reading.model_copy(update={k: Length(h - mark) for k, h in heights.items()})

    match reading:
        case Width():
            return down(at=reading.at)
        case Lean():
            return down(from_=reading.from_, to=reading.to)
        case Diagonal():
            return down(left_at=reading.left_at, right_at=reading.right_at)
        case Height():
            return down(value=float(reading.value))
        case _:
            return reading


def test_the_height_of_the_datum_does_not_matter() -> None:
    """A mark 40 in up the wall, against the curb itself, which is read once more from the mark."""
    mark, lites = 40 * INCH, turned(*LINES["two corners"])
    seen = readings()
    curb = Height(id="curb", what="height", of="curb", at="left", value=Length(0))
    here = found(measure(brief([*seen, curb], lites=lites)))
    low = [lower(r, mark) for r in (*seen, curb)]
    there = measure(brief(low, datum="mark", height=GLASS - mark, lites=lites))
    other = found(there, -mark)
    # Heights of the ceiling are above the curb here and above the mark there: another reading.
    ceilings = {name for name in here if name.startswith("room")}
    one, two = ({n: v for n, v in f.items() if n not in ceilings} for f in (here, other))
    same(one, two, 10 * SAME)  # "anywhere within ten metres" of another height pulls that much


JOB = """
hangtrue: 1
job: {{id: lodge-turnstone}}
unit: {unit}
walls: {{left: {{}}, right: {{}}}}
threshold: {{height: {h[4]}, width: {h[4.5]}}}
steps:
  - {{name: bench, kind: bench, run: 2, from: {h[20]}, height: {h[18]}, width: {h[12]}, with: tape}}
wanted: {{lites: [door, {{kind: fixed, turn: {{angle: 90°}}}}], height: {h[76]}}}
readings:
  - {{id: b, what: width, with: tape, at: {h[0]}, value: {h[30.5]}}}
  - {{id: t, what: width, with: tape, at: {h[76]}, value: {h[30.25]}}}
  - {{id: c, what: width, with: tape, run: 2, at: {h[0]}, value: {h[34.5]}}}
  - {{id: l, what: lean, with: level-72, wall: left, from: {h[0]}, to: {h[72]}, value: {h[0.125]}}}
  - {{id: s, what: triangle, with: tape, before: {h[18]}, after: {h[24]}, value: {h[30.125]}}}
  - {{id: a, what: corner, with: angle-finder, value: 90.5°}}
  - {{id: h, what: height, of: ceiling, at: left, with: tape, value: {h[90]}}}
  - {{id: i, what: height, of: ceiling, at: corner 1, with: tape, value: {h[94]}}}
  - {{id: q, what: square, wall: left, with: angle-finder, value: 89.5°}}
  - {{id: r, what: square, wall: right, with: angle-finder, value: 90.25°}}
  - {{id: f, what: fall, run: 2, with: level-24, falls: right, value: {h[0.0625]}}}
  - {{id: p, what: pitch, with: level-24, falls: in, value: {h[0.125]}}}
"""


class Written(dict[str, str]):
    """Lengths in inches as they are written in a unit."""

    def __init__(self, unit: str) -> None:
        self.unit = unit

    def __missing__(self, inch: str) -> str:
        mm = float(inch) * INCH
        return {"in": f"{inch} in", "mm": f"{mm:.4f} mm", "cm": f"{mm / 10:.5f}"}[self.unit]


def written(unit: str) -> Brief:
    job, problems = read_job_text(JOB.format(unit=unit, h=Written(unit)))
    assert job, problems
    return job


@pytest.mark.parametrize("unit", ["mm", "cm"])
def test_units_do_not_matter(unit: str) -> None:
    one, other = measure(written("in")), measure(written(unit))
    same(found(one), found(other))
    here, there = (o.estimate(o.step("bench").left) for o in (one, other))
    assert (there.value, there.sd) == pytest.approx((here.value, here.sd), abs=SAME)


# ---------------------------------------------------------------------------------------- slips


def judged(
    seed: int, slip: str = "", by: float = 0.0, line: str = "return"
) -> tuple[Agreement, tuple[Reading, ...]]:
    """Draw a room, read it as a person types it, plant a slip, and judge the readings."""
    rng, degrees = np.random.default_rng(seed), LINES[line]
    room = cornered_room(rng, *degrees)
    seen = read(room, corner_readings("in", len(degrees)), rng, "in")
    wrong = changed(seen, slip, by, "in") if slip else seen
    return measure(brief(wrong, lites=turned(*degrees))).agreement, seen


@pytest.mark.parametrize("at", [0, 38, 76])
def test_an_inch_in_a_return_depth_is_named(at: int) -> None:
    """At least 97 of 100, and then with the value that was there before the slip."""
    slip, rooms, named, right = f"width {at} of run 2", 150, 0, 0
    for seed in range(rooms):
        agreement, seen = judged(seed, slip, INCH * (-1) ** seed)
        before = next(float(r.value) for r in seen if r.id == slip)
        if agreement.named is not None and agreement.named.reading == slip:
            named += 1
            right += abs(agreement.named.corrected - before) < INCH / 8
    assert named >= 0.97 * rooms
    assert right >= 0.95 * rooms


def test_an_inch_between_two_corners_is_named_where_it_was_read_three_times() -> None:
    slip = "width 38 of run 2"
    for seed in range(40):
        named = judged(seed, slip, INCH, "two corners")[0].named
        assert named is not None
        assert named.reading == slip


def test_an_angle_read_from_the_wrong_side_is_named() -> None:
    """135 degrees written as 45; the triangle and the wish say which."""
    for seed in range(40):
        rng, degrees = np.random.default_rng(seed), LINES["two corners"]
        room = cornered_room(rng, *degrees)
        seen = read(room, corner_readings("in", 2), rng, "in")
        wrong = [with_value(r, math.pi - float(r.value)) if r.id == "corner 2" else r for r in seen]
        named = measure(brief(wrong, lites=turned(*degrees))).agreement.named
        assert named is not None
        assert (named.reading, named.slip) == ("corner 2", "angle read from the wrong side")
        assert named.corrected == pytest.approx(room.angles[1], abs=math.radians(0.5))


def test_a_leg_marked_an_inch_too_long_is_named_or_listed() -> None:
    """An inch in a leg and an inch in the third side are nearly one where the legs run straight."""
    named = listed = 0
    for seed in range(60):
        rng = np.random.default_rng(seed)
        room = cornered_room(rng, 90.0)
        seen = read(room, corner_readings("in"), rng, "in")
        mark = next(r for r in seen if isinstance(r, Triangle))
        third = room.third_side(mark, mark.before + INCH, mark.after)
        wrong = [with_value(r, third) if r is mark else r for r in seen]
        agreement = measure(brief(wrong, lites=turned(90.0))).agreement
        assert agreement.alarm
        named += agreement.named is not None and agreement.named.reading == mark.id
        listed += any("leg before" in s.slip and "too long" in s.slip for s in agreement.suspects)
    assert named >= 50
    assert listed >= 55


@pytest.mark.parametrize("line", LINES)
def test_honest_readings_raise_no_more_alarms_than_stated(line: str) -> None:
    alarms = sum(judged(seed, line=line)[0].alarm for seed in range(ROOMS // 2))
    most = LEVEL + 3.09 * math.sqrt(LEVEL * (1.0 - LEVEL) / (ROOMS // 2))
    assert alarms / (ROOMS // 2) <= most


def test_a_room_without_scatter_is_recovered() -> None:
    rng = np.random.default_rng(4)
    room = cornered_room(rng, 135.0, 100.0)
    opening = measure(
        brief(read(room, corner_readings("mm", 2), rng, "mm", "none"), lites=turned(135.0, 100.0))
    )
    assert not opening.agreement.alarm
    for k, angle in enumerate(room.angles, 1):
        assert opening.estimate(opening.angle(k)).value == pytest.approx(angle, abs=1e-4)
        x = opening.estimate(opening.corner(k)).value
        assert x == pytest.approx(room.corners[k - 1] - room.x("left", 0.0), abs=0.3)


def test_a_pitch_belongs_to_its_run() -> None:
    """The door is in run 2 here, so that is the front, and its pitch is `pitch`."""
    lites = (turned(135.0)[1].model_copy(update={"turn": None}), *turned(135.0)[1:])
    lites = (lites[0], lites[1].model_copy(update={"kind": "door"}))
    pitches = [
        Pitch(id=f"p{run}", what="pitch", run=run, value=Length(fall), with_="level-24")
        for run, fall in ((1, 1.0), (2, 3.0))
    ]
    opening = measure(brief(pitches, lites=lites))
    for name, fall in (("pitch", 3.0), ("pitch run 1", 1.0)):
        slope = opening.estimate(opening.entry(name)).value
        assert slope == pytest.approx(fall / (4.5 * INCH), rel=0.02)
    assert Angle(math.radians(135.0)) == lites[1].turn.angle  # type: ignore[union-attr]
