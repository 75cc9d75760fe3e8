"""What stands around a door, in the plan that its leaf turns in: hinge axis at (0, 0)."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import Literal

from shapely import LineString, Polygon, box
from shapely import Point as Place
from shapely.geometry.base import BaseGeometry

from hangtrue.check.case import Case
from hangtrue.check.floor import inside
from hangtrue.check.hung import Hung
from hangtrue.check.proof.swinging import swing
from hangtrue.geometry import Outline, Point
from hangtrue.job.document import Obstacle
from hangtrue.job.hardware import Handle
from hangtrue.job.readings import Side
from hangtrue.measure.plan_line import PlanLine, glass_line
from hangtrue.mechanics.swing import PlanLeaf, opens_to, swept
from hangtrue.phrase import phrase

Way = Literal["out", "in"]
WALL = "the wall of the shower"
BESIDE = 100.0
"""mm; a wall nearer to the axis is the one that the hinges are on, or beside."""
PAIR = 2
SMALL = 0.5
"""mm by which an axis that leans is not worth looking at twice."""
ROUND = math.pi
"""A leaf is followed no further than this, rad."""
FAR = 1e5
OFF = 0.01
"""mm; what stands on the other side of the closed leaf begins this far from its face."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """A place in plan with two directions: along the closed leaf, and to where it opens."""

    origin: Point
    along: Point
    opening: Point

    def within(self, point: Point) -> Point:
        """Coordinates of a plan point in this frame."""
        dx, dy = point[0] - self.origin[0], point[1] - self.origin[1]
        (ax, ay), (bx, by) = self.along, self.opening
        return dx * ax + dy * ay, dx * bx + dy * by

    def plan(self, point: Point) -> Point:
        """Plan point of coordinates in this frame."""
        (x0, y0), (ax, ay), (bx, by) = self.origin, self.along, self.opening
        return x0 + point[0] * ax + point[1] * bx, y0 + point[0] * ay + point[1] * by


@dataclass(frozen=True, slots=True, kw_only=True)
class Turning:
    """A leaf that turns one way, and where.

    Attributes
    ----------
    low, high
        Its lower and upper edge above the datum, mm.
    lean
        Of its axis along the closed leaf and to where it opens, as slopes, from `plumb_at` up.

    """

    leaf: PlanLeaf
    frame: Frame
    low: float
    high: float
    lean: tuple[float, float] = (0.0, 0.0)
    plumb_at: float = 0.0

    def at(self, height: float) -> Turning:
        """Return it as it turns at a height above the datum: its axis leans."""
        rise = height - self.plumb_at
        moved = self.lean[0] * rise, self.lean[1] * rise
        if math.hypot(*moved) < SMALL:
            return self
        return replace(self, frame=replace(self.frame, origin=self.frame.plan(moved)))

    def region(self, to_rad: float) -> Outline:
        """Outline in plan of what it sweeps from closed to an opening."""
        whole: BaseGeometry = swept(self.leaf, 0.0, to_rad)
        return tuple(self.frame.plan(point) for point in _rim(whole.convex_hull))

    def stops_at(self, outline: Outline, *, clip: bool) -> float:
        """Opening at which it first touches an outline in plan, rad; ROUND where it does not.

        Parameters
        ----------
        clip
            Leave out what is on the other side of the closed leaf.

        """
        shape: BaseGeometry = Polygon([self.frame.within(p) for p in outline])
        if clip:
            face = self.leaf.offset + self.leaf.thickness / 2 + OFF
            shape = shape.intersection(box(-FAR, face, FAR, FAR))
        if shape.is_empty or shape.distance(Place(0, 0)) > self.leaf.reach:
            return ROUND
        outline = _rim(shape.convex_hull)
        return opens_to(self.leaf, [outline], 0.0, ROUND) if outline else ROUND


def _rim(shape: BaseGeometry) -> Outline:
    """Outline of a convex figure; empty where it has no area."""
    if not isinstance(shape, Polygon):
        return ()
    return tuple((x, y) for x, y in shape.exterior.coords[:-1])


@dataclass(frozen=True, slots=True, kw_only=True)
class Met:
    """What a leaf meets first, and at which opening, rad."""

    angle: float
    name: str

    @property
    def degrees(self) -> int:
        """Whole degrees that it opens to."""
        return math.floor(math.degrees(self.angle) + 1e-6)


def floor_height(case: Case) -> float:
    """Height of the bathroom floor, mm; the datum lies above it."""
    return -float(case.job.threshold.height)


def turning(case: Case, door: Hung, way: Way, *, side: Side | None = None) -> Turning:
    """Lay a door out in the plan of its hinge.

    Parameters
    ----------
    side
        Hinge side, if another than it has.

    """
    pane, line = door.glass, glass_line(case.opening, case.job.wanted)
    own, side = side in {None, door.side}, side or door.side
    lean, plumb_at = _leaning(case, door, way) if own else ((0.0, 0.0), 0.0)
    at = pane.origin[0] + (0.0 if side == "left" else pane.width_bottom)
    heading = line.headings[pane.run - 1]
    sign = 1.0 if side == "left" else -1.0
    inward = line.inward(pane.run)
    out = -1.0 if way == "out" else 1.0
    low, width = pane.origin[1], max(pane.width_bottom, pane.width_top)
    return Turning(
        leaf=PlanLeaf(start=0.0, end=width, thickness=pane.thickness),
        frame=Frame(
            origin=line.place(at, run=pane.run),
            along=(sign * math.cos(heading), sign * math.sin(heading)),
            opening=(out * inward[0], out * inward[1]),
        ),
        low=low,
        high=low + max(pane.height_left, pane.height_right),
        lean=lean,
        plumb_at=plumb_at,
    )


def with_handle(case: Case, turned: Turning) -> Turning:
    """Put the handle on the leaf, as it is at its height."""
    return replace(turned, leaf=handled(case, turned.leaf))


def handled(case: Case, leaf: PlanLeaf) -> PlanLeaf:
    """Return a leaf with its handle; as it is where none is known."""
    handle = case.brief.items.get(case.job.hardware.handle)
    if case.boxed or not isinstance(handle, Handle):
        return leaf
    out = case.limit("handle-stands-out").value
    middle = leaf.end - float(handle.from_edge)
    half = max((float(hole.width) for hole in handle.holes), default=0.0)
    far = leaf.thickness / 2 + out
    outline = (
        (middle - half, -far), (middle + half, -far), (middle + half, far), (middle - half, far)
    )  # fmt: skip
    return replace(leaf, fittings=(outline,))


def at_handle(case: Case, obstacle: Obstacle) -> bool:
    """Whether something stands at the height of the handle."""
    handle = case.brief.items.get(case.job.hardware.handle)
    if not isinstance(handle, Handle):
        return False
    middle = floor_height(case) + float(case.job.wanted.handle_height)
    reach = max((abs(float(hole.along)) for hole in handle.holes), default=0.0)
    low, high = heights(case, obstacle)
    return low <= middle + reach and high >= middle - reach


def heights(case: Case, obstacle: Obstacle) -> tuple[float, float]:
    """Lower and upper end of something, mm above the datum."""
    bottom = floor_height(case) if obstacle.bottom is None else float(obstacle.bottom)
    return bottom, float(obstacle.top)


def meets(case: Case, door: Hung, way: Way, *, side: Side | None = None) -> Met | None:
    """Return what a door meets first when it turns: things, steps, walls, glass of another run."""
    plain = turning(case, door, way, side=side)
    held = with_handle(case, plain)
    found = [
        Met(angle=_stopped(case, held if at_handle(case, o) else plain, o, outline), name=o.name)
        for o, outline in _things(case, plain)
    ]
    found += [
        Met(
            angle=plain.stops_at(outline, clip=True), name=phrase("the glass of run {run}", run=run)
        )
        for run, outline in _glass(case, door)
    ]
    found += [
        Met(angle=plain.stops_at(outline, clip=True), name=name)
        for name, outline in _steps(case, plain)
    ]
    if way == "in":
        found += [
            Met(angle=plain.stops_at(outline, clip=True), name=WALL)
            for outline in _walls(case, plain)
        ]
    hit = [met for met in found if met.angle < ROUND]
    return min(hit, key=lambda met: met.angle, default=None)


def _stopped(case: Case, turned: Turning, thing: Obstacle, outline: Outline) -> float:
    """Opening at which a leaf meets something, at the lowest and at the highest place of both."""
    low, high = heights(case, thing)
    places = {max(low, turned.low), min(high, turned.high)}
    leaves = {turned.at(height).frame.origin: turned.at(height) for height in sorted(places)}
    return min(leaf.stops_at(outline, clip=True) for leaf in leaves.values())


def _leaning(case: Case, door: Hung, way: Way) -> tuple[tuple[float, float], float]:
    """Lean of a door's axis the way it opens, and the height of its lower hinge."""
    if len(door.plates) < PAIR:
        return (0.0, 0.0), 0.0
    axis = swing(case, door).axis
    told = "in" if case.job.wanted.swing == "in" else "out"
    return (axis.lean_x, axis.lean_y if way == told else -axis.lean_y), door.plates[0]


def _things(case: Case, turned: Turning) -> Iterator[tuple[Obstacle, Outline]]:
    """What stands at the height of the leaf, with the room to leave around it."""
    around = case.limit("swing-clear-least").value
    for obstacle in case.job.obstacles:
        low, high = heights(case, obstacle)
        if obstacle.swing is None and low < turned.high and high > turned.low:
            x0, y0, x1, y1 = obstacle.plan_box
            yield obstacle, _rim(box(x0 - around, y0 - around, x1 + around, y1 + around))


def _steps(case: Case, turned: Turning) -> Iterator[tuple[str, Outline]]:
    """Steps that stand up beside the leaf, as wide as they are across the glass line."""
    opening, value = case.opening, case.opening.estimate
    wide = {step.name: float(step.width) / 2 for step in case.job.steps}
    for step in opening.standing:
        if max(value(step.top_left).value, value(step.top_right).value) > turned.low:
            line = glass_line(opening, case.job.wanted)
            ends = value(step.cap_left).value, value(step.cap_right).value
            yield step.name, _strip(line, step.run, ends, wide[step.name])


def _glass(case: Case, door: Hung) -> Iterator[tuple[int, Outline]]:
    """Glass of the other runs, as thick as it is."""
    if len(case.runs) == 1:
        return
    line, value = glass_line(case.opening, case.job.wanted), case.opening.estimate
    half = door.glass.thickness / 2
    for run in case.runs:
        if run != door.glass.run:
            ends = value(case.opening.start(run)).value, value(case.opening.stop(run)).value
            yield run, _strip(line, run, ends, half)


def _walls(case: Case, turned: Turning) -> Iterator[Outline]:
    """Walls of the shower that a door may come to inward: all but the one beside its hinges."""
    floor = inside(case)
    if floor is None or len(case.runs) > 1:
        return
    axis, reach = turned.frame.origin, turned.leaf.reach
    for (x0, y0), (x1, y1) in zip(floor, (*floor[1:], floor[0]), strict=True):
        wall = LineString([(x0, y0), (x1, y1)])
        off = turned.frame.within((x0, y0))[1], turned.frame.within((x1, y1))[1]
        if max(off) > 2 * turned.leaf.thickness and BESIDE < wall.distance(Place(axis)) <= reach:
            yield _rim(wall.buffer(OFF, cap_style="flat"))


def _strip(line: PlanLine, run: int, ends: tuple[float, float], half: float) -> Outline:
    low, high = ends
    at: Callable[[float, float], Point] = lambda x, y: line.place(x, y, run)  # noqa: E731
    return at(low, -half), at(high, -half), at(high, half), at(low, half)


def entrance(case: Case, obstacle: Obstacle) -> Turning | None:
    """Lay out an entrance door that opens into the room; None where it opens out of it."""
    swing = obstacle.swing
    if swing is None or swing.opens == "out of it":
        return None
    x0, y0, x1, y1 = obstacle.plan_box
    x, y, wide = float(obstacle.x), float(obstacle.y), float(swing.width)
    level = swing.hinge in {"left", "right"}
    if level:
        sign = 1.0 if swing.hinge == "left" else -1.0
        frame = Frame(
            origin=(x - sign * wide / 2, y),
            along=(sign, 0.0),
            opening=(0.0, 1.0 if y < 0 else -1.0),
        )
    else:
        # Near the glass is the end of greater y, as the room lies at negative y.
        sign = -1.0 if swing.hinge == "near" else 1.0
        frame = Frame(
            origin=(x, y - sign * wide / 2),
            along=(0.0, sign),
            opening=(1.0 if x < _middle(case) else -1.0, 0.0),
        )
    thick = max(min(x1 - x0, y1 - y0), OFF)
    low, high = heights(case, obstacle)
    return Turning(
        leaf=PlanLeaf(start=0.0, end=wide, thickness=thick), frame=frame, low=low, high=high
    )


def _middle(case: Case) -> float:
    """x in plan of the middle of the front run."""
    run, value = case.job.wanted.front, case.opening.estimate
    return (value(case.opening.stop(run)).value - value(case.opening.start(run)).value) / 2
