"""The opening as a row of panes sees it, perhaps in the mirror: faces, curb, caps and ceiling."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from hangtrue.fit.entries import (
    BOTTOM_LEFT,
    BOTTOM_RIGHT,
    TOP_LEFT,
    TOP_RIGHT,
    Z_LEFT,
    Z_RIGHT,
    panes_of,
)
from hangtrue.job.readings import Side
from hangtrue.measure.length import Linear
from hangtrue.measure.opening import Matrix, Opening, Vector

CURB = "curb"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Room:
    """The opening as the row sees it, mirrored where the row is.

    Attributes
    ----------
    mirrored
        Left and right are exchanged, so that a row and its mirror image are one problem.
    marks
        x along the glass line of its left end, its corners and its right end, as they are in the
        opening, mm.

    """

    opening: Opening
    mirrored: bool
    marks: tuple[float, ...]

    @property
    def foot_left(self) -> float:
        """x of the left end of the curb in the opening, mm."""
        return self.marks[0]

    @property
    def foot_right(self) -> float:
        """x of the right end of the curb in the opening, mm."""
        return self.marks[-1]

    def of(self, opening: Opening) -> Room:
        """Look at another shape of the same opening; free ends stay as far from their run."""
        turns = corners_of(opening)
        moved = replace(self, opening=opening)
        left, right = self.marks[0], self.marks[-1]
        zero = np.zeros(1)
        if "left" in opening.walls:
            left = float((face(opening, "left", zero) @ opening.shape)[0])
        if "right" in opening.walls:
            right = float((face(opening, "right", zero) @ opening.shape)[0])
        return replace(moved, marks=(left, *turns, right))

    def walls(self, side: Side, heights: Vector) -> tuple[Vector, Matrix]:
        """x of a wall's face at heights (k,), and its (k, m) coefficients on the shape."""
        if not self.mirrored:
            rows = face(self.opening, side, heights)
            return rows @ self.opening.shape, rows
        rows = -face(self.opening, "left" if side == "right" else "right", heights)
        return self.foot_right + rows @ self.opening.shape, rows

    def corner(self, number: int) -> tuple[float, Vector]:
        """x of a corner of the glass line, and its (m,) coefficients on the shape."""
        row = self._entry(f"corner {number}")
        x = self.marks[number]
        return (self.foot_right - x, -row) if self.mirrored else (x, row)

    def angle(self, number: int) -> tuple[float, Vector]:
        """Inside angle of a corner, rad, and its (m,) coefficients on the shape."""
        row = self._entry(f"angle {number}")
        return float(row @ self.opening.shape), row

    def run(self, number: int) -> tuple[float, float]:
        """x of the ends of a straight part of the glass line, as the row sees them."""
        low, high = self.marks[number - 1], self.marks[number]
        return (self.foot_right - high, self.foot_right - low) if self.mirrored else (low, high)

    def curb(self, x: Vector, run: int = 1) -> tuple[Vector, Matrix]:
        """Height of the curb of a run at x (k,), and its (k, m) coefficients on the shape."""
        real = self.foot_right - x if self.mirrored else x
        low, high = self.marks[run - 1], self.marks[run]
        share = (real - low) / (high - low)
        names = self._curb_names(run)
        return self._between(names, share)

    def rise(self, run: int = 1) -> float:
        """Slope of the curb of a run along x."""
        left, right = (self.opening.unknowns.index(name) for name in self._curb_names(run))
        fall = float(self.opening.shape[right] - self.opening.shape[left])
        slope = fall / (self.marks[run] - self.marks[run - 1])
        return -slope if self.mirrored else slope

    def base(self, name: str, x: Vector, run: int = 1) -> tuple[Vector, Matrix]:
        """Height of the curb, or of the cap of a step, at x (k,), and its (k, m) coefficients."""
        if name == CURB:
            return self.curb(x, run)
        step = self.opening.step(name)
        real = self.foot_right - x if self.mirrored else x
        low, high = (self.value(end) for end in (step.cap_left, step.cap_right))
        share = ((real - low) / (high - low))[:, None]
        rows = (1.0 - share) * step.top_left.coefficients + share * step.top_right.coefficients
        constant = (1.0 - share[:, 0]) * step.top_left.constant
        constant += share[:, 0] * step.top_right.constant
        return rows @ self.opening.shape + constant, rows

    def base_rise(self, name: str, run: int = 1) -> float:
        """Slope along x of the curb or of a cap."""
        if name == CURB:
            return self.rise(run)
        z, _ = self.base(name, np.array([0.0, 1000.0]), run)
        return float(z[1] - z[0]) / 1000.0

    def riser(self, step: str, side: Side) -> tuple[float, Vector]:
        """x of the edge of a cap at one of its risers, and its (m,) coefficients on the shape."""
        found = self.opening.step(step)
        edge = found.cap_left if side == "left" else found.cap_right
        x, row = self.value(edge), edge.coefficients
        return (self.foot_right - x, -row) if self.mirrored else (x, row)

    def ceiling(self, x: Vector) -> tuple[Vector, Matrix]:
        """Height of the ceiling at x (k,), and its (k, m) coefficients on the shape."""
        real = self.foot_right - x if self.mirrored else x
        found = [self.opening.ceiling(float(at)) for at in real]
        rows = np.array([length.coefficients for length in found])
        return rows @ self.opening.shape + [length.constant for length in found], rows

    def value(self, length: Linear) -> float:
        """Estimated value of a length, mm."""
        return length.constant + float(length.coefficients @ self.opening.shape)

    def _curb_names(self, run: int) -> tuple[str, str]:
        last = len(self.marks) - 1
        left = "curb left" if run == 1 else f"curb corner {run - 1}"
        right = "curb right" if run == last else f"curb corner {run}"
        return left, right

    def _between(self, names: tuple[str, str], share: Vector) -> tuple[Vector, Matrix]:
        rows = np.zeros((len(share), len(self.opening.shape)))
        rows[:, self.opening.unknowns.index(names[0])] = 1.0 - share
        rows[:, self.opening.unknowns.index(names[1])] = share
        return rows @ self.opening.shape, rows

    def _entry(self, name: str) -> Vector:
        row = np.zeros(len(self.opening.shape))
        row[self.opening.unknowns.index(name)] = 1.0
        return row

    @property
    def ends(self) -> tuple[float, float]:
        """x of the left and the right end of the curb, as the row sees them."""
        span = self.foot_right - self.foot_left
        return (0.0, span) if self.mirrored else (self.foot_left, self.foot_right)

    def unmirrored(self, corners: Vector, count: int) -> Vector:
        """Corners of a row of so many panes in the opening as it is."""
        if not self.mirrored:
            return corners
        panes = panes_of(corners, count)[::-1]
        swap = [BOTTOM_RIGHT, BOTTOM_LEFT, TOP_LEFT, TOP_RIGHT, Z_RIGHT, Z_LEFT]
        real = panes[:, swap].copy()
        real[:, :Z_LEFT] = self.foot_right - real[:, :Z_LEFT]
        shifts = corners[panes.size : -1][::-1]
        return np.concatenate([real.ravel(), shifts, corners[-1:]])


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


def room(
    opening: Opening, reach: float, *, mirrored: bool, last_reach: float | None = None
) -> Room:
    """Look at an opening, or at its mirror image.

    Parameters
    ----------
    reach
        Length of the curb of the first run where an end is free, mm.
    last_reach
        The same of the last run, where the glass line turns.

    """
    zero = np.zeros(1)
    feet = {side: float((face(opening, side, zero) @ opening.shape)[0]) for side in opening.walls}
    turns = corners_of(opening)
    first, last = turns[:1] or (feet.get("right", reach),), turns[-1:]
    left = feet["left"] if "left" in feet else first[0] - reach
    far = reach if last_reach is None else last_reach
    right = feet["right"] if "right" in feet else (last or (left,))[0] + far
    return Room(opening=opening, mirrored=mirrored, marks=(left, *turns, right))


def corners_of(opening: Opening) -> tuple[float, ...]:
    """x of the corners of the glass line, from left to right."""
    found: list[float] = []
    while (name := f"corner {len(found) + 1}") in opening.unknowns:
        found.append(float(opening.shape[opening.unknowns.index(name)]))
    return tuple(found)
