"""The corners of all panes as one vector, and where in it each of them stands.

For each pane x of its bottom left, bottom right, top right and top left corner, then z of its
bottom left and bottom right corner; then for each turn of the glass line how far the pane before
and the pane after it stand off their lines; last of all z of the one top line. mm.
"""

from __future__ import annotations

from hangtrue.measure.opening import Matrix, Vector

BOTTOM_LEFT, BOTTOM_RIGHT, TOP_RIGHT, TOP_LEFT, Z_LEFT, Z_RIGHT = range(6)
CORNERS = 6
"""Entries of one pane."""
SHIFTS = 2
"""Entries of one turn of the glass line."""


def entries(panes: int, turns: int) -> int:
    """Length of the vector."""
    return panes * CORNERS + turns * SHIFTS + 1


def panes_of(corners: Vector, count: int) -> Matrix:
    """Entries of the panes, (n, 6): a view, so that writing to it writes to the vector."""
    return corners[: count * CORNERS].reshape(count, CORNERS)


def shift(panes: int, turn: int, *, after: bool) -> int:
    """Entry of the shift of the pane before or after a turn (from 0, in the order of the row)."""
    return panes * CORNERS + turn * SHIFTS + after
