"""NAFEMS LE5 as named in solver test collections: a clamped square plate under uniform pressure.

Side 1 m, 20 mm thick, E 200 GPa, nu 0.3, 100 kPa: middle deflection 8.60e-4 m.
The frequency benchmarks (FV12, FV16) stand in test_plate_vibrations.py.
"""

from __future__ import annotations

import math

import pytest

from hangtrue.mechanics.plate import converged_deflection, solve
from hangtrue.mechanics.plate_model import EdgeSupport, Plate, PointLoad, Pressure


def clamped_square(side: float, thickness: float, modulus_MPa: float) -> Plate:
    corners = ((0.0, 0.0), (side, 0.0), (side, side), (0.0, side))
    edges = zip(corners, corners[1:] + corners[:1], strict=True)
    return Plate(
        outline=corners,
        thickness=thickness,
        youngs_modulus_MPa=modulus_MPa,
        poisson=0.3,
        supports=tuple(EdgeSupport(start=a, end=b, rotation_N=math.inf) for a, b in edges),
        mesh_size=side / 32,
    )


def test_le5_clamped_square_plate() -> None:
    plate = clamped_square(1000.0, 20.0, 200_000.0)
    middle = (500.0, 500.0)
    found, _ = converged_deflection(plate, [Pressure(pressure_MPa=0.1)], middle)
    assert found == pytest.approx(0.860, rel=0.005)


def test_clamped_square_plate_with_a_central_force() -> None:
    """Another solver's test: P 10, a 2, E 1e9, h 1e-3, nu 0.3: 2.44608 (0.0056 P a2/D).

    The factor is cut from 0.00561: 0.5 % covers it.
    """
    plate = clamped_square(2.0, 1e-3, 1e9)
    found = solve(plate, [PointLoad(at=(1.0, 1.0), force_N=10.0)]).deflection((1.0, 1.0))
    assert found == pytest.approx(2.44608, rel=0.005)
