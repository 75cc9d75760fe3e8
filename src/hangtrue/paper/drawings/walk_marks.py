"""What each reading of the measuring sheet looks like on the elevation laid flat."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from hangtrue.geometry import Outline, Point
from hangtrue.hang.measuring_sheet import BlankReading
from hangtrue.job.readings import Side
from hangtrue.job.room import Step
from hangtrue.paper.dimensions import stacked
from hangtrue.paper.drawings.balloons import RADIUS, Mark, head
from hangtrue.paper.scene import Path

FIRST = 13.0
"""Lowest reading of a run over what it stands on, mm of paper."""
LAST = 11.0
"""Highest reading under the top of the glass, mm of paper."""
HELD = 7.0
"""A level or a straightedge is drawn this far from the face of its wall, mm of paper."""
OBLIQUE = 9.0
"""Length of the slanting arrow for what goes across the glass, mm of paper."""
SHARES = {"lean": 0.9, "across": 0.72, "bow": 0.38}
"""Where on the held level each reading of a wall is shown, from its foot."""
APART = 1.2
"""Between the numbers beside a wall, mm of paper."""
OUTSIDE = 11.6
"""Middle of a number beside a wall, from its face, mm of paper."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """One run on the drawing: its ends on paper, mm, and how long it is, mm of the object."""

    number: int
    left: float
    right: float
    length: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Flat:
    """The runs laid flat on paper; everything in mm of paper but `height`, of the object."""

    stretches: tuple[Stretch, ...]
    walls: tuple[Side, ...]
    datum: float
    top: float
    floor: float
    height: float
    steps: tuple[Step, ...]
    ceiling: bool

    @property
    def left(self) -> float:
        """Left end of the line."""
        return self.stretches[0].left

    @property
    def right(self) -> float:
        """Right end of the line."""
        return self.stretches[-1].right

    def run(self, number: int) -> Stretch:
        """Return a run, counted from 1."""
        return self.stretches[number - 1]

    def step_box(self, step: Step) -> tuple[float, float, float]:
        """Left and right riser and top of a step."""
        run = self.run(step.run)
        wide = run.right - run.left
        long = run.length if run.length > 1.0 else 2.0 * max(
            float(x) for x in (step.from_ or 0, step.to or 0, 1)
        )  # fmt: skip

        def at(x: float) -> float:
            return run.left + wide * min(max(x / long, 0.25), 0.75)

        left = run.left if step.from_ is None else at(float(step.from_))
        right = run.right if step.to is None else at(float(step.to))
        rise = (self.top - self.datum) * min(max(float(step.height) / self.height, 0.14), 0.42)
        return left, right, self.datum + rise

    def ground(self, run: Stretch, x: float) -> float:
        """Height of what stands under a place of a run."""
        tops = [self.datum]
        for step in self.steps:
            left, right, top = self.step_box(step)
            if step.run == run.number and left - 1e-6 <= x <= right + 1e-6:
                tops.append(top)
        return max(tops)

    def base(self, run: Stretch) -> float:
        """Height from which widths of a run are read: over a step that lies under all of it."""
        whole = [s for s in self.steps if s.run == run.number and s.from_ is None and s.to is None]
        return max([self.datum, *(self.step_box(s)[2] for s in whole)])

    def level(self, share: float, base: float) -> float:
        """Height on paper between the lowest reading over `base` and the highest."""
        low, high = base + FIRST, self.top - LAST
        return low + share * (high - low)


def flat_marks(flat: Flat, readings: Sequence[BlankReading]) -> tuple[Mark, ...]:
    """Marks of all readings that are shown on the elevation."""
    return tuple(mark for reading in readings for mark in _mark(flat, reading, readings))


def _mark(flat: Flat, reading: BlankReading, readings: Sequence[BlankReading]) -> Iterator[Mark]:
    given = dict(reading.given)
    match reading.kind:
        case "lean" | "across" | "bow":
            yield _on_wall(flat, reading, "left" if given["wall"] == "left" else "right")
        case "width" | "again":
            yield _width(flat, reading, readings, flat.run(int(given["run"])))
        case "diagonal" | "diagonal_down":
            run = flat.run(int(given["run"]))
            base, rises = flat.base(run), reading.kind == "diagonal"
            left, right = (flat.level(float(up), base) for up in (not rises, rises))
            yield _double(reading.number, (run.left, left), (run.right, right))
        case "fall" | "pitch":
            yield _curb(flat, reading, flat.run(int(given["run"])))
        case "curb" | "ceiling":
            yield _height(flat, reading, str(given["at"]))
        case "step_from" | "step_to" | "step_height":
            yield from _step(flat, reading, str(given["name"]))


def _double(number: int, a: Point, b: Point, seats: Outline = ()) -> Mark:
    """Line with an arrow head at both ends."""
    way = math.degrees(math.atan2(b[1] - a[1], b[0] - a[0]))
    return Mark(number=number, courses=((a, b),), signs=(head(a, way + 180.0), head(b, way)),
                seats=seats)  # fmt: skip


def _on_wall(flat: Flat, reading: BlankReading, side: Side) -> Mark:
    """Level or straightedge held beside the wall, and the way in which it is read."""
    run = flat.stretches[0 if side == "left" else -1]
    face, into = (flat.left, 1.0) if side == "left" else (flat.right, -1.0)
    base = flat.ground(run, face)
    x = face + into * HELD
    held = ((x, flat.level(0.0, base)), (x, flat.level(1.0, base)))
    y = flat.level(SHARES[reading.kind], base)
    places = sorted(flat.level(share, base) for share in SHARES.values())
    apart = stacked(places, [2 * RADIUS + APART] * len(places))
    seat = ((face - into * OUTSIDE, apart[places.index(y)]),)
    if reading.kind == "across":
        reach = OBLIQUE / 2 * math.sqrt(0.5)
        tip, tail = (x + into * reach, y + reach), (x - into * reach, y - reach)
        way = math.degrees(math.atan2(tip[1] - tail[1], tip[0] - tail[0]))
        return Mark(number=reading.number, courses=((tail, tip),),
                    signs=(head(tip, way), head(tail, way + 180.0)), seats=seat)  # fmt: skip
    tips = (face, y), (x, y)
    across = 180.0 if side == "left" else 0.0
    signs: tuple[Path, ...] = (head(tips[0], across),)
    courses: tuple[Outline, ...] = (tips,)
    if reading.kind == "lean":
        courses = (tips, held)
        signs = (*signs, head(tips[1], across + 180.0))
    return Mark(number=reading.number, courses=courses, signs=signs, seats=seat)


def _width(
    flat: Flat, reading: BlankReading, readings: Sequence[BlankReading], run: Stretch
) -> Mark:
    """Level line from end to end of a run at its height."""
    same = [r.low for r in readings if r.kind == "width" and dict(r.given)["run"] == run.number]
    heights = sorted({z for z in same if z is not None})
    place = heights.index(reading.low) if reading.low in heights else 0
    y = flat.level(place / max(len(heights) - 1, 1), flat.base(run))
    seats: Outline = ()
    if reading.kind == "again" or place == 1:
        shares = (0.66, 0.75, 0.8, 0.58) if reading.kind == "again" else (0.34, 0.25, 0.2, 0.42)
        seats = tuple((run.left + s * (run.right - run.left), y) for s in shares)
    return _double(reading.number, (run.left, y), (run.right, y), seats)


def _curb(flat: Flat, reading: BlankReading, run: Stretch) -> Mark:
    """Along the curb, or slanting across it."""
    y = (flat.datum + flat.floor) / 2
    wide = run.right - run.left
    if reading.kind == "fall":
        ends = (run.left + 0.08 * wide, y), (run.left + 0.56 * wide, y)
        return _double(reading.number, *ends)
    x, reach = run.left + 0.68 * wide, OBLIQUE / 2 * math.sqrt(0.5)
    tail, tip = (x - reach, y - reach), (x + reach, y + reach)
    return _double(reading.number, tail, tip, ((x + 8.0, y), (x + 10.0, y)))


def _height(flat: Flat, reading: BlankReading, at: str) -> Mark:
    """Upright arrow from the datum to the curb or to the ceiling."""
    inset = 2.4 * HELD
    places = {"left": flat.left + inset, "right": flat.right - inset}
    for run in flat.stretches[1:]:
        places[f"corner {run.number - 1}"] = run.left
    x = places[at]
    if reading.kind == "curb":
        return _double(reading.number, (x, flat.floor), (x, flat.datum), ((x, flat.floor - 5.0),))
    share = 0.86 * (flat.top - flat.datum) + flat.datum
    return _double(reading.number, (x, flat.datum), (x, flat.top), ((x, share),))


def _step(flat: Flat, reading: BlankReading, name: str) -> Iterator[Mark]:
    """From the end of the run to a riser, or up to the cap."""
    step = next(s for s in flat.steps if s.name == name)
    run = flat.run(step.run)
    left, right, top = flat.step_box(step)
    if reading.kind == "step_height":
        x = left + (right - left) * (0.5 if step.to is None else 0.78)
        yield _double(reading.number, (x, flat.datum), (x, top))
        return
    y = flat.datum + (top - flat.datum) / 2
    riser = left if reading.kind == "step_from" else right
    seats = tuple((run.left + share * (riser - run.left), y) for share in (0.4, 0.3, 0.5))
    yield _double(reading.number, (run.left, y), (riser, y), seats)
