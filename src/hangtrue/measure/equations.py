"""Readings as equations: what each reading should say for a given shape of the opening.

An equation is the reading's value near that shape, `constant + sum(coefficient * unknown)`, so that
straight readings are exact and the others (diagonals, falls over part of it) need a few passes.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from hangtrue.job.document import Job
from hangtrue.job.readings import (
    Bow,
    CornerAngle,
    Diagonal,
    Fall,
    Height,
    Lean,
    Offset,
    Pitch,
    Reading,
    Side,
    Width,
)
from hangtrue.measure.habits import usual
from hangtrue.measure.linear import Array, Terms
from hangtrue.units import Slope


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """What is unknown, and where in the list of unknowns each thing stands.

    Attributes
    ----------
    names
        Of the unknowns: the shape's first; then what the shape does not keep: edges of the walls
        across the glass between its ends, position and tilt of each plumb or laser line.
    place
        Index of each name; the two names that fix the frame (x and z are 0 there) have none.
    heights
        (n,) heights of the wall nodes, mm, rising, n >= 2; none without walls.
    edges
        Heights of the nodes across the glass of each wall, mm: ends of the glass and what was read.
        The lower end of the glass is at y = 0, the upper at the lean across times the height.
    glass
        Lower and upper end of the glass, mm.
    shape_size
        Number of unknowns that belong to the shape.
    free_end
        Length of the curb where only one wall or none bounds it, mm; None if nobody stated it.
    curb_width
        Width across of what the glass stands on, mm.

    """

    names: tuple[str, ...]
    place: dict[str, int]
    walls: tuple[Side, ...]
    heights: tuple[float, ...]
    edges: dict[Side, tuple[float, ...]]
    glass: tuple[float, float]
    shape_size: int
    free_end: float | None
    curb_width: float

    def entry(self, name: str, factor: float = 1.0) -> Terms:
        """One unknown; nothing where the frame fixes it at 0."""
        index = self.place.get(name)
        return () if index is None else ((index, factor),)

    def wall(self, side: Side, height: float, factor: float = 1.0) -> Terms:
        """Face of a wall, its x: straight between nodes; nothing where there is no wall."""
        if side not in self.walls:
            return ()
        low, high, share = _between_nodes(self.heights, height)
        below = self.entry(node(side, low), factor * (1.0 - share)) if share != 1.0 else ()
        return below + (self.entry(node(side, high), factor * share) if share != 0.0 else ())

    def edge(self, side: Side, height: float, factor: float = 1.0) -> Terms:
        """Edge of a wall across the glass, its y, + into the shower: straight between nodes."""
        low, high, share = _between_nodes(self.edges[side], height)
        below = self.edge_node(side, low, factor * (1.0 - share)) if share != 1.0 else ()
        return below + (self.edge_node(side, high, factor * share) if share != 0.0 else ())

    def edge_node(self, side: Side, height: float, factor: float) -> Terms:
        """One node of such an edge."""
        foot, top = self.glass
        if height == foot:
            return ()
        if height == top:
            return self.entry(f"across {side}", factor * (top - foot))
        return self.entry(edge(side, height), factor)


@dataclass(frozen=True, slots=True)
class Equation:
    """`constant + sum(coefficient * unknown)`: what a reading says, mm (angles rad).

    `straight` where that holds for every shape, not only near the one it was made at.
    """

    terms: Terms
    constant: float = 0.0
    straight: bool = True

    def at(self, unknowns: Array) -> float:
        """Value for given unknowns, shape (n,)."""
        return self.constant + value(self.terms, unknowns)


def value(terms: Terms, unknowns: Array) -> float:
    """Sum of coefficient times unknown."""
    return math.fsum(a * float(unknowns[i]) for i, a in terms)


def touches(reading: Reading, walls: tuple[Side, ...]) -> bool:
    """Whether every wall that a reading is about is there."""
    match reading:
        case Width() | Diagonal():
            return len(walls) == 2  # noqa: PLR2004 - both
        case Lean() | Offset() | Bow() | CornerAngle():
            return reading.wall in walls
        case _:
            return True


def edge(side: Side, height: float) -> str:
    """Name of the unknown y of a wall's edge at a height."""
    return f"edge {side} {height:.1f}"


def _between_nodes(grid: tuple[float, ...], height: float) -> tuple[float, float, float]:
    """Nodes below and above a height (the outermost two beyond them), and how far up between."""
    i = bisect_left(grid, height, 1, len(grid) - 1)
    low, high = grid[i - 1], grid[i]
    return low, high, (height - low) / (high - low)


def node(side: Side, height: float) -> str:
    """Name of the unknown x of a wall's face at a height."""
    return f"{side} {height:.1f}"


def lay_out(job: Job) -> Layout:
    """List what is unknown in this job."""
    walls: tuple[Side, ...] = tuple(s for s in ("left", "right") if job.wall(s) is not None)
    heights = node_heights(job) if walls else ()
    shape = [node(side, h) for side in walls for h in heights]
    shape += [f"across {side}" for side in walls] + ["curb left", "curb right", "pitch"]
    if any(isinstance(r, Height) and r.of == "ceiling" for r in job.readings):
        shape.append("ceiling")
    edges = {side: edge_heights(job, side) for side in walls}
    glass = glass_heights(job)
    further = [edge(s, h) for s, grid in edges.items() for h in grid if h not in glass]
    lines = sorted({r.line for r in job.readings if isinstance(r, Offset)})
    further += [f"{part} {line}" for line in lines for part in ("line", "tilt")]
    names = (*shape, *further)
    fixed = {node(walls[0], 0.0)} if walls else set()
    if job.datum != "mark":
        fixed.add(job.datum)
    free = [name for name in names if name not in fixed]
    widths = [lite.width for lite in job.wanted.lites]
    return Layout(
        names=names,
        place={name: i for i, name in enumerate(free)},
        walls=walls,
        heights=heights,
        edges=edges,
        glass=glass,
        shape_size=len(shape),
        free_end=math.fsum(w for w in widths if w) if all(widths) else None,
        curb_width=job.threshold.width,
    )


def node_heights(job: Job) -> tuple[float, ...]:
    """Heights of the wall nodes: every height read, 0, the glass, the hinges, a grid between."""
    glass = glass_heights(job)
    from_end = usual("hinge-from-end")
    wanted = {0.0, *glass, glass[0] + from_end, glass[1] - from_end}
    for reading in job.readings:
        wanted.update(heights_read(reading))
    rising = sorted({round(h, 1) + 0.0 for h in wanted})
    if len(rising) == 1:
        rising.append(rising[0] + usual("prior-reference"))
    step = max(usual("node-step"), (rising[-1] - rising[0]) / usual("node-most"))
    grid = [rising[0]]
    for low, high in pairwise(rising):
        parts = math.ceil((high - low) / step)
        grid += [round(low + (high - low) * k / parts, 1) for k in range(1, parts)]
        grid.append(high)
    return tuple(grid)


def glass_heights(job: Job) -> tuple[float, float]:
    """Bottom and top of the glass above the datum, as near as the readings say."""
    curb = [float(r.value) for r in job.readings if isinstance(r, Height) and r.of == "curb"]
    foot = math.fsum(curb) / len(curb) if curb and job.datum == "mark" else 0.0
    return round(foot, 1) + 0.0, max(round(job.wanted.height, 1), round(foot, 1) + 1.0)


def edge_heights(job: Job, side: Side) -> tuple[float, ...]:
    """Heights of the nodes across the glass of a wall: ends of the glass, and every height read."""
    across = [r for r in job.readings if isinstance(r, Lean) and r.plane == "across"]
    ends = (h for r in across if r.wall == side for h in (r.from_, r.to))
    return tuple(sorted({*glass_heights(job), *(round(h, 1) + 0.0 for h in ends)}))


def heights_read(reading: Reading) -> tuple[float, ...]:
    """Heights at which a reading touches a wall in the plane of the glass."""
    match reading:
        case Width(at=at) | Offset(at=at):
            return (at,)
        case Lean(plane="in"):
            return reading.from_, reading.to
        case Bow():
            return reading.from_, middle(reading), reading.to
        case Diagonal():
            return reading.left_at, reading.right_at
        case CornerAngle():
            return (usual("angle-arm"),)
        case _:
            return ()


def middle(bow: Bow) -> float:
    """Height at which a bow was read."""
    return float(bow.at) if bow.at is not None else (bow.from_ + bow.to) / 2


def span(reading: Reading, layout: Layout, unknowns: Array) -> float:
    """Length that a slope was read over, mm; 1 for readings that are no slope."""
    match reading:
        case Lean():
            return float(reading.to - reading.from_)
        case Fall(over=over):
            return float(over) if over is not None else curb_length(layout, unknowns).at(unknowns)
        case Pitch(over=over):
            return float(over) if over is not None else layout.curb_width
        case _:
            return 1.0


def observed(reading: Reading, over: float) -> float:
    """Value as read with its sign, mm (slopes as the offset over the length read; angles rad)."""
    amount = float(reading.value) * (over if isinstance(reading.value, Slope) else 1.0)
    match reading:
        case Lean(toward="out") | Bow(toward="out") | Pitch(falls="out") | Fall(falls="left"):
            return -amount
        case _:
            return amount


def equation(reading: Reading, layout: Layout, unknowns: Array) -> Equation:
    """Say what a reading should be near the given unknowns, shape (n,)."""
    bent = _BENT.get(reading.what)
    return bent(reading, layout, unknowns) if bent else _STRAIGHT[reading.what](reading, layout)


def inward(side: Side) -> float:
    """Sign of x that points from a wall into the opening."""
    return 1.0 if side == "left" else -1.0


def curb_length(layout: Layout, unknowns: Array) -> Equation:
    """Length of the curb along the glass line at its own height; 0 if nobody stated it."""
    if len(layout.walls) < 2:  # noqa: PLR2004 - both walls
        return Equation((), layout.free_end or 0.0)
    curb = layout.entry("curb left", 0.5) + layout.entry("curb right", 0.5)
    foot = value(curb, unknowns)
    return Equation(_between(layout, foot, foot))


def _between(layout: Layout, left_at: float, right_at: float) -> Terms:
    return layout.wall("right", right_at) + layout.wall("left", left_at, -1.0)


def _width(reading: Width, layout: Layout) -> Equation:
    return Equation(_between(layout, reading.at, reading.at))


def _pitch(reading: Pitch, layout: Layout) -> Equation:
    over = reading.over if reading.over is not None else layout.curb_width
    return Equation(layout.entry("pitch", float(over)))


def _lean(reading: Lean, layout: Layout) -> Equation:
    side = reading.wall
    if reading.plane == "across":
        return Equation(layout.edge(side, reading.to) + layout.edge(side, reading.from_, -1.0))
    rise = layout.wall(side, reading.to, inward(side))
    return Equation(rise + layout.wall(side, reading.from_, -inward(side)))


def _height(reading: Height, layout: Layout) -> Equation:
    if reading.of == "ceiling":
        return Equation(layout.entry("ceiling"))
    right = {"left": 0.0, "middle": 0.5, "right": 1.0}[reading.at]
    return Equation(layout.entry("curb left", 1.0 - right) + layout.entry("curb right", right))


def _offset(reading: Offset, layout: Layout) -> Equation:
    sign = inward(reading.wall)
    line = layout.entry(f"line {reading.line}", sign)
    tilt = layout.entry(f"tilt {reading.line}", sign * reading.at)
    return Equation(line + tilt + layout.wall(reading.wall, reading.at, -sign))


def _bow(reading: Bow, layout: Layout) -> Equation:
    sign, side, at = inward(reading.wall), reading.wall, middle(reading)
    share = (at - reading.from_) / (reading.to - reading.from_)
    chord = layout.wall(side, reading.from_, -sign * (1.0 - share))
    return Equation(
        chord + layout.wall(side, reading.to, -sign * share) + layout.wall(side, at, sign)
    )


def _diagonal(reading: Diagonal, layout: Layout, unknowns: Array) -> Equation:
    """Linearise the distance of two points: cosine of its slope times the level distance."""
    level = _between(layout, reading.left_at, reading.right_at)
    across = value(level, unknowns)
    length = math.hypot(across, reading.right_at - reading.left_at)
    terms = _times(level, across / length)
    return Equation(terms, length - value(terms, unknowns), straight=False)


def _fall(reading: Fall, layout: Layout, unknowns: Array) -> Equation:
    """Fall over the length read; over the whole curb where either length is not stated."""
    drop = layout.entry("curb left") + layout.entry("curb right", -1.0)
    whole = curb_length(layout, unknowns)
    length = whole.at(unknowns)
    if reading.over is None or length <= 0.0:
        return Equation(drop)
    share = reading.over / length
    fall = value(drop, unknowns) * share
    terms = _times(drop, share) + _times(whole.terms, -fall / length)
    return Equation(terms, fall - value(terms, unknowns), straight=False)


def _angle(reading: CornerAngle, layout: Layout, unknowns: Array) -> Equation:
    """Ninety degrees, less where the wall leans in, less where the curb rises away from it."""
    side = reading.wall
    sign = inward(side)
    foot = value(layout.entry(f"curb {side}"), unknowns)
    arm = usual("angle-arm")
    lean = layout.wall(side, foot + arm, sign / arm) + layout.wall(side, foot, -sign / arm)
    rise = layout.entry("curb right", sign) + layout.entry("curb left", -sign)
    whole = curb_length(layout, unknowns)
    length = whole.at(unknowns)
    slope, incline = value(lean, unknowns), value(rise, unknowns) / length if length > 0.0 else 0.0
    inside = math.pi / 2 - math.atan(slope) - math.atan(incline)
    terms = _times(lean, -1.0 / (1.0 + slope**2))
    if length > 0.0:
        turn = -1.0 / (1.0 + incline**2)
        terms += _times(rise, turn / length) + _times(whole.terms, -turn * incline / length)
    return Equation(terms, inside - value(terms, unknowns), straight=False)


def _times(terms: Iterable[tuple[int, float]], factor: float) -> Terms:
    return tuple((i, a * factor) for i, a in terms)


_STRAIGHT: dict[str, Callable[[Any, Layout], Equation]] = {
    "width": _width,
    "lean": _lean,
    "offset": _offset,
    "bow": _bow,
    "pitch": _pitch,
    "height": _height,
}
_BENT: dict[str, Callable[[Any, Layout, Array], Equation]] = {
    "diagonal": _diagonal,
    "fall": _fall,
    "angle": _angle,
}
