"""Plates worked out in print: a glass unit, a pressed square plate, and how an edge is pushed.

Sources: NCSEA, Engineering Structural Glass Design Guide, chapter 8, example 5 (a unit 4 m x 2 m
of 6 + 6 mm and 6 mm, each 5.56 mm at least, 1.436 kPa, E 71.7 GPa: shares 0.8889 and 0.1111, 25.196
and 12.598 MPa, 22.994 mm). A demonstration of another finite-element program (example 2.13): a
simply supported square plate, 60 in, 2 in thick, E 2e7 psi, nu 0.3, 1 psi: 3.596e-3 in by
0.0444 q a4/E h3. W. C. Young, R. G. Budynas, Roark's Formulas for Stress and Strain, 7th ed., table
11.4 case 1a: gamma, the greatest push on an edge over q b; with a worked plate of 5 x 10 ft under
20 psf whose edge is pushed with 50.3 lb/ft.
"""

from __future__ import annotations

import pytest

from hangtrue.mechanics.plate import Bending
from hangtrue.mechanics.plate_closed_forms import roark_uniform
from hangtrue.mechanics.plate_pushes import pushes
from tests.published.plates import SIDE, PRESSURE_MPa, rectangle, under_pressure

MIDDLE = (SIDE / 2, SIDE / 2)
GAMMA = {1.0: 0.420, 1.2: 0.455, 1.4: 0.478, 1.6: 0.491, 1.8: 0.499, 2.0: 0.503}
BAND = 0.1
"""Share of the long edge about its middle over which the push is averaged."""


def test_a_glass_unit_shared_by_stiffness() -> None:
    thick, thin = 2 * 5.56, 5.56
    share = thick**3 / (thick**3 + thin**3)
    assert share == pytest.approx(0.8889, abs=5e-5)
    for thickness, part, stress_MPa in ((thick, share, 25.196), (thin, 1 - share, 12.598)):
        stress, deflection = roark(part * 1.436e-3, thickness)
        assert stress == pytest.approx(stress_MPa, rel=1e-3)
        assert deflection == pytest.approx(22.994, rel=1e-3)


def roark(pressure_MPa: float, thickness: float) -> tuple[float, float]:
    """Stress and deflection of 4 m x 2 m by the printed factors of the table."""
    factors = roark_uniform("four-sides-supported", 2.0)
    stress = factors["beta"] * pressure_MPa * 2000.0**2 / thickness**2
    return stress, factors["alpha"] * pressure_MPa * 2000.0**4 / (71_700.0 * thickness**3)


def test_a_pressed_square_plate_of_another_program() -> None:
    bending = under_pressure(rectangle("SSSS"))
    plate = bending.solver.plate
    factor = plate.youngs_modulus_MPa * plate.thickness**3 / (PRESSURE_MPa * SIDE**4)
    inches = bending.deflection(MIDDLE) * factor * 1.0 * 60.0**4 / (2e7 * 2.0**3)
    assert inches == pytest.approx(3.596e-3, rel=0.005)


def pushed(bending: Bending, height: float) -> float:
    """Mean push on the left edge about its middle, N for each mm."""
    low, high = (0.5 - BAND) * height, (0.5 + BAND) * height
    (left,) = [
        each
        for support, each in zip(bending.solver.plate.supports, pushes(bending), strict=True)
        if support.start[0] == support.end[0] == 0.0  # type: ignore[union-attr]
    ]
    inside = [p for p in left if low - 1e-6 <= p.at[1] <= high + 1e-6]
    span = max(p.at[1] for p in inside) - min(p.at[1] for p in inside)
    step = span / (len(inside) - 1)
    return sum(p.force_N for p in inside) / (span + step)


@pytest.mark.parametrize("ratio", GAMMA)
def test_the_push_on_the_middle_of_the_long_edge(ratio: float) -> None:
    """Printed to three places; averaged over a fifth of the edge, where it hardly changes."""
    bending = under_pressure(rectangle("SSSS", height=ratio * SIDE, triangles=40))
    found = pushed(bending, ratio * SIDE) / (PRESSURE_MPa * SIDE)
    assert found == pytest.approx(GAMMA[ratio], rel=0.02)


def test_the_worked_plate_pushes_its_edge_with_fifty_pounds_a_foot() -> None:
    """0.503 x 20 psf x 5 ft = 50.3 lb/ft, and the elements on the same plate."""
    bending = under_pressure(rectangle("SSSS", height=2 * SIDE, triangles=40))
    found = pushed(bending, 2 * SIDE) / (PRESSURE_MPa * SIDE) * 20 * 5
    assert found == pytest.approx(50.3, rel=0.02)
