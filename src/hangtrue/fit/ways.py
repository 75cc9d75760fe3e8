"""What the wishes leave open: rows, hinge sides and glass."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product
from typing import Literal

from hangtrue.fit.enclosure import HungOn
from hangtrue.fit.layout import Fittings, Way, row
from hangtrue.fit.rows import Row, RowJoint
from hangtrue.job.brief import Brief
from hangtrue.job.document import WantedLite
from hangtrue.job.hardware import BoxedPane, BoxedSet, Hinge, Item
from hangtrue.job.readings import Side
from hangtrue.tables import table

SIDES: tuple[Side, Side] = ("left", "right")
TWO = 2


def ways(brief: Brief) -> tuple[Way, ...]:
    """Rows and hinge sides that the wishes leave open and the walls allow."""
    return tuple(
        Way(
            lites=order,
            mirrored=mirrored,
            hinge_side=first[0],
            hung_on=first[1],
            given=given,
            second=second,
        )
        for order, mirrored, given in _orders(brief)
        for first, second in _hangings(brief, order)
    )


Order = tuple[tuple[WantedLite, ...], bool, tuple[tuple[float, float], ...] | None]


def _orders(brief: Brief) -> Iterator[Order]:
    box, wanted = brief.boxed_set, brief.job.wanted
    if box:
        yield from _boxed_orders(brief, box)
        return
    yield wanted.lites, False, None
    turns = any(lite.turn for lite in wanted.lites)
    if wanted.order == "free" and wanted.lites[::-1] != wanted.lites and not turns:
        yield wanted.lites[::-1], True, None


def _boxed_orders(brief: Brief, box: BoxedSet) -> Iterator[Order]:
    """The set as it comes, and left for right if its maker and the wishes allow it."""
    wanted = brief.job.wanted
    kinds = [lite.kind for lite in wanted.lites]
    both = [(box.panes, False)]
    if box.reversible and box.panes[::-1] != box.panes:
        both.append((box.panes[::-1], True))
    fitting = [b for b in both if wanted.order == "free" or [p.kind for p in b[0]] == kinds]
    for panes, mirrored in fitting or both[:1]:
        lites = tuple(_as_wanted(pane, wanted.lites) for pane in panes)
        yield lites, mirrored, tuple((float(p.width), float(p.height)) for p in panes)


def _as_wanted(pane: BoxedPane, wishes: tuple[WantedLite, ...]) -> WantedLite:
    return next((w for w in wishes if w.kind == pane.kind), WantedLite(kind=pane.kind))


Hanging = tuple[Side, HungOn]
Hangings = tuple[tuple[Side | None, HungOn | None], Hanging | None]


def _hangings(brief: Brief, order: tuple[WantedLite, ...]) -> Iterator[Hangings]:
    """Hinge sides that have something to hang on; one without any if there is no door."""
    doors = [i for i, lite in enumerate(order) if lite.kind == "door"]
    if not doors:
        yield (None, None), None
    elif len(doors) == 1:
        for hanging in _door_hangings(brief, order, doors[0], brief.job.wanted.hinge_side):
            yield hanging, None
    elif len(doors) == TWO:
        left, right = (
            _door_hangings(brief, order, door, side)
            for door, side in zip(doors, SIDES, strict=True)
        )
        yield from product(left, right)


def _door_hangings(
    brief: Brief, order: tuple[WantedLite, ...], door: int, usual: Side | Literal["free"]
) -> tuple[Hanging, ...]:
    """Where one door may hang: as it is wished itself, else as usual."""
    wished = order[door].hinge or usual
    at_corner = _hinge_corners(order, door)
    found = []
    for side in SIDES if wished == "free" else (wished,):
        hung_on = _hung_on(brief, order, door, side)
        if at_corner and side not in at_corner:
            continue
        if hung_on and (brief.boxed_set is None or _mount(brief, brief.boxed_set) == hung_on):
            found.append((side, hung_on))
    return tuple(found)


def _hinge_corners(order: tuple[WantedLite, ...], door: int) -> tuple[Side, ...]:
    """Sides of a door where a corner is asked to have its hinges."""
    beside: tuple[tuple[Side, int], ...] = (("left", door), ("right", door + 1))
    return tuple(
        side
        for side, i in beside
        if 0 < i < len(order) and (turn := order[i].turn) and turn.joint == "hinge"
    )


def _hung_on(brief: Brief, order: tuple[WantedLite, ...], door: int, side: Side) -> HungOn | None:
    beside = door + (-1 if side == "left" else 1)
    if 0 <= beside < len(order):
        return "glass" if order[beside].kind == "fixed" else None
    return "wall" if brief.job.wall(side) else None


def _mount(brief: Brief, box: BoxedSet) -> HungOn:
    return brief.item(box.hinge, Hinge).mount


def thicknesses(brief: Brief, used: Fittings, way: Way) -> tuple[float, ...]:
    """Glass that was asked for, or all that the plant offers and every fitting of the row takes."""
    if brief.boxed_set:
        return (float(brief.boxed_set.panes[0].thickness),)
    wished = brief.job.wanted.thickness
    if wished != "free":
        return (float(wished),)
    items = items_on(brief, used, way)
    return tuple(
        float(glass)
        for glass in brief.profile.plant.glass
        if all(
            designation(i.glass_least) <= designation(glass) <= designation(i.glass_most)
            for i in items
        )
    )


def designation(thickness: float) -> float:
    """Trade thickness that a thickness goes by: 3/8 in and 10 mm are one glass.

    Examples
    --------
    >>> designation(9.525), designation(10.0), designation(12.7)
    (10.0, 10.0, 12.0)

    """
    known: list[float] = table("fit")["glass"]["designations"]
    return min(known, key=lambda d: abs(d - thickness))


def items_on(brief: Brief, used: Fittings, way: Way) -> tuple[Item, ...]:
    """Hardware that this row has on its glass."""
    ids = {joint.hardware for joint in _row_joints(row(brief, way, TWO))}
    if "door" in way.order and used.handle != "none":
        ids.add(used.handle)
    return tuple(brief.items[i] for i in sorted(ids))


def _row_joints(laid: Row) -> tuple[RowJoint, ...]:
    return (*(j for j in laid.joints if j), *laid.below)
