"""What panes stand on: the curb or the cap of a step; the lowest of what is below them."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from hangtrue.fit.entries import BOTTOM_LEFT, BOTTOM_RIGHT, panes_of
from hangtrue.fit.room import CURB, Room
from hangtrue.fit.rows import WHOLE, Row
from hangtrue.fit.turning import bevels
from hangtrue.fit.wording import joint_id
from hangtrue.measure.below import BaseSegment
from hangtrue.measure.length import Linear
from hangtrue.measure.opening import Vector


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Piece:
    """A straight part of what is below a pane, between two x along the glass line.

    Attributes
    ----------
    on
        The curb, or the name of a step.
    left, right
        Its ends where they lie under the pane; None where it runs on past the pane.

    """

    on: str
    low: float
    high: float
    left: Linear | None
    right: Linear | None


def below(row: Row, room: Room, corners: Vector, i: int) -> tuple[Piece, ...]:
    """What is below pane `i`, from left to right, in a room that is not mirrored.

    At the ends of a pane what is lower and no wider than a gap is left out: glass hangs over it.
    """
    pane = panes_of(corners, len(row.panes))[i]
    start, stop = room.run(row.panes[i].run)
    low, high = max(pane[BOTTOM_LEFT], start), min(pane[BOTTOM_RIGHT], stop)
    if not room.opening.standing or high <= low:
        return (Piece(on=CURB, low=low, high=high, left=None, right=None),)
    pieces = list(_pieces(room, room.opening.base(low, high)))
    sliver = row.below[i].elsewhere.most
    while len(pieces) > 1 and _hangs_over(room, row.panes[i].run, pieces[0], pieces[1], sliver):
        pieces[:2] = [replace(pieces[1], left=None, low=low)]
    while len(pieces) > 1 and _hangs_over(room, row.panes[i].run, pieces[-1], pieces[-2], sliver):
        pieces[-2:] = [replace(pieces[-2], right=None, high=high)]
    return tuple(pieces)


def _pieces(room: Room, found: tuple[BaseSegment, ...]) -> Iterator[Piece]:
    """Segments of the base as pieces; neighbours of one name are one."""
    merged: list[list[BaseSegment]] = []
    for segment in found:
        if merged and merged[-1][-1].step == segment.step:
            merged[-1].append(segment)
        else:
            merged.append([segment])
    for k, group in enumerate(merged):
        left, right = group[0].left, group[-1].right
        yield Piece(
            on=group[0].step or CURB,
            low=room.value(left),
            high=room.value(right),
            left=left if k else None,
            right=right if k < len(merged) - 1 else None,
        )


def _hangs_over(room: Room, run: int, end: Piece, inner: Piece, sliver: float) -> bool:
    return end.high - end.low <= sliver and height(room, run, end) < height(room, run, inner)


def height(room: Room, run: int, piece: Piece) -> float:
    """Mean height of a piece, mm."""
    z, _ = room.base(piece.on, np.array([piece.low, piece.high]), run)
    return float(z.mean())


def lowest(room: Room, run: int, pieces: tuple[Piece, ...]) -> Piece:
    """Return the piece that a pane stands on."""
    return min(pieces, key=lambda piece: height(room, run, piece))


def standing(row: Row, room: Room, corners: Vector) -> Row:
    """Find what each pane stands on when its corners are about there; the room not mirrored."""
    panes, joints = [], []
    for i, (pane, joint) in enumerate(zip(row.panes, row.below, strict=True)):
        pieces = below(row, room, corners, i)
        main = lowest(room, pane.run, pieces)
        ends = panes_of(corners, len(row.panes))[i][[BOTTOM_LEFT, BOTTOM_RIGHT]]
        width = float(ends[1] - ends[0])
        gap = joint.elsewhere.usual
        legs = [piece for piece in pieces if piece.on == main.on]
        first, last = legs[0], legs[-1]
        leg = (
            0.0 if first.left is None else (first.low + gap - float(ends[0])) / width,
            1.0 if last.right is None else (last.high - gap - float(ends[0])) / width,
        )
        lift = tuple(
            _lift(room, pane.run, main, end, x)
            for end, x in ((pieces[0], ends[0]), (pieces[-1], ends[1]))
        )
        left_past, right_past = (row.thickness / 2 * math.tan(b) for b in bevels(row, room, i))
        panes.append(
            replace(
                pane, on=main.on, leg=leg if leg != WHOLE else WHOLE,
                lift=(lift[0], lift[1]), past=(left_past, right_past),
            )
        )  # fmt: skip
        joints.append(replace(joint, id=joint_id(pane.id, main.on), between=(pane.id, main.on)))
    return replace(row, panes=tuple(panes), below=tuple(joints))


def _lift(room: Room, run: int, main: Piece, end: Piece, x: float) -> float:
    """How much higher than the foot an edge starts, mm."""
    if end.on == main.on:
        return 0.0
    at = np.array([float(x)])
    return float((room.base(end.on, at, run)[0] - room.base(main.on, at, run)[0])[0])
