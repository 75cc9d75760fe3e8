"""Where the glass line turns: gap and flush of the two panes as rows over the corners."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from hangtrue.fit.entries import BOTTOM_LEFT, BOTTOM_RIGHT, CORNERS, shift
from hangtrue.fit.meeting import Form, bevel, flush_form, gap_form
from hangtrue.fit.places import AtCorner, End, Looked, Places, places
from hangtrue.fit.room import Room
from hangtrue.fit.rows import Row, RowJoint
from hangtrue.measure.opening import Vector
from hangtrue.tables import table

SMALL = 1e-6
"""Turn over which the slope of a gap is taken, rad."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Flush:
    """How far two panes at a corner are out of flush: `a corners + constant`, mm.

    Attributes
    ----------
    set_a, set_constant
        As they are set.
    size_a, size_constant
        As sizes are chosen: in butt joints the same, else how much more one pane is cut back than
        the other, which is harder to miss where the line turns but a little.

    """

    joint: RowJoint
    set_a: Vector
    set_constant: float
    size_a: Vector
    size_constant: float


def forms(row: Row, room: Room, j: int) -> tuple[Form, Form]:
    """Gap and flush of the two panes at a corner, for shifts counted + into the shower."""
    turn = np.pi - room.angle(row.turn(j).number)[0]
    return _form(row, j, gap_form, turn), _form(row, j, flush_form, turn)


def _form(row: Row, j: int, form: Callable[..., Form], turn: float) -> Form:
    corner = row.turn(j)
    return form(corner.joint, row.laps(j), turn, row.thickness).seen(corner.way)


def corner_row(row: Row, room: Room, j: int, form: Form, size: int) -> tuple[Vector, float]:
    """Coefficients (p,) of a form of corner joint `j` on the corners, and its constant."""
    mark, _ = room.corner(row.turn(j).number)
    a, turn = np.zeros(size), row.turns.index(j)
    a[(j - 1) * CORNERS + BOTTOM_RIGHT] = -form.cut_before
    a[j * CORNERS + BOTTOM_LEFT] = form.cut_after
    a[shift(len(row.panes), turn, after=False)] = form.off_before
    a[shift(len(row.panes), turn, after=True)] = form.off_after
    return a, form.constant + mark * (form.cut_before - form.cut_after)


def at_corner(row: Row, room: Room, near: Vector, j: int, looked: Looked) -> Places:
    """Gaps where two panes meet at an angle: the same at every height, for both edges are plumb."""
    joint, at, fitting = looked
    number = row.turn(j).number
    form, _ = forms(row, room, j)
    a, constant = corner_row(row, room, j, form, len(near))
    _, mark = room.corner(number)
    angle, bends = room.angle(number)
    made = places(
        joint, at, fitting, np.tile(a, (len(at), 1)), np.full(len(at), constant),
        np.tile(mark * (form.cut_before - form.cut_after), (len(at), 1)),
    )  # fmt: skip
    aside = 2.0 * float(table("fit")["corner"]["aside_most"])
    more = _form(row, j, gap_form, np.pi - angle + SMALL)
    moved, offset = corner_row(row, room, j, more, len(near))
    slope = float((moved - a) @ near + offset - constant) / SMALL
    corner = AtCorner(
        before=_end(form.cut_before, mark, made.takes_up, aside),
        after=_end(form.cut_after, -mark, made.takes_up, aside),
        angle=-slope * bends,
    )
    return replace(made, corner=corner)


def flush_of(row: Row, room: Room, j: int, size: int) -> Flush:
    """How far the panes at corner joint `j` are out of flush, for a vector of that size."""
    joint = row.joints[j]
    if joint is None:
        raise LookupError(j)
    _, form = forms(row, room, j)
    sized = form
    if row.turn(j).joint != "butt":
        sized = Form(cut_before=-1.0, cut_after=1.0, off_before=0.0, off_after=0.0, constant=0.0)
    set_a, set_constant = corner_row(row, room, j, form, size)
    size_a, size_constant = corner_row(row, room, j, sized, size)
    return Flush(
        joint=joint, set_a=set_a, set_constant=set_constant,
        size_a=size_a, size_constant=size_constant,
    )  # fmt: skip


def _end(share: float, mean_shape: Vector, range_: float, aside: float) -> End:
    in_gap = range_ / share if share > 0 else 0.0
    return End(
        share=share,
        mean_shape=mean_shape,
        takes_up=in_gap + aside,
        shown=in_gap / (in_gap + aside),
    )


def bevels(row: Row, room: Room, i: int) -> tuple[float, float]:
    """Bevels of the left and the right edge of pane `i`, rad, + for a longer outside face."""

    def of(j: int) -> float:
        if j not in row.turns:
            return 0.0
        corner = row.turn(j)
        size = bevel(corner.joint, math.pi - room.angle(corner.number)[0])
        return size if corner.way == "in" else -size

    return of(i), of(i + 1)
