"""What two people work from on the day: holes, templates, pieces, shims, settings and lists."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Lite
from hangtrue.hang.cut_records import CutPiece, StockPlan
from hangtrue.hang.shop import Bit
from hangtrue.hang.snags import Snag
from hangtrue.hang.template_records import Template

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
    joint
        Id of the joint or the bar that it holds.
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
    edge
        From its rim to the nearest edge of its tile, mm; None where the joints were not read.
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
    joint: str = ""
    sleeve: bool = False
    anchor: str = ""
    edge: float | None = None
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
    reach
        How far cut-outs of the fitting lie from its centre at most, mm.

    """

    part: str
    fitting: str
    surface: str
    planned: float
    placed: float
    in_glass: bool
    reach: float = 0.0

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

    def of(self, joint: str) -> tuple[DrillHole, ...]:
        """Holes that hold a joint or a bar."""
        return tuple(h for h in self.holes if h.joint == joint)

    def on(self, surface: str) -> tuple[DrillHole, ...]:
        """Holes of one surface, lowest or leftmost first."""
        return tuple(h for h in self.holes if h.surface == surface)

    @property
    def surfaces(self) -> tuple[str, ...]:
        """Surfaces that are drilled, in order."""
        return tuple(dict.fromkeys(h.surface for h in self.holes))


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
    """Everything to drill, cut, pack, set and bring for one enclosure.

    Attributes
    ----------
    panes
        As they must be ordered: as fitted, their cut-outs moved where the holes on site ask for it.
    packings
        Behind hinges and channels, then the setting blocks.

    """

    panes: tuple[Lite, ...]
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
