"""Every gap of a row as a linear function of the corners, with its error on the day."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from hangtrue.fit.entries import (
    BOTTOM_LEFT,
    BOTTOM_RIGHT,
    CORNERS,
    TOP_LEFT,
    TOP_RIGHT,
    Z_LEFT,
    Z_RIGHT,
)
from hangtrue.fit.on_the_day import Day, day, on_the_day
from hangtrue.fit.places import Looked, Places, edge, places, top_of, with_fittings
from hangtrue.fit.room import Room
from hangtrue.fit.rows import WHOLE, Row, RowJoint, RowPane, Stop
from hangtrue.fit.turning import Flush, at_corner, flush_of
from hangtrue.fit.wording import riser_id
from hangtrue.job.profile import Profile
from hangtrue.measure.opening import Matrix, Vector


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Gaps:
    """All gaps of a row, upright joints first from left to right, then along the curb.

    Attributes
    ----------
    row
        The row they are of.
    places
        One a joint.
    A, constant
        (k, p) and (k,), k gaps of all joints together.
    low, usual, high
        (k,) working ranges, mm.
    sigma
        (k,) standard deviation of each gap on the day, mm.
    flush
        One a corner.
    day
        What may be off on the day.

    """

    row: Row
    places: tuple[Places, ...]
    A: Matrix
    constant: Vector
    low: Vector
    usual: Vector
    high: Vector
    sigma: Vector
    flush: tuple[Flush, ...]
    day: Day

    @property
    def sections(self) -> Iterator[tuple[Places, slice]]:
        """Each joint with the rows that are its own."""
        start = 0
        for piece in self.places:
            yield piece, slice(start, start + len(piece.at))
            start += len(piece.at)

    def upright(self, row: Row, j: int) -> Places | None:
        """Return the gaps of upright joint `j`; None at a free end."""
        joint = row.joints[j]
        return next((p for p in self.places if joint and p.joint.id == joint.id), None)

    def at(self, corners: Vector) -> Vector:
        """Return every gap (k,) for given corners, mm."""
        gaps: Vector = self.A @ corners + self.constant
        return gaps

    def margins(self, corners: Vector) -> Vector:
        """Return the distance (k,) of every gap to the nearer end of its range, mm."""
        gaps = self.at(corners)
        return np.minimum(gaps - self.low, self.high - gaps)


def gaps(row: Row, room: Room, near: Vector, profile: Profile) -> Gaps:
    """Write down every gap of a row.

    Parameters
    ----------
    near
        (p,) corners near which the gaps are wanted; the gaps are exact there, and elsewhere but
        for products of two small slopes.

    """
    upright = {j: _upright(row, room, near, j) for j, joint in enumerate(row.joints) if joint}
    level = [_level(row, room, near, i) for i in range(len(row.panes))]
    off = day(row, room, upright, level, profile)
    above = [
        _above(row, room, near, i, joint) for i, joint in enumerate(row.above) if joint is not None
    ]
    stops = [_beside_riser(row, room, near, stop) for stop in row.stops]
    every = (*upright.values(), *level, *above, *stops)
    ranges = [r for piece in every for r in piece.ranges]
    return Gaps(
        row=row,
        places=every,
        A=np.concatenate([piece.A for piece in every]),
        constant=np.concatenate([piece.constant for piece in every]),
        low=np.array([r.least for r in ranges]),
        usual=np.array([r.usual for r in ranges]),
        high=np.array([r.most for r in ranges]),
        sigma=on_the_day(off, row, upright, level, [*above, *stops]),
        flush=tuple(flush_of(row, room, j, len(near)) for j in row.turns),
        day=off,
    )


def _upright(row: Row, room: Room, near: Vector, j: int) -> Places:
    """Gaps between what is left and what is right of upright joint `j`: a pane's edge or a wall."""
    joint, at, fitting = _heights(row, room, near, j)
    if joint.turn:
        return at_corner(row, room, near, j, (joint, at, fitting))
    A = np.zeros((len(at), len(near)))
    constant, shape = np.zeros(len(at)), np.zeros((len(at), len(room.opening.shape)))
    if j > 0:
        A -= edge(row, near, j - 1, "right", at)
    else:
        x, rows = room.walls("left", at)
        constant, shape = -_followed(joint, at, x), -rows
    if j < len(row.panes):
        A += edge(row, near, j, "left", at)
    else:
        x, rows = room.walls("right", at)
        constant, shape = constant + _followed(joint, at, x), shape + rows
    return places(joint, at, fitting, A, constant, shape)


def _followed(joint: RowJoint, at: Vector, x: Vector) -> Vector:
    """Face of a wall as the straight chord of an edge sees it that will be scribed to it."""
    if not joint.scribed:
        return x
    chord: Vector = np.interp(at, at[[0, -1]], x[[0, -1]])
    return chord


def _heights(row: Row, room: Room, near: Vector, j: int) -> Looked:
    """Heights where an upright joint is looked at: its ends, its fittings, the nodes of a wall."""
    joint = row.joints[j]
    if joint is None:
        raise LookupError("a free end has no joint")
    beside = []
    if j > 0:
        foot = float(near[(j - 1) * CORNERS + Z_RIGHT]) + row.panes[j - 1].lift[1]
        beside.append((row.panes[j - 1], foot, top_of(row, near, j - 1, "right")))
    if j < len(row.panes):
        foot = float(near[j * CORNERS + Z_LEFT]) + row.panes[j].lift[0]
        beside.append((row.panes[j], foot, top_of(row, near, j, "left")))
    low, high = max(z for _, z, _ in beside), min(z for _, _, z in beside)
    door = next((ends for pane, *ends in beside if pane.kind == "door"), [low, high])
    nodes = room.opening.heights if len(beside) == 1 else ()
    every = {low, high, *(h for h in nodes if low < h < high)}
    return joint, *with_fittings(every, joint.places(*door), joint.fitting_height / 2)


def _level(row: Row, room: Room, near: Vector, i: int) -> Places:
    """Gaps between the foot of pane `i` and what it stands on."""
    base, joint, pane = i * CORNERS, row.below[i], row.panes[i]
    low, high = float(near[base + BOTTOM_LEFT]), float(near[base + BOTTOM_RIGHT])
    ends = (low, high)
    if pane.leg != WHOLE:
        ends = (low + pane.leg[0] * (high - low), low + pane.leg[1] * (high - low))
    at, fitting = with_fittings(set(ends), joint.places(*ends), 0.0)
    share = (at - low) / (high - low)
    up = _along_outside(pane, at, low, high)
    ground, rows = room.base(pane.on, at, pane.run)
    rise = room.base_rise(pane.on, pane.run)
    A = np.zeros((len(at), len(near)))
    A[:, base + Z_LEFT], A[:, base + Z_RIGHT] = 1.0 - up, up
    A[:, base + BOTTOM_LEFT] = -rise * (1.0 - share)
    A[:, base + BOTTOM_RIGHT] = -rise * share
    return places(joint, at, fitting, A, rise * at - ground, -rows)


def _along_outside(pane: RowPane, at: Vector, low: float, high: float) -> Vector:
    """How far along the face seen from outside places lie, 0 at its left corner, 1 at its right."""
    left, right = pane.past
    share: Vector = (at - (low - left)) / ((high + right) - (low - left))
    return share


def _above(row: Row, room: Room, near: Vector, i: int, joint: RowJoint) -> Places:
    """Gaps between the top of pane `i` and the ceiling."""
    base = i * CORNERS
    low, high = float(near[base + TOP_LEFT]), float(near[base + TOP_RIGHT])
    at, fitting = with_fittings({low, high}, joint.places(low, high), 0.0)
    share = (at - low) / (high - low)
    ceiling, rows = room.ceiling(at)
    ends, _ = room.ceiling(np.array([low, high]))
    slope = float(ends[1] - ends[0]) / (high - low)
    A = np.zeros((len(at), len(near)))
    A[:, base + TOP_LEFT], A[:, base + TOP_RIGHT] = slope * (1.0 - share), slope * share
    A[:, -1] = -1.0
    left, right = row.panes[i].rise
    up = _along_outside(row.panes[i], at, low, high)
    constant = ceiling - slope * at - (1.0 - up) * left - up * right
    return places(joint, at, fitting, A, constant, rows)


def _beside_riser(row: Row, room: Room, near: Vector, stop: Stop) -> Places:
    """Gaps between an edge that ends beside the riser of a step and that riser."""
    pane, like = row.panes[stop.pane], row.below[stop.pane]
    x, riser = room.riser(stop.step, stop.riser)
    sign = 1.0 if stop.side == "right" else -1.0
    entry = BOTTOM_RIGHT if stop.side == "right" else BOTTOM_LEFT
    foot = float(near[stop.pane * CORNERS + (Z_RIGHT if stop.side == "right" else Z_LEFT)])
    cap = float(room.base(stop.step, np.array([x]), pane.run)[0][0])
    at = np.array([foot, max(cap, foot + 1.0)])
    A = np.zeros((2, len(near)))
    A[:, stop.pane * CORNERS + entry] = -sign
    names = (pane.id, stop.step) if stop.riser == "left" else (stop.step, pane.id)
    joint = replace(
        like, id=riser_id(pane.id, stop.step, stop.riser), between=names, level=False,
        fittings=None,
    )  # fmt: skip
    shape = np.tile(sign * riser, (2, 1))
    made = places(joint, at, (False, False), A, np.full(2, sign * x), shape)
    return replace(made, stop=stop)
