"""Natural frequencies of plates, to try the stiffness of the element without any load.

NAFEMS, Selected Benchmarks for Natural Frequency Analysis: FV12 (free square plate) and FV16
(cantilevered square plate), 10 m x 10 m x 50 mm, E 200 GPa, nu 0.3, 8000 kg/m3, as solver test
collections print them; Barton (SDLS01 of another collection): the cantilever as factors. Exact
thin-plate values by a Ritz series with 16 to 22 terms lie 0.9 % under those of FV16, and the second
set of FV12 (4.190, 7.356 Hz) is theirs. The mass is consistent: the element's own deflections.
"""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest

from hangtrue.mechanics.plate import RIGID, factorised
from hangtrue.mechanics.plate_element import areas, deflection_map
from hangtrue.mechanics.plate_model import EdgeSupport, PatchSupport, Plate

SIDE, THICK = 10_000.0, 50.0
MASS = 8e-9 * THICK  # t/mm2
CORNERS = ((0.0, 0.0), (SIDE, 0.0), (SIDE, SIDE), (0.0, SIDE))
RULE = 5
FV16 = (0.421, 1.029, 2.582, 3.306, 3.753, 6.555)
FV16_EXACT = (0.418, 1.024, 2.563, 3.275, 3.727, 6.524)
FV12_EXACT = (1.622, 2.360, 2.922, 4.190, 4.190, 7.356)
BARTON = (3.492, 8.525, 21.43, 27.33, 31.11, 54.44)
BED_HZ = 0.3


def _rule() -> tuple[np.ndarray, np.ndarray]:
    """Gauss points of a triangle (barycentric) and weights that sum to 1, exact to degree 8."""
    s, w = np.polynomial.legendre.leggauss(RULE)
    s, w = (1 + s) / 2, w / 2
    u, v = np.meshgrid(s, s, indexing="ij")
    weights = 2 * np.outer(w * (1 - s), w)
    places = np.stack([u, (1 - u) * v, (1 - u) * (1 - v)], axis=-1)
    return places.reshape(-1, 3), weights.ravel()


def frequencies(plate: Plate, count: int) -> list[float]:
    """Lowest natural frequencies, Hz: subspace iteration with the factors of the stiffness."""
    solver = factorised(plate)
    corners, size = solver.mesh.corners, 3 * len(solver.mesh.nodes)
    blocks = np.zeros((len(corners), 9, 9))
    for place, weight in zip(*_rule(), strict=True):
        rows = deflection_map(corners, np.tile(place, (len(corners), 1)))
        blocks += weight * rows[:, :, None] * rows[:, None, :]
    blocks *= (MASS * areas(corners))[:, None, None]

    def inertia(motion: np.ndarray) -> np.ndarray:
        out = np.zeros_like(motion)
        np.add.at(out, solver.freedoms, blocks @ motion[solver.freedoms])
        return out

    shapes = np.random.default_rng(3).normal(size=(size, count + 6))
    for _ in range(12):
        shapes, pushed = solver.factors.solve(inertia(shapes)), inertia(shapes)
        stiff, mass = shapes.T @ pushed, shapes.T @ inertia(shapes)
        root = np.linalg.inv(np.linalg.cholesky((mass + mass.T) / 2))
        values, vectors = np.linalg.eigh(root @ (stiff + stiff.T) / 2 @ root.T)
        shapes = shapes @ (root.T @ vectors)
    return [math.sqrt(max(value, 0.0)) / (2 * math.pi) for value in values[:count]]


@cache
def cantilever(triangles: int = 24) -> list[float]:
    return frequencies(
        Plate(
            outline=CORNERS,
            thickness=THICK,
            youngs_modulus_MPa=200_000.0,
            poisson=0.3,
            supports=(EdgeSupport(start=CORNERS[3], end=CORNERS[0], rotation_N=math.inf),),
            mesh_size=SIDE / triangles,
        ),
        6,
    )


def test_fv16_cantilevered_square_plate() -> None:
    assert cantilever() == pytest.approx(FV16, rel=0.015)
    assert cantilever() == pytest.approx(FV16_EXACT, rel=0.005)


def test_bartons_factors_of_the_cantilever() -> None:
    """f = factor / (2 pi a2) sqrt(E t2 / (12 rho (1 - nu2)))."""
    scale = math.sqrt(200_000.0 * THICK**2 / (12 * 8e-9 * 0.91)) / (2 * math.pi * SIDE**2)
    assert cantilever() == pytest.approx([f * scale for f in BARTON], rel=0.01)


def test_the_error_of_the_first_frequency_falls_with_the_triangles() -> None:
    """Order about 2, as of deflections."""
    errors = [abs(cantilever(n)[1] - cantilever(48)[1]) for n in (8, 16)]
    assert math.log2(errors[0] / errors[1]) > 1.5


def test_fv12_free_square_plate() -> None:
    """On a soft bed, whose own frequency is taken off: f2 = f_bed2 + f_free2."""
    bed = MASS * (2 * math.pi * BED_HZ) ** 2
    plate = Plate(
        outline=CORNERS,
        thickness=THICK,
        youngs_modulus_MPa=200_000.0,
        poisson=0.3,
        supports=(PatchSupport(outline=CORNERS, stiffness_N_per_mm3=bed),),
        mesh_size=SIDE / 24,
    )
    assert bed < RIGID * plate.rigidity / plate.size**4  # not cut down
    found = frequencies(plate, 9)
    assert found[:3] == pytest.approx([BED_HZ] * 3, rel=0.1)
    free = [math.sqrt(f**2 - BED_HZ**2) for f in found[3:]]
    assert free == pytest.approx(FV12_EXACT, rel=0.006)
