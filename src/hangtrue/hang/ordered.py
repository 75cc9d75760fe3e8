"""Panes as they must be ordered where holes on site made a hinge or a clamp move."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from hangtrue.fit.enclosure import Hole, Lite, Notch
from hangtrue.geometry import Point, figure, less
from hangtrue.hang.records import Moved
from hangtrue.hang.work import WALLS

Shift = tuple[float, float]

SAME = 1e-3
"""mm; heights that differ by less are one."""


def panes_to_order(lites: Sequence[Lite], moved: Sequence[Moved]) -> tuple[Lite, ...]:
    """Move the cut-outs and holes of every pane with the fittings that were moved."""
    return tuple(_ordered(lite, [m for m in moved if _is_of(m, lite)]) for lite in lites)


def _is_of(moved: Moved, lite: Lite) -> bool:
    return moved.in_glass and moved.part.endswith(f" of {lite.id}")


def _ordered(lite: Lite, moved: Sequence[Moved]) -> Lite:
    """Return the pane with its cut-outs where the fittings went."""
    if not moved:
        return lite
    shifts = {n: s for n in lite.notches if (s := _shift(lite, _middle(n), n.fitting, moved))}
    holes = tuple(_hole(lite, hole, moved) for hole in lite.holes)
    notches = tuple(_notch(n, shifts[n]) if n in shifts else n for n in lite.notches)
    return replace(
        lite,
        notches=notches,
        holes=holes,
        hinge_heights=tuple(_hinge(lite, h, moved) for h in lite.hinge_heights),
        outline=less(lite.corners, (n.corners for n in notches)),
        centroid=_centroid(lite, [(figure(n.corners).area, s) for n, s in shifts.items()]),
    )


def _middle(notch: Notch) -> Point:
    xs, ys = [x for x, _ in notch.corners], [y for _, y in notch.corners]
    return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2


def _shift(lite: Lite, at: Point, fitting: str, moved: Sequence[Moved]) -> Shift | None:
    """How far a cut-out of a fitting moves; None where it belongs to one that stays."""
    for m in moved:
        upright = m.surface in WALLS
        axis = 1 if upright else 0
        off = abs(at[axis] - (m.planned - lite.origin[axis]))
        if m.fitting == fitting and off <= m.reach:
            return _along(lite, m) if upright else (m.by, 0.0)
    return None


def _along(lite: Lite, moved: Moved) -> Shift:
    """Up by as much as the fitting, and along the edge where that rakes."""
    bl, br, tr, tl = lite.corners
    low, high = (bl, tl) if WALLS[moved.surface] == "left" else (br, tr)
    return moved.by * (high[0] - low[0]) / (high[1] - low[1]), moved.by


def _notch(notch: Notch, shift: Shift) -> Notch:
    return replace(notch, corners=tuple((x + shift[0], y + shift[1]) for x, y in notch.corners))


def _hole(lite: Lite, hole: Hole, moved: Sequence[Moved]) -> Hole:
    shift = _shift(lite, hole.centre, hole.fitting, moved)
    if shift is None:
        return hole
    return replace(hole, centre=(hole.centre[0] + shift[0], hole.centre[1] + shift[1]))


def _hinge(lite: Lite, height: float, moved: Sequence[Moved]) -> float:
    """Height of a hinge above the datum corner, where it went."""
    at = lite.origin[1] + height
    return height + next((m.by for m in moved if abs(m.planned - at) < SAME), 0.0)


def _centroid(lite: Lite, taken: Sequence[tuple[float, Shift]]) -> Point:
    """Centre of mass when areas (mm2) that are cut out move; the area itself stays as it is."""
    x = sum(area * shift[0] for area, shift in taken) / lite.area
    y = sum(area * shift[1] for area, shift in taken) / lite.area
    return lite.centroid[0] - x, lite.centroid[1] - y
