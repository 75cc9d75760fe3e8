"""Panes with an answer on paper: pure twist, two adjacent edges, the strip, ASTM E1300 X1.

Sources: pure twist, S. Timoshenko and S. Woinowsky-Krieger, Theory of Plates and Shells, 2nd
edition, art. 11; International Building Code 2021, 2403.4 (50 plf at 42 in; the verdict that 3/8 in
is too thin and 1/2 in the complying minimum for a 78 in pane is a trade article's); ASTM E1300,
appendix X1 (coefficients as restated; that its own example prints 12.2 mm is from memory).
"""

from __future__ import annotations

import math

import pytest

from hangtrue.mechanics.customary import INCH, PLF, PSI
from hangtrue.mechanics.plate import solve
from hangtrue.mechanics.plate_closed_forms import (
    corner_deflection_uniform,
    corner_load_deflection,
    e1300_deflection,
    flexural_rigidity,
    strip_deflection,
    strip_stress,
    twist_corner_force,
    twist_stress,
)
from hangtrue.mechanics.plate_model import (
    EdgeSupport,
    LineLoad,
    Plate,
    PointLoad,
    PointSupport,
    Pressure,
)
from hangtrue.mechanics.ranges import OutOfRange
from tests.published.plates import SIDE, deflection_factor, rectangle, under_pressure

WIDTH, HEIGHT = 900.0, 2000.0
CORNERS = ((0.0, 0.0), (WIDTH, 0.0), (WIDTH, HEIGHT), (0.0, HEIGHT))


def pane(thickness: float, *supports: EdgeSupport | PointSupport, poisson: float = 0.22) -> Plate:
    return Plate(
        outline=CORNERS,
        thickness=thickness,
        youngs_modulus_MPa=70_000.0,
        poisson=poisson,
        supports=supports,
        mesh_size=100.0,
    )


@pytest.mark.parametrize(
    ("thickness", "force_N", "stress_MPa"),
    [(8.0, 13.6, 0.64), (10.0, 26.6, 0.797), (12.0, 45.9, 0.96)],
)
def test_a_pane_forced_five_millimetres_out_of_flat(
    thickness: float, force_N: float, stress_MPa: float
) -> None:
    """By formula and by elements: three corners seated, the fourth 5 mm off."""
    rigidity = flexural_rigidity(70_000.0, 0.22, thickness)
    assert twist_corner_force(5.0, WIDTH, HEIGHT, rigidity, 0.22) == pytest.approx(
        force_N, abs=0.05
    )
    shear_MPa = 70_000.0 / (2 * 1.22)
    assert twist_stress(5.0, WIDTH, HEIGHT, thickness, shear_MPa) == pytest.approx(
        stress_MPa, abs=0.005
    )
    seats = [PointSupport(at=corner) for corner in CORNERS[:2] + CORNERS[3:]]
    bending = solve(pane(thickness, *seats, PointSupport(at=CORNERS[2], offset=5.0)), [])
    assert bending.reactions[3].force_N == pytest.approx(force_N, rel=0.005)
    assert bending.stress_MPa((450.0, 1000.0)) == pytest.approx(stress_MPa, rel=0.01)
    assert bending.deflection((450.0, 1000.0)) == pytest.approx(1.25, rel=1e-3)


def test_two_adjacent_edges_supported_and_a_force_on_the_free_corner() -> None:
    held = (
        EdgeSupport(start=CORNERS[0], end=CORNERS[1]),
        EdgeSupport(start=CORNERS[3], end=CORNERS[0]),
    )
    plate = pane(10.0, *held)
    found = solve(plate, [PointLoad(at=CORNERS[2], force_N=100.0)]).deflection(CORNERS[2])
    exact = corner_load_deflection(100.0, WIDTH, HEIGHT, plate.rigidity, 0.22)
    assert found == pytest.approx(exact, rel=0.001)
    spread = solve(plate, [Pressure(pressure_MPa=1e-3)]).deflection(CORNERS[2])
    exact = corner_deflection_uniform(1e-3, WIDTH, HEIGHT, plate.rigidity, 0.22)
    assert spread == pytest.approx(exact, rel=0.005)


def test_square_plate_on_two_adjacent_edges() -> None:
    """1/(8 (1 - nu)) = 0.178571; the 0.1875 of one public list is the value for nu = 1/3."""
    found = deflection_factor(under_pressure(rectangle("SFFS")), (SIDE, SIDE))
    assert found == pytest.approx(0.178571, rel=0.001)


@pytest.mark.parametrize(
    ("height_in", "three_eighths_in", "half_in"),
    [(72, 0.789, 0.343), (78, 1.049, 0.456), (84, 1.326, 0.576), (96, 1.917, 0.833)],
)
def test_fifty_pounds_a_foot_at_42_inches(
    height_in: float, three_eighths_in: float, half_in: float
) -> None:
    """E 10.4e6 psi, least thickness 9.02 and 11.91 mm; by hand from P a2 b2 / 3 E I L."""
    for thickness, expected in ((9.02, three_eighths_in), (11.91, half_in)):
        found = strip_deflection(50 * PLF, 42 * INCH, height_in * INCH, thickness, 10.4e6 * PSI)
        assert found / INCH == pytest.approx(expected, abs=0.0015)


def test_three_eighths_is_too_thin_and_half_an_inch_complies_at_78_inches() -> None:
    """IBC 2403.4: the difference to a neighbour that is not loaded is at most the thickness."""
    thin, thick = (
        strip_deflection(50 * PLF, 42 * INCH, 78 * INCH, t, 10.4e6 * PSI) for t in (9.02, 11.91)
    )
    assert thin > 3 / 8 * INCH
    assert thick < 1 / 2 * INCH


def test_the_strip_by_elements() -> None:
    """Poisson's ratio 0 makes the plate a beam."""
    held = (
        EdgeSupport(start=CORNERS[0], end=CORNERS[1]),
        EdgeSupport(start=CORNERS[2], end=CORNERS[3]),
    )
    load = LineLoad(start=(0.0, 1067.0), end=(WIDTH, 1067.0), load_N_per_mm=0.73)
    bending = solve(pane(10.0, *held, poisson=0.0), [load])
    exact = strip_deflection(0.73, 1067.0, HEIGHT, 10.0, 70_000.0)
    assert bending.deflection((450.0, 1067.0)) == pytest.approx(exact, rel=0.005)
    stress_MPa = strip_stress(0.73, 1067.0, HEIGHT, 10.0)
    assert bending.stress_MPa((450.0, 600.0)) == pytest.approx(stress_MPa * 600 / 1067, rel=0.02)


def test_e1300_deflection_polynomial() -> None:
    """1500 x 1200 mm, least thickness 5.56 mm, 1.80 kPa: 12.17 mm (printed 12.2, from memory)."""
    found = e1300_deflection(1.8e-3, 1200.0, 1500.0, 5.56, 71_700.0)
    assert found == pytest.approx(12.17, abs=0.005)


def test_e1300_polynomial_refuses_small_loads_and_long_panes() -> None:
    with pytest.raises(OutOfRange, match="12 and above"):
        e1300_deflection(2.4e-4, 900.0, 2000.0, 10.0, 71_700.0)
    with pytest.raises(OutOfRange, match="long side"):
        e1300_deflection(1.8e-3, 300.0, 2000.0, 5.56, 71_700.0)
    assert math.isfinite(e1300_deflection(1.8e-3, 900.0, 2000.0, 5.56, 71_700.0))
