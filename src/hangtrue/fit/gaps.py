"""Every gap as a linear function of the corners of the panes, with its error on the day."""

from __future__ import annotations

from collections.abc import Callable, Iterator
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
    shift,
)
from hangtrue.fit.layout import Range, Row, RowJoint
from hangtrue.fit.meeting import Form, flush_form, gap_form
from hangtrue.fit.room import Room
from hangtrue.job.profile import Profile
from hangtrue.job.readings import Side
from hangtrue.measure.opening import Matrix, Vector
from hangtrue.tables import table

SMALL = 1e-6
"""Turn over which the slope of a gap is taken, rad."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class End:
    """One of the two panes at a corner of the glass line, as the errors of its run see it.

    Attributes
    ----------
    share
        mm of gap for each mm that the pane is cut back.
    mean_shape
        (m,) what an error of the opening does to the distance from the pane's edge to the corner.
    takes_up
        How much length of the run can be lost here, mm: in the gap, and by the other pane stepping
        aside across its own line.
    shown
        Part of it that is lost in the gap, 0 to 1.

    """

    share: float
    mean_shape: Vector
    takes_up: float
    shown: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class AtCorner:
    """Both panes at a corner, and (m,) what an error of its angle does to the gap."""

    before: End
    after: End
    angle: Vector


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Places:
    """The gaps of one joint at every place that matters: `A corners + constant`.

    Attributes
    ----------
    at
        (k,) heights, or x along the curb, rising; mm.
    fitting
        Whether a fitting sits there, k answers.
    A, constant
        (k, p) and (k,): gap as a function of the corners, at the estimated shape of the opening.
    shape
        (k, m): what an error of the opening's shape does to the gap while the panes hold still.
    mean_shape
        (m,): the same for the mean gap over the length of the joint.
    ranges
        Working range at each place.
    corner
        How the errors of both runs reach the gap, where the glass line turns; None elsewhere.

    """

    joint: RowJoint
    at: Vector
    fitting: tuple[bool, ...]
    A: Matrix
    constant: Vector
    shape: Matrix
    mean_shape: Vector
    ranges: tuple[Range, ...]
    corner: AtCorner | None = None

    @property
    def takes_up(self) -> float:
        """Narrowest working range of the joint, mm."""
        return min(r.width for r in self.ranges)

    @property
    def fittings(self) -> tuple[float, ...]:
        """Places of the fittings alone, mm."""
        return tuple(float(z) for z, fits in zip(self.at, self.fitting, strict=True) if fits)


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


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Gaps:
    """All gaps of a row, upright joints first from left to right, then along the curb.

    Attributes
    ----------
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

    """

    places: tuple[Places, ...]
    A: Matrix
    constant: Vector
    low: Vector
    usual: Vector
    high: Vector
    sigma: Vector
    flush: tuple[Flush, ...] = ()

    @property
    def sections(self) -> Iterator[tuple[Places, slice]]:
        """Each joint with the rows that are its own."""
        start = 0
        for piece in self.places:
            yield piece, slice(start, start + len(piece.at))
            start += len(piece.at)

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
    every = (*upright.values(), *level)
    ranges = [r for piece in every for r in piece.ranges]
    return Gaps(
        places=every,
        A=np.concatenate([piece.A for piece in every]),
        constant=np.concatenate([piece.constant for piece in every]),
        low=np.array([r.least for r in ranges]),
        usual=np.array([r.usual for r in ranges]),
        high=np.array([r.most for r in ranges]),
        sigma=_on_the_day(row, room, upright, level, profile),
        flush=tuple(_flush(row, room, j, len(near)) for j in row.turns),
    )


def top_of(row: Row, near: Vector, pane: int, side: Side) -> float:
    """Height of a top corner of a pane, mm."""
    return float(near[-1]) + row.panes[pane].rise[0 if side == "left" else 1]


def edge(row: Row, near: Vector, pane: int, side: Side, heights: Vector) -> Matrix:
    """x of an upright edge at heights (k,), as (k, p) coefficients on the corners."""
    base = pane * CORNERS
    low, high, z = (
        (BOTTOM_LEFT, TOP_LEFT, Z_LEFT) if side == "left" else (BOTTOM_RIGHT, TOP_RIGHT, Z_RIGHT)
    )
    share = (heights - near[base + z]) / (top_of(row, near, pane, side) - near[base + z])
    rows = np.zeros((len(heights), len(near)))
    rows[:, base + low] = 1.0 - share
    rows[:, base + high] = share
    return rows


def _upright(row: Row, room: Room, near: Vector, j: int) -> Places:
    """Gaps between what is left and what is right of upright joint `j`: a pane's edge or a wall."""
    joint, at, fitting = _heights(row, room, near, j)
    if joint.turn:
        return _at_corner(row, room, near, j)
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
    return _places(joint, at, fitting, A, constant, shape)


def _followed(joint: RowJoint, at: Vector, x: Vector) -> Vector:
    """Face of a wall as the straight chord of an edge sees it that will be scribed to it."""
    if not joint.scribed:
        return x
    chord: Vector = np.interp(at, at[[0, -1]], x[[0, -1]])
    return chord


Looked = tuple[RowJoint, Vector, tuple[bool, ...]]


def _heights(row: Row, room: Room, near: Vector, j: int) -> Looked:
    """Heights where an upright joint is looked at: its ends, its fittings, the nodes of a wall."""
    joint = row.joints[j]
    if joint is None:
        raise LookupError("a free end has no joint")
    beside = []
    if j > 0:
        foot = float(near[(j - 1) * CORNERS + Z_RIGHT])
        beside.append((row.panes[j - 1], foot, top_of(row, near, j - 1, "right")))
    if j < len(row.panes):
        foot = float(near[j * CORNERS + Z_LEFT])
        beside.append((row.panes[j], foot, top_of(row, near, j, "left")))
    low, high = max(z for _, z, _ in beside), min(z for _, _, z in beside)
    door = next((ends for pane, *ends in beside if pane.kind == "door"), [low, high])
    nodes = room.opening.heights if len(beside) == 1 else ()
    every = {low, high, *(h for h in nodes if low < h < high)}
    return joint, *_with_fittings(every, joint.places(*door), joint.fitting_height / 2)


# ------------------------------------------------------------------------------------- at corners


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


def _at_corner(row: Row, room: Room, near: Vector, j: int) -> Places:
    """Gaps where two panes meet at an angle: the same at every height, for both edges are plumb."""
    joint, at, fitting = _heights(row, room, near, j)
    number = row.turn(j).number
    form, _ = forms(row, room, j)
    a, constant = corner_row(row, room, j, form, len(near))
    _, mark = room.corner(number)
    angle, bends = room.angle(number)
    places = _places(
        joint, at, fitting, np.tile(a, (len(at), 1)), np.full(len(at), constant),
        np.tile(mark * (form.cut_before - form.cut_after), (len(at), 1)),
    )  # fmt: skip
    aside = 2.0 * float(table("fit")["corner"]["aside_most"])
    more = _form(row, j, gap_form, np.pi - angle + SMALL)
    moved, offset = corner_row(row, room, j, more, len(near))
    slope = float((moved - a) @ near + offset - constant) / SMALL
    corner = AtCorner(
        before=_end(form.cut_before, mark, places.takes_up, aside),
        after=_end(form.cut_after, -mark, places.takes_up, aside),
        angle=-slope * bends,
    )
    return replace(places, corner=corner)


def _flush(row: Row, room: Room, j: int, size: int) -> Flush:
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


def _with_fittings(
    places: set[float], fittings: tuple[float, ...], reach: float
) -> tuple[Vector, tuple[bool, ...]]:
    """Places in order, the fittings among them; what lies behind a fitting is part of it."""
    clear = [p for p in places if all(abs(p - f) > reach for f in fittings)]
    order = sorted([*((p, False) for p in clear), *((f, True) for f in fittings)])
    return np.array([p for p, _ in order]), tuple(fits for _, fits in order)


def _level(row: Row, room: Room, near: Vector, i: int) -> Places:
    """Gaps between the foot of pane `i` and what it stands on."""
    base, joint, pane = i * CORNERS, row.below[i], row.panes[i]
    low, high = float(near[base + BOTTOM_LEFT]), float(near[base + BOTTOM_RIGHT])
    at, fitting = _with_fittings({low, high}, joint.places(low, high), 0.0)
    share = (at - low) / (high - low)
    ground, rows = room.base(pane.on, at, pane.run)
    rise = room.base_rise(pane.on, pane.run)
    A = np.zeros((len(at), len(near)))
    A[:, base + Z_LEFT], A[:, base + Z_RIGHT] = 1.0 - share, share
    A[:, base + BOTTOM_LEFT] = -rise * (1.0 - share)
    A[:, base + BOTTOM_RIGHT] = -rise * share
    return _places(joint, at, fitting, A, rise * at - ground, -rows)


def _places(
    joint: RowJoint,
    at: Vector,
    fitting: tuple[bool, ...],
    A: Matrix,
    constant: Vector,
    shape: Matrix,
) -> Places:
    return Places(
        joint=joint,
        at=at,
        fitting=fitting,
        A=A,
        constant=constant,
        shape=shape,
        mean_shape=_mean_over(at) @ shape,
        ranges=tuple(joint.range_at(fitting=fits) for fits in fitting),
    )


def _mean_over(at: Vector) -> Vector:
    """Weights of the mean over a length of what is straight between places."""
    steps = at[1:] - at[:-1]
    weights = np.zeros(len(at))
    weights[:-1] += steps
    weights[1:] += steps
    mean: Vector = weights / weights.sum()
    return mean


# ------------------------------------------------------------------------------------- on the day


def _on_the_day(
    row: Row, room: Room, upright: dict[int, Places], level: list[Places], profile: Profile
) -> Vector:
    """Standard deviation of every gap when the panes that were cut are set in the real opening.

    What opening and panes of a run together are off is spread over its upright joints, to each in
    proportion to what it can take up; a free end takes all of it. What remains at a wall is how the
    wall departs from its own mean. At a corner the errors of both runs meet. Along the curb the one
    top line takes what is common to all panes.
    """
    cut, n = size_variance(profile), len(row.panes)
    errors = {run.start: _run_error(row, run, upright) for run in row.runs}
    foot = np.add.reduce([piece.mean_shape for piece in level]) / n
    own, others = [], []
    for j, piece in upright.items():
        if piece.corner:
            both = (errors[row.run_of(j - 1).start], errors[j])
            rows, variance = _corner_error(piece, piece.corner, both, cut)
        else:
            run = errors[row.run_of(min(j, n - 1)).start]
            share = run.share(piece.takes_up)
            rows = piece.shape + (share * run.off - piece.mean_shape)
            variance = share**2 * run.panes * cut
        own.append(rows)
        others.append(np.full(len(piece.at), variance))
    for piece in level:
        own.append(piece.shape - foot)
        others.append(np.full(len(piece.at), (1.0 - 1.0 / n) * cut))
    every = np.concatenate(own)
    survey = np.maximum(((every @ room.opening.covariance) * every).sum(axis=1), 0.0)
    sigma: Vector = np.sqrt(survey + np.concatenate(others) + float(profile.setting_sd) ** 2)
    return sigma


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _RunError:
    """What a run of so many panes is off in length, and what its joints together can take up."""

    off: Vector
    total: float
    panes: int

    def share(self, takes_up: float) -> float:
        """Share of the error that a joint takes."""
        return takes_up / self.total if self.total > 0 else 0.0


def _run_error(row: Row, run: range, upright: dict[int, Places]) -> _RunError:
    off, total = [], []
    for j in range(run.start, run.stop + 1):
        if j not in upright:
            continue
        piece = upright[j]
        end: End | Places = piece
        if piece.corner:
            end = piece.corner.after if j == run.start else piece.corner.before
        off.append(end.mean_shape)
        total.append(end.takes_up)
    closed = run.start in upright and run.stop in upright
    return _RunError(
        off=np.add.reduce(off) if off else np.zeros(0),
        total=sum(total) if closed else 0.0,
        panes=len(run),
    )


def _corner_error(
    piece: Places, corner: AtCorner, runs: tuple[_RunError, _RunError], cut: float
) -> tuple[Matrix, float]:
    """What both runs do to the gap of a corner: coefficients (k, m), and variance of the panes."""
    row, variance = corner.angle, 0.0
    for end, run in zip((corner.before, corner.after), runs, strict=True):
        seen = end.share * end.shown * run.share(end.takes_up)
        row = row + seen * run.off
        variance += seen**2 * run.panes * cut
    return np.tile(row, (len(piece.at), 1)), variance


def size_variance(profile: Profile) -> float:
    """Variance of a size as the plant cuts it: its tolerance is taken to hold 95 % of the panes."""
    return (float(profile.plant.size_tolerance) / 2) ** 2
