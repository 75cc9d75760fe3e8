"""Triangles over a pane, finer where its stress turns a corner or a clamp holds it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray
from shapely import LineString
from shapely import Point as Place

from hangtrue.geometry import Outline, Point, anticlockwise
from hangtrue.mechanics.mesher_process import MESHER
from hangtrue.mechanics.plate_element import Array, areas, barycentric_gradients
from hangtrue.mechanics.plate_model import SNAP

Indices = NDArray[np.int64]

GROWTH = 0.3
"""How fast element sizes may change, as the mesher counts it."""
BLOCK = 64
"""Points located at a time, to bound memory."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Mesh:
    """Triangles over a pane.

    Attributes
    ----------
    nodes
        (n, 2), mm.
    triangles
        (m, 3) node numbers, anticlockwise.

    """

    nodes: Array
    triangles: Indices

    @property
    def corners(self) -> Array:
        """Corner points (m, 3, 2) in mm."""
        return np.asarray(self.nodes[self.triangles])


def with_points(ring: Outline, points: Iterable[Point]) -> Outline:
    """Ring with those of `points` that lie on it made corners of it."""
    line = LineString([*ring, ring[0]])
    here = [p for p in points if line.distance(Place(p)) < SNAP]
    marks = {round(line.project(Place(p)), 5): p for p in (*here, *ring)}
    return tuple(point for _, point in sorted(marks.items()))


def mesh(
    outline: Outline,
    holes: Sequence[Outline],
    size: float,
    fine: Sequence[tuple[Point, float]] = (),
    marks: Iterable[Point] = (),
) -> Mesh:
    """Mesh a pane.

    Parameters
    ----------
    outline, holes
        Rings in mm, neither crossing nor touching each other.
    size
        Largest triangle side, mm.
    fine
        Points on the edge of the glass, each with the size of the triangles around it.
    marks
        Points on the edge that must become nodes.

    """
    extra = (*marks, *(point for point, _ in fine))
    sizes = dict(fine)
    rings = tuple(
        tuple((x, y, sizes.get((x, y), 1e9)) for x, y in with_points(anticlockwise(ring), extra))
        for ring in (outline, *holes)
    )
    return _meshed(rings, size)


@lru_cache(maxsize=16)
def _meshed(rings: tuple[tuple[tuple[float, float, float], ...], ...], size: float) -> Mesh:
    """Mesh rings of corners with the size there; kept, as a pane is held in more than one way."""
    made = MESHER.ask({"rings": rings, "size": size, "growth": GROWTH})
    nodes = np.array(made["nodes"], dtype=float)
    triangles = np.array(made["triangles"], dtype=np.int64)
    turned = areas(nodes[triangles]) < 0
    triangles[turned] = triangles[turned][:, ::-1]
    nodes.setflags(write=False)
    triangles.setflags(write=False)
    return Mesh(nodes=nodes, triangles=triangles)


def forget() -> None:
    """Let go of every mesh."""
    _meshed.cache_clear()


def boundary_sides(made: Mesh) -> Indices:
    """Sides (s, 2) on the edge of the glass, glass to the left."""
    sides = made.triangles[:, [[0, 1], [1, 2], [2, 0]]].reshape(-1, 2)
    _, first, count = np.unique(
        np.sort(sides, axis=1), axis=0, return_index=True, return_counts=True
    )
    return np.asarray(sides[first[count == 1]])


def sides_along(made: Mesh, start: Point, end: Point) -> Indices:
    """Boundary sides (s, 2) that lie on the segment from start to end."""
    sides = boundary_sides(made)
    along = np.subtract(end, start)
    length = float(np.hypot(*along))
    offset = made.nodes[sides] - np.asarray(start)
    run = offset @ along / length
    away = np.abs(offset[..., 0] * along[1] - offset[..., 1] * along[0]) / length
    on = (away < SNAP) & (run > -SNAP) & (run < length + SNAP)
    return np.asarray(sides[on.all(axis=1)])


def locate(made: Mesh, points: Array) -> tuple[Indices, Array]:
    """Triangle (p,) that holds each point of `points` (p, 2), and its barycentric place (p, 3)."""
    corners = made.corners
    gradients = barycentric_gradients(corners)
    offset = np.einsum("mic,mc->mi", gradients, corners[:, 0]) - np.array([1.0, 0.0, 0.0])
    owners, places = [], []
    for start in range(0, len(points), BLOCK):
        block = points[start : start + BLOCK]
        inside = np.einsum("mic,pc->pmi", gradients, block) - offset
        best = inside.min(axis=2).argmax(axis=1)
        owners.append(best)
        places.append(inside[np.arange(len(block)), best])
    return np.concatenate(owners), np.concatenate(places)
