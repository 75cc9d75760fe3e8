"""The plan of the measuring sheet where the line turns: its corners and walls by their numbers."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from shapely import LineString

from hangtrue.geometry import Outline, Point
from hangtrue.hang.measuring_sheet import BlankReading
from hangtrue.job.brief import Brief
from hangtrue.measure.opening import Opening
from hangtrue.paper.drawings import frame
from hangtrue.paper.drawings.balloons import Mark, ballooned, head
from hangtrue.paper.labels import Label, bounds, labelled
from hangtrue.paper.scene import TITLE, Hatch, Path, Primitive, raised
from hangtrue.phrase import phrase

ROOM = (124.0, 42.0)
"""Width and height that the line is folded into, mm of paper."""
WALL = 6.0
BEHIND, BEFORE = 20.0, 8.0
"""How far a wall is drawn into the shower and out of it, mm of paper."""
UNDER = 7.0
"""Below the lowest line, for the names of the runs, mm of paper."""
LEG = (0.7, 0.46)
"""Leg of the triangle at a corner, as a share of its run: with one corner, with two."""
LONGEST = 34.0
"""Longest leg, mm of paper."""
ARC = 12.0
"""Radius of the arc of an angle, mm of paper; less where the triangle is flat."""
STEPS = 12


def plan(
    brief: Brief, opening: Opening, readings: Sequence[BlankReading], foot: float
) -> tuple[tuple[Primitive, ...], float]:
    """Draw the folded line over `foot`; return it with the height it takes up to."""
    line = _folded(brief, opening, foot)
    drawn = (*_glass(line), *_walls(brief, line))
    marks = tuple(m for r in readings for m in _mark(line, r))
    solid = [LineString(p.points) for p in drawn if isinstance(p, Path)]
    low, high = bounds(drawn)[1], bounds(drawn)[3]
    up = foot + UNDER - low
    within = (0.0, foot - up, frame.WIDTH, high + 2.0)
    shown = (*drawn, *ballooned(marks, solid, within))
    named = (*shown, *labelled(_names(brief, line), shown, within))
    return tuple(raised(p, up) for p in named), high + 2.0 + up


def headings(brief: Brief) -> tuple[float, ...]:
    """Way of each run in plan, the front to the right: rad, + turning toward the shower."""
    turns = [0.0]
    for turn in brief.job.wanted.turns:
        way = 1.0 if turn.way == "in" else -1.0
        turns.append(turns[-1] + way * (math.pi - float(turn.angle)))
    front = turns[brief.job.wanted.front - 1]
    return tuple(t - front for t in turns)


def _folded(brief: Brief, opening: Opening, foot: float) -> Outline:
    """Points of the glass line on paper, fitted into the room."""
    lengths = [
        max(opening.estimate(opening.stop(k) - opening.start(k)).value, 1.0)
        for k in range(1, len(brief.job.wanted.runs) + 1)
    ]
    least = 0.45 * max(lengths)
    points: list[Point] = [(0.0, 0.0)]
    for length, heading in zip(lengths, headings(brief), strict=True):
        long, (x, y) = max(length, least), points[-1]
        points.append((x + long * math.cos(heading), y + long * math.sin(heading)))
    xs, ys = zip(*points, strict=True)
    wide, deep = max(xs) - min(xs), max(ys) - min(ys)
    scale = min(ROOM[0] / max(wide, 1.0), ROOM[1] / max(deep, 1.0))
    x0 = (frame.WIDTH - wide * scale) / 2 - min(xs) * scale
    y0 = foot - min(ys) * scale
    return tuple((x0 + x * scale, y0 + y * scale) for x, y in points)


def _glass(line: Outline) -> Iterator[Primitive]:
    """The glass line, run by run."""
    yield Path(points=line, closed=False, layer="outline", weight="thick")


def _way(a: Point, b: Point) -> float:
    return math.atan2(b[1] - a[1], b[0] - a[0])


def _walls(brief: Brief, line: Outline) -> Iterator[Primitive]:
    """Walls at the ends of the line, square to it."""
    for side, end, other in (("left", line[0], line[1]), ("right", line[-1], line[-2])):
        if brief.job.wall("left" if side == "left" else "right") is None:
            continue
        along = _way(other, end)
        into = along - math.pi / 2 if side == "left" else along + math.pi / 2
        a, b = _off(end, into, -BEFORE), _off(end, into, BEHIND)
        back = (_off(b, along, WALL), _off(a, along, WALL))
        yield Hatch(outline=(a, b, *back), layer="wall", slant_deg=_slant(into))
        yield Path(points=(a, b), closed=False, layer="wall", weight="thick")


def _slant(way: float) -> float:
    """Hatching at 45 degrees to a face."""
    return (math.degrees(way) + 45.0) % 180.0


def _off(point: Point, way: float, far: float) -> Point:
    return point[0] + far * math.cos(way), point[1] + far * math.sin(way)


# ------------------------------------------------------------------------------------------ marks


def _mark(line: Outline, reading: BlankReading) -> Iterator[Mark]:
    given = dict(reading.given)
    if reading.kind in ("corner", "triangle"):
        yield _at_corner(line, reading, int(given["corner"]))
    elif reading.kind == "square":
        yield _at_wall(line, reading, left=given["wall"] == "left")


def _at_corner(line: Outline, reading: BlankReading, corner: int) -> Mark:
    """Arc on the shower's side, or the straight distance between two marks on the legs."""
    before, here, after = line[corner - 1 : corner + 2]
    back, on = _way(here, before), _way(here, after)
    first = LEG[corner > 1] * math.dist(before, here)
    last = LEG[corner + 2 < len(line)] * math.dist(here, after)
    leg = min(LONGEST, first, last)
    if reading.kind == "triangle":
        a, b = _off(here, back, leg), _off(here, on, leg)
        way = math.degrees(_way(a, b))
        return Mark(number=reading.number, courses=((a, b),),
                    signs=(head(a, way + 180.0), head(b, way)))  # fmt: skip
    inside = (back - on) % math.tau
    flat = leg * abs(math.cos(inside / 2))
    return _arc(reading.number, here, on, inside, min(ARC, max(0.62 * flat, 5.0)))


def _at_wall(line: Outline, reading: BlankReading, *, left: bool) -> Mark:
    """Arc between the glass line and the wall, on the shower's side."""
    end, other = (line[0], line[1]) if left else (line[-1], line[-2])
    along = _way(end, other)
    start = along if left else along - math.pi / 2
    return _arc(reading.number, end, start, math.pi / 2, ARC)


def _arc(number: int, middle: Point, start: float, turn: float, radius: float) -> Mark:
    """Arc turning left with an arrow head at both ends; its number sits on its middle."""
    points = tuple(_off(middle, start + turn * k / STEPS, radius) for k in range(STEPS + 1))
    ends = (
        head(points[0], math.degrees(start) - 90.0),
        head(points[-1], math.degrees(start + turn) + 90.0),
    )
    half = start + turn / 2
    seats = tuple(_off(middle, half, radius + far) for far in (0.0, 1.5, 3.0, 6.0))
    return Mark(number=number, courses=(points,), signs=ends, seats=seats)


def _names(brief: Brief, line: Outline) -> Iterator[Label]:
    """Names of the runs outside them, and of the two sides."""
    for number, (a, b) in enumerate(pairwise(line), 1):
        middle, out = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2), _way(a, b) - math.pi / 2
        toward = (math.cos(out), math.sin(out))
        words = phrase("run {number}", number=number)
        yield Label(near=_off(middle, out, 1.0), lines=(words,), toward=toward, bold=True)
    for corner, here in enumerate(line[1:-1], 1):
        out = sum(_way(here, other) for other in (line[corner - 1], line[corner + 1])) / 2
        words = phrase("corner {number}", number=corner)
        yield Label(near=here, lines=(words,), toward=(-math.cos(out), -math.sin(out)))
    front = brief.job.wanted.front
    a, b = line[front - 1], line[front]
    near = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2 + 16.0)
    yield Label(near=near, lines=("shower",), height=TITLE, tied=False, needed=False)
