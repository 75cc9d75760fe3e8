"""A pane under everything that leans on it: movement of its free edges, and stress.

Both are a range between channels that guide it and channels that grip it.
"""

# ruff: noqa: N803, N815 - units keep their capitals

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from shapely import LineString, Polygon, box
from shapely.geometry.base import BaseGeometry

from hangtrue.check.proof.cases import PaneCase
from hangtrue.check.proof.held_pane import HeldPane
from hangtrue.geometry import Point
from hangtrue.geometry import at_height as place_on
from hangtrue.mechanics.plate import Bending, forget, solve
from hangtrue.mechanics.plate_model import (
    LineLoad,
    Load,
    PatchLoad,
    PlateFault,
    PointLoad,
    Pressure,
    faults,
    notch_corners,
)
from hangtrue.mechanics.plate_pushes import Push, pushes
from hangtrue.tables import table

STAND_CLEAR = 2.0
"""Stress is read this many thicknesses from places where thin plates have none."""
LEAST_RADIUS = 3.0
"""mm; a cut-out is never read at less than this radius."""
LINEAR = 1.0
"""Deflection in thicknesses up to which the linear theory is taken as it is."""
MESH_ALLOWANCE = 1.15
"""On stress: what the mesh may miss, from the same panes meshed five times as fine."""
BEYOND_LINEAR = 0.5
"""Share of an allowable that is still trusted where the linear theory is beyond its range."""
INSET = 1.0
"""mm by which a load along a pane stays off its edges."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bent:
    """One load on one pane, its channels taken one way.

    Attributes
    ----------
    moves
        Largest movement of its free upright edges at the height of the load, mm; of any place
        where it has none.
    at_height
        Height of the load on the pane, mm from its datum corner.
    over_thickness
        Largest movement of any place in thicknesses.
    stress_MPa, at
        Largest tension and where: away from singular places, and around re-entrant corners at
        their own radius.
    corner_MPa
        Tension around re-entrant corners alone; 0 without any.
    pushes
        What the pane does to each of its supports, in the order of the plate's.

    """

    case: PaneCase
    bracket: str
    moves: float
    at_height: float
    over_thickness: float
    stress_MPa: float
    corner_MPa: float
    at: Point
    pushes: tuple[tuple[Push, ...], ...]

    @property
    def linear(self) -> bool:
        """Whether it moves little enough for the linear theory."""
        return self.over_thickness <= LINEAR


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """Everything that was found of one pane.

    Attributes
    ----------
    bent
        Every load at every end of the range.
    faults
        What kept the rest from being solved, in words; a fault is never a pass.

    """

    bent: tuple[Bent, ...]
    faults: tuple[str, ...]

    def of(self, case_id: str) -> tuple[Bent, ...]:
        """Return the answers for one load."""
        return tuple(bent for bent in self.bent if bent.case.id == case_id)


@lru_cache(maxsize=512)
def bend(pane: HeldPane, cases: tuple[PaneCase, ...], floor: float) -> Answer:
    """Bend a pane under each load; kept by geometry, so that only what changed is solved again.

    Parameters
    ----------
    floor
        Height of the floor above the pane's datum corner, usually below it; mm.

    """
    bent: list[Bent] = []
    wrong: dict[str, None] = {}
    for bracket in pane.brackets:
        for case in cases:
            try:
                bent.append(_bent(pane, case, bracket, floor))
            except PlateFault as error:
                wrong |= dict.fromkeys(error.faults)
    forget()
    return Answer(bent=tuple(bent), faults=tuple(wrong))


def _bent(pane: HeldPane, case: PaneCase, bracket: str, floor: float) -> Bent:
    plate = pane.plate(bracket)
    if found := faults(plate):  # before anything is laid on it
        raise PlateFault(found)
    solved = solve(plate, tuple(loads(pane, case, floor)))
    clear = STAND_CLEAR * pane.thickness
    peak, at = solved.peak_stress(clear)
    corner = _at_corners(pane, solved)
    return Bent(
        case=case,
        bracket=bracket,
        moves=_moves(pane, solved, case, floor),
        at_height=_height(pane, floor + case.height),
        over_thickness=solved.deflection_over_thickness,
        stress_MPa=MESH_ALLOWANCE * max(peak, corner),
        corner_MPa=MESH_ALLOWANCE * corner,
        at=at,
        pushes=pushes(solved),
    )


def _at_corners(pane: HeldPane, solved: Bending) -> float:
    """Largest tension around the re-entrant corners, on a circle of their own radius, MPa."""
    radius = max(pane.notch_radius, LEAST_RADIUS)
    found = (solved.stress_around(at, radius) for at in notch_corners(solved.solver.plate))
    return max(found, default=0.0)


def _moves(pane: HeldPane, solved: Bending, case: PaneCase, floor: float) -> float:
    edges = [_on_edge(edge, floor + case.height) for edge in pane.free] if case.height else []
    if not edges:
        return solved.largest_deflection
    return max(abs(solved.deflection(at)) for at in edges)


def _on_edge(edge: tuple[Point, Point], y: float) -> Point:
    """Place on a straight edge at a height, or its nearer end."""
    low, high = edge
    held = min(max(y, low[1]), high[1])
    return place_on(low, high, held), held


def loads(pane: HeldPane, case: PaneCase, floor: float) -> Iterator[Load]:
    """Put a load case on a pane: along its width, on its free edge, or all over."""
    y = _height(pane, floor + case.height)
    if case.pressure_MPa:
        yield Pressure(pressure_MPa=case.pressure_MPa)
    if case.line_N_per_mm:
        yield from _line(pane, y, case.line_N_per_mm)
    if case.force_N:
        yield _hand(pane, y, case.force_N)


def _height(pane: HeldPane, y: float) -> float:
    """Return a height on the pane: the load itself, or as near to it as the pane reaches."""
    heights = [point[1] for point in pane.outline]
    return min(max(y, min(heights) + INSET), max(heights) - INSET)


def _glass(pane: HeldPane) -> Polygon:
    return Polygon(pane.outline, pane.holes)


def _line(pane: HeldPane, y: float, load_N_per_mm: float) -> Iterator[Load]:
    """Line load from edge to edge, on the glass that there is; the whole of it is kept."""
    left, _, right, _ = Polygon(pane.outline).bounds
    across = _glass(pane).buffer(-INSET).intersection(LineString([(left, y), (right, y)]))
    pieces = [piece for piece in _parts(across) if piece.length > INSET]
    if not pieces:
        raise PlateFault(["there is no glass at the height of the load"])
    whole = Polygon(pane.outline).intersection(LineString([(left, y), (right, y)])).length
    shared = load_N_per_mm * whole / sum(piece.length for piece in pieces)
    for piece in pieces:
        (x0, y0), (x1, y1) = piece.coords[0], piece.coords[-1]
        yield LineLoad(start=(x0, y0), end=(x1, y1), load_N_per_mm=shared)


def _parts(shape: BaseGeometry) -> list[LineString]:
    found = getattr(shape, "geoms", [shape])
    return [part for part in found if isinstance(part, LineString) and not part.is_empty]


def _hand(pane: HeldPane, y: float, force_N: float) -> Load:
    """A hand on the free edge, moved down past holes; in the middle where no edge is free."""
    breadth = float(table("mechanics/load_cases")["hand"]["breadth"])
    glass, shape = _glass(pane).buffer(-INSET), Polygon(pane.outline)
    middle = shape.centroid.x
    for step in range(12):
        height = y - step * breadth / 2
        edges = [_on_edge(edge, height)[0] for edge in pane.free] or [middle]
        far = max(edges, key=lambda x: abs(x - middle))
        inner = far + breadth if far < middle else far - breadth
        inner = far + breadth / 2 if far == middle else inner
        left, right = sorted((far + (2 * INSET if far <= inner else -2 * INSET), inner))
        patch = box(left, height - breadth / 2, right, height + breadth / 2)
        if glass.covers(patch):
            ring = tuple((float(a), float(b)) for a, b in patch.exterior.coords[:-1])
            return PatchLoad(outline=ring, pressure_MPa=force_N / patch.area)
    place = shape.representative_point()
    return PointLoad(at=(place.x, place.y), force_N=force_N)


@dataclass(frozen=True, slots=True, kw_only=True)
class Opened:
    """A pane under a door that hangs on it and stands open square.

    Attributes
    ----------
    slope
        Turn of its hinge edge.
    pushes
        What it does to its supports, in the order of the plate's.

    """

    slope: float
    pushes: tuple[tuple[Push, ...], ...]


@lru_cache(maxsize=128)
def opened(
    pane: HeldPane, bracket: str, x: float, heights: tuple[float, ...], pull_N: float
) -> Opened:
    """Bend a pane by a door that stands open square.

    Parameters
    ----------
    x, heights
        Where the hinges grip the pane, from its datum corner, mm; lowest first.
    pull_N
        Of the couple at the upper hinge; the lower one pushes as much.

    """
    low, high = heights[0], heights[-1]
    pulls = (
        PointLoad(at=(x, high), force_N=pull_N),
        PointLoad(at=(x, low), force_N=-pull_N),
    )
    solved = solve(pane.plate(bracket), pulls)
    turned = solved.deflection((x, high)) - solved.deflection((x, low))
    return Opened(slope=turned / (high - low), pushes=pushes(solved))
