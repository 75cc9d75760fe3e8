"""The glass line in plan as the drawings use it: its runs, its walls, what stands under it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from typing import Literal

from shapely import LineString

from hangtrue.check.hung import stop_of
from hangtrue.fit.enclosure import Enclosure, Lite, Run
from hangtrue.geometry import Outline, Point
from hangtrue.job.brief import Brief
from hangtrue.job.readings import Side
from hangtrue.measure.opening import Opening
from hangtrue.paper.scene import Path

OUTWARD = 350.0
"""How far a wall is drawn outside the glass line, mm of the object."""
DEEP = 700.0
"""How far it is drawn into the shower where it meets no other wall, mm."""
MEET = 4000.0
"""Walls that meet farther away than this are not drawn to their meeting, mm."""
FACING = 150.0
"""Walls face each other where one's line passes the other's end no farther off than this, mm."""
PARALLEL = 0.05
SQUARE = math.pi / 2
SAME = 1.0
"""A step that ends this near to a corner ends there, mm."""


Leaf = Literal["open", "stop", "met"]
"""Why a door is drawn at an opening: square, at its stop, or where it meets something."""
Ends = Mapping[tuple[str, int], float]
"""Where doors meet something, rad, by pane and way."""


def runs(opening: Opening, made: Enclosure) -> tuple[Run, ...]:
    """Return the runs of the glass line; of a straight one that nobody folded, the line itself."""
    if made.runs:
        return made.runs
    start, end = ends(opening, made)
    return (Run(number=1, start=start, end=end, origin=(0.0, 0.0), heading=0.0),)


def ends(opening: Opening, made: Enclosure) -> tuple[float, float]:
    """x of the two ends of the glass line at the datum: wall faces, or the glass at a free end."""
    corners = [p for lite in made.lites for p in placed_corners(lite)]
    glass = (min(p[0] for p in corners), max(p[0] for p in corners))
    left, right = (
        face(opening, side, 0.0) if side in opening.walls else glass[i]
        for i, side in enumerate(SIDES)
    )
    return left, right


SIDES: tuple[Side, Side] = ("left", "right")


def face(opening: Opening, side: Side, z: float) -> float:
    """x of a wall's face at a height."""
    return opening.estimate(opening.wall(side, z)).value


def placed_corners(lite: Lite) -> Outline:
    """Corners of a pane where it stands in the room: x along the glass line, z above the datum."""
    return tuple((lite.origin[0] + x, lite.origin[1] + y) for x, y in lite.corners)


def line(folded: Iterable[Run]) -> Outline:
    """Points of the glass line in plan: its ends and corners."""
    listed = tuple(folded)
    return (listed[0].origin, *(run.plan(run.end) for run in listed))


def foot(run: Run, lite: Lite) -> Outline:
    """Cut through a pane at its foot in plan: both faces, with its bevels and shifts."""
    half = lite.thickness / 2
    x = lite.origin[0]
    (left, _), (right, _), *_ = lite.corners
    (inner_left, _), (inner_right, _), *_ = lite.inside_corners
    off_left, off_right = lite.shifts
    return (
        run.plan(x + left, off_left - half),
        run.plan(x + right, off_right - half),
        run.plan(x + inner_right, off_right + half),
        run.plan(x + inner_left, off_left + half),
    )


def swing(
    run: Run, lite: Lite, way: int, angle: float = SQUARE
) -> tuple[Point, Point, Point, float]:
    """Hinge, free edge shut, free edge open at an angle, and the bulge of its arc."""
    (left, _), (right, _), *_ = placed_corners(lite)
    hinge, free = (left, right) if lite.hinge_side == "left" else (right, left)
    turn = 1 if (free > hinge) == (way > 0) else -1
    long = abs(free - hinge)
    along = hinge + (free - hinge) * math.cos(angle)
    opened = run.plan(along, way * long * math.sin(angle))
    return run.plan(hinge), run.plan(free), opened, turn * math.tan(angle / 4)


def leaves(
    brief: Brief, made: Enclosure, lite: Lite, ends: float | None
) -> Iterator[tuple[float, Leaf]]:
    """Openings at which a door is drawn, rad: where it stands open, and where it would meet.

    Parameters
    ----------
    ends
        Where it meets something, if it does.

    """
    held = stop_of(made, brief.job.wanted.lites, lite)
    opened = held if held is not None else min(SQUARE, ends or SQUARE)
    yield opened, "stop" if held is not None else "open"
    if ends is not None and held is None:
        yield ends, "met"


def ways(brief: Brief) -> tuple[int, ...]:
    """Ways in which doors go: -1 out of the shower, +1 into it."""
    return {"out": (-1,), "in": (1,), "both": (-1, 1)}[brief.job.wanted.swing]


def walls(opening: Opening, folded: tuple[Run, ...], deep: float = DEEP) -> tuple[Outline, ...]:
    """Faces of the walls in plan, the shower on the right of each course.

    Two walls that meet behind the glass are one course round the shower; others reach `deep` mm
    into it.
    """
    starts = {"left": folded[0].origin, "right": folded[-1].plan(folded[-1].end)}
    inward = {side: _inward(opening, side, folded) for side in opening.walls}
    if len(inward) == len(SIDES):
        meeting = _meeting(starts["left"], inward["left"], starts["right"], inward["right"])
        if meeting is not None:
            left = _along(starts["left"], inward["left"], -OUTWARD)
            right = _along(starts["right"], inward["right"], -OUTWARD)
            return ((left, *meeting, right),)
    courses = {
        side: (_along(starts[side], way, -OUTWARD), _along(starts[side], way, deep))
        for side, way in inward.items()
    }
    return tuple(c if side == "left" else (c[1], c[0]) for side, c in courses.items())


def _inward(opening: Opening, side: Side, folded: tuple[Run, ...]) -> Point:
    """Way of a wall's face from the glass line into the shower, as it was read."""
    square = f"square {side}"
    wider = opening.estimate(opening.entry(square)).value if opening.knows(square) else 0.0
    heading = folded[0 if side == "left" else -1].heading + math.pi / 2
    turned = heading + (wider if side == "left" else -wider)
    return math.cos(turned), math.sin(turned)


def _along(start: Point, way: Point, far: float) -> Point:
    return start[0] + far * way[0], start[1] + far * way[1]


def _meeting(a: Point, u: Point, b: Point, v: Point) -> Outline | None:
    """Where two walls meet inside: a point, nothing where they face each other, or None."""
    cross = u[0] * v[1] - u[1] * v[0]
    between = (b[0] - a[0], b[1] - a[1])
    if abs(cross) < PARALLEL:
        off = u[0] * between[1] - u[1] * between[0]
        ahead = u[0] * between[0] + u[1] * between[1]
        facing = u[0] * v[0] + u[1] * v[1] < 0
        return () if facing and abs(off) < FACING and ahead > 0 else None
    t = (between[0] * v[1] - between[1] * v[0]) / cross
    s = (between[0] * u[1] - between[1] * u[0]) / cross
    return (_along(a, u, t),) if 0 < t < MEET and 0 < s < MEET else None


def footprints(
    brief: Brief, opening: Opening, folded: tuple[Run, ...]
) -> Iterator[tuple[str, Outline]]:
    """Name and outline in plan of each step under the glass; one that turns a corner is mitred."""
    wide = {step.name: float(step.width) for step in brief.job.steps}
    for step in opening.standing:
        low, high = (opening.estimate(x).value for x in (step.cap_left, step.cap_right))
        run = folded[step.run - 1]
        half = wide.get(step.name, float(brief.job.threshold.width)) / 2
        reach = [_round(folded, run, x, half) for x in (low, high)]
        yield (
            step.name,
            (
                run.plan(low + reach[0], -half),
                run.plan(high - reach[1], -half),
                run.plan(high + reach[1], half),
                run.plan(low - reach[0], half),
            ),
        )


def _round(folded: tuple[Run, ...], run: Run, x: float, half: float) -> float:
    """How much shorter a strip's outer edge is than its middle where it ends at a corner.

    Negative where it turns toward the shower: outside it is the longer one.
    """
    near = [n for n in (run.number - 1, run.number) if 0 < n < len(folded)]
    marks = {n: folded[n - 1].end for n in near}
    number = next((n for n, mark in marks.items() if abs(mark - x) < SAME), None)
    if number is None:
        return 0.0
    turn = folded[number].heading - folded[number - 1].heading
    return -half * math.tan(turn / 2)


def edges(course: Outline, half: float) -> tuple[Outline, Outline]:
    """Lines beside a course on its left and on its right, mitred at its corners."""
    middle = LineString(course)
    left, right = (
        tuple((x, y) for x, y in middle.offset_curve(off, join_style="mitre").coords)
        for off in (half, -half)
    )
    return left, right


def swung(shut: Point, opened: Point, bulge: float, **looks: str) -> Path:
    """Arc of a door's free edge."""
    return Path(points=(shut, opened), bulges=(bulge, 0.0), closed=False, layer="hidden", **looks)  # type: ignore[arg-type]
