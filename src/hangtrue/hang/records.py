"""What two people work from on the day: holes, templates, pieces, shims, settings and lists."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from hangtrue.estimate import Estimate
from hangtrue.geometry import Outline, Point
from hangtrue.hang.shop import Bit

LineRole = Literal["level", "plumb", "check bar", "check diagonal", "fold", "edge", "glass line"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Snag:
    """Something that must be seen to before or at the work.

    Attributes
    ----------
    where
        Place in words: `left wall`, `hole W3`, `channel, fixed 1`.
    wrong, do
        What is wrong and what to do about it.
    stops
        The work named cannot be done as planned; otherwise it is a thing to look at.

    """

    where: str
    wrong: str
    do: str
    stops: bool = False

    def __str__(self) -> str:
        """Write it in one line."""
        return f"{self.where}: {self.wrong}; {self.do}"


# -------------------------------------------------------------------------------------- holes


@dataclass(frozen=True, slots=True, kw_only=True)
class Pass:
    """One layer that a hole goes through, from the face inward.

    Attributes
    ----------
    layer
        As written in the job, or `solid wood`.
    start, end
        Depths from the face, mm.
    bit
        None where the shop has none for it: then a snag says so.
    how
        How it is drilled, in words.

    """

    layer: str
    start: float
    end: float
    bit: Bit | None
    how: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DrillHole:
    """One hole in a wall, a curb, a step's cap or a ceiling.

    Attributes
    ----------
    id
        `W1` on a wall, `C1` in what the glass stands on, `T1` overhead.
    fitting, part
        Id of the fitting, and which one in words: `hinge 1 of door`.
    surface
        `left wall`, `curb`, the name of a step, `ceiling`.
    height
        Above the highest curb point, mm, with how well that is known.
    above_datum
        The same above the job's datum, mm.
    along
        x along the developed glass line, mm.
    off
        From the glass line, mm, + into the shower.
    passes
        From the face inward; none where the wall's layers are not known.
    depth
        Where the stop is set for the last bit, from the face, mm.
    shifted
        How far it was moved along its surface from where it was first planned, mm.
    flags
        What to look at here, in words.

    """

    id: str
    fitting: str
    part: str
    surface: str
    height: Estimate
    above_datum: float
    along: float
    off: float
    passes: tuple[Pass, ...]
    depth: float
    screw: str
    screw_length: float
    fixing: str
    torque: str
    behind: str
    sleeve: bool = False
    anchor: str = ""
    shifted: float = 0.0
    flags: tuple[str, ...] = ()

    @property
    def bits(self) -> tuple[Bit, ...]:
        """Bits in the order of use, each once."""
        return tuple(dict.fromkeys(p.bit for p in self.passes if p.bit))


@dataclass(frozen=True, slots=True, kw_only=True)
class Moved:
    """A fitting whose place was changed so that its holes come clear.

    Attributes
    ----------
    planned, placed
        Height (or x along the curb) of its centre above the datum, mm.
    in_glass
        The pane's cut-outs or holes move with it: the pane must be ordered so.

    """

    part: str
    surface: str
    planned: float
    placed: float
    in_glass: bool

    @property
    def by(self) -> float:
        """How far, mm, + up or right."""
        return self.placed - self.planned


@dataclass(frozen=True, slots=True, kw_only=True)
class DrillPlan:
    """All holes of one enclosure, and what is fixed without any."""

    holes: tuple[DrillHole, ...]
    moved: tuple[Moved, ...]
    bedded: tuple[str, ...]

    def on(self, surface: str) -> tuple[DrillHole, ...]:
        """Holes of one surface, lowest or leftmost first."""
        return tuple(h for h in self.holes if h.surface == surface)

    @property
    def surfaces(self) -> tuple[str, ...]:
        """Surfaces that are drilled, in order."""
        return tuple(dict.fromkeys(h.surface for h in self.holes))


# ---------------------------------------------------------------------------------- templates


@dataclass(frozen=True, slots=True, kw_only=True)
class Ring:
    """An outline at true size; `bulges` as in the drawings: 0 straight, + an arc turning left."""

    points: Outline
    bulges: tuple[float, ...] = ()
    closed: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Drill:
    """A hole on a template: centre and diameter, mm, and what it is."""

    centre: Point
    diameter: float
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class GuideLine:
    """A line to set the template by, or to measure it by."""

    start: Point
    end: Point
    role: LineRole
    words: str = ""

    @property
    def length(self) -> float:
        """Length, mm."""
        return math.dist(self.start, self.end)


@dataclass(frozen=True, slots=True, kw_only=True)
class Template:
    """A sheet at 1:1 to hold against the wall or the glass.

    Attributes
    ----------
    size
        Width and height, mm; all geometry lies within (0, 0) and this.
    faces
        Which side goes where: `printed side to you, back to the wall`.

    """

    id: str
    title: str
    size: Point
    rings: tuple[Ring, ...]
    drills: tuple[Drill, ...]
    lines: tuple[GuideLine, ...]
    faces: str
    notes: tuple[str, ...] = ()

    def line(self, role: LineRole) -> GuideLine:
        """Return the first line of a role."""
        return next(g for g in self.lines if g.role == role)


@dataclass(frozen=True, slots=True, kw_only=True)
class TemplatePage:
    """One sheet of paper of a tiled template.

    Attributes
    ----------
    number, of, row, column
        Pages from 1; rows from the bottom, columns from the left, from 0.
    window
        Part of the template on this page: left, bottom, right, top; mm of the template.
    at
        Where the lower left corner of the window lies on the paper, mm from its lower left.
    marks
        Overlap marks: crosses in template mm that two neighbouring pages share.

    """

    template: str
    number: int
    of: int
    row: int
    column: int
    window: tuple[float, float, float, float]
    at: Point
    marks: tuple[Point, ...]

    def on_paper(self, point: Point) -> Point:
        """Where a point of the template lies on this sheet of paper, mm from its lower left."""
        return point[0] - self.window[0] + self.at[0], point[1] - self.window[1] + self.at[1]


# ----------------------------------------------------------------------------------- cut list


@dataclass(frozen=True, slots=True, kw_only=True)
class EndCut:
    """One end of a piece: angle from square, rad, and where its longer side is, in words."""

    angle_rad: float = 0.0
    words: str = "square"


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceCut:
    """A notch or a gap cut out along a piece: from and to, mm from its first end, and why."""

    start: float
    end: float
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPiece:
    """One length to cut.

    Attributes
    ----------
    id
        Unique within its job.
    sort
        Which stock it comes from: `channel`, `sweep`, `strike seal`, `hinge strip`, `bar`, `block`.
    item
        Id of the fitting; pieces of one sort and item share stock.
    length
        Along its longer side, mm, with how well it is known: cut the last bit to fit.
    ends
        Lower (or left) end, then upper (or right) end.

    """

    job: str
    id: str
    sort: str
    item: str
    title: str
    length: Estimate
    ends: tuple[EndCut, EndCut] = (EndCut(), EndCut())
    cuts: tuple[PieceCut, ...] = ()
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class StockLength:
    """A length to cut from: how many there are (None: as many as are bought), and its cost.

    Attributes
    ----------
    cost
        In mm of new stock: its length when bought, less when it already lies on the shelf.

    """

    length: float
    cost: float
    count: int | None = None
    shelf: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class CutBar:
    """One stock length and what is cut from it, in order; `rest` is what is left, mm."""

    stock: StockLength
    pieces: tuple[tuple[str, float], ...]
    rest: float
    kept: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class CuttingPlan:
    """How a list of pieces comes out of stock lengths.

    Attributes
    ----------
    cost
        Of the bars used, in mm of new stock.
    bound
        No plan can cost less, mm of new stock.
    snags
        Pieces that no stock length holds.

    """

    bars: tuple[CutBar, ...]
    cost: float
    bound: float
    snags: tuple[Snag, ...] = ()

    @property
    def gap(self) -> float:
        """Share by which the plan may be above the best there is; 0 is proven best."""
        return (self.cost - self.bound) / self.bound if self.bound else 0.0

    @property
    def offcuts(self) -> tuple[float, ...]:
        """Rests worth keeping on the shelf for next jobs, longest first, mm."""
        return tuple(sorted((b.rest for b in self.bars if b.kept), reverse=True))

    def buy(self) -> tuple[tuple[float, int], ...]:
        """New lengths to buy: length in mm and how many."""
        new = [b.stock.length for b in self.bars if not b.stock.shelf]
        return tuple((length, new.count(length)) for length in sorted(set(new)))


@dataclass(frozen=True, slots=True, kw_only=True)
class StockPlan:
    """The cutting plan of one sort of stock."""

    sort: str
    item: str
    plan: CuttingPlan


# --------------------------------------------------------------------------- shims and setting


@dataclass(frozen=True, slots=True, kw_only=True)
class Shim:
    """Packing behind one plate or fixing, from the wall out.

    Attributes
    ----------
    at
        Height above the datum, or x along the curb, mm.
    distance
        From the wall's face to the line that is to come straight, before packing, mm.
    pieces
        Sizes used, thickest first, mm.

    """

    part: str
    surface: str
    at: float
    distance: float
    pieces: tuple[float, ...]

    @property
    def thickness(self) -> float:
        """Sum of the pieces, mm."""
        return math.fsum(self.pieces)

    @property
    def left(self) -> float:
        """What remains between the packing and the line, mm; alike along a good line."""
        return self.distance - self.thickness


@dataclass(frozen=True, slots=True, kw_only=True)
class Packing:
    """The shims along one line: a hinge axis, a channel.

    Attributes
    ----------
    within
        How far from straight the line may stay, mm.

    """

    id: str
    shims: tuple[Shim, ...]
    within: float

    @property
    def uneven(self) -> float:
        """Spread of what remains, mm: how far from straight the line comes."""
        left = [s.left for s in self.shims]
        return max(left) - min(left) if left else 0.0

    @property
    def pieces(self) -> int:
        """How many pieces of packing."""
        return sum(len(s.pieces) for s in self.shims)


@dataclass(frozen=True, slots=True, kw_only=True)
class Target:
    """The gap to set at one place of a joint.

    Attributes
    ----------
    place
        `bottom`, `middle`, `top`; `left`, `middle`, `right` for level joints.
    gap
        To be set, mm.
    least, most
        Anything between still closes or holds, mm.

    """

    place: str
    at: float
    gap: Estimate
    least: float
    most: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ChannelBite:
    """How deep glass sits in a channel at one place.

    Attributes
    ----------
    bite
        Glass between the lips, mm.
    floor
        Left between the glass and the channel's floor, mm.

    """

    place: str
    at: float
    bite: float
    floor: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """How one joint is set on the day.

    Attributes
    ----------
    bites
        For a channel, at bottom, middle and top; else empty.
    mark
        For a channel: a line on the glass this far from its edge must stay inside the lips; past
        it the glass must not be drawn out. None where there is no channel.
    draw_out
        How far it may still be drawn out from where it is set before the mark shows, mm.

    """

    joint: str
    kind: str
    between: tuple[str, str]
    targets: tuple[Target, ...]
    bites: tuple[ChannelBite, ...] = ()
    mark: float | None = None
    draw_out: float | None = None


# -------------------------------------------------------------------------------------- lists


@dataclass(frozen=True, slots=True, kw_only=True)
class ListLine:
    """One line of the hardware and consumables list.

    Attributes
    ----------
    how
        How the quantity was come by, in words.

    """

    group: Literal["hardware", "fixings", "consumables", "tools"]
    what: str
    quantity: float
    unit: str
    how: str
    item: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlantTotals:
    """What the plant is asked for, all panes together: mm2, kg, mm of edge, counts."""

    panes: int
    area: float
    mass_kg: float
    edge: float
    holes: int
    cut_outs: int


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckSize:
    """One size to measure when a pane arrives, mm; `tolerance` is plus or minus."""

    what: str
    size: float
    tolerance: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Receiving:
    """What to look at on one pane before it travels."""

    pane: str
    sizes: tuple[CheckSize, ...]
    looks: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class HangPlan:
    """Everything to drill, cut, pack, set and bring for one enclosure."""

    drilling: DrillPlan
    templates: tuple[Template, ...]
    pieces: tuple[CutPiece, ...]
    cutting: tuple[StockPlan, ...]
    packings: tuple[Packing, ...]
    settings: tuple[Setting, ...]
    hardware: tuple[ListLine, ...]
    plant: PlantTotals
    receiving: tuple[Receiving, ...]
    snags: tuple[Snag, ...]

    @property
    def stops(self) -> bool:
        """Whether something named cannot be done as planned."""
        return any(snag.stops for snag in self.snags)


@dataclass(frozen=True, slots=True, kw_only=True)
class NothingToHang:
    """There is no enclosure to hang, and why."""

    why: str


def stops_first(snags: Iterable[Snag]) -> tuple[Snag, ...]:
    """Return each snag once, those that stop the work first."""
    return tuple(sorted(dict.fromkeys(snags), key=lambda s: not s.stops))
