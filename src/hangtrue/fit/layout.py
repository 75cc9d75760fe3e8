"""The row: panes from left to right between two abutments, and the hardware in every joint.

What was wished and what hardware was chosen become one plain list of joints, each with its range of
gap. Nothing after this module knows which layout it is working on.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from hangtrue.fit.enclosure import JointKind
from hangtrue.job.brief import Brief
from hangtrue.job.document import LiteKind, WantedLite
from hangtrue.job.hardware import Channel, Clamp, GapRange, Hinge, Joint, Seal
from hangtrue.job.readings import Side
from hangtrue.tables import table

HungOn = Literal["wall", "glass"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Range:
    """A gap may be anywhere from least to most, and is best at usual; mm."""

    least: float
    usual: float
    most: float

    @property
    def width(self) -> float:
        """How much the joint can take up, mm."""
        return self.most - self.least


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """Fittings along an edge: how many, and the centres of the outer two from the edge's ends.

    Attributes
    ----------
    count
        Number of fittings, at least 1.
    from_end
        mm; where zero, `share` of the edge's length is used instead.

    """

    count: int
    from_end: float = 0.0
    share: float = 0.0

    def places(self, low: float, high: float) -> tuple[float, ...]:
        """Centres of the fittings on an edge from `low` to `high`, evenly spread; mm."""
        if self.count == 1:
            return ((low + high) / 2,)
        inset = self.from_end or self.share * (high - low)
        step = (high - low - 2 * inset) / (self.count - 1)
        return tuple(low + inset + step * i for i in range(self.count))


@dataclass(frozen=True, slots=True, kw_only=True)
class RowJoint:
    """Where a pane of the row meets what is beside or below it.

    Attributes
    ----------
    id
        As in `door to left wall`; the pane further left is named first, a wall or curb last.
    between
        What lies left and right of it (upright), or pane and curb.
    hardware
        Id of the fitting.
    elsewhere
        Range of the gap where no fitting sits.
    at_fitting
        Range at the fittings where it differs: the plates of hinges with their packing.
    fittings, fitting_height
        Where plates and clamps sit (None for channels, seals and open joints) and how long they are
        along the edge, mm.

    """

    id: str
    kind: JointKind
    between: tuple[str, str]
    hardware: str
    elsewhere: Range
    at_fitting: Range | None = None
    fittings: Spread | None = None
    fitting_height: float = 0.0

    @property
    def upright(self) -> bool:
        """Whether the joint runs up rather than along the curb."""
        return self.between[1] != "curb"

    def places(self, low: float, high: float) -> tuple[float, ...]:
        """Centres of the fittings on an edge from `low` to `high`; mm."""
        return self.fittings.places(low, high) if self.fittings else ()

    def range_at(self, *, fitting: bool) -> Range:
        """Range of the gap at a fitting, or away from them."""
        return self.at_fitting if fitting and self.at_fitting else self.elsewhere


@dataclass(frozen=True, slots=True, kw_only=True)
class RowPane:
    """One pane of the row, before it has a size.

    Attributes
    ----------
    wished
        Width that was asked for, mm; None where it is open.
    given
        Width and height of a boxed pane, mm; None where it is made to measure.

    """

    id: str
    kind: LiteKind
    wished: float | None
    given: tuple[float, float] | None
    hinge_side: Side | None = None
    hung_on: HungOn | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """Panes from left to right and their joints.

    Attributes
    ----------
    panes
        n panes, left to right.
    joints
        n + 1 upright joints, left to right; None at a free end.
    below
        n joints with the curb.

    """

    panes: tuple[RowPane, ...]
    joints: tuple[RowJoint | None, ...]
    below: tuple[RowJoint, ...]

    @property
    def closed(self) -> bool:
        """Whether both ends meet a wall."""
        return self.joints[0] is not None and self.joints[-1] is not None

    def meets(self, i: int, side: Side) -> str:
        """Return what pane `i` faces on that side: `left wall`, `fixed 1`, `free`."""
        joint = self.joints[i if side == "left" else i + 1]
        if joint is None:
            return "free"
        return next(end for end in joint.between if end != self.panes[i].id)

    def mirrored(self) -> Row:
        """The same row as seen from inside the shower, with every name kept."""
        other: dict[Side | None, Side | None] = {"left": "right", "right": "left", None: None}
        return Row(
            panes=tuple(
                RowPane(
                    id=p.id, kind=p.kind, wished=p.wished, given=p.given,
                    hinge_side=other[p.hinge_side], hung_on=p.hung_on,
                )
                for p in self.panes[::-1]
            ),
            joints=self.joints[::-1],
            below=self.below[::-1],
        )  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """What the wishes leave open, decided: everything of a choice that changes the row."""

    lites: tuple[WantedLite, ...]
    mirrored: bool
    hinge_side: Side | None
    hung_on: HungOn | None
    given: tuple[tuple[float, float], ...] | None = None

    @property
    def order(self) -> tuple[LiteKind, ...]:
        """Kinds of the panes from left to right."""
        return tuple(lite.kind for lite in self.lites)


@dataclass(frozen=True, slots=True, kw_only=True)
class Fittings:
    """Ids of the hardware of a row: what was chosen, or what a boxed set brings."""

    hinge: str
    wall: str
    curb: str
    strike: str
    sweep: str
    between: str
    handle: str


def fittings(brief: Brief, hung_on: HungOn | None) -> Fittings:
    """Hardware of the row; a boxed set brings its own and leaves the rest as chosen."""
    own = brief.job.hardware
    box = brief.boxed_set
    hinge = own.glass_hinge if hung_on == "glass" else own.hinge
    return Fittings(
        hinge=box.hinge if box else hinge,
        wall=box.wall if box else own.wall,
        strike=box.strike if box else own.strike,
        sweep=box.sweep if box else own.sweep,
        curb=own.curb,
        between=own.between,
        handle="none" if box else own.handle,
    )


def row(brief: Brief, way: Way, hinges: int) -> Row:
    """Lay out the row that a way describes, with that many hinges on the door."""
    panes = _panes(way)
    used = fittings(brief, way.hung_on)
    inner = [_between(brief, used, a, b, hinges) for a, b in pairwise(panes)]
    left = _at_wall(brief, used, panes[0], "left", hinges) if brief.job.walls.left else None
    right = _at_wall(brief, used, panes[-1], "right", hinges) if brief.job.walls.right else None
    return Row(
        panes=panes,
        joints=(left, *inner, right),
        below=tuple(_below(brief, used, pane) for pane in panes),
    )


def names(kinds: tuple[LiteKind, ...]) -> tuple[str, ...]:
    """Ids of panes from left to right: `door`, `fixed 1`, `fixed 2`."""
    return tuple(
        "door" if kind == "door" else f"fixed {kinds[: i + 1].count('fixed')}"
        for i, kind in enumerate(kinds)
    )


def _panes(way: Way) -> tuple[RowPane, ...]:
    sizes = way.given or (None,) * len(way.lites)
    return tuple(
        RowPane(
            id=name,
            kind=lite.kind,
            wished=None if given or lite.width is None else float(lite.width),
            given=given,
            hinge_side=way.hinge_side if lite.kind == "door" else None,
            hung_on=way.hung_on if lite.kind == "door" else None,
        )
        for name, lite, given in zip(names(way.order), way.lites, sizes, strict=True)
    )


def _at_wall(brief: Brief, used: Fittings, pane: RowPane, side: Side, hinges: int) -> RowJoint:
    ends = (f"{side} wall", pane.id) if side == "left" else (pane.id, f"{side} wall")
    name = f"{pane.id} to {side} wall"
    if pane.kind == "fixed":
        return _held(brief, used.wall, name, ends)
    if pane.hinge_side == side:
        return _hinged(brief, used.hinge, name, ends, hinges)
    return _sealed(brief, used.strike, name, ends, "strike")


def _between(brief: Brief, used: Fittings, a: RowPane, b: RowPane, hinges: int) -> RowJoint:
    name, ends = f"{a.id} to {b.id}", (a.id, b.id)
    if a.hinge_side == "right" or b.hinge_side == "left":
        return _hinged(brief, used.hinge, name, ends, hinges)
    if "door" in (a.kind, b.kind):
        return _sealed(brief, used.strike, name, ends, "strike")
    return _held(brief, used.between, name, ends)


def _below(brief: Brief, used: Fittings, pane: RowPane) -> RowJoint:
    name, ends = f"{pane.id} to curb", (pane.id, "curb")
    if pane.kind == "door":
        return _sealed(brief, used.sweep, name, ends, "sweep")
    return _held(brief, used.curb, name, ends)


def _hinged(brief: Brief, item: str, name: str, ends: tuple[str, str], count: int) -> RowJoint:
    hinge = brief.item(item, Hinge)
    plates = _range(hinge.gap)
    return RowJoint(
        id=name,
        kind="hinge",
        between=ends,
        hardware=item,
        elsewhere=_range(hinge.between),
        at_fitting=Range(
            least=plates.least, usual=plates.usual, most=plates.most + float(hinge.shim_most)
        ),
        fittings=Spread(count=count, from_end=brief.profile.limit("hinge-centre-from-end").value),
        fitting_height=float(hinge.plate_height),
    )


def _sealed(
    brief: Brief, item: str, name: str, ends: tuple[str, str], use: Literal["strike", "sweep"]
) -> RowJoint:
    gap = _range(brief.item(item, Seal).gap)
    return RowJoint(id=name, kind=use, between=ends, hardware=item, elsewhere=gap)


def _held(brief: Brief, item: str, name: str, ends: tuple[str, str]) -> RowJoint:
    """Joint of a fixed pane: a channel, clamps, or silicone."""
    held = brief.items[item]
    if isinstance(held, Channel):
        return RowJoint(
            id=name, kind="channel", between=ends, hardware=item, elsewhere=channel_range(held)
        )
    if isinstance(held, Clamp):
        spread = Spread(count=held.count, share=table("fit")["clamps"]["from_end_share"])
        return RowJoint(
            id=name, kind="clamp", between=ends, hardware=item,
            elsewhere=_range(held.gap), fittings=spread, fitting_height=float(held.plate_height),
        )  # fmt: skip
    gap = _range(brief.item(item, Joint).gap)
    return RowJoint(id=name, kind="silicone", between=ends, hardware=item, elsewhere=gap)


def channel_range(channel: Channel) -> Range:
    """Range of the gap from glass to wall in a channel: clear of its floor, and deep enough in.

    Examples
    --------
    A channel 25 mm deep on a base of 2 mm, at least 10 mm of glass in it and 3 mm to its floor:

    >>> from hangtrue.units import Length
    >>> mm = {"depth": 25, "base": 2, "bite_least": 10, "floor_gap_least": 3}
    >>> c = Channel(kind="channel", id="c", title="", **{k: Length(v) for k, v in mm.items()})
    >>> channel_range(c)
    Range(least=5.0, usual=11.0, most=17.0)

    """
    least = float(channel.base + channel.floor_gap_least)
    most = float(channel.base + channel.depth - channel.bite_least)
    return Range(least=least, usual=(least + most) / 2, most=most)


def bite(channel: Channel, gap: float) -> float:
    """How deep the glass sits in a channel, mm, where its edge is `gap` from the wall."""
    return float(channel.base + channel.depth) - gap


def _range(gap: GapRange) -> Range:
    return Range(least=float(gap.least), usual=float(gap.usual), most=float(gap.most))
