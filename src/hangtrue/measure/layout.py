"""What is unknown in a room: the shape of its opening, entry by entry, along the developed line."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from hangtrue.job.document import Job
from hangtrue.job.readings import (
    Bow,
    CornerAngle,
    Diagonal,
    Height,
    Lean,
    Offset,
    Pitch,
    Reading,
    Side,
    Square,
    Width,
)
from hangtrue.job.room import Step
from hangtrue.measure.habits import usual
from hangtrue.measure.linear import Array, Terms


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
    angles
        Inside angle that each corner is wanted at, rad; one fewer than the runs.
    stated
        Length of each run as its panes are wanted, mm; None where nobody stated it.
    front
        Run (from 1) whose pitch is `pitch`.
    curb_width
        Width across of what the glass stands on, mm.
    steps
        What stands under the glass in a run that there is, each by the name its unknowns carry.

    """

    names: tuple[str, ...]
    place: dict[str, int]
    walls: tuple[Side, ...]
    heights: tuple[float, ...]
    edges: dict[Side, tuple[float, ...]]
    glass: tuple[float, float]
    shape_size: int
    angles: tuple[float, ...]
    stated: tuple[float | None, ...]
    front: int
    curb_width: float
    steps: tuple[tuple[str, Step], ...]

    @property
    def runs(self) -> int:
        """Number of straight parts of the glass line."""
        return len(self.stated)

    @property
    def stations(self) -> tuple[str, ...]:
        """Both ends and every corner, from left to right, as curb and ceiling are named by."""
        return "left", *(f"corner {k}" for k in range(1, self.runs)), "right"

    def ends(self, run: int) -> tuple[str, str]:
        """Stations that a run (from 1) lies between."""
        return self.stations[run - 1], self.stations[run]

    def bounded(self, run: int) -> bool:
        """Whether a run has a wall or a corner at both ends."""
        return bounded(run, self.walls, self.runs)

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

    def start(self, run: int, height: float, factor: float = 1.0) -> Terms:
        """Left end of a run, its x at a height: wall or corner; nothing at a free end."""
        if run == 1:
            return self.wall("left", height, factor)
        return self.entry(f"corner {run - 1}", factor)

    def stop(self, run: int, height: float, factor: float = 1.0) -> Terms:
        """Right end of a run, its x at a height: wall or corner; nothing at a free end."""
        if run == self.runs:
            return self.wall("right", height, factor)
        return self.entry(f"corner {run}", factor)

    def reach(self, side: Side) -> float:
        """Length of the run that ends on a side, where it ends free: as wanted, or a usual one."""
        return self.stated[0 if side == "left" else -1] or usual("usual-width")

    def station(self, name: str, height: float) -> Equation:
        """x of a station at a height; a free end lies its reach beside where its run begins."""
        if name == "left" and "left" not in self.walls:
            if self.runs == 1 and not self.walls:
                return Equation(())
            return Equation(self.stop(1, height), -self.reach("left"))
        if name == "right" and "right" not in self.walls:
            return Equation(self.start(self.runs, height), self.reach("right"))
        if name in {"left", "right"}:
            return Equation(self.wall("left" if name == "left" else "right", height))
        return Equation(self.entry(name))

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

    def pitch(self, run: int) -> str:
        """Name of the pitch of the curb under a run."""
        return "pitch" if run == self.front else f"pitch run {run}"


def value(terms: Terms, unknowns: Array) -> float:
    """Sum of coefficient times unknown."""
    return math.fsum(a * float(unknowns[i]) for i, a in terms)


def bounded(run: int, walls: tuple[Side, ...], runs: int) -> bool:
    """Whether that run of so many is there, with a wall or a corner at both ends."""
    return run <= runs and (run > 1 or "left" in walls) and (run < runs or "right" in walls)


def edge(side: Side, height: float) -> str:
    """Name of the unknown y of a wall's edge at a height."""
    return f"edge {side} {height:.1f}"


def node(side: Side, height: float) -> str:
    """Name of the unknown x of a wall's face at a height."""
    return f"{side} {height:.1f}"


def _between_nodes(grid: tuple[float, ...], height: float) -> tuple[float, float, float]:
    """Nodes below and above a height (the outermost two beyond them), and how far up between."""
    i = bisect_left(grid, height, 1, len(grid) - 1)
    low, high = grid[i - 1], grid[i]
    return low, high, (height - low) / (high - low)


def lay_out(job: Job) -> Layout:
    """List what is unknown in this job."""
    walls: tuple[Side, ...] = tuple(s for s in ("left", "right") if job.wall(s) is not None)
    heights = node_heights(job) if walls else ()
    steps = tuple(_steps(job))
    shape = [node(side, h) for side in walls for h in heights]
    shape += [f"across {side}" for side in walls] + ["curb left", "curb right", "pitch"]
    shape += [*_ceiling(job), *_corners(job), *(n for key, s in steps for n in _of_step(key, s))]
    edges = {side: edge_heights(job, side) for side in walls}
    glass = glass_heights(job)
    further = [edge(s, h) for s, grid in edges.items() for h in grid if h not in glass]
    lines = sorted({r.line for r in job.readings if isinstance(r, Offset)})
    further += [f"{part} {line}" for line in lines for part in ("line", "tilt")]
    names = (*shape, *further)
    fixed = {node(walls[0], 0.0) if walls else "corner 1"}
    if job.datum != "mark":
        fixed.add(job.datum)
    free = [name for name in names if name not in fixed]
    return Layout(
        names=names,
        place={name: i for i, name in enumerate(free)},
        walls=walls,
        heights=heights,
        edges=edges,
        glass=glass,
        shape_size=len(shape),
        angles=tuple(float(turn.angle) for turn in job.wanted.turns),
        stated=tuple(_stated(job, run) for run in job.wanted.runs),
        front=job.wanted.front,
        curb_width=job.threshold.width,
        steps=steps,
    )


def _stated(job: Job, panes: tuple[int, ...]) -> float | None:
    """Length of a run as its panes are wanted; None unless each of them is."""
    widths = [job.wanted.lites[i].width for i in panes]
    return math.fsum(w for w in widths if w) if all(widths) else None


def _ceiling(job: Job) -> Iterator[str]:
    """One height where it was read in one place only; else one at each end and corner."""
    read = {r.at for r in job.readings if isinstance(r, Height) and r.of == "ceiling"}
    if len(read) == 1:
        yield "ceiling"
    elif read:
        yield from ("ceiling left", "ceiling right")
        yield from (f"ceiling corner {k}" for k in range(1, len(job.wanted.runs)))


def _corners(job: Job) -> Iterator[str]:
    """Place, angle and curb of each corner; pitches of other runs; walls out of square."""
    runs, front = len(job.wanted.runs), job.wanted.front
    for k in range(1, runs):
        yield from (f"corner {k}", f"angle {k}", f"curb corner {k}")
    pitched = {r.run for r in job.readings if isinstance(r, Pitch) and r.run <= runs}
    yield from (f"pitch run {run}" for run in sorted(pitched - {front}))
    squared = {r.wall for r in job.readings if isinstance(r, Square) and job.wall(r.wall)}
    yield from (f"square {side}" for side in sorted(squared))


def _steps(job: Job) -> Iterator[tuple[str, Step]]:
    """Steps of runs that there are; the second of one name is told apart by a number."""
    seen: dict[str, int] = {}
    for step in job.steps:
        if step.run <= len(job.wanted.runs):
            seen[step.name] = count = seen.get(step.name, 0) + 1
            yield step.name if count == 1 else f"{step.name} ({count})", step


def _of_step(key: str, step: Step) -> Iterator[str]:
    """Risers that are not the end of the run; both ends of the cap."""
    if step.from_ is not None:
        yield f"step {key} left"
    if step.to is not None:
        yield f"step {key} right"
    yield from (f"step {key} top left", f"step {key} top right")


def node_heights(job: Job) -> tuple[float, ...]:
    """Heights of the wall nodes: all that was read, 0, the glass, hinges, caps, a grid between."""
    glass = glass_heights(job)
    from_end = usual("hinge-from-end")
    wanted = {0.0, *glass, glass[0] + from_end, glass[1] - from_end}
    for reading in job.readings:
        wanted.update(heights_read(reading))
    wanted.update(step.height for step in job.steps)
    if any(lite.head != "level" for lite in job.wanted.lites):
        wanted.update(r.value for r in job.readings if isinstance(r, Height) and r.of == "ceiling")
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
