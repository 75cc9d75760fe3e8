"""The enclosure that was fitted: panes, joints with their gaps, margin; or why there is none."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from hangtrue.estimate import Estimate
from hangtrue.fit.glass import glass_said
from hangtrue.geometry import Outline, Point
from hangtrue.job.readings import Side
from hangtrue.phrase import join, phrase

Where = Literal["left", "right", "top", "bottom"]
JointKind = Literal["hinge", "channel", "clamp", "strike", "sweep", "silicone", "open"]
PaneKind = Literal["door", "fixed", "transom"]
CornerJoint = Literal["butt", "mitre", "clamp", "hinge"]
HungOn = Literal["wall", "glass"]
Place = tuple[float, float, float]
"""A place in the room: x along the front run from its left end, y into the shower, z; mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Deduction:
    """One step of the chain from opening to glass: what is taken off (negative) or added, mm."""

    what: str
    amount: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Edge:
    """One edge of a pane.

    Attributes
    ----------
    where
        Side of the pane, as seen from outside.
    length
        Finished length, mm.
    rake
        How far the edge is out of square over the height (upright edges) or width of the pane, mm;
        + where the upper (or right) end lies to the right (or higher).
    finish
        Edge work.
    meets
        What the edge faces: `left wall`, `fixed 1`, `curb`, `knee wall`, `ceiling`, `free`; the
        lowest of what is below, where it steps.
    bevel
        How far the edge is ground from square in plan, rad: half the turn of the glass line at a
        mitre, else 0; + where the face seen from outside is the longer one.
    points
        A scribed edge from its lower end to its upper end; empty where it is one straight cut.

    """

    where: Where
    length: float
    rake: float
    finish: str
    meets: str
    bevel: float = 0.0
    points: Outline = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Hole:
    """A round hole: centre from the datum corner and diameter, mm; `fitting` is what it is for."""

    centre: Point
    diameter: float
    fitting: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Notch:
    """A cut-out in the edge: corners from the datum corner, anticlockwise; inside radius, mm.

    Attributes
    ----------
    fitting
        What it is for: the id of a fitting, or the name of a step or of a projection of a wall.
    of
        `step` where the foot of the pane steps over what stands below; it takes away a corner of
        the blank where the step runs on past the pane.

    """

    corners: Outline
    radius: float
    fitting: str
    of: Literal["fitting", "step", "projection"] = "fitting"


@dataclass(frozen=True, slots=True, kw_only=True)
class Chain:
    """The deduction chain of one size: from the opening, step by step, to the glass.

    The amounts add up: `opening` + all deductions = `glass`, to 1e-6 mm. A width starts wall to
    wall (at a free end, from the width chosen), a height from the top line down to the curb.
    """

    size: str
    at_height: float
    opening: float
    deductions: tuple[Deduction, ...]
    glass: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Lite:
    """One pane as the plant cuts it: seen from outside, from its datum corner, x right, y up, mm.

    Everything drawn is of the face seen from outside; the other face differs only where an edge is
    bevelled (`Edge.bevel`, `inside_corners`).

    Attributes
    ----------
    id
        `door`, `fixed 1`, `fixed 2`, from left to right; `transom` above the door.
    corners
        The four corners of the blank: bottom left, bottom right, top right, top left. The datum
        corner (0, 0) is the bottom left of the least upright rectangle that holds the pane, so that
        no x or y in a drawing is negative where an edge rakes outward.
    outline
        What is left of the blank when steps, projections and fittings are taken out, corners sharp.
    lower
        Lower edge of the outline from left to right, where it steps; empty where it is straight.
    origin
        The datum corner in the room when set as planned: x along the developed glass line, z above
        the datum.
    run
        Straight part of the glass line that it stands in, from 1.
    shifts
        How far it stands off its glass line at its left and its right edge, mm, + into the shower;
        other than 0 only at a corner.
    hinge_side, hung_on
        For a door, as seen from outside; None for a fixed pane.
    hinge_heights
        Hinge centres above the datum corner, lowest first: on the door and on what carries it.
    mass_kg, area, centroid
        By nominal thickness, holes and cut-outs taken out; mass by the mean of both faces.

    """

    id: str
    kind: PaneKind
    corners: tuple[Point, Point, Point, Point]
    holes: tuple[Hole, ...]
    notches: tuple[Notch, ...]
    thickness: float
    origin: Point
    hinge_side: Side | None
    hung_on: HungOn | None
    hinge_heights: tuple[float, ...]
    edges: tuple[Edge, ...]
    chains: tuple[Chain, ...]
    area: float
    centroid: Point
    mass_kg: float
    outline: Outline
    run: int = 1
    shifts: tuple[float, float] = (0.0, 0.0)
    lower: Outline = ()

    @property
    def width_bottom(self) -> float:
        """Width of the blank along the bottom, mm."""
        return self.corners[1][0] - self.corners[0][0]

    @property
    def width_top(self) -> float:
        """Width along the top, mm."""
        return self.corners[2][0] - self.corners[3][0]

    @property
    def height_left(self) -> float:
        """Height of the left edge of the blank, measured upright, mm."""
        return self.corners[3][1] - self.corners[0][1]

    @property
    def height_right(self) -> float:
        """Height of the right edge of the blank, measured upright, mm."""
        return self.corners[2][1] - self.corners[1][1]

    def edge(self, where: Where) -> Edge:
        """Return the edge on that side."""
        return next(e for e in self.edges if e.where == where)

    def bevel(self, where: Where) -> float:
        """Bevel of an edge, rad; 0 where it is square or the pane has no such edge."""
        return next((e.bevel for e in self.edges if e.where == where), 0.0)

    @property
    def bevelled(self) -> bool:
        """Whether its two faces differ: an edge is mitred."""
        return any(e.bevel for e in self.edges)

    @property
    def inside_corners(self) -> tuple[Point, Point, Point, Point]:
        """Corners of the face toward the shower, in the same axes as `corners`."""
        left = self.thickness * math.tan(self.bevel("left"))
        right = self.thickness * math.tan(self.bevel("right"))
        bl, br, tr, tl = self.corners
        return (
            (bl[0] + left, bl[1]),
            (br[0] - right, br[1]),
            (tr[0] - right, tr[1]),
            (tl[0] + left, tl[1]),
        )

    @property
    def steps(self) -> tuple[Notch, ...]:
        """Cut-outs where its foot steps over what stands below."""
        return tuple(n for n in self.notches if n.of == "step")


@dataclass(frozen=True, slots=True, kw_only=True)
class Gap:
    """The gap of a joint at one place.

    Attributes
    ----------
    at
        Height above the datum for upright joints, x along the glass line for level ones, mm.
    predicted
        Gap when set as planned, with its standard deviation from survey, plant and setting, mm.
    least, usual, most
        Working range of the hardware there, mm.
    at_fitting
        A plate, clamp or hinge sits here.

    """

    at: float
    predicted: Estimate
    least: float
    usual: float
    most: float
    at_fitting: bool = False

    @property
    def margin(self) -> float:
        """Distance to the nearer end of the range, mm; negative where it does not fit."""
        return min(self.predicted.value - self.least, self.most - self.predicted.value)


@dataclass(frozen=True, slots=True, kw_only=True)
class Corner:
    """Where the glass line turns, and how the two panes meet there.

    Attributes
    ----------
    number
        From 1, from left to right.
    angle
        Inside angle as estimated, rad; pi less this is the turn.
    way
        Toward the shower going from left to right (`in`), or away from it.
    joint
        `butt`: the edge of one faces the face of the other. `mitre`: both edges bevelled. `clamp`,
        `hinge`: both edges square, held there, gap between the arrises that are nearest.
    laps
        Butt: id of the pane that runs past and covers the other's edge. None otherwise.
    flush
        How far the panes are out of flush as set, mm: butt: the edge that laps past the outer
        arris of the other, - where it ends short of it; else the arrises across the joint.

    """

    number: int
    angle: float
    way: Literal["in", "out"]
    joint: CornerJoint
    laps: str | None
    flush: float = 0.0

    @property
    def turn(self) -> float:
        """How far the glass line turns, rad, + toward the shower."""
        size = math.pi - self.angle
        return size if self.way == "in" else -size


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """Where a lite meets a wall, another lite, what is below or above, or a step's riser.

    Attributes
    ----------
    between
        Left and right of it; or the pane and what it stands on (`curb`, the name of a step) or
        meets above (`ceiling`), or the door and its transom.
    corner
        The corner of the glass line that it lies in; None in a straight run. `kind` says as
        everywhere what is in the joint: `hinge`, `clamp`, `strike`, `silicone`.
    level
        It runs along an edge that is level or nearly: below, above, under a transom.

    """

    id: str
    kind: JointKind
    between: tuple[str, str]
    hardware: str
    gaps: tuple[Gap, ...]
    corner: Corner | None = None
    level: bool = False

    @property
    def upright(self) -> bool:
        """Whether the joint runs up rather than along the curb or the ceiling."""
        return not self.level and "curb" not in self.between


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """A straight part of the glass line and where it lies in plan.

    Attributes
    ----------
    number
        From 1, from left to right.
    start, end
        Its ends along the developed glass line (middle of the glass), mm.
    origin
        Its start in plan, mm: x along the front run from that run's left end, y into the shower.
    heading
        Direction in plan, rad from x toward y; 0 for the front run.

    """

    number: int
    start: float
    end: float
    origin: Point
    heading: float

    def plan(self, x: float, off: float = 0.0) -> Point:
        """Where a place along the line lies in plan, `off` mm from the line into the shower."""
        cos, sin = math.cos(self.heading), math.sin(self.heading)
        along = x - self.start
        x0, y0 = self.origin
        return x0 + along * cos - off * sin, y0 + along * sin + off * cos

    def across(self, point: Point) -> Point:
        """Where a place in plan lies: x along the developed line, and how far off into the shower.

        The way back from `plan`.
        """
        cos, sin = math.cos(self.heading), math.sin(self.heading)
        x, y = point[0] - self.origin[0], point[1] - self.origin[1]
        return self.start + x * cos + y * sin, y * cos - x * sin


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """A header or a support bar, placed and cut to length.

    Attributes
    ----------
    id
        `bar 1`, `bar 2` as wanted.
    hardware
        Id of the fitting.
    holds, to
        Pane that it holds, and what it is fixed to: `left wall`, `ceiling`, a pane.
    ends
        Middle of the bar where it leaves the pane and where it meets the other end.
    length
        What is cut: from end to end less what the end fittings take; the chain says how, mm.

    """

    id: str
    kind: Literal["header", "support"]
    hardware: str
    run: int
    holds: str
    to: str
    ends: tuple[Place, Place]
    length: Estimate
    chain: Chain


@dataclass(frozen=True, slots=True, kw_only=True)
class Margin:
    """The least margin of all gaps.

    Attributes
    ----------
    sigmas
        In standard deviations of that gap; infinite where it is exact.
    mm
        In mm; zero fits exactly, negative does not.
    joint, at
        Which joint, and where on it.

    """

    sigmas: float
    mm: float
    joint: str
    at: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """What the wishes left open and this alternative decides.

    Attributes
    ----------
    order
        Kinds of the panes from left to right.
    hinge_side, hung_on
        Of the first door.
    mirrored
        The row is built left for right of how it was written down.
    second
        Hinge side of the second of two doors, and what it hangs on.
    split
        Names of the steps above whose riser a pane was made into two, so that none is notched.

    """

    order: tuple[str, ...]
    hinge_side: Side | None
    hung_on: HungOn | None
    thickness: float
    cut: Literal["raked", "square", "boxed"]
    mirrored: bool = False
    second: tuple[Side, HungOn] | None = None
    split: tuple[str, ...] = ()

    def __str__(self) -> str:
        """Say it as a person would: `door, fixed; hinges left on the wall; 10 mm; raked`."""
        row = join(", ", self.order)
        return join(
            "; ", (row, *self._hinges(), glass_said(self.thickness), self.cut, *self.parted)
        )

    def _hinges(self) -> Iterator[str]:
        if self.second and self.hinge_side:
            yield phrase(
                "hinges {side} on {on} and {second} on {other}",
                side=self.hinge_side,
                on=f"the {self.hung_on}",
                second=self.second[0],
                other=f"the {self.second[1]}",
            )
        elif self.hinge_side:
            yield phrase("hinges {side} on {on}", side=self.hinge_side, on=f"the {self.hung_on}")

    @property
    def parted(self) -> tuple[str, ...]:
        """At which steps a pane is made into two, in words; empty where none is."""
        if not self.split:
            return ()
        places = [phrase("the {name}", name=step) for step in self.split]
        first = places[0]
        for place in places[1:]:
            first = phrase("{head} and {tail}", head=first, tail=place)
        return (phrase("two panes at {places}", places=first),)


@dataclass(frozen=True, slots=True, kw_only=True)
class Enclosure:
    """Panes and joints that go in as planned.

    Attributes
    ----------
    lites
        From left to right, then transoms.
    runs
        The glass line folded into plan, from left to right; one where nothing turns.

    """

    choice: Choice
    lites: tuple[Lite, ...]
    joints: tuple[Joint, ...]
    margin: Margin
    runs: tuple[Run, ...] = ()
    bars: tuple[Bar, ...] = ()

    def lite(self, lite_id: str) -> Lite:
        """Return the pane of that id."""
        return next(p for p in self.lites if p.id == lite_id)

    @property
    def door(self) -> Lite | None:
        """The door, or the first of two; None if there is none."""
        return next(iter(self.doors), None)

    @property
    def doors(self) -> tuple[Lite, ...]:
        """All doors from left to right."""
        return tuple(p for p in self.lites if p.kind == "door")

    @property
    def corners(self) -> tuple[Joint, ...]:
        """Joints where the glass line turns, from left to right."""
        return tuple(j for j in self.joints if j.corner)

    def run(self, number: int) -> Run:
        """Return a straight part of the glass line, from 1."""
        return next(r for r in self.runs if r.number == number)


@dataclass(frozen=True, slots=True, kw_only=True)
class Clash:
    """One of the requirements that cannot all be met, in words, and where it is."""

    requirement: str
    joint: str
    at: float


@dataclass(frozen=True, slots=True, kw_only=True)
class NoFit:
    """No panes or no position satisfies every joint.

    Attributes
    ----------
    missing
        mm that the worst requirement lacks when all are stretched alike.
    clashes
        A least set of requirements that contradict each other.
    why
        One sentence for a person.

    """

    choice: Choice
    missing: float
    clashes: tuple[Clash, ...]
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Alternative:
    """One way to build what was asked for.

    Attributes
    ----------
    made
        The enclosure, or why it does not go in.
    squared
        The same cut square, with the gaps it would show; None where `made` is square or boxed.

    """

    made: Enclosure | NoFit
    squared: Enclosure | NoFit | None = None

    @property
    def choice(self) -> Choice:
        """What this alternative decides of what was left open."""
        return self.made.choice
