"""The gaps of one joint at every place that matters, as linear functions of the corners."""

from __future__ import annotations

from dataclasses import dataclass

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
from hangtrue.fit.rows import Range, Row, RowJoint, Stop
from hangtrue.job.readings import Side
from hangtrue.measure.opening import Matrix, Vector

Looked = tuple[RowJoint, Vector, tuple[bool, ...]]
"""A joint, the places where it is looked at, and whether a fitting sits at each."""


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
    stop
        Which edge ends beside which riser; None elsewhere.

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
    stop: Stop | None = None

    @property
    def takes_up(self) -> float:
        """Narrowest working range of the joint, mm."""
        return min(r.width for r in self.ranges)

    @property
    def fittings(self) -> tuple[float, ...]:
        """Places of the fittings alone, mm."""
        return tuple(float(z) for z, fits in zip(self.at, self.fitting, strict=True) if fits)


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


def with_fittings(
    places: set[float], fittings: tuple[float, ...], reach: float
) -> tuple[Vector, tuple[bool, ...]]:
    """Places in order, the fittings among them; what lies behind a fitting is part of it."""
    clear = [p for p in places if all(abs(p - f) > reach for f in fittings)]
    order = sorted([*((p, False) for p in clear), *((f, True) for f in fittings)])
    return np.array([p for p, _ in order]), tuple(fits for _, fits in order)


def places(
    joint: RowJoint,
    at: Vector,
    fitting: tuple[bool, ...],
    A: Matrix,
    constant: Vector,
    shape: Matrix,
) -> Places:
    """Write down the gaps of a joint, with the range that holds at each place."""
    return Places(
        joint=joint,
        at=at,
        fitting=fitting,
        A=A,
        constant=constant,
        shape=shape,
        mean_shape=mean_over(at) @ shape,
        ranges=tuple(joint.range_at(fitting=fits) for fits in fitting),
    )


def mean_over(at: Vector) -> Vector:
    """Weights of the mean over a length of what is straight between places."""
    steps = at[1:] - at[:-1]
    weights = np.zeros(len(at))
    weights[:-1] += steps
    weights[1:] += steps
    mean: Vector = weights / weights.sum()
    return mean
