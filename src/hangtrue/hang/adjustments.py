"""What to move so that gaps come right: which plate, block or pane, which way, how much, and then.

Every adjustment moves rigid panes; the fewest that do it are looked for, packing and blocks in
thicknesses that can be laid up from what is at hand. The result is predicted before it is tried.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from scipy.optimize import lsq_linear

from hangtrue.fit.enclosure import Enclosure, Gap, Joint
from hangtrue.hang.asbuilt import AsBuilt, Matrix, out_of_range, uneven
from hangtrue.hang.asbuilt_document import AsBuiltDocument, ends
from hangtrue.hang.movable import Kind, Way, block_sizes, pieces, sizes_at_hand, ways
from hangtrue.hang.rigid import Vector, planned
from hangtrue.hang.shop import Shop
from hangtrue.job.brief import Brief
from hangtrue.tables import table

NOTHING = 0.05
"""An adjustment under this is none, mm."""
OUT_COUNTS = 25.0
"""What a gap out of its range weighs against one that is only off its target."""


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
    movable = tuple(ways(brief, enclosure, found, shop, doc))
    rows = np.array([_row(enclosure, found, g) for g in gaps])
    chosen, amounts = _chosen(movable, rows, gaps)
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


# ------------------------------------------------------------------------------------ what to move


def _chosen(
    movable: Sequence[Way], rows: Matrix, gaps: Sequence[Foreseen]
) -> tuple[tuple[Way, ...], Vector]:
    """Take in what helps most, one after the other, while it is worth it; then lay it up."""
    share = float(table("hang/asbuilt")["worth"]["share"])
    least = float(table("hang/asbuilt")["worth"]["least"])
    chosen: tuple[Way, ...] = ()
    amounts = np.zeros(0)
    first = cost = _cost(gaps)
    while cost > 0.0:
        tried = []
        for way in movable:
            if way not in chosen:
                trial = (*chosen, way)
                found = _laid_up(trial, rows, gaps)
                tried.append((_cost(_then(trial, found, rows, gaps)), trial, found))
        tried = [t for t in tried if _moves(t[1][-1], float(t[2][-1]), rows) >= least]
        best, trial, found = min(tried, key=lambda t: t[0], default=(cost, chosen, amounts))
        out = any(g.out_by for g in (_then(chosen, amounts, rows, gaps) if chosen else gaps))
        if cost - best <= share * (cost if out else first):
            break
        cost, chosen, amounts = best, trial, found
    return chosen, amounts


def _moves(way: Way, amount: float, rows: Matrix) -> float:
    """Most that any gap changes by an adjustment, mm."""
    return abs(amount) * float(np.abs(rows @ way.motion).max())


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


def _adjustment(way: Way, amount: float, shop: Shop, doc: AsBuiltDocument) -> Adjustment:
    sizes = sizes_at_hand(shop, doc) if way.kind == "packing" else block_sizes(shop)
    return Adjustment(
        kind=way.kind,
        pane=way.pane,
        joint=way.joint,
        place=way.place,
        amount=float(amount),
        pieces=pieces(amount, sizes) if way.kind in {"packing", "block"} else (),
    )
