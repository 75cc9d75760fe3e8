"""Every gap as a linear function of the corners of the panes, with its error on the day.

Corners are one vector: for each pane x of its bottom left, bottom right, top right and top left
corner, then z of its bottom left and bottom right corner; last of all z of the one top line. mm.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from hangtrue.fit.layout import Range, Row, RowJoint
from hangtrue.job.profile import Profile
from hangtrue.job.readings import Side
from hangtrue.measure.opening import Matrix, Opening, Vector

BOTTOM_LEFT, BOTTOM_RIGHT, TOP_RIGHT, TOP_LEFT, Z_LEFT, Z_RIGHT = range(6)
CORNERS = 6
"""Entries of one pane in the vector of corners."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Room:
    """The opening as the row sees it, mirrored where the row is.

    Attributes
    ----------
    mirrored
        Left and right are exchanged, so that a row and its mirror image are one problem.
    foot_left, foot_right
        x of the two ends of the curb as they are in the opening, mm.

    """

    opening: Opening
    mirrored: bool
    foot_left: float
    foot_right: float

    def walls(self, side: Side, heights: Vector) -> tuple[Vector, Matrix]:
        """x of a wall's face at heights (k,), and its (k, m) coefficients on the shape."""
        if not self.mirrored:
            rows = face(self.opening, side, heights)
            return rows @ self.opening.shape, rows
        rows = -face(self.opening, "left" if side == "right" else "right", heights)
        return self.foot_right + rows @ self.opening.shape, rows

    def curb(self, x: Vector) -> tuple[Vector, Matrix]:
        """Height of the curb at x (k,), and its (k, m) coefficients on the shape."""
        real = self.foot_right - x if self.mirrored else x
        share = (real - self.foot_left) / (self.foot_right - self.foot_left)
        rows = np.zeros((len(x), len(self.opening.shape)))
        rows[:, self.opening.unknowns.index("curb left")] = 1.0 - share
        rows[:, self.opening.unknowns.index("curb right")] = share
        return rows @ self.opening.shape, rows

    @property
    def ends(self) -> tuple[float, float]:
        """x of the left and the right end of the curb, as the row sees them."""
        span = self.foot_right - self.foot_left
        return (0.0, span) if self.mirrored else (self.foot_left, self.foot_right)

    @property
    def rise(self) -> float:
        """Slope of the curb along x."""
        left, right = (self.opening.unknowns.index(f"curb {side}") for side in ("left", "right"))
        fall = float(self.opening.shape[right] - self.opening.shape[left])
        slope = fall / (self.foot_right - self.foot_left)
        return -slope if self.mirrored else slope

    def unmirrored(self, corners: Vector) -> Vector:
        """Corners of the row in the opening as it is."""
        if not self.mirrored:
            return corners
        panes = corners[:-1].reshape(-1, CORNERS)[::-1]
        swap = [BOTTOM_RIGHT, BOTTOM_LEFT, TOP_LEFT, TOP_RIGHT, Z_RIGHT, Z_LEFT]
        real = panes[:, swap].copy()
        real[:, :Z_LEFT] = self.foot_right - real[:, :Z_LEFT]
        return np.append(real.ravel(), corners[-1])


def face(opening: Opening, side: Side, heights: Vector) -> Matrix:
    """Coefficients (k, m) of a wall's face at heights (k,): straight between its nodes."""
    grid = np.array(opening.heights)
    i = np.searchsorted(grid[1:-1], heights)
    share = (heights - grid[i]) / (grid[i + 1] - grid[i])
    first = opening.unknowns.index(f"{side} {opening.heights[0]:.1f}")
    rows = np.zeros((len(heights), len(opening.shape)))
    k = np.arange(len(heights))
    rows[k, first + i] = 1.0 - share
    rows[k, first + i + 1] = share
    return rows


def room(opening: Opening, reach: float, *, mirrored: bool) -> Room:
    """Look at an opening, or at its mirror image.

    Parameters
    ----------
    reach
        Length of the curb where one end is free, mm.

    """
    zero = np.zeros(1)
    feet = {side: float((face(opening, side, zero) @ opening.shape)[0]) for side in opening.walls}
    left = feet["left"] if "left" in feet else feet.get("right", reach) - reach
    right = feet["right"] if "right" in feet else left + reach
    return Room(opening=opening, mirrored=mirrored, foot_left=left, foot_right=right)


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

    """

    joint: RowJoint
    at: Vector
    fitting: tuple[bool, ...]
    A: Matrix
    constant: Vector
    shape: Matrix
    mean_shape: Vector
    ranges: tuple[Range, ...]

    @property
    def takes_up(self) -> float:
        """Narrowest working range of the joint, mm."""
        return min(r.width for r in self.ranges)

    @property
    def fittings(self) -> tuple[float, ...]:
        """Places of the fittings alone, mm."""
        return tuple(float(z) for z, fits in zip(self.at, self.fitting, strict=True) if fits)


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

    """

    places: tuple[Places, ...]
    A: Matrix
    constant: Vector
    low: Vector
    usual: Vector
    high: Vector
    sigma: Vector

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
    upright = [_upright(row, room, near, j) for j, joint in enumerate(row.joints) if joint]
    level = [_level(row, room, near, i) for i in range(len(row.panes))]
    every = (*upright, *level)
    ranges = [r for piece in every for r in piece.ranges]
    return Gaps(
        places=every,
        A=np.concatenate([piece.A for piece in every]),
        constant=np.concatenate([piece.constant for piece in every]),
        low=np.array([r.least for r in ranges]),
        usual=np.array([r.usual for r in ranges]),
        high=np.array([r.most for r in ranges]),
        sigma=_on_the_day(row, room, upright, level, profile),
    )


def edge(near: Vector, pane: int, side: Side, heights: Vector) -> Matrix:
    """x of an upright edge at heights (k,), as (k, p) coefficients on the corners."""
    base = pane * CORNERS
    low, high, z = (
        (BOTTOM_LEFT, TOP_LEFT, Z_LEFT) if side == "left" else (BOTTOM_RIGHT, TOP_RIGHT, Z_RIGHT)
    )
    share = (heights - near[base + z]) / (near[-1] - near[base + z])
    rows = np.zeros((len(heights), len(near)))
    rows[:, base + low] = 1.0 - share
    rows[:, base + high] = share
    return rows


def _upright(row: Row, room: Room, near: Vector, j: int) -> Places:
    """Gaps between what is left and what is right of upright joint `j`: a pane's edge or a wall."""
    joint, at, fitting = _heights(row, room, near, j)
    A = np.zeros((len(at), len(near)))
    constant, shape = np.zeros(len(at)), np.zeros((len(at), len(room.opening.shape)))
    if j > 0:
        A -= edge(near, j - 1, "right", at)
    else:
        x, rows = room.walls("left", at)
        constant, shape = -x, -rows
    if j < len(row.panes):
        A += edge(near, j, "left", at)
    else:
        x, rows = room.walls("right", at)
        constant, shape = constant + x, shape + rows
    return _places(joint, at, fitting, A, constant, shape)


Looked = tuple[RowJoint, Vector, tuple[bool, ...]]


def _heights(row: Row, room: Room, near: Vector, j: int) -> Looked:
    """Heights where an upright joint is looked at: its ends, its fittings, the nodes of a wall."""
    joint = row.joints[j]
    if joint is None:
        raise LookupError("a free end has no joint")
    beside = []
    if j > 0:
        beside.append((row.panes[j - 1], float(near[(j - 1) * CORNERS + Z_RIGHT])))
    if j < len(row.panes):
        beside.append((row.panes[j], float(near[j * CORNERS + Z_LEFT])))
    low, high = max(z for _, z in beside), float(near[-1])
    foot = next((z for pane, z in beside if pane.kind == "door"), low)
    nodes = room.opening.heights if len(beside) == 1 else ()
    every = {low, high, *(h for h in nodes if low < h < high)}
    return joint, *_with_fittings(every, joint.places(foot, high), joint.fitting_height / 2)


def _with_fittings(
    places: set[float], fittings: tuple[float, ...], reach: float
) -> tuple[Vector, tuple[bool, ...]]:
    """Places in order, the fittings among them; what lies behind a fitting is part of it."""
    clear = [p for p in places if all(abs(p - f) > reach for f in fittings)]
    order = sorted([*((p, False) for p in clear), *((f, True) for f in fittings)])
    return np.array([p for p, _ in order]), tuple(fits for _, fits in order)


def _level(row: Row, room: Room, near: Vector, i: int) -> Places:
    """Gaps between the foot of pane `i` and the curb."""
    base, joint = i * CORNERS, row.below[i]
    low, high = float(near[base + BOTTOM_LEFT]), float(near[base + BOTTOM_RIGHT])
    at, fitting = _with_fittings({low, high}, joint.places(low, high), 0.0)
    share = (at - low) / (high - low)
    curb, rows = room.curb(at)
    A = np.zeros((len(at), len(near)))
    A[:, base + Z_LEFT], A[:, base + Z_RIGHT] = 1.0 - share, share
    A[:, base + BOTTOM_LEFT] = -room.rise * (1.0 - share)
    A[:, base + BOTTOM_RIGHT] = -room.rise * share
    return _places(joint, at, fitting, A, room.rise * at - curb, -rows)


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
    row: Row, room: Room, upright: list[Places], level: list[Places], profile: Profile
) -> Vector:
    """Standard deviation of every gap when the panes that were cut are set in the real opening.

    What opening and panes together are off is spread over the upright joints, to each in proportion
    to what it can take up; a free end takes all of it. What remains at a wall is how the wall
    departs from its own mean. Along the curb the one top line takes what is common to all panes.
    """
    cut, n = size_variance(profile), len(row.panes)
    total = sum(piece.takes_up for piece in upright)
    off = np.add.reduce([piece.mean_shape for piece in upright])
    foot = np.add.reduce([piece.mean_shape for piece in level]) / n
    own, others = [], []
    for piece in upright:
        share = piece.takes_up / total if row.closed and total > 0 else 0.0
        own.append(piece.shape + (share * off - piece.mean_shape))
        others.append(np.full(len(piece.at), share**2 * n * cut))
    for piece in level:
        own.append(piece.shape - foot)
        others.append(np.full(len(piece.at), (1.0 - 1.0 / n) * cut))
    rows = np.concatenate(own)
    survey = np.maximum(((rows @ room.opening.covariance) * rows).sum(axis=1), 0.0)
    sigma: Vector = np.sqrt(survey + np.concatenate(others) + float(profile.setting_sd) ** 2)
    return sigma


def size_variance(profile: Profile) -> float:
    """Variance of a size as the plant cuts it: its tolerance is taken to hold 95 % of the panes."""
    return (float(profile.plant.size_tolerance) / 2) ** 2
