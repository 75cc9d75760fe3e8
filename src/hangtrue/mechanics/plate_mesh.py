"""Triangles over a pane, finer where its stress turns a corner or a clamp holds it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from threading import Event, Thread
from typing import Any

import numpy as np
from netgen.geom2d import SplineGeometry  # type: ignore[import-untyped]
from numpy.typing import NDArray
from shapely import LineString
from shapely import Point as Place

from hangtrue.geometry import Outline, Point, anticlockwise
from hangtrue.mechanics.plate_element import Array, areas, barycentric_gradients
from hangtrue.mechanics.plate_model import SNAP

Indices = NDArray[np.int64]

GROWTH = 0.3
"""How fast element sizes may change, as the mesher counts it."""
LIMIT = 5.0
"""s after which the mesher is given up; a pane takes some hundredths."""
BLOCK = 64
"""Points located at a time, to bound memory."""


GIVEN_UP = Event()
"""Set once the mesher was left running; it cannot be trusted again in this process."""


class MeshGivenUp(RuntimeError):  # noqa: N818 - it says what was done
    """The mesher did not come back in time, now or earlier in this process."""

    def __init__(self) -> None:
        """Say so in words."""
        super().__init__(f"the mesher did not come back within {LIMIT:g} s")


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
    geometry = SplineGeometry()
    extra = (*marks, *(point for point, _ in fine))
    for number, ring in enumerate((outline, *holes)):
        ring_points = with_points(anticlockwise(ring), extra)
        _append(geometry, ring_points, dict(fine), glass_left=number == 0)
    made = _generated(geometry, size)
    nodes = np.array(made.Coordinates()[:, :2], dtype=float)
    triangles = made.Elements2D().NumPy()["nodes"].astype(np.int64) - 1
    turned = areas(nodes[triangles]) < 0
    triangles[turned] = triangles[turned][:, ::-1]
    return Mesh(nodes=nodes, triangles=triangles)


def _generated(geometry: SplineGeometry, size: float) -> Any:  # noqa: ANN401 - the library is untyped
    """Run the mesher, but not for ever: it lets other threads run, so it can be walked away from.

    Raises
    ------
    MeshGivenUp
        If it is not done in time. It then still runs somewhere, and no further pane is meshed in
        this process: the library keeps one state for all.

    """
    if GIVEN_UP.is_set():
        raise MeshGivenUp
    made: list[Any] = []
    failed: list[Exception] = []

    def run() -> None:
        try:
            made.append(geometry.GenerateMesh(maxh=size, grading=GROWTH))
        except Exception as error:  # noqa: BLE001 - handed to the caller, whatever it is
            failed.append(error)

    worker = Thread(target=run, name="mesher", daemon=True)
    worker.start()
    worker.join(LIMIT)
    if failed:
        raise failed[0]
    if not made:
        GIVEN_UP.set()
        raise MeshGivenUp
    return made[0]


def _append(
    geometry: SplineGeometry, ring: Outline, sizes: dict[Point, float], *, glass_left: bool
) -> None:
    ids = [geometry.AppendPoint(x, y, maxh=sizes.get((x, y), 1e9)) for x, y in ring]
    for start, end in zip(ids, ids[1:] + ids[:1], strict=True):
        geometry.Append(
            ["line", start, end], leftdomain=int(glass_left), rightdomain=int(not glass_left)
        )


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
