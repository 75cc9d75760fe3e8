"""Bending of one thin pane of any outline, notched and drilled, on points, patches and edges.

Linear theory of thin plates: deflection w positive along the load's positive direction, bending
moments per length positive where they stretch the face on the side of positive w.
"""

# ruff: noqa: N802, N815 - units keep their capitals

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Final

import numpy as np
from scipy.sparse import csc_matrix
from scipy.sparse.linalg import splu
from shapely import LineString, Polygon, intersects_xy
from shapely import Point as Place

from hangtrue.geometry import Outline, Point
from hangtrue.mechanics.plate_element import (
    MID_SIDES,
    Array,
    areas,
    curvature_maps,
    deflection_map,
    rigidity_matrix,
    stiffness,
)
from hangtrue.mechanics.plate_mesh import Indices, Mesh, locate, mesh, sides_along
from hangtrue.mechanics.plate_model import (
    EdgeSupport,
    LineLoad,
    Load,
    PatchLoad,
    PatchSupport,
    Plate,
    PlateFault,
    PointLoad,
    PointSupport,
    Pressure,
    Support,
    faults,
    notch_corners,
    singular_places,
)
from hangtrue.phrase import phrase

RIGID: Final = 1e6
"""Stiffness of a support that does not give, in units of the plate's own over one triangle."""
FINER: Final = 6
"""How many times smaller the triangles are at re-entrant corners and clamps."""
HELD: Final = 6
"""How many times smaller again where a held edge ends at a re-entrant corner."""
TOUCHES: Final = 1.0
"""mm within which a held edge ends at a corner."""
PATCH_CELLS: Final = 6
"""Springs along each side of a patch."""
PAIRS: Final = 4096
"""Pairs of node and triangle that are smoothed at a time, to bound memory."""
GAUSS: Final = np.polynomial.legendre.leggauss(4)
CUBIC_PLACES: Final = np.array(
    [[1 / 3, 1 / 3, 1 / 3], [0.6, 0.2, 0.2], [0.2, 0.6, 0.2], [0.2, 0.2, 0.6]]
)
CUBIC_WEIGHTS: Final = np.array([-27, 25, 25, 25]) / 48
"""A rule that integrates cubics over a triangle exactly."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reaction:
    """What a support does to the pane.

    Attributes
    ----------
    force_N
        Across the pane, positive along positive w.
    moment_x_Nmm, moment_y_Nmm
        First moments of it about the origin: sum of force times x, sum of force times y, with the
        couples of a clamped edge.

    """

    force_N: float
    moment_x_Nmm: float
    moment_y_Nmm: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Solver:
    """A plate meshed and factorised, ready for any load on it.

    Attributes
    ----------
    springs
        Stiffness (3 n, 3 n) that each support adds.
    seats
        Motion (3 n,) the pane would have if it lay on each support's seat.

    """

    plate: Plate
    mesh: Mesh
    factors: Any
    springs: tuple[csc_matrix, ...]
    seats: tuple[Array, ...]

    @property
    def freedoms(self) -> Indices:
        """Numbers (m, 9) of the freedoms of each triangle."""
        return freedoms(self.mesh.triangles)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Bending:
    """A plate under one load: deflection, moments, stress and reactions.

    Attributes
    ----------
    solver
        The plate it belongs to.
    motion
        (n, 3): deflection in mm and its two slopes at each node.

    """

    solver: Solver
    motion: Array

    def deflection(self, at: Point) -> float:
        """Deflection at a point of the pane, mm; raises PlateFault beside the glass."""
        owner, place = _on_glass(self.solver, np.array([at], dtype=float))
        row = deflection_map(self.solver.mesh.corners[owner], place)
        return float(row[0] @ self.motion.ravel()[self.solver.freedoms[owner[0]]])

    @property
    def largest_deflection(self) -> float:
        """Largest deflection of any node, without sign, mm."""
        return float(np.abs(self.motion[:, 0]).max())

    @property
    def deflection_over_thickness(self) -> float:
        """Largest deflection in thicknesses; linear theory is for small ones, up to about half."""
        return self.largest_deflection / self.solver.plate.thickness

    @property
    def reactions(self) -> tuple[Reaction, ...]:
        """What each support does, in the order of the plate's supports."""
        rigid = rigid_motions(self.solver.mesh.nodes)
        motion, held = self.motion.ravel(), zip(self.solver.springs, self.solver.seats, strict=True)
        pushes = (rigid @ (spring @ (seat - motion)) for spring, seat in held)
        return tuple(
            Reaction(force_N=float(f), moment_x_Nmm=float(x), moment_y_Nmm=float(y))
            for f, x, y in pushes
        )

    def moments(self, at: Point) -> tuple[float, float, float]:
        """Bending and twisting moments (Mx, My, Mxy) per length at a point of the pane, N."""
        owner, place = _on_glass(self.solver, np.array([at], dtype=float))
        corner_values = nodal_moments(self)[self.solver.mesh.triangles[owner[0]]]
        mx, my, mxy = place[0] @ corner_values
        return float(mx), float(my), float(mxy)

    def stress_MPa(self, at: Point) -> float:
        """Largest principal tension of either face at a point of the pane, MPa."""
        return float(face_stress(np.array([self.moments(at)]), self.solver.plate.thickness)[0])

    def peak_stress(self, radius: float) -> tuple[float, Point]:
        """Largest tension at nodes at least `radius` mm from every singular place, and where, MPa.

        At a sharp re-entrant corner, a point force or the end of a clamped edge the stress of the
        theory has no limit; read those by `stress_around`.
        """
        nodes = self.solver.mesh.nodes
        stress = face_stress(nodal_moments(self), self.solver.plate.thickness)
        for x, y in singular_places(self.solver.plate):
            stress[np.hypot(nodes[:, 0] - x, nodes[:, 1] - y) < radius] = -math.inf
        worst = int(stress.argmax())
        return float(stress[worst]), (float(nodes[worst, 0]), float(nodes[worst, 1]))

    def stress_around(self, corner: Point, radius: float) -> float:
        """Largest tension on the part of a circle about `corner` that lies on the glass, MPa."""
        turns = np.linspace(0, 2 * math.pi, 72, endpoint=False)
        circle = np.asarray(corner) + radius * np.stack([np.cos(turns), np.sin(turns)], axis=1)
        owner, place = locate(self.solver.mesh, circle)
        on = place.min(axis=1) > 0
        if not on.any():
            raise PlateFault([phrase("no glass {radius:g} mm around a corner", radius=radius)])
        values = nodal_moments(self)[self.solver.mesh.triangles[owner[on]]]
        moments = np.einsum("pi,pic->pc", place[on], values)
        return float(face_stress(moments, self.solver.plate.thickness).max())


def freedoms(triangles: Indices) -> Indices:
    """Numbers (m, 9) of the freedoms at the corners of each triangle."""
    return np.asarray((3 * triangles[:, :, None] + np.arange(3)).reshape(len(triangles), 9))


def rigid_motions(nodes: Array) -> Array:
    """Motions of the whole pane (3, 3 n): w = 1, w = x, w = y."""
    out = np.zeros((3, len(nodes), 3))
    out[0, :, 0] = 1
    out[1, :, 0], out[1, :, 1] = nodes[:, 0], 1
    out[2, :, 0], out[2, :, 2] = nodes[:, 1], 1
    return out.reshape(3, -1)


def face_stress(moments: Array, thickness: float) -> Array:
    """Largest principal tension of either face, 6 |m| / t2, from moments (p, 3); MPa."""
    middle = (moments[:, 0] + moments[:, 1]) / 2
    spread = np.hypot((moments[:, 0] - moments[:, 1]) / 2, moments[:, 2])
    return np.asarray(6 / thickness**2 * (np.abs(middle) + spread))


def solve(plate: Plate, loads: Sequence[Load]) -> Bending:
    """Bend a plate under loads that act together.

    Raises
    ------
    PlateFault
        If the pane, its supports or the loads are faulty, or the pane is free to move as a whole.

    """
    if found := faults(plate, loads):
        raise PlateFault(found)
    solver = factorised(plate)
    force = np.zeros(3 * len(solver.mesh.nodes))
    for load in loads:
        _add_load(force, solver, load)
    for spring, seat in zip(solver.springs, solver.seats, strict=True):
        force += spring @ seat
    motion = np.asarray(solver.factors.solve(force)).reshape(-1, 3)
    if not np.isfinite(motion).all():
        raise PlateFault(["the equations of the plate have no solution"])
    return Bending(solver=solver, motion=motion)


def converged_deflection(plate: Plate, loads: Sequence[Load], at: Point) -> tuple[float, float]:
    """Deflection at a point from two meshes, the second twice as fine, and the change between; mm.

    The error falls four times as the side halves, so the finer answer is moved on by a third of the
    change (Richardson). At sharp notches it falls more slowly: read the change as the error.
    """
    coarse = solve(plate, loads).deflection(at)
    finer = Plate(**{**_fields(plate), "mesh_size": plate.size / 2})
    fine = solve(finer, loads).deflection(at)
    return fine + (fine - coarse) / 3, fine - coarse


def _fields(plate: Plate) -> dict[str, Any]:
    return {name: getattr(plate, name) for name in Plate.__dataclass_fields__}


@lru_cache(maxsize=1)
def factorised(plate: Plate) -> Solver:
    """Mesh and factorise a plate; kept, so that a second load or question costs little.

    Raises
    ------
    PlateFault
        If the plate is faulty or its supports leave it free to move as a whole.

    """
    if found := faults(plate):
        raise PlateFault(found)
    made = _mesh(plate)
    numbers = freedoms(made.triangles)
    rigidity = rigidity_matrix(plate.youngs_modulus_MPa, plate.poisson, plate.thickness)
    total = _assemble(stiffness(made.corners, rigidity), numbers, 3 * len(made.nodes))
    springs = tuple(_springs(support, plate, made) for support in plate.supports)
    if not _is_held(springs, made.nodes):
        raise PlateFault(["the supports leave the pane free to move as a whole"])
    for spring in springs:
        total = total + spring
    factors = splu(
        total.tocsc(),
        permc_spec="MMD_AT_PLUS_A",
        diag_pivot_thresh=0.0,
        options={"SymmetricMode": True},
    )
    seats = tuple(_seat(support, made.nodes) for support in plate.supports)
    return Solver(plate=plate, mesh=made, factors=factors, springs=springs, seats=seats)


def _seat(support: Support, nodes: Array) -> Array:
    """Motion (3 n,) of a pane that lies on the seat of one support."""
    lift, x, y = rigid_motions(nodes)
    if not isinstance(support, EdgeSupport):
        return np.asarray(support.offset * lift)
    along = np.subtract(support.end, support.start)
    rise = (support.offset[1] - support.offset[0]) * along / (along @ along)
    base = support.offset[0] - rise @ np.asarray(support.start)
    return np.asarray(base * lift + rise[0] * x + rise[1] * y)


def _mesh(plate: Plate) -> Mesh:
    fine_size = plate.size / FINER
    ends = [p for s in plate.supports if isinstance(s, EdgeSupport) for p in (s.start, s.end)]
    fine = {
        corner: fine_size / (HELD if any(math.dist(corner, p) < TOUCHES for p in ends) else 1)
        for corner in notch_corners(plate)
    }
    ring = LineString([*plate.outline, plate.outline[0]])
    for support in plate.supports:
        if isinstance(support, PatchSupport):
            for corner in support.outline:
                near = ring.interpolate(ring.project(Place(corner)))
                fine[near.x, near.y] = fine_size
    try:
        return mesh(plate.outline, plate.holes, plate.size, tuple(fine.items()), ends)
    except (
        Exception
    ) as error:  # the mesher raises its own kinds, all of them a pane without an answer
        raise PlateFault(
            [phrase("the pane could not be meshed ({why})", why=str(error))]
        ) from error


def _assemble(blocks: Array, numbers: Indices, count: int) -> csc_matrix:
    """Sum blocks (b, k, k) into a matrix at the freedom numbers (b, k)."""
    width = numbers.shape[1]
    rows, columns = np.repeat(numbers, width, axis=1).ravel(), np.tile(numbers, width).ravel()
    return csc_matrix((blocks.ravel(), (rows, columns)), shape=(count, count))


def _is_held(springs: Sequence[csc_matrix], nodes: Array) -> bool:
    rigid = rigid_motions((nodes - nodes.mean(axis=0)) / np.ptp(nodes))
    rigid.reshape(3, -1, 3)[:, :, 1:] /= np.ptp(nodes)
    held = np.zeros((3, 3))
    for spring in springs:
        block = rigid @ (spring @ rigid.T)
        held += block / max(float(np.abs(block).max()), 1e-300)
    values = np.linalg.eigvalsh(held)
    return bool(values[0] > 1e-9 * values[-1])


def _springs(support: Support, plate: Plate, made: Mesh) -> csc_matrix:
    count = 3 * len(made.nodes)
    match support:
        case PointSupport():
            stiff = min(support.stiffness_N_per_mm, RIGID * plate.rigidity / plate.size**2)
            place = np.array([support.at], dtype=float)
            return _point_springs(made, place, np.array([stiff]), count)
        case PatchSupport():
            points, parts = _gripped(support.outline, plate)
            stiff = RIGID * plate.rigidity / plate.size**4
            weights = parts * min(support.stiffness_N_per_mm3, stiff)
            return _point_springs(made, points, weights, count)
        case EdgeSupport():
            return _edge_springs(support, plate, made, count)


def _point_springs(made: Mesh, points: Array, weights: Array, count: int) -> csc_matrix:
    owner, place = locate(made, points)
    rows = deflection_map(made.corners[owner], place)
    blocks = weights[:, None, None] * rows[:, :, None] * rows[:, None, :]
    return _assemble(blocks, freedoms(made.triangles[owner]), count)


def _edge_springs(support: EdgeSupport, plate: Plate, made: Mesh, count: int) -> csc_matrix:
    sides = sides_along(made, support.start, support.end)
    ends = made.nodes[sides]
    length = np.hypot(*(ends[:, 1] - ends[:, 0]).T)
    local = length.min()
    lift = min(support.stiffness_N_per_mm2, RIGID * plate.rigidity / local**3)
    tilt = min(support.rotation_N, RIGID * plate.rigidity / local)
    numbers = (3 * sides[:, :, None] + np.arange(3)).reshape(-1, 6)
    blocks = np.zeros((len(sides), 6, 6))
    for place, weight in zip((1 + GAUSS[0]) / 2, GAUSS[1] / 2, strict=True):
        deflection, slope = side_maps(ends, float(place))
        share = (weight * length)[:, None, None]
        blocks += share * lift * deflection[:, :, None] * deflection[:, None, :]
        blocks += share * tilt * slope[:, :, None] * slope[:, None, :]
    return _assemble(blocks, numbers, count)


def side_maps(ends: Array, place: float) -> tuple[Array, Array]:
    """Deflection and outward slope (s, 6) at a place 0..1 along sides with `ends` (s, 2, 2)."""
    side = ends[:, 1] - ends[:, 0]
    length = np.hypot(side[:, 0], side[:, 1])
    outward = np.stack([side[:, 1], -side[:, 0]], axis=1) / length[:, None]
    s = place
    deflection = np.zeros((len(ends), 6))
    deflection[:, 0], deflection[:, 3] = 1 - 3 * s**2 + 2 * s**3, 3 * s**2 - 2 * s**3
    deflection[:, 1:3] = (s - 2 * s**2 + s**3) * side
    deflection[:, 4:6] = (s**3 - s**2) * side
    slope = np.zeros((len(ends), 6))
    slope[:, 1:3], slope[:, 4:6] = (1 - s) * outward, s * outward
    return deflection, slope


def _gripped(outline: Outline, plate: Plate) -> tuple[Array, Array]:
    """Points (p, 2) of a patch that are on glass, and the area (p,) that each stands for."""
    points, parts = _cells(outline)
    if not plate.holes:
        return points, parts
    glass = Polygon(plate.outline, plate.holes)
    kept = points[intersects_xy(glass, points[:, 0], points[:, 1])]
    if not len(kept):
        raise PlateFault(["there is no glass under a clamp"])
    area = glass.intersection(Polygon(outline)).area
    return kept, np.full(len(kept), area / len(kept))


def _cells(outline: Outline) -> tuple[Array, Array]:
    """Points (p, 2) spread over a patch and the area (p,) that each stands for."""
    patch = Polygon(outline)
    left, low, right, high = patch.bounds
    steps = (np.arange(PATCH_CELLS) + 0.5) / PATCH_CELLS
    grid = np.stack(np.meshgrid(left + steps * (right - left), low + steps * (high - low)), axis=-1)
    inside = [p for p in grid.reshape(-1, 2) if patch.covers(Place(p))]
    if not inside:
        inside = [np.array(patch.representative_point().coords[0])]
    points = np.array(inside)
    return points, np.full(len(points), patch.area / len(points))


def _add_load(force: Array, solver: Solver, load: Load) -> None:
    match load:
        case PointLoad():
            _add_points(force, solver, np.array([load.at], dtype=float), np.array([load.force_N]))
        case LineLoad():
            _add_points(force, solver, *_along(load, solver))
        case PatchLoad():
            points, parts = _cells(load.outline)
            _add_points(force, solver, points, parts * load.pressure_MPa)
        case Pressure():
            corners = solver.mesh.corners
            weights = areas(corners) * load.pressure_MPa
            for place, weight in zip(CUBIC_PLACES, CUBIC_WEIGHTS, strict=True):
                rows = deflection_map(corners, np.tile(place, (len(corners), 1)))
                np.add.at(force, solver.freedoms, (weight * weights)[:, None] * rows)


def _add_points(force: Array, solver: Solver, points: Array, forces: Array) -> None:
    owner, place = locate(solver.mesh, points)
    rows = deflection_map(solver.mesh.corners[owner], place)
    np.add.at(force, solver.freedoms[owner], forces[:, None] * rows)


def _along(load: LineLoad, solver: Solver) -> tuple[Array, Array]:
    """Gauss points (p, 2) along a line load and the force (p,) at each."""
    length = math.dist(load.start, load.end)
    parts = max(1, math.ceil(4 * length / solver.plate.size))
    steps = (np.arange(parts)[:, None] + (1 + GAUSS[0]) / 2).ravel() / parts
    weights = np.tile(GAUSS[1] / 2, parts) / parts
    points = np.asarray(load.start) + steps[:, None] * np.subtract(load.end, load.start)
    return points, weights * length * load.load_N_per_mm


def _on_glass(solver: Solver, points: Array) -> tuple[Indices, Array]:
    owner, place = locate(solver.mesh, points)
    for point, least in zip(points, place.min(axis=1), strict=True):
        if least < -1e-4:  # noqa: PLR2004 - of a triangle's height: rounding at the edge
            raise PlateFault(
                [phrase("({x:g}, {y:g}) is not on the glass", x=float(point[0]), y=float(point[1]))]
            )
    return owner, place


@lru_cache(maxsize=1)
def nodal_moments(bending: Bending) -> Array:
    """Moments (n, 3) at the nodes, N: a parabola through the values around each node."""
    made, plate = bending.solver.mesh, bending.solver.plate
    local = bending.motion.ravel()[bending.solver.freedoms]
    curvatures = np.einsum("qmcf,mf->mqc", curvature_maps(made.corners), local)
    rigidity = rigidity_matrix(plate.youngs_modulus_MPa, plate.poisson, plate.thickness)
    samples = np.einsum("qi,mic->mqc", MID_SIDES, made.corners)
    return _smoothed(made, samples, -curvatures @ rigidity.T)


def _smoothed(made: Mesh, samples: Array, values: Array) -> Array:
    """Parabolas fitted to `values` (m, 3, 3) at `samples` (m, 3, 2), read at the nodes (n, 3).

    The triangles of a node are those that touch it or a neighbour: enough on the edge too.
    """
    count, triangles = len(made.nodes), made.triangles
    owner = np.repeat(np.arange(len(triangles)), 3)
    touch = csc_matrix((np.ones(len(owner)), (triangles.ravel(), owner)), (count, len(triangles)))
    near = (touch @ (touch.T @ touch)).tocoo()
    node, element = near.row, near.col
    scale = np.sqrt(np.bincount(node, areas(made.corners)[element]) / np.bincount(node))
    normal, right = np.zeros((count, 6, 6)), np.zeros((count, 6, 3))
    for start in range(0, len(node), PAIRS):
        here, there = node[start : start + PAIRS], element[start : start + PAIRS]
        offset = (samples[there] - made.nodes[here][:, None, :]) / scale[here][:, None, None]
        x, y = offset[..., 0], offset[..., 1]
        terms = np.stack([np.ones_like(x), x, y, x * x, x * y, y * y], axis=-1)
        np.add.at(normal, here, np.matmul(terms.transpose(0, 2, 1), terms))
        np.add.at(right, here, np.matmul(terms.transpose(0, 2, 1), values[there]))
    return np.asarray(np.linalg.solve(normal, right)[:, 0])


def forget() -> None:
    """Let go of the pane that was solved last, which takes some tens of MB."""
    factorised.cache_clear()
    nodal_moments.cache_clear()
