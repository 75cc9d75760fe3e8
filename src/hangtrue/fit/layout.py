"""The row: panes from left to right between two abutments, and the hardware in every joint.

What was wished and what hardware was chosen become one plain list of joints, each with its range of
gap. Nothing after this module knows which layout it is working on.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Literal

from hangtrue.fit.enclosure import CornerJoint, HungOn, JointKind, PaneKind
from hangtrue.fit.entries import entries
from hangtrue.fit.meeting import Laps
from hangtrue.job.brief import Brief
from hangtrue.job.document import LiteKind, Turn, WantedLite
from hangtrue.job.hardware import Channel, Clamp, GapRange, Hinge, Joint, Seal
from hangtrue.job.readings import Side
from hangtrue.tables import table

OTHER: dict[Side | None, Side | None] = {"left": "right", "right": "left", None: None}
WHOLE = (0.0, 1.0)
"""The whole width of a pane."""


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
class RowTurn:
    """A joint where the glass line turns.

    Attributes
    ----------
    number
        Of the corner, from 1, from left to right in the room.
    laps
        Id of the pane that runs past, in a butt joint.

    """

    number: int
    way: Literal["in", "out"]
    joint: CornerJoint
    laps: str


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
    turn
        How the panes meet where the glass line turns here; None in a straight run.
    scribed
        The edge follows the wall, so that the gap does not depend on its bow.
    level
        It runs along what is below or above.

    """

    id: str
    kind: JointKind
    between: tuple[str, str]
    hardware: str
    elsewhere: Range
    at_fitting: Range | None = None
    fittings: Spread | None = None
    fitting_height: float = 0.0
    turn: RowTurn | None = None
    scribed: bool = False
    level: bool = False

    @property
    def upright(self) -> bool:
        """Whether the joint runs up rather than along what is below or above."""
        return not self.level

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
    asked
        Its id in the wishes; two panes share one where they were made of it.
    run
        Straight part of the glass line that it stands in, from 1, from left to right in the room.
    head
        What its top follows.
    rise
        How far its top left and its top right corner are above the one top line, mm.
    on
        What its foot stands on: the curb, or the cap of a step; the lowest of what is below it.
    leg
        Part of its width that stands there, from its left edge, 0 to 1; the rest steps over what is
        higher.
    lift
        How much higher its left and its right edge start than the foot, mm: over a step.
    past
        How far the face seen from outside runs past the middle of the glass at its left and its
        right edge, mm; other than 0 at a mitre. Heights of corners are of that face.

    """

    id: str
    kind: PaneKind
    wished: float | None
    given: tuple[float, float] | None
    hinge_side: Side | None = None
    hung_on: HungOn | None = None
    asked: str = ""
    run: int = 1
    head: Literal["level", "ceiling", "transom"] = "level"
    rise: tuple[float, float] = (0.0, 0.0)
    on: str = "curb"
    leg: tuple[float, float] = WHOLE
    lift: tuple[float, float] = (0.0, 0.0)
    past: tuple[float, float] = (0.0, 0.0)

    @property
    def outside(self) -> float:
        """How much wider it is on the face seen from outside than in its middle, mm."""
        return self.past[0] + self.past[1]


@dataclass(frozen=True, slots=True, kw_only=True)
class Stop:
    """A pane whose edge ends beside the riser of a step, below a pane that stands on its cap.

    Attributes
    ----------
    pane
        Its number, from 0.
    side
        Which edge of the pane.
    step, riser
        Name of the step, and which of its risers as seen in the room.

    """

    pane: int
    side: Side
    step: str
    riser: Side

    def mirrored(self, panes: int) -> Stop:
        """Return the same in the mirror image of a row of so many panes."""
        other: Side = "left" if self.side == "right" else "right"
        return replace(self, pane=panes - 1 - self.pane, side=other)


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
        n joints with what the panes stand on.
    thickness
        Nominal, mm; it matters where the glass line turns, and is 0 where it does not.
    stops
        Edges that end beside the riser of a step.
    above
        Once tops are cut: n joints with the ceiling, None where a pane does not meet it; else none.

    """

    panes: tuple[RowPane, ...]
    joints: tuple[RowJoint | None, ...]
    below: tuple[RowJoint, ...]
    thickness: float = 0.0
    stops: tuple[Stop, ...] = ()
    above: tuple[RowJoint | None, ...] = ()

    @property
    def entries(self) -> int:
        """Length of the vector of its corners."""
        return entries(len(self.panes), len(self.turns))

    @property
    def turns(self) -> tuple[int, ...]:
        """Upright joints where the glass line turns, by number from 0."""
        return tuple(j for j, joint in enumerate(self.joints) if joint and joint.turn)

    @property
    def runs(self) -> tuple[range, ...]:
        """Panes of each straight part of the glass line, by number from 0, left to right."""
        starts = (0, *self.turns, len(self.panes))
        return tuple(range(low, high) for low, high in pairwise(starts))

    def turn(self, j: int) -> RowTurn:
        """Return how the glass line turns at upright joint `j`."""
        joint = self.joints[j]
        if joint is None or joint.turn is None:
            raise LookupError(j)
        return joint.turn

    def laps(self, j: int) -> Laps:
        """Return which of the two panes at corner joint `j` runs past, in the order of the row."""
        return "before" if self.turn(j).laps == self.panes[j - 1].id else "after"

    def run_of(self, i: int) -> range:
        """Panes of the run that pane `i` stands in."""
        return next(run for run in self.runs if i in run)

    def closed(self, i: int = 0) -> bool:
        """Whether both ends of the run of pane `i` meet something: a wall or a corner."""
        run = self.run_of(i)
        return self.joints[run.start] is not None and self.joints[run.stop] is not None

    @property
    def plain(self) -> bool:
        """Whether it stands in one straight run on the curb with level tops."""
        return not self.turns and all(p.on == "curb" and p.head == "level" for p in self.panes)

    def meets(self, i: int, side: Side) -> str:
        """Return what pane `i` faces on that side: `left wall`, `fixed 1`, `free`."""
        joint = self.joints[i if side == "left" else i + 1]
        if joint is None:
            return "free"
        return next(end for end in joint.between if end != self.panes[i].id)

    def mirrored(self) -> Row:
        """The same row as seen from inside the shower, with every name kept."""
        panes = tuple(
            replace(
                p,
                hinge_side=OTHER[p.hinge_side],
                rise=p.rise[::-1],
                past=p.past[::-1],
                lift=p.lift[::-1],
                leg=(1.0 - p.leg[1], 1.0 - p.leg[0]),
            )
            for p in self.panes[::-1]
        )
        return replace(
            self,
            panes=panes,
            joints=self.joints[::-1],
            below=self.below[::-1],
            above=self.above[::-1],
            stops=tuple(stop.mirrored(len(panes)) for stop in self.stops),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """What the wishes leave open, decided: everything of a choice that changes the row.

    Attributes
    ----------
    hinge_side, hung_on
        Of the first door.
    second
        Of the second door.
    stops
        Where a pane was made into two above the riser of a step.
    asked
        Id that each pane has in the wishes, where panes were made into two; else empty.

    """

    lites: tuple[WantedLite, ...]
    mirrored: bool
    hinge_side: Side | None
    hung_on: HungOn | None
    given: tuple[tuple[float, float], ...] | None = None
    second: tuple[Side, HungOn] | None = None
    stops: tuple[Stop, ...] = ()
    asked: tuple[str, ...] = ()

    @property
    def hangs(self) -> Iterator[tuple[Side | None, HungOn | None]]:
        """Hinge side and what it hangs on, of every pane from left to right."""
        doors = iter([(self.hinge_side, self.hung_on), self.second or (None, None)])
        for lite in self.lites:
            yield next(doors, (None, None)) if lite.kind == "door" else (None, None)

    @property
    def order(self) -> tuple[LiteKind, ...]:
        """Kinds of the panes from left to right."""
        return tuple(lite.kind for lite in self.lites)


@dataclass(frozen=True, slots=True, kw_only=True)
class Fittings:
    """Ids of the hardware of a row: what was chosen, or what a boxed set brings."""

    hinge: str
    glass_hinge: str
    wall: str
    curb: str
    strike: str
    sweep: str
    between: str
    corner: str
    ceiling: str
    transom: str
    handle: str

    def hinge_on(self, hung_on: HungOn | None) -> str:
        """Hinge of a door that hangs on a wall or on glass."""
        return self.glass_hinge if hung_on == "glass" else self.hinge


def fittings(brief: Brief) -> Fittings:
    """Hardware of the row; a boxed set brings its own and leaves the rest as chosen."""
    own = brief.job.hardware
    box = brief.boxed_set
    return Fittings(
        hinge=box.hinge if box else own.hinge,
        glass_hinge=box.hinge if box else own.glass_hinge,
        wall=box.wall if box else own.wall,
        strike=box.strike if box else own.strike,
        sweep=box.sweep if box else own.sweep,
        curb=own.curb,
        between=own.between,
        corner=own.corner,
        ceiling=own.ceiling,
        transom=own.transom,
        handle="none" if box else own.handle,
    )


def row(brief: Brief, way: Way, hinges: int, thickness: float = 0.0) -> Row:
    """Lay out the row that a way describes, with that many hinges on each door.

    Parameters
    ----------
    thickness
        Nominal thickness of its glass, mm; of no account where the glass line is straight.

    """
    panes = _panes(way)
    used = fittings(brief)
    inner = [
        _between(brief, used, a, b, hinges, lite.turn)
        for (a, b), lite in zip(pairwise(panes), way.lites[1:], strict=True)
    ]
    left = _at_wall(brief, used, panes[0], "left", hinges) if brief.job.walls.left else None
    right = _at_wall(brief, used, panes[-1], "right", hinges) if brief.job.walls.right else None
    laid = Row(
        panes=panes,
        joints=(left, *inner, right),
        below=tuple(_below(brief, used, pane) for pane in panes),
        stops=way.stops,
    )
    return replace(laid, thickness=thickness) if laid.turns else laid


def names(kinds: tuple[LiteKind, ...]) -> tuple[str, ...]:
    """Ids of panes from left to right: `door`, `fixed 1`, `fixed 2`; `door 1` where there are two.

    Examples
    --------
    >>> names(("fixed", "door", "fixed"))
    ('fixed 1', 'door', 'fixed 2')

    """
    alone = kinds.count("door") == 1
    return tuple(
        kind if kind == "door" and alone else f"{kind} {kinds[: i + 1].count(kind)}"
        for i, kind in enumerate(kinds)
    )


def _panes(way: Way) -> tuple[RowPane, ...]:
    sizes = way.given or (None,) * len(way.lites)
    runs = [1 + sum(lite.turn is not None for lite in way.lites[1:i]) for i in _counts(way)]
    return tuple(
        RowPane(
            id=name,
            kind=lite.kind,
            wished=None if given or lite.width is None else float(lite.width),
            given=given,
            hinge_side=side,
            hung_on=hung_on,
            run=run,
            head=lite.head,
            asked=asked,
        )
        for name, lite, given, (side, hung_on), run, asked in zip(
            names(way.order),
            way.lites,
            sizes,
            way.hangs,
            runs,
            way.asked or names(way.order),
            strict=True,
        )
    )


def _counts(way: Way) -> range:
    return range(1, len(way.lites) + 1)


def _at_wall(brief: Brief, used: Fittings, pane: RowPane, side: Side, hinges: int) -> RowJoint:
    ends = (f"{side} wall", pane.id) if side == "left" else (pane.id, f"{side} wall")
    name = f"{pane.id} to {side} wall"
    if pane.kind == "fixed":
        wall = brief.job.wall(side)
        held = held_by(brief, used.wall, name, ends)
        return replace(held, scribed=wall is not None and wall.edge == "scribed")
    if pane.hinge_side == side:
        return _hinged(brief, used.hinge_on("wall"), name, ends, hinges)
    return _sealed(brief, used.strike, name, ends, "strike")


def _between(
    brief: Brief, used: Fittings, a: RowPane, b: RowPane, hinges: int, turn: Turn | None
) -> RowJoint:
    name, ends = f"{a.id} to {b.id}", (a.id, b.id)
    hinged = a.hinge_side == "right" or b.hinge_side == "left"
    if hinged:
        joint = _hinged(brief, used.hinge_on("glass"), name, ends, hinges)
    elif "door" in (a.kind, b.kind):
        joint = _sealed(brief, used.strike, name, ends, "strike")
    else:
        joint = held_by(brief, used.corner if turn else used.between, name, ends)
    if turn is None:
        return joint
    return replace(joint, turn=_turn(a, b, turn, hinged=hinged))


def _turn(a: RowPane, b: RowPane, turn: Turn, *, hinged: bool) -> RowTurn:
    """How two panes meet: on hinges where a door hangs there, whatever else was asked for."""
    asked: CornerJoint = "clamp" if turn.joint == "hinge" else turn.joint
    return RowTurn(
        number=a.run,
        way=turn.way,
        joint="hinge" if hinged else asked,
        laps=a.id if turn.laps == "before" else b.id,
    )


def _below(brief: Brief, used: Fittings, pane: RowPane) -> RowJoint:
    name, ends = f"{pane.id} to {pane.on}", (pane.id, pane.on)
    if pane.kind == "door":
        joint = _sealed(brief, used.sweep, name, ends, "sweep")
    else:
        joint = held_by(brief, used.curb, name, ends)
    return replace(joint, level=True)


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


def held_by(brief: Brief, item: str, name: str, ends: tuple[str, str]) -> RowJoint:
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


def to_ceiling(brief: Brief, pane: RowPane) -> RowJoint:
    """Joint of a pane that ends at the ceiling."""
    return above_of(brief, pane.id, brief.job.hardware.ceiling)


def above_of(brief: Brief, pane: str, item: str) -> RowJoint:
    """Joint of the top of a pane with the ceiling, held or open as a fitting says."""
    held = held_by(brief, item, f"{pane} to ceiling", (pane, "ceiling"))
    return replace(held, level=True)
