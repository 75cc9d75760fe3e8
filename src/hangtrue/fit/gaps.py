"""Every gap of the row as a linear function of where the corners of the panes are, with its error on the day.

Corners are one vector: for each pane x of its bottom left, bottom right, top right and top left corner,
then z of its bottom left and bottom right corner; last of all z of the one top line. All mm.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hangtrue.fit.layout import Row, RowJoint
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
        Left and right are exchanged, so that a row and its mirror image are one and the same problem.
    foot_left, foot_right
        x of the two ends of the curb as they are in the opening, mm.

    """

    opening: Opening
    mirrored: bool
    foot_left: float
    foot_right: float

    def walls(self, side: Side, heights: Vector) -> tuple[Vector, Matrix]:
        """x of a wall's face at heights (k,), and its (k, m) coefficients on the opening's shape."""
        if not self.mirrored:
            rows = face(self.opening, side, heights)
            return rows @ self.opening.shape, rows
        rows = -face(self.opening, "left" if side == "right" else "right", heights)
        return self.foot_right + rows @ self.opening.shape, rows

    def curb(self, x: Vector) -> tuple[Vector, Matrix]:
        """Height of the curb at x (k,), and its (k, m) coefficients on the opening's shape."""
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
    """Coefficients (k, m) of a wall's face at heights (k,): straight between nodes, extended beyond."""
    grid = np.asarray(opening.heights)
    i = np.clip(np.searchsorted(grid, heights) - 1, 0, len(grid) - 2)
    share = (heights - grid[i]) / (grid[i + 1] - grid[i])
    first = opening.unknowns.index(f"{side} {grid[0]:.1f}")
    rows = np.zeros((len(heights), len(opening.shape)))
    k = np.arange(len(heights))
    rows[k, first + i] = 1.0 - share
    rows[k, first + i + 1] = share
    return rows


def room(opening: Opening, reach: float, *, mirrored: bool) -> Room:
    """Look at an opening from outside, or in the mirror; `reach` is the curb's length at a free end."""
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
        (k,) whether a fitting sits there.
    A, constant
        (k, p) and (k,): gap as a function of the corners, at the estimated shape of the opening.
    shape
        (k, m): what an error of the opening's shape does to the gap while the panes hold still.
    low, usual, high
        (k,) working range, mm.

    """

    joint: RowJoint
    at: Vector
    fitting: NDArray[np.bool_]
    A: Matrix
    constant: Vector
    shape: Matrix
    low: Vector
    usual: Vector
    high: Vector

    @property
    def room_to_move(self) -> float:
        """Narrowest working range of the joint, mm."""
        return float((self.high - self.low).min())

    def mean_shape(self) -> Vector:
        """Coefficients (m,) of the gap's mean over the length of the joint."""
        steps = np.diff(self.at)
        weights = np.append(steps, 0.0) + np.insert(steps, 0, 0.0)
        mean: Vector = weights @ self.shape / weights.sum()
        return mean


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Gaps:
    """All gaps of a row, upright joints first from left to right, then along the curb.

    Attributes
    ----------
    places
        One a joint.
    sigma
        (k,) standard deviation of each gap on the day, mm; k gaps of all joints together.

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
    variance = [
        *_upright_variance(row, room, upright, profile),
        *_level_variance(room, level, profile),
    ]
    every = (*upright, *level)
    return Gaps(
        places=every,
        A=np.concatenate([p.A for p in every]),
        constant=np.concatenate([p.constant for p in every]),
        low=np.concatenate([p.low for p in every]),
        usual=np.concatenate([p.usual for p in every]),
        high=np.concatenate([p.high for p in every]),
        sigma=np.sqrt(np.concatenate(variance)),
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
    joint = row.joints[j]
    assert joint is not None  # noqa: S101 - the caller skips free ends
    at, fitting = _heights(row, room, near, j)
    A = np.zeros((len(at), len(near)))
    constant, shape = np.zeros(len(at)), np.zeros((len(at), len(room.opening.shape)))
    if j > 0:
        A -= edge(near, j - 1, "right", at)
    else:
        x, rows = room.walls("left", at)
        constant, shape = constant - x, shape - rows
    if j < len(row.panes):
        A += edge(near, j, "left", at)
    else:
        x, rows = room.walls("right", at)
        constant, shape = constant + x, shape + rows
    return _places(joint, at, fitting, A, constant, shape)


def _heights(row: Row, room: Room, near: Vector, j: int) -> tuple[Vector, NDArray[np.bool_]]:
    """Heights where an upright joint is looked at: its ends, its fittings, the nodes of a wall."""
    joint = row.joints[j]
    assert joint is not None  # noqa: S101
    bottoms = []
    if j > 0:
        bottoms.append((row.panes[j - 1], near[(j - 1) * CORNERS + Z_RIGHT]))
    if j < len(row.panes):
        bottoms.append((row.panes[j], near[j * CORNERS + Z_LEFT]))
    low, high = max(float(z) for _, z in bottoms), float(near[-1])
    own = next((float(z) for p, z in bottoms if p.kind == "door"), low)
    fittings = joint.places(own, high)
    nodes = room.opening.heights if len(bottoms) == 1 else ()
    reach = joint.fitting_height / 2
    clear = [
        h
        for h in {low, high, *(n for n in nodes if low < n < high)}
        if all(abs(h - f) > reach for f in fittings)
    ]
    at = np.array(sorted([*clear, *fittings]))
    return at, np.isin(at, fittings)


def _level(row: Row, room: Room, near: Vector, i: int) -> Places:
    base = i * CORNERS
    ends = near[[base + BOTTOM_LEFT, base + BOTTOM_RIGHT]]
    at = np.unique([*ends, *row.below[i].places(*ends)])
    share = (at - ends[0]) / (ends[1] - ends[0])
    curb, rows = room.curb(at)
    A = np.zeros((len(at), len(near)))
    A[:, base + Z_LEFT], A[:, base + Z_RIGHT] = 1.0 - share, share
    A[:, base + BOTTOM_LEFT] = -room.rise * (1.0 - share)
    A[:, base + BOTTOM_RIGHT] = -room.rise * share
    fitting = np.isin(at, row.below[i].places(*ends))
    return _places(row.below[i], at, fitting, A, room.rise * at - curb, -rows)


def _places(
    joint: RowJoint,
    at: Vector,
    fitting: NDArray[np.bool_],
    A: Matrix,
    constant: Vector,
    shape: Matrix,
) -> Places:
    ranges = [joint.range_at(fitting=bool(f)) for f in fitting]
    return Places(
        joint=joint,
        at=at,
        fitting=fitting,
        A=A,
        constant=constant,
        shape=shape,
        low=np.array([r.least for r in ranges]),
        usual=np.array([r.usual for r in ranges]),
        high=np.array([r.most for r in ranges]),
    )


def _upright_variance(
    row: Row, room: Room, upright: list[Places], profile: Profile
) -> Iterator[Vector]:
    """Variance of every upright gap on the day.

    What the opening and the panes together are off is spread over the joints in proportion to what each can
    take up; a free end takes all of it. What remains at a wall is how the wall departs from its own mean.
    """
    whole = np.asarray(sum(p.mean_shape() for p in upright))
    total = sum(p.room_to_move for p in upright)
    cut = len(row.panes) * size_variance(profile)
    for piece in upright:
        share = piece.room_to_move / total if row.closed and total > 0 else 0.0
        own = piece.shape - piece.mean_shape() + share * whole
        yield _variance(own, room.opening.covariance) + share**2 * cut + _setting(profile)


def _level_variance(room: Room, level: list[Places], profile: Profile) -> Iterator[Vector]:
    """Variance of every gap over the curb on the day; the one top line takes what is common to all."""
    whole = np.asarray(sum(p.mean_shape() for p in level)) / len(level)
    cut = (1.0 - 1.0 / len(level)) * size_variance(profile)
    for piece in level:
        yield _variance(piece.shape - whole, room.opening.covariance) + cut + _setting(profile)


def size_variance(profile: Profile) -> float:
    """Variance of a size as the plant cuts it: its tolerance is taken to hold 95 % of the panes."""
    return (float(profile.plant.size_tolerance) / 2) ** 2


def _setting(profile: Profile) -> float:
    return float(profile.setting_sd) ** 2


def _variance(rows: Matrix, covariance: Matrix) -> Vector:
    variance: Vector = np.maximum(((rows @ covariance) * rows).sum(axis=1), 0.0)
    return variance
