"""What to move so that gaps come right: which plate, block or pane, which way, how much, and then.

Every adjustment moves rigid panes; the fewest that do it are looked for, packing and blocks in
thicknesses that can be laid up from what is at hand. The result is predicted before it is tried.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache
from itertools import combinations_with_replacement
from typing import Literal

import numpy as np
from scipy.optimize import lsq_linear

from hangtrue.fit.enclosure import Enclosure, Gap, Joint, Lite
from hangtrue.hang.asbuilt import AsBuilt, Matrix, out_of_range, uneven
from hangtrue.hang.asbuilt_document import AsBuiltDocument, ends
from hangtrue.hang.rigid import Bodies, Vector, foot, planned
from hangtrue.hang.shop import Shop
from hangtrue.job.brief import Brief
from hangtrue.job.hardware import Hinge
from hangtrue.tables import Table, table

Kind = Literal["packing", "slide", "lift", "shift", "block"]
NOTHING = 0.05
"""An adjustment under this is none, mm."""
OUT_COUNTS = 25.0
"""What a gap out of its range weighs against one that is only off its target."""


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


@dataclass(frozen=True, slots=True, kw_only=True)
class Adjustment:
    """One thing to move, and how much.

    Attributes
    ----------
    amount
        mm, signed as its kind says.
    pieces
        Shims or blocks to add (amount > 0) or to take out, thickest first, mm.

    """

    kind: Kind
    pane: str
    joint: str
    place: str
    amount: float
    pieces: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Foreseen:
    """One gap now and after the adjustments, mm; `read` where it was read, else reckoned."""

    joint: str
    plan: Gap
    now: float
    then: float
    read: bool

    @property
    def out_by(self) -> float:
        """How far it will be out of its range, mm; 0 in range."""
        return out_of_range(self.then, self.plan)


@dataclass(frozen=True, slots=True, kw_only=True)
class Cure:
    """What to adjust and what will come of it.

    Attributes
    ----------
    needed
        Something is out of range or uneven, so that something ought to be done.
    gaps
        Every gap read, and bottom, middle and top of every joint, before and after.
    uneven
        Joints whose gap will still grow too much, and by how much, mm.

    """

    needed: bool
    adjustments: tuple[Adjustment, ...]
    gaps: tuple[Foreseen, ...]
    uneven: dict[str, float]

    @property
    def left(self) -> tuple[Foreseen, ...]:
        """Gaps that will still be out of range, worst first."""
        return tuple(sorted((g for g in self.gaps if g.out_by), key=lambda g: -abs(g.out_by)))

    @property
    def settles(self) -> bool:
        """Everything will be in range and even."""
        return not self.left and not self.uneven


def cure(
    brief: Brief, enclosure: Enclosure, found: AsBuilt, shop: Shop, doc: AsBuiltDocument
) -> Cure:
    """Find the fewest adjustments that bring the gaps right, and foresee every gap.

    Parameters
    ----------
    found
        Where the panes stand.
    shop
        Shims and blocks at hand; those of the document come first.
    doc
        What was read, for the packing in place.

    """
    gaps = foreseen(enclosure, found)
    bad = _bad(gaps, found.even_within)
    if not bad:
        return Cure(needed=False, adjustments=(), gaps=gaps, uneven={})
    ways = tuple(_ways(brief, enclosure, found, shop, doc))
    rows = np.array([_row(enclosure, found, g) for g in gaps])
    chosen, amounts = _chosen(ways, rows, gaps)
    moved = sum(
        (a * w.motion for w, a in zip(chosen, amounts, strict=True)), np.zeros(rows.shape[1])
    )
    then = after(gaps, rows @ moved)
    made = tuple(
        _adjustment(way, amount, shop, doc) for way, amount in zip(chosen, amounts, strict=True)
    )
    return Cure(
        needed=True,
        adjustments=tuple(a for a in made if abs(a.amount) >= NOTHING),
        gaps=then,
        uneven=_uneven(then, found.even_within),
    )


def foreseen(enclosure: Enclosure, found: AsBuilt) -> tuple[Foreseen, ...]:
    """Return every gap as it is now: as read, or as the places of the panes make it."""
    read = [
        Foreseen(
            joint=g.joint,
            plan=g.plan,
            now=g.explained if g.stands_out else g.value,
            then=g.explained if g.stands_out else g.value,
            read=not g.stands_out,
        )
        for g in found.gaps
    ]
    seen = {(g.joint, round(g.plan.at)) for g in read}
    reckoned = [
        _reckoned(found, joint, at)
        for joint in enclosure.joints
        for at in (ends(joint)[0], sum(ends(joint)) / 2, ends(joint)[1])
        if (joint.id, round(at)) not in seen
    ]
    return (*read, *reckoned)


def after(gaps: Sequence[Foreseen], change: Vector) -> tuple[Foreseen, ...]:
    """Return gaps with what they change by, mm."""
    return tuple(replace(g, then=g.now + float(c)) for g, c in zip(gaps, change, strict=True))


def _reckoned(found: AsBuilt, joint: Joint, at: float) -> Foreseen:
    plan = planned(joint, at)
    moved = float(found.model.bodies.gap(joint, at) @ found.model.places)
    now = plan.predicted.value + moved
    return Foreseen(joint=joint.id, plan=plan, now=now, then=now, read=False)


def _row(enclosure: Enclosure, found: AsBuilt, gap: Foreseen) -> Vector:
    joint = next(j for j in enclosure.joints if j.id == gap.joint)
    return found.model.bodies.gap(joint, gap.plan.at)


def _bad(gaps: Sequence[Foreseen], even_within: float) -> bool:
    """Whether anything that was read is out of range or uneven."""
    read = [g for g in gaps if g.read]
    return any(g.out_by for g in read) or bool(_uneven(read, even_within))


def _uneven(gaps: Sequence[Foreseen], within: float) -> dict[str, float]:
    """Joints that were read and grow by more than was planned and is allowed."""
    read = {g.joint for g in gaps if g.read}
    grown = uneven([(g.joint, g.plan.at, g.then) for g in gaps if g.joint in read], within)
    plan = uneven([(g.joint, g.plan.at, g.plan.predicted.value) for g in gaps], within)
    return {joint: growth for joint, growth in grown.items() if joint not in plan}


# ------------------------------------------------------------------------------ what can be moved


def _ways(
    brief: Brief, enclosure: Enclosure, found: AsBuilt, shop: Shop, doc: AsBuiltDocument
) -> Iterator[Way]:
    """Yield everything that can be moved in this enclosure."""
    rigid = found.model.bodies
    for joint in enclosure.joints:
        if joint.kind == "hinge":
            yield from _plates(brief, rigid, joint, shop, doc)
    for pane in enclosure.lites:
        if pane.kind != "door":
            yield from _still(enclosure, rigid, pane, shop)


def _plates(
    brief: Brief, rigid: Bodies, joint: Joint, shop: Shop, doc: AsBuiltDocument
) -> Iterator[Way]:
    """Packing behind the outer plates on a wall, glass slid and lifted in the hinges."""
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
            most = float(item.shim_most)
            yield Way(
                kind="packing", pane=door.id, joint=joint.id, place=place, motion=away * motion,
                least=-now, most=most - now, stock=_amounts(_sizes(shop, doc), -now, most - now),
            )  # fmt: skip
        slide = float(play["hinge_slide"])
        yield Way(
            kind="slide", pane=door.id, joint=joint.id, place=place, motion=motion,
            least=-slide, most=slide,
        )  # fmt: skip
    lift = float(play["hinge_lift"])
    up = rigid.moved(door.id, rigid.centre(door.id), (0.0, 1.0), 0.0)
    yield Way(
        kind="lift", pane=door.id, joint=joint.id, place="", motion=up, least=-lift, most=lift
    )


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
            least=-most, most=most, stock=_amounts(shop.blocks, -most, most),
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


# ------------------------------------------------------------------------------------ what to move


def _chosen(
    ways: Sequence[Way], rows: Matrix, gaps: Sequence[Foreseen]
) -> tuple[tuple[Way, ...], Vector]:
    """Take in what helps most, one after the other, while it is worth it; then lay it up."""
    share = float(table("hang/asbuilt")["worth"]["share"])
    least = float(table("hang/asbuilt")["worth"]["least"])
    chosen: tuple[Way, ...] = ()
    amounts = np.zeros(0)
    first = cost = _cost(gaps)
    while cost > 0.0:
        tried = []
        for way in ways:
            if way not in chosen:
                trial = (*chosen, way)
                found = _laid_up(trial, rows, gaps)
                tried.append((_cost(_then(trial, found, rows, gaps)), trial, found))
        tried = [t for t in tried if abs(float(t[2][-1])) >= least]
        best, trial, found = min(tried, key=lambda t: t[0], default=(cost, chosen, amounts))
        out = any(g.out_by for g in (_then(chosen, amounts, rows, gaps) if chosen else gaps))
        if cost - best <= share * (cost if out else first):
            break
        cost, chosen, amounts = best, trial, found
    return chosen, amounts


def _laid_up(ways: tuple[Way, ...], rows: Matrix, gaps: Sequence[Foreseen]) -> Vector:
    """Best amounts; one after the other those from stock are set to what can be laid up."""
    amounts = _best(ways, rows, gaps, {})
    fixed: dict[int, float] = {}
    for i, way in enumerate(ways):
        if way.stock:
            fixed[i] = min(way.stock, key=lambda a, i=i: abs(a - float(amounts[i])))  # type: ignore[misc]
            amounts = _best(ways, rows, gaps, fixed)
    return amounts


def _best(
    ways: tuple[Way, ...], rows: Matrix, gaps: Sequence[Foreseen], fixed: dict[int, float]
) -> Vector:
    """Amounts (n,) that bring gaps nearest to their targets within what can be moved."""
    change = rows @ np.array([w.motion for w in ways]).T
    scale = np.array([_half(g.plan) for g in gaps])
    weight = np.array([(2.0 if g.read else 1.0) for g in gaps]) / scale
    goal = np.array([_target(g.plan) - g.now for g in gaps])
    amounts = np.array([fixed.get(i, 0.0) for i in range(len(ways))])
    free = [i for i in range(len(ways)) if i not in fixed]
    if free:
        goal = goal - change @ amounts
        bounds = ([ways[i].least - 1e-9 for i in free], [ways[i].most + 1e-9 for i in free])
        solved = lsq_linear(change[:, free] * weight[:, None], goal * weight, bounds)
        amounts[free] = solved.x
    return amounts


def _then(
    ways: tuple[Way, ...], amounts: Vector, rows: Matrix, gaps: Sequence[Foreseen]
) -> tuple[Foreseen, ...]:
    moved = np.array([w.motion for w in ways]).T @ amounts
    return after(gaps, rows @ moved)


def _cost(gaps: Sequence[Foreseen]) -> float:
    """How bad the gaps will be: off their target, and far more so out of their range."""
    off = sum(((g.then - _target(g.plan)) / _half(g.plan)) ** 2 for g in gaps)
    out = sum((g.out_by / _half(g.plan)) ** 2 for g in gaps)
    return float(off + OUT_COUNTS * out)


def _target(plan: Gap) -> float:
    """What a gap is brought to: as planned, within its range."""
    return min(max(plan.predicted.value, plan.least), plan.most)


def _half(plan: Gap) -> float:
    return max((plan.most - plan.least) / 2, 0.1)


# ----------------------------------------------------------------------------------- laying it up


def _sizes(shop: Shop, doc: AsBuiltDocument) -> tuple[float, ...]:
    return tuple(sorted(float(s) for s in doc.shims)) or shop.shims


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


def _adjustment(way: Way, amount: float, shop: Shop, doc: AsBuiltDocument) -> Adjustment:
    sizes = _sizes(shop, doc) if way.kind == "packing" else shop.blocks
    return Adjustment(
        kind=way.kind,
        pane=way.pane,
        joint=way.joint,
        place=way.place,
        amount=float(amount),
        pieces=pieces(amount, sizes) if way.kind in {"packing", "block"} else (),
    )
