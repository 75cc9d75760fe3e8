"""The enclosure that was fitted: panes, joints with their gaps, margin; or why there is none."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from hangtrue.estimate import Estimate
from hangtrue.geometry import Outline, Point
from hangtrue.job.readings import Side

Where = Literal["left", "right", "top", "bottom"]
JointKind = Literal["hinge", "channel", "clamp", "strike", "sweep", "silicone", "open"]


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
        What the edge faces: `left wall`, `fixed 1`, `curb`, `free`.

    """

    where: Where
    length: float
    rake: float
    finish: str
    meets: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Hole:
    """A round hole: centre from the datum corner and diameter, mm; `fitting` is what it is for."""

    centre: Point
    diameter: float
    fitting: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Notch:
    """A cut-out in the edge: corners from the datum corner, anticlockwise; inside radius, mm."""

    corners: Outline
    radius: float
    fitting: str


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

    Attributes
    ----------
    id
        `door`, `fixed 1`, `fixed 2`, from left to right.
    corners
        The four corners of the blank: bottom left, bottom right, top right, top left. The datum
        corner (0, 0) is the bottom left of the least upright rectangle that holds the pane, so that
        no x or y in a drawing is negative where an edge rakes outward.
    origin
        The datum corner in the room when set as planned: x along the glass line, z above datum.
    hinge_side, hung_on
        For a door, as seen from outside; None for a fixed pane.
    hinge_heights
        Hinge centres above the datum corner, lowest first: on the door and on what carries it.
    mass_kg, area, centroid
        By nominal thickness, holes and cut-outs taken out.

    """

    id: str
    kind: Literal["door", "fixed"]
    corners: tuple[Point, Point, Point, Point]
    holes: tuple[Hole, ...]
    notches: tuple[Notch, ...]
    thickness: float
    origin: Point
    hinge_side: Side | None
    hung_on: Literal["wall", "glass"] | None
    hinge_heights: tuple[float, ...]
    edges: tuple[Edge, ...]
    chains: tuple[Chain, ...]
    area: float
    centroid: Point
    mass_kg: float
    outline: Outline

    @property
    def width_bottom(self) -> float:
        """Width along the bottom, mm."""
        return self.corners[1][0] - self.corners[0][0]

    @property
    def width_top(self) -> float:
        """Width along the top, mm."""
        return self.corners[2][0] - self.corners[3][0]

    @property
    def height_left(self) -> float:
        """Height of the left edge, measured upright, mm."""
        return self.corners[3][1] - self.corners[0][1]

    @property
    def height_right(self) -> float:
        """Height of the right edge, measured upright, mm."""
        return self.corners[2][1] - self.corners[1][1]


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
class Joint:
    """Where a lite meets a wall, another lite, or the curb."""

    id: str
    kind: JointKind
    between: tuple[str, str]
    hardware: str
    gaps: tuple[Gap, ...]

    @property
    def upright(self) -> bool:
        """Whether the joint runs up rather than along the curb."""
        return "curb" not in self.between


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
    mirrored
        The row is built left for right of how it was written down.

    """

    order: tuple[str, ...]
    hinge_side: Side | None
    hung_on: Literal["wall", "glass"] | None
    thickness: float
    cut: Literal["raked", "square", "boxed"]
    mirrored: bool = False

    def __str__(self) -> str:
        """Say it as a person would: `door, fixed; hinges left on the wall; 9.5 mm; raked`."""
        hinge = f"; hinges {self.hinge_side} on the {self.hung_on}" if self.hinge_side else ""
        return f"{', '.join(self.order)}{hinge}; {self.thickness:g} mm; {self.cut}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Enclosure:
    """Panes and joints that go in as planned."""

    choice: Choice
    lites: tuple[Lite, ...]
    joints: tuple[Joint, ...]
    margin: Margin

    def lite(self, lite_id: str) -> Lite:
        """Return the pane of that id."""
        return next(p for p in self.lites if p.id == lite_id)

    @property
    def door(self) -> Lite | None:
        """The door, if there is one."""
        return next((p for p in self.lites if p.kind == "door"), None)


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
