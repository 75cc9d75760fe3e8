"""Lay out a row: wishes and chosen hardware become panes and joints, each with its range of gap."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Literal

from hangtrue.fit.enclosure import CornerJoint, HungOn
from hangtrue.fit.rows import Range, Row, RowJoint, RowPane, RowTurn, Spread, Stop
from hangtrue.fit.wording import joint_id
from hangtrue.job.brief import Brief
from hangtrue.job.document import LiteKind, Turn, WantedLite
from hangtrue.job.hardware import Channel, Clamp, GapRange, Hinge, Joint, Seal
from hangtrue.job.readings import Side
from hangtrue.tables import table


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
    name = joint_id(pane.id, f"{side} wall")
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
    name, ends = joint_id(a.id, b.id), (a.id, b.id)
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
    name, ends = joint_id(pane.id, pane.on), (pane.id, pane.on)
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
    held = held_by(brief, item, joint_id(pane, "ceiling"), (pane, "ceiling"))
    return replace(held, level=True)
