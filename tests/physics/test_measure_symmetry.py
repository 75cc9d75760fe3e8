"""The answer is the same mirrored, in other units, from another height and on more nodes."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest

from hangtrue.job.brief import Brief
from hangtrue.job.read import read_job_text
from hangtrue.job.readings import (
    Bow,
    CornerAngle,
    Diagonal,
    Fall,
    Height,
    Lean,
    Offset,
    Reading,
    Side,
    Width,
)
from hangtrue.measure import layout, measure
from hangtrue.measure.habits import usual
from hangtrue.measure.opening import Opening
from hangtrue.units import Angle, Length
from tests.made_up import (
    GLASS,
    INCH,
    Scatter,
    brief,
    changed,
    lean,
    offset,
    random_room,
    read,
    up,
    usual_readings,
    width,
    with_value,
)

SAME = 1e-6
SIDES: tuple[Side, Side] = ("left", "right")
OTHER: dict[str, Side] = {"left": "right", "right": "left"}
HEIGHTS = tuple(h * INCH for h in (0, 10, 38, 66, 76))


def readings(scatter: Scatter = "normal", seed: int = 1) -> tuple[Reading, ...]:
    """Everything that can be read of a room."""
    rng = np.random.default_rng(seed)
    zero = Length(0)
    kinds: list[Reading] = [*usual_readings("mm", diagonals=True)]
    kinds += [lean(side, 72, "across") for side in SIDES]
    kinds += [offset(side, h) for side, h in product(SIDES, (4, 40, 72))]
    kinds += [
        Bow(id=f"bow {s}", what="bow", wall=s, from_=up(0), to=up(76), at=up(38), value=zero)
        for s in SIDES
    ]
    kinds += [Height(id=f"curb {s}", what="height", of="curb", at=s, value=zero) for s in SIDES]
    kinds += [Height(id="ceiling", what="height", of="ceiling", value=zero)]
    return read(random_room(rng), kinds, rng, "mm", scatter)


def found(opening: Opening, low: float = 0.0) -> dict[str, tuple[float, float]]:
    """Value and sd of everything that matters, by name; heights above `low`."""
    lengths = {
        f"width {h:.0f}": opening.wall("right", h + low) - opening.wall("left", h + low)
        for h in HEIGHTS
    }
    for side in SIDES:
        for high in HEIGHTS[1:]:
            lengths[f"lean {side} {high:.0f}"] = opening.lean(side, low, high + low)
        lengths[f"bow {side}"] = opening.bow(side, low, low + 38 * INCH, low + GLASS)
        lengths[f"across {side}"] = opening.entry(f"across {side}")
    lengths["fall"] = opening.entry("curb left") - opening.entry("curb right")
    lengths["pitch"] = opening.entry("pitch")
    known = {name: opening.estimate(length) for name, length in lengths.items()}
    return {name: (e.value, e.sd) for name, e in known.items()}


def same(one: dict[str, tuple[float, float]], other: dict[str, tuple[float, float]]) -> None:
    assert one.keys() == other.keys()
    for name, value in one.items():
        assert other[name] == pytest.approx(value, abs=SAME), name


def mirrored(reading: Reading) -> Reading:
    """The same reading as somebody on the other side of the glass would write it."""
    match reading:
        case Lean() | Offset() | Bow() | CornerAngle():
            return reading.model_copy(update={"wall": OTHER[reading.wall]})
        case Diagonal():
            return reading.model_copy(
                update={"left_at": reading.right_at, "right_at": reading.left_at}
            )
        case Fall():
            return with_value(reading, -float(reading.value))
        case Height(of="curb", at=at):
            return reading.model_copy(update={"at": OTHER[at]})
        case _:
            return reading


def test_mirroring_the_room_mirrors_the_answer() -> None:
    corner = CornerAngle(
        id="corner", what="angle", wall="left", with_="angle-finder", value=Angle(1.568)
    )
    seen = (*readings(), corner)
    here = found(measure(brief(seen)))
    there = found(measure(brief([mirrored(r) for r in seen], datum="curb right")))
    swapped = {
        " ".join(OTHER.get(word, word) for word in name.split()): value
        for name, value in there.items()
    }
    value, sd = swapped["fall"]
    same(here, swapped | {"fall": (-value, sd)})


def test_mirroring_the_room_mirrors_the_suspicion() -> None:
    wrong = changed(readings(), "width 76", 40.0, "mm")
    here = measure(brief(wrong)).agreement
    there = measure(brief([mirrored(r) for r in wrong], datum="curb right")).agreement
    assert here.named is not None
    assert there.named is not None
    assert here.named.slip == there.named.slip
    assert here.named.probability == pytest.approx(there.named.probability, abs=1e-6)


JOB = """
hangtrue: 1
job: {{id: lodge-plover}}
unit: {unit}
walls: {{left: {{}}, right: {{}}}}
threshold: {{height: {h[4]}, width: {h[4.5]}}}
wanted: {{lites: [door], height: {h[76]}}}
readings:
  - {{id: b, what: width, with: tape, at: {h[0]}, value: {h[30.5]}}}
  - {{id: m, what: width, with: tape, at: {h[38]}, value: {h[30.375]}}}
  - {{id: t, what: width, with: tape, at: {h[76]}, value: {h[30.25]}}}
  - {{id: l, what: lean, with: level-72, wall: left, from: {h[0]}, to: {h[72]}, value: {h[0.125]}}}
  - {{id: r, what: lean, with: level-72, wall: right, from: {h[0]}, to: {h[72]}, value: {h[0.25]}}}
  - {{id: d, what: diagonal, with: tape, left_at: {h[0]}, right_at: {h[76]}, value: {h[81.8125]}}}
  - {{id: f, what: fall, with: level-24, falls: right, value: {h[0.0625]}}}
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
    same(found(measure(written("in"))), found(measure(written(unit))))


def lower(reading: Reading, mark: float) -> Reading:
    """The same reading with heights above a mark."""

    def down(height: float) -> Length:
        return Length(height - mark)

    match reading:
        case Width() | Offset():
            return reading.model_copy(update={"at": down(reading.at)})
        case Lean():
            ends = {"from_": down(reading.from_), "to": down(reading.to)}
            return reading.model_copy(update=ends)
        case Bow(at=at):
            ends = {"from_": down(reading.from_), "to": down(reading.to), "at": down(at or 0.0)}
            return reading.model_copy(update=ends)
        case Diagonal():
            ends = {"left_at": down(reading.left_at), "right_at": down(reading.right_at)}
            return reading.model_copy(update=ends)
        case _:
            return reading


def test_the_height_of_the_datum_does_not_matter() -> None:
    """A mark 40 in up the wall, against the curb itself."""
    mark = 40 * INCH
    seen = [r for r in readings() if not isinstance(r, Height)]
    curb = [
        Height(id=f"curb {side}", what="height", of="curb", at=side, value=Length(-mark))
        for side in SIDES
    ]
    here = found(measure(brief(seen)))
    low = [*(lower(r, mark) for r in seen), *curb]
    there = found(measure(brief(low, datum="mark", height=GLASS - mark)), -mark)
    same(here | {"fall": there["fall"]}, there)  # the curb's ends were read once more there


def test_more_nodes_change_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    """An integrated Wiener process is the same on any nodes; so is what is said at the old ones."""
    seen = readings()
    coarse = measure(brief(seen))
    monkeypatch.setattr(layout, "usual", lambda name: 60.0 if "node" in name else usual(name))
    fine = measure(brief(seen))
    assert len(fine.heights) > 2 * len(coarse.heights)
    for side in SIDES:
        for h in coarse.heights:
            one, other = (o.estimate(o.lean(side, 0.0, h)) for o in (coarse, fine))
            assert other.value == pytest.approx(one.value, abs=SAME)
            assert other.sd == pytest.approx(one.sd, abs=SAME)
    assert fine.agreement.chi_square == pytest.approx(coarse.agreement.chi_square, abs=SAME)
    for a, b in zip(coarse.residuals, fine.residuals, strict=True):
        assert (b.normalised, b.redundancy) == pytest.approx((a.normalised, a.redundancy), abs=SAME)


def test_a_further_reading_never_widens_the_answer() -> None:
    seen = readings("none")
    for k in range(3, len(seen)):
        before, after = (found(measure(brief(seen[:n]))) for n in (k, k + 1))
        for name, (_, sd) in after.items():
            assert sd <= before[name][1] + SAME, (seen[k].id, name)


def test_reading_the_same_width_again_and_again_narrows_as_the_root() -> None:
    """Until the wall is known as well as it can be: n repeats, sd over the root of n."""
    for n in (1, 4, 16):
        again = [with_value(width(0), 900.0).model_copy(update={"id": f"w{i}"}) for i in range(n)]
        opening = measure(brief(again))
        assert found(opening)["width 0"][1] == pytest.approx(
            opening.residuals[0].sigma / n**0.5, rel=1e-3
        )
