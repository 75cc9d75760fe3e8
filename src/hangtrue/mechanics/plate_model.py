"""A pane as the plate solver sees it: outline, holes, what holds and loads it, what is wrong."""

# ruff: noqa: N815 - units keep their capitals

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, fields
from typing import Final

import numpy as np
from shapely import LineString, MultiPoint, Polygon, unary_union
from shapely import Point as Place
from shapely.geometry.base import BaseGeometry as Shape

from hangtrue.geometry import Outline, Point, anticlockwise, is_simple
from hangtrue.phrase import join, phrase

SNAP: Final = 1e-5
"""mm within which something is taken to lie on the glass or its edge."""
REFLEX: Final = math.radians(215)
"""Interior angle from which a corner counts as re-entrant; a round hole's polygon has none."""
LEAST_GLASS: Final = 1.0
"""mm of glass, or of hole, that no plant makes and no mesher should be asked for."""
CORNERS: Final = 3
"""Least corners of an outline."""
SIZES_ACROSS: Final = 17
"""Triangles across a square of the pane's area, unless the plate says otherwise."""


class PlateFault(ValueError):  # noqa: N818 - it is the fault of the plate, found by the solver
    """The pane, its supports or its loads cannot be solved.

    Attributes
    ----------
    faults
        Why, all at once.
    words
        The same in one text with its parts.

    """

    def __init__(self, faults: Sequence[str]) -> None:
        """Build the message from the faults."""
        self.faults = tuple(faults)
        self.words = join("; ", self.faults)
        super().__init__(self.words)


@dataclass(frozen=True, slots=True, kw_only=True)
class PointSupport:
    """A stop or pin: a spring across the pane at a point.

    Attributes
    ----------
    at
        On the glass, mm.
    stiffness_N_per_mm
        Rigid by default.
    offset
        How far its seat lies out of the plane of the others, mm.

    """

    at: Point
    stiffness_N_per_mm: float = math.inf
    offset: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class PatchSupport:
    """A clamp or hinge plate: a bed of springs over a convex area.

    Attributes
    ----------
    outline
        On the glass, mm.
    stiffness_N_per_mm3
        For each mm2 of it; rigid by default.
    offset
        How far its seat lies out of the plane of the others, mm.

    """

    outline: Outline
    stiffness_N_per_mm3: float = math.inf
    offset: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeSupport:
    """A channel or bead along a straight piece of the edge.

    Attributes
    ----------
    start, end
        On the edge of the glass, mm.
    stiffness_N_per_mm2
        Against deflection, for each mm of edge; rigid by default.
    rotation_N
        Against tilting, N mm per mm of edge and rad: 0 is hinged, infinite is clamped.
    offset
        How far its seat lies out of the plane of the others at start and at end, mm.

    """

    start: Point
    end: Point
    stiffness_N_per_mm2: float = math.inf
    rotation_N: float = 0.0
    offset: tuple[float, float] = (0.0, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class PointLoad:
    """A force across the pane."""

    at: Point
    force_N: float


@dataclass(frozen=True, slots=True, kw_only=True)
class LineLoad:
    """A force spread along a straight line on the pane."""

    start: Point
    end: Point
    load_N_per_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PatchLoad:
    """A pressure over a convex part of the pane: a hand, a shoulder."""

    outline: Outline
    pressure_MPa: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Pressure:
    """A pressure over the whole pane."""

    pressure_MPa: float


Support = PointSupport | PatchSupport | EdgeSupport
Load = PointLoad | LineLoad | PatchLoad | Pressure


@dataclass(frozen=True, slots=True, kw_only=True)
class Plate:
    """A pane and what holds it; lengths in mm.

    Attributes
    ----------
    outline, holes
        Rings of points; holes lie inside the outline, apart from each other.
    thickness
        For stiffness and stress: the least thickness its class allows, mm.
    youngs_modulus_MPa, poisson
        Of the glass.
    supports
        At least what keeps it from moving as a whole.
    mesh_size
        Largest triangle side, mm; 0 leaves the choice to the solver.

    """

    outline: Outline
    holes: tuple[Outline, ...] = ()
    thickness: float
    youngs_modulus_MPa: float
    poisson: float
    supports: tuple[Support, ...]
    mesh_size: float = 0.0

    @property
    def size(self) -> float:
        """Largest triangle side, mm."""
        return self.mesh_size or math.sqrt(Polygon(self.outline).area) / SIZES_ACROSS

    @property
    def rigidity(self) -> float:
        """Flexural rigidity E t3 / (12 (1 - nu2)), N mm."""
        stretch = self.youngs_modulus_MPa / (1 - self.poisson**2)
        return stretch * self.thickness**3 / 12


def singular_places(plate: Plate) -> tuple[Point, ...]:
    """Where thin-plate moments have no limit: notch corners, point supports, ends of edges."""
    held = [s.at for s in plate.supports if isinstance(s, PointSupport)]
    ends = [p for s in plate.supports if isinstance(s, EdgeSupport) for p in (s.start, s.end)]
    return (*notch_corners(plate), *held, *ends)


def notch_corners(plate: Plate) -> tuple[Point, ...]:
    """Sharp re-entrant corners of the outline and of the holes."""
    outer = _reentrant(anticlockwise(plate.outline), turn=1)
    return (*outer, *(p for hole in plate.holes for p in _reentrant(anticlockwise(hole), turn=-1)))


def _reentrant(ring: Outline, turn: int) -> Iterable[Point]:
    """Corners where the glass, left (turn 1) or right (-1) of the ring, is re-entrant."""
    for before, here, after in zip(ring[-1:] + ring[:-1], ring, ring[1:] + ring[:1], strict=True):
        into = math.atan2(here[1] - before[1], here[0] - before[0])
        out = math.atan2(after[1] - here[1], after[0] - here[0])
        bend = (turn * (out - into) + math.pi) % (2 * math.pi) - math.pi
        if math.pi - bend > REFLEX:
            yield here


def faults(plate: Plate, loads: Iterable[Load] = ()) -> tuple[str, ...]:
    """Everything that keeps a plate from being solved, in words; empty if nothing does."""
    things: dict[str, Support | Load] = {
        **{phrase("support {n}", n=n): s for n, s in enumerate(plate.supports, start=1)},
        **{phrase("load {n}", n=n): load for n, load in enumerate(loads, start=1)},
    }
    shapes = {name: _shape(thing) for name, thing in things.items() if _is_finite(thing)}
    unknown = (phrase("{what} is not finite", what=n) for n in things if n not in shapes)
    numbers = (*_bad_numbers(plate), *unknown)
    if numbers:
        return numbers
    if not is_simple(plate.outline):
        return ("the outline crosses itself",)
    return (*_bad_holes(plate), *_off_glass(plate, things, shapes), *_bad_springs(plate))


def _is_finite(thing: Support | Load) -> bool:
    """Whether places and loads are numbers; a stiffness may be infinite."""
    numbers: list[float] = []
    for field in fields(thing):
        value = getattr(thing, field.name)
        if not field.name.startswith(("stiffness", "rotation")):
            numbers += np.ravel(value).tolist()
    return all(math.isfinite(number) for number in numbers)


def _bad_numbers(plate: Plate) -> tuple[str, ...]:
    rings = (plate.outline, *plate.holes)
    checks = {
        "the thickness is not above 0": 0 < plate.thickness < math.inf,
        "Young's modulus is not above 0": 0 < plate.youngs_modulus_MPa < math.inf,
        "Poisson's ratio is not between 0 and 0.5": 0 <= plate.poisson < 0.5,  # noqa: PLR2004
        "the mesh size is not a length": 0 <= plate.mesh_size < math.inf,
        "an outline has fewer than three points": all(len(ring) >= CORNERS for ring in rings),
        "a point of the pane is not finite": all(
            math.isfinite(c) for ring in rings for p in ring for c in p
        ),
    }
    return tuple(fault for fault, good in checks.items() if not good)


def _bad_holes(plate: Plate) -> Iterable[str]:
    pane = Polygon(plate.outline)
    holes = [Polygon(hole) for hole in plate.holes]
    for number, hole in enumerate(holes, start=1):
        if not hole.is_valid or hole.area <= 0:
            yield phrase("hole {n} crosses itself", n=number)
        elif not pane.contains_properly(hole):
            yield phrase("hole {n} is not inside the glass", n=number)
        elif any(hole.intersects(other) for other in holes[number:]):
            yield phrase("hole {n} overlaps another hole", n=number)
        elif hole.buffer(-LEAST_GLASS / 2).is_empty:
            yield phrase("hole {n} is narrower than {least:g} mm", n=number, least=LEAST_GLASS)
        elif hole.distance(unary_union([pane.exterior, *holes[number:]])) < LEAST_GLASS:
            yield phrase(
                "hole {n} leaves less than {least:g} mm of glass beside it",
                n=number,
                least=LEAST_GLASS,
            )


def _off_glass(
    plate: Plate, things: Mapping[str, Support | Load], shapes: Mapping[str, Shape | None]
) -> Iterable[str]:
    holes = [hole for hole in plate.holes if is_simple(hole)]
    glass = Polygon(plate.outline, holes).buffer(0)
    near, edge = glass.buffer(SNAP), glass.boundary.buffer(10 * SNAP)
    whole = Polygon(plate.outline).buffer(SNAP)
    for name, shape in shapes.items():
        if shape is None:
            continue
        size = shape.area if isinstance(things[name], PatchSupport | PatchLoad) else shape.length
        if size <= SNAP and not isinstance(shape, Place):
            yield phrase("{what} has no size", what=name)
        elif isinstance(things[name], PatchSupport):
            # a clamp may sit over the hole of its own bolt, if it grips glass around it
            if not whole.covers(shape) or glass.intersection(shape).area <= shape.area / 2:
                yield phrase("{what} is not on the glass", what=name)
        elif not near.covers(shape):
            yield phrase("{what} is not on the glass", what=name)
        elif isinstance(things[name], EdgeSupport) and not edge.covers(shape):
            yield phrase("{what} is not on the edge of the glass", what=name)


def _shape(thing: Support | Load) -> Shape | None:
    """Where a support or load acts; None for all over."""
    match thing:
        case PointSupport() | PointLoad():
            return Place(thing.at)
        case EdgeSupport() | LineLoad():
            return LineString([thing.start, thing.end])
        case PatchSupport() | PatchLoad():
            return MultiPoint(thing.outline).convex_hull
        case Pressure():
            return None


def _bad_springs(plate: Plate) -> Iterable[str]:
    for number, support in enumerate(plate.supports, start=1):
        match support:
            case PointSupport():
                values = [support.stiffness_N_per_mm]
            case PatchSupport():
                values = [support.stiffness_N_per_mm3]
            case EdgeSupport():
                values = [support.stiffness_N_per_mm2, support.rotation_N]
        if any(math.isnan(value) or value < 0 for value in values):
            yield phrase("support {n} has a stiffness below 0", n=number)
    if not plate.supports:
        yield "nothing holds the pane"
