"""Square and rectangular plates for the published plate values."""

from __future__ import annotations

import math

from hangtrue.mechanics.plate import Bending, solve
from hangtrue.mechanics.plate_model import EdgeSupport, Plate, PointSupport, Pressure, Support

SIDE = 1000.0
PRESSURE_MPa = 1e-3


def rectangle(
    edges: str,
    *,
    width: float = SIDE,
    height: float = SIDE,
    poisson: float = 0.3,
    triangles: int = 32,
    thickness: float = 10.0,
    supports: tuple[Support, ...] = (),
) -> Plate:
    """Rectangle with edges bottom, right, top, left: S supported, C clamped, F free."""
    corners = ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
    held = tuple(
        EdgeSupport(start=start, end=end, rotation_N=math.inf if kind == "C" else 0.0)
        for kind, start, end in zip(edges, corners, corners[1:] + corners[:1], strict=True)
        if kind != "F"
    )
    return Plate(
        outline=corners,
        thickness=thickness,
        youngs_modulus_MPa=70_000.0,
        poisson=poisson,
        supports=held + supports,
        mesh_size=min(width, height) / triangles,
    )


def on_corners(*, triangles: int = 32) -> Plate:
    corners = ((0.0, 0.0), (SIDE, 0.0), (SIDE, SIDE), (0.0, SIDE))
    return rectangle(
        "FFFF", triangles=triangles, supports=tuple(PointSupport(at=c) for c in corners)
    )


def under_pressure(plate: Plate) -> Bending:
    return solve(plate, [Pressure(pressure_MPa=PRESSURE_MPa)])


def deflection_factor(bending: Bending, at: tuple[float, float], span: float = SIDE) -> float:
    """The w of w q a^4 / D."""
    return bending.deflection(at) * bending.solver.plate.rigidity / (PRESSURE_MPa * span**4)


def moment_factors(
    bending: Bending, at: tuple[float, float], span: float = SIDE
) -> tuple[float, float]:
    """Mx and My over q a^2."""
    mx, my, _ = bending.moments(at)
    return mx / (PRESSURE_MPa * span**2), my / (PRESSURE_MPa * span**2)
