"""What can be moved of hung glass, how far, and what is at hand to pack it with.

Everything moves rigid panes; a door goes with the pane that carries it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from itertools import combinations_with_replacement
from typing import Literal

import numpy as np

from hangtrue.fit.enclosure import Enclosure, Joint, Lite
from hangtrue.hang.asbuilt import AsBuilt
from hangtrue.hang.asbuilt_document import AsBuiltDocument
from hangtrue.hang.rigid import Bodies, Vector, foot, planned
from hangtrue.hang.shop import Shop
from hangtrue.job.brief import Brief
from hangtrue.job.hardware import Hinge
from hangtrue.tables import Table, table

Kind = Literal["packing", "slide", "lift", "shift", "block"]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Way:
    """Something that can be moved.

    Attributes
    ----------
    kind
        `packing` behind a hinge plate (+ away from the wall), `slide` of the glass in a loosened
        hinge (+ right), `lift` of a door in its hinges, `shift` of a pane in its channels (+
        right), `block` under a foot (+ thicker).
    place
        `lower plate`, `upper plate`, `left block`, `right block`; empty for the whole pane.
    motion
        (n,) motion of all panes for 1 mm of it.
    least, most
        How far it goes from where it is, mm.
    stock
        Amounts that can be laid up, mm, rising; empty where any amount can be had.

    """

    kind: Kind
    pane: str
    joint: str
    place: str
    motion: Vector
    least: float
    most: float
    stock: tuple[float, ...] = ()


def ways(
    brief: Brief, enclosure: Enclosure, found: AsBuilt, shop: Shop, doc: AsBuiltDocument
) -> Iterator[Way]:
    """Yield everything that can be moved in this enclosure."""
    rigid = found.model.bodies
    for joint in enclosure.joints:
        if joint.kind == "hinge":
            yield from _plates(brief, found, joint, shop, doc)
    for pane in enclosure.lites:
        if pane.kind != "door":
            yield from _still(enclosure, rigid, pane, shop)


def _plates(
    brief: Brief, found: AsBuilt, joint: Joint, shop: Shop, doc: AsBuiltDocument
) -> Iterator[Way]:
    """Packing behind the outer plates on a wall, glass slid and lifted in the hinges."""
    rigid = found.model.bodies
    doors = [pane for pane in rigid.enclosure.doors if pane.id in joint.between]
    places = sorted(gap.at for gap in joint.gaps if gap.at_fitting)
    item = brief.items.get(joint.hardware)
    if not doors or len(places) < 2 or not isinstance(item, Hinge):  # noqa: PLR2004 -- two plates
        return
    door, low, high = doors[0], places[0], places[-1]
    edge = _edge_x(door, joint)
    away = 1.0 if joint.between[1] == door.id else -1.0
    play: Table = table("hang/asbuilt")["play"]
    for name, at, other in (("lower", low, high), ("upper", high, low)):
        turn = -1.0 / (at - other)
        motion = rigid.moved(door.id, (edge, other), (0.0, 0.0), turn)
        place = f"{name} plate"
        if item.mount == "wall" and item.shim_most > 0:
            now = _packed(joint, name, at, item, doc)
            more = float(item.shim_most) - now
            yield Way(
                kind="packing", pane=door.id, joint=joint.id, place=place, motion=away * motion,
                least=-now, most=more, stock=_amounts(sizes_at_hand(shop, doc), -now, more),
            )  # fmt: skip
        slide = float(play["hinge_slide"])
        yield Way(
            kind="slide", pane=door.id, joint=joint.id, place=place, motion=motion,
            least=-slide, most=slide,
        )  # fmt: skip
    yield _lift(found, joint, door, edge)


def _lift(found: AsBuilt, joint: Joint, door: Lite, edge: float) -> Way:
    """Raise or lower a door in its hinges: by their play about where it was to be clamped."""
    rigid = found.model.bodies
    slipped = _slipped(found, joint, door, edge)
    play = float(table("hang/asbuilt")["play"]["hinge_lift"])
    return Way(
        kind="lift",
        pane=door.id,
        joint=joint.id,
        place="",
        motion=rigid.moved(door.id, rigid.centre(door.id), (0.0, 1.0), 0.0),
        least=min(-play - slipped, 0.0),
        most=max(play - slipped, 0.0),
    )


def _slipped(found: AsBuilt, joint: Joint, door: Lite, x: float) -> float:
    """How far the glass stands in its hinges above where it was planned, mm; - where it slipped."""
    rigid, row = found.model.bodies, found.model.bodies.up(door.id, x)
    for end in joint.between:
        if end in rigid.index and end != door.id:
            row = row - rigid.up(end, x)
    return float(row @ found.model.places)


def _edge_x(door: Lite, joint: Joint) -> float:
    """x of the hinge edge of a door, about which it turns."""
    return door.origin[0] + (0.0 if joint.between[1] == door.id else door.width_bottom)


def _packed(joint: Joint, plate: str, at: float, item: Hinge, doc: AsBuiltDocument) -> float:
    """Packing that is behind a plate now: as written, else what the planned gap asks for."""
    for packed in doc.packing:
        if packed.joint == joint.id and packed.plate == plate:
            return float(packed.value)
    plan = planned(joint, at).predicted.value
    return min(max(plan - float(item.gap.usual), 0.0), float(item.shim_most))


def _still(enclosure: Enclosure, rigid: Bodies, pane: Lite, shop: Shop) -> Iterator[Way]:
    """Shift of a pane that stands still and, where it stands on blocks, the blocks."""
    play: Table = table("hang/asbuilt")["play"]
    reach = float(play["still_shift"])
    side = rigid.moved(pane.id, rigid.centre(pane.id), (1.0, 0.0), 0.0)
    yield Way(
        kind="shift", pane=pane.id, joint="", place="",
        motion=side + _with_doors(enclosure, rigid, pane, (1.0, 0.0), rigid.centre(pane.id), 0.0),
        least=-reach, most=reach,
    )  # fmt: skip
    below = foot(enclosure, pane.id)
    if pane.kind != "fixed" or not below:
        return
    x, z = pane.origin
    inset = shop.shares["shims.block_share"] * pane.width_bottom
    left, right = x + inset, x + pane.width_bottom - inset
    most = float(play["block_most"])
    for name, at, other in (("left", left, right), ("right", right, left)):
        turn, under = 1.0 / (at - other), (other, z)
        motion = rigid.moved(pane.id, under, (0.0, 0.0), turn)
        motion = motion + _with_doors(enclosure, rigid, pane, (0.0, 0.0), under, turn)
        yield Way(
            kind="block", pane=pane.id, joint=below[0].id, place=f"{name} block", motion=motion,
            least=-most, most=most, stock=_amounts(block_sizes(shop), -most, most),
        )  # fmt: skip


def _with_doors(
    enclosure: Enclosure,
    rigid: Bodies,
    pane: Lite,
    by: tuple[float, float],
    at: tuple[float, float],
    turn: float,
) -> Vector:
    """Motion of the doors that hang on a pane and go with it; round a corner only up and down."""
    motion = np.zeros(rigid.size)
    for joint in enclosure.joints:
        if joint.kind != "hinge" or pane.id not in joint.between:
            continue
        for door in enclosure.doors:
            if door.id not in joint.between or door.id == pane.id:
                continue
            if door.run == pane.run:
                motion += rigid.moved(door.id, at, by, turn)
            else:
                rise = by[1] + turn * (_edge_x(door, joint) - at[0])
                motion += rigid.moved(door.id, rigid.centre(door.id), (0.0, rise), 0.0)
    return motion


# ----------------------------------------------------------------------------------- laying it up


def sizes_at_hand(shop: Shop, doc: AsBuiltDocument) -> tuple[float, ...]:
    """Shims at hand: those of the document, else the shop's; mm, rising."""
    return tuple(sorted({float(s) for s in doc.shims})) or shop.shims


def block_sizes(shop: Shop) -> tuple[float, ...]:
    """Setting blocks, and shims to lay on them where a block is too much."""
    return tuple(sorted({*shop.blocks, *shop.shims}))


def _amounts(sizes: tuple[float, ...], least: float, most: float) -> tuple[float, ...]:
    """Amounts that pieces at hand make up, taken out or added, within what can be moved."""
    made = {0.0, *(sum(pieces) for pieces in _piles(sizes))}
    both = {*made, *(-a for a in made)}
    return tuple(sorted(a for a in both if least - 1e-6 <= a <= most + 1e-6)) or (0.0,)


@cache
def _piles(sizes: tuple[float, ...]) -> tuple[tuple[float, ...], ...]:
    """All piles of a few pieces, the smallest number of pieces first."""
    most = int(table("hang/asbuilt")["play"]["pieces_most"])
    return tuple(p for n in range(1, most + 1) for p in combinations_with_replacement(sizes, n))


def pieces(amount: float, sizes: tuple[float, ...]) -> tuple[float, ...]:
    """Fewest pieces that come nearest to an amount, thickest first; none for nothing."""
    best = min(((), *_piles(sizes)), key=lambda p: (round(abs(sum(p) - abs(amount)), 3), len(p)))
    return tuple(sorted(best, reverse=True))
