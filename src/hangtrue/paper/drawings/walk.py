"""The picture beside the blank measuring sheet: every reading by its number, where it is taken."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from shapely import LineString
from shapely.geometry.base import BaseGeometry

from hangtrue.geometry import Point
from hangtrue.hang.measuring_sheet import BlankReading
from hangtrue.job.brief import Brief
from hangtrue.job.readings import Side
from hangtrue.job.room import Step
from hangtrue.measure.opening import Opening
from hangtrue.paper.drawings import frame, walk_plan
from hangtrue.paper.drawings.balloons import ballooned
from hangtrue.paper.drawings.walk_marks import Flat, Stretch, flat_marks
from hangtrue.paper.labels import Label, labelled
from hangtrue.paper.scene import TITLE, Hatch, Line, Path, Primitive, Sheet
from hangtrue.phrase import as_typed, phrase

MARGIN = 12.0
"""Beside the walls, for the numbers of their readings, mm of paper."""
WALL = 7.0
TALL, LOWER = 112.0, 86.0
"""From the datum to the top of the glass, mm of paper; lower where a plan stands over it."""
CURB = 15.0
"""Drawn height of what the glass stands on, mm of paper."""
UNDER = 11.0
"""Below the floor, for the numbers of readings there, mm of paper."""
OVER = 15.0
"""Over the glass: names of the runs, a ceiling, mm of paper."""
LEAST = 34.0
"""A run is drawn no shorter than this, mm of paper."""


def walk(brief: Brief, opening: Opening, readings: Sequence[BlankReading]) -> Sheet:
    """Draw where each reading of the measuring sheet is taken: elevation, and plan where it turns.

    Nothing is to scale: what is drawn is the layout, so that every number has room.
    """
    flat = _flat(brief, opening)
    high = flat.top + OVER
    elevation = tuple(_elevation(brief, flat))
    marks = flat_marks(flat, readings)
    solid = tuple(_lines(elevation))
    within = (0.0, frame.CAPTION + 0.5, frame.WIDTH, high)
    shown = (*elevation, *ballooned(marks, solid, within))
    named = labelled(_names(brief, flat), shown, within)
    plan: tuple[Primitive, ...] = ()
    if brief.job.wanted.turns:
        plan, high = walk_plan.plan(brief, opening, readings, high + 1.0)
    words = (
        "Elevation seen from outside, runs laid flat" if plan else "Seen from outside",
        "not to scale",
        "numbers as in the list",
        "arrows: what is measured",
    )
    return Sheet(
        name="measuring",
        width=frame.WIDTH,
        height=high,
        title="Where each reading is taken",
        description=phrase(
            "{count} readings by their numbers, in the order of the walk.", count=len(readings)
        ),
        primitives=(*shown, *named, *plan, *frame.caption(words)),
    )


def _flat(brief: Brief, opening: Opening) -> Flat:
    """Lay the runs side by side between the walls, each about as long as it is."""
    job = brief.job
    walls: tuple[Side, ...] = tuple(s for s in ("left", "right") if job.wall(s) is not None)
    left, right = MARGIN + WALL, frame.WIDTH - MARGIN - WALL
    lengths = lengths_of(brief, opening)
    shares = _shares(lengths, right - left)
    datum = frame.CAPTION + UNDER + CURB
    stretches, x = [], left
    for number, (length, wide) in enumerate(zip(lengths, shares, strict=True), 1):
        stretches.append(Stretch(number=number, left=x, right=x + wide, length=length))
        x += wide
    return Flat(
        stretches=tuple(stretches),
        walls=walls,
        datum=datum,
        top=datum + (LOWER if job.wanted.turns else TALL),
        floor=datum - CURB,
        height=float(job.wanted.height),
        steps=job.steps,
        ceiling=job.above.kind != "open",
    )


def lengths_of(brief: Brief, opening: Opening) -> tuple[float, ...]:
    """Length of each run, mm: as measured so far, else alike."""
    runs = range(1, len(brief.job.wanted.runs) + 1)
    if len(runs) == 1 and not opening.corners:
        return (1.0,)
    return tuple(
        max(opening.estimate(opening.stop(run) - opening.start(run)).value, 1.0) for run in runs
    )


def _shares(lengths: Sequence[float], room: float) -> tuple[float, ...]:
    """Share the room out by length, but give each run the least it needs."""
    least = min(LEAST, room / len(lengths))
    spare = room - least * len(lengths)
    whole = sum(lengths)
    return tuple(least + spare * length / whole for length in lengths)


# -------------------------------------------------------------------------------------- elevation


def _elevation(brief: Brief, flat: Flat) -> Iterator[Primitive]:
    """Walls, curb with its steps, floor, ceiling, corners; panes dashed."""
    for side in flat.walls:
        yield from _wall(flat, side)
    yield from _panes(brief, flat)
    ground = tuple(p for s in flat.stretches for p in _ground(flat, s))
    yield Path(points=ground, closed=False, layer="curb", weight="thick")
    for step in flat.steps:
        yield from _step(flat, step)
    ends = ((flat.left, flat.floor), (flat.right, flat.floor))
    yield Line(start=ends[0], end=ends[1], layer="curb", weight="middle")
    for x, side in ((flat.left, "left"), (flat.right, "right")):
        if side not in flat.walls:
            yield Line(start=(x, flat.floor), end=(x, flat.datum), layer="curb", weight="middle")
    if flat.ceiling:
        y = flat.top
        box = ((flat.left, y), (flat.right, y), (flat.right, y + WALL), (flat.left, y + WALL))
        yield Hatch(outline=box, layer="wall")
        yield Line(start=box[0], end=box[1], layer="wall", weight="thick")
    for stretch in flat.stretches[1:]:
        foot, top = (stretch.left, flat.floor), (stretch.left, flat.top)
        yield Line(start=foot, end=top, layer="centre", stroke="long-dash-dot")


def _wall(flat: Flat, side: Side) -> Iterator[Primitive]:
    x = flat.left if side == "left" else flat.right
    back = x - WALL if side == "left" else x + WALL
    high = flat.top + (WALL if flat.ceiling else 3.0)
    outline = ((x, flat.floor), (x, high), (back, high), (back, flat.floor))
    yield Hatch(outline=outline, layer="wall")
    yield Line(start=outline[0], end=outline[1], layer="wall", weight="thick")


def _ground(flat: Flat, stretch: Stretch) -> Iterator[Point]:
    """Course of what the glass stands on along one run; what stands on it is drawn by itself."""
    yield (stretch.left, flat.datum)
    yield (stretch.right, flat.datum)


def _step(flat: Flat, step: Step) -> Iterator[Primitive]:
    left, right, top = flat.step_box(step)
    course = ((left, flat.datum), (left, top), (right, top), (right, flat.datum))
    yield Path(points=course, closed=False, layer="curb", weight="thick")


def _panes(brief: Brief, flat: Flat) -> Iterator[Primitive]:
    """Wished panes in equal shares of their run, thin and dotted."""
    for stretch, run in zip(flat.stretches, brief.job.wanted.runs, strict=True):
        wide = (stretch.right - stretch.left) / len(run)
        for n in range(1, len(run)):
            x = stretch.left + n * wide
            low, high = (x, flat.ground(stretch, x)), (x, flat.top)
            yield Line(start=low, end=high, layer="hidden", stroke="dotted")
    if not flat.ceiling:
        ends = (flat.left, flat.top), (flat.right, flat.top)
        yield Line(start=ends[0], end=ends[1], layer="hidden", stroke="dotted")


def _names(brief: Brief, flat: Flat) -> Iterator[Label]:
    """Names of runs, corners, walls, steps."""
    turns = len(flat.stretches) > 1
    y = flat.top + (WALL + 4.0 if flat.ceiling else 4.0)
    for stretch in flat.stretches if turns else ():
        front = stretch.number == brief.job.wanted.front
        name = phrase("run {number}, the front", number=stretch.number)
        words = name if front else phrase("run {number}", number=stretch.number)
        near = ((stretch.left + stretch.right) / 2, y)
        yield Label(near=near, lines=(words,), height=TITLE, bold=True)
    for stretch in flat.stretches[1:]:
        words = phrase("corner {number}", number=stretch.number - 1)
        yield Label(near=(stretch.left, flat.top + 1.0), lines=(words,), needed=False)
    for side in flat.walls:
        x = flat.left - WALL / 2 if side == "left" else flat.right + WALL / 2
        toward = (1.0, 0.0) if side == "left" else (-1.0, 0.0)
        yield Label(near=(x, y), lines=(f"{side} wall",), toward=toward, needed=False)
    for step in flat.steps:
        left, right, top = flat.step_box(step)
        near = ((left + right) / 2, top - 3.0)
        yield Label(
            near=near,
            lines=(as_typed(step.name),),
            inside=True,
            needed=False,
            tied=False,
            far=14.0,
        )


def _lines(primitives: Sequence[Primitive]) -> Iterator[BaseGeometry]:
    """Lines that a number should not sit on."""
    for part in primitives:
        if isinstance(part, Line):
            yield LineString((part.start, part.end))
        elif isinstance(part, Path):
            yield LineString(part.points)
