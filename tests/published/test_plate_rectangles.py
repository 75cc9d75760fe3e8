"""Rectangular plates under uniform load: deflections to 0.5 %, moments to 2 %.

Sources: S. Timoshenko and S. Woinowsky-Krieger, Theory of Plates and Shells, 2nd edition, tables 5,
8, 29, 35, 42, 44 (coefficients as restated in benchmark collections; nu = 0.3);
W. C. Young and R. G. Budynas, Roark's Formulas for Stress and Strain, 7th edition, table 11.4,
cases 1a and 1b. Where the printed three digits are coarser than the tolerance, the printed
precision is used.
"""

from __future__ import annotations

import math

import pytest

from hangtrue.mechanics.plate import converged_deflection, solve
from hangtrue.mechanics.plate_closed_forms import (
    flexural_rigidity,
    roark_uniform,
    supported_deflection,
    supported_moments,
    supported_point_deflection,
)
from hangtrue.mechanics.plate_model import PointLoad, Pressure
from tests.published.plates import (
    SIDE,
    PRESSURE_MPa,
    deflection_factor,
    moment_factors,
    on_corners,
    rectangle,
    under_pressure,
)

MIDDLE = (SIDE / 2, SIDE / 2)
FREE_MIDDLE = (SIDE / 2, SIDE)
DEFLECTION = 0.005
MOMENT = 0.02

ROARK_1A = {
    1.0: (0.0444, 0.2874),
    1.2: (0.0616, 0.3762),
    1.4: (0.0770, 0.4530),
    1.6: (0.0906, 0.5172),
    1.8: (0.1017, 0.5688),
    2.0: (0.1110, 0.6102),
    3.0: (0.1335, 0.7134),
}
ROARK_1B = {
    1.0: 0.1267,
    1.2: 0.1478,
    1.4: 0.1621,
    1.6: 0.1715,
    1.8: 0.1770,
    2.0: 0.1805,
}


@pytest.mark.parametrize("ratio", ROARK_1A)
def test_roark_case_1a_by_series(ratio: float) -> None:
    """Printed alpha is up to 0.6 % off the exact series (1.4), beta 0.1 %."""
    alpha, beta = ROARK_1A[ratio]
    deflection = supported_deflection(1.0, 1.0, ratio, flexural_rigidity(1.0, 0.3, 1.0))
    assert deflection == pytest.approx(alpha, rel=0.006)
    assert 6 * supported_moments(1.0, 1.0, ratio, 0.3)[0] == pytest.approx(beta, rel=0.001)
    assert roark_uniform("four-sides-supported", ratio)["alpha"] == alpha


@pytest.mark.parametrize("ratio", [1.0, 1.6, 3.0])
def test_roark_case_1a_by_elements(ratio: float) -> None:
    alpha, beta = ROARK_1A[ratio]
    bending = under_pressure(rectangle("SSSS", height=ratio * SIDE, triangles=24))
    middle = (SIDE / 2, ratio * SIDE / 2)
    assert deflection_factor(bending, middle) * 10.92 == pytest.approx(alpha, rel=DEFLECTION)
    assert 6 * moment_factors(bending, middle)[0] == pytest.approx(beta, rel=MOMENT)


@pytest.mark.parametrize("ratio", ROARK_1B)
def test_roark_case_1b_force_in_the_middle(ratio: float) -> None:
    """Printed alpha is up to 0.16 % below the exact series (1.2 and 1.4)."""
    deflection = supported_point_deflection(1.0, 1.0, ratio, flexural_rigidity(1.0, 0.3, 1.0))
    assert deflection == pytest.approx(ROARK_1B[ratio], rel=0.002)


@pytest.mark.parametrize(
    ("edges", "at", "printed", "digits"),
    [
        ("SSSS", MIDDLE, 0.00406, 5e-6),
        ("CCCC", MIDDLE, 0.00126, 1e-5),
        ("SCSC", MIDDLE, 0.00192, 5e-6),
        ("CSSS", MIDDLE, 0.0028, 5e-5),
        ("SFSF", MIDDLE, 0.01309, 5e-6),
        ("SSFS", FREE_MIDDLE, 0.01286, 1e-5),
    ],
    ids=["SSSS", "CCCC", "two clamped", "one clamped", "two free", "one free"],
)
def test_deflection_of_square_plates(
    edges: str, at: tuple[float, float], printed: float, digits: float
) -> None:
    """`digits`: the printed precision; 0.00126 is cut, not rounded, from 0.001265."""
    found = deflection_factor(under_pressure(rectangle(edges)), at)
    assert found == pytest.approx(printed, rel=DEFLECTION, abs=digits)


def test_deflection_of_a_plate_clamped_on_three_sides() -> None:
    """0.00293 is itself a Ritz series of 15 terms, stiff by its nature."""
    found = deflection_factor(under_pressure(rectangle("CCFC")), FREE_MIDDLE)
    assert found == pytest.approx(0.00293, rel=0.01)


def test_deflection_of_a_plate_on_its_corners() -> None:
    """Table 35 (digits from memory): 0.0255 in the middle, 0.0177 at mid-edge."""
    bending = under_pressure(on_corners())
    assert deflection_factor(bending, MIDDLE) == pytest.approx(0.0255, rel=DEFLECTION)
    assert deflection_factor(bending, (SIDE / 2, 0)) == pytest.approx(0.0177, rel=DEFLECTION)


@pytest.mark.parametrize(
    ("edges", "at", "along", "printed", "tolerance"),
    [
        ("SSSS", MIDDLE, 0, 0.0479, MOMENT),
        ("CCCC", MIDDLE, 0, 0.0231, MOMENT),
        ("CCCC", (0.0, SIDE / 2), 0, -0.0513, MOMENT),
        ("SCSC", MIDDLE, 1, 0.0244, MOMENT),
        ("SCSC", MIDDLE, 0, 0.0332, MOMENT),
        ("SCSC", (0.0, SIDE / 2), 0, -0.0697, MOMENT),
        ("CSSS", MIDDLE, 0, 0.034, MOMENT),
        ("CSSS", MIDDLE, 1, 0.039, MOMENT),
        ("CSSS", (SIDE / 2, 0.0), 1, -0.084, MOMENT),
    ],
)
def test_moments_of_square_plates(
    edges: str, at: tuple[float, float], along: int, printed: float, tolerance: float
) -> None:
    """The moments of one clamped edge and at clamped edges are from memory."""
    found = moment_factors(under_pressure(rectangle(edges)), at)[along]
    assert found == pytest.approx(printed, rel=tolerance)


def test_force_in_the_middle_of_square_plates() -> None:
    """Simply supported 0.01160, clamped 0.0056, over P a^2 / D."""
    load = [PointLoad(at=MIDDLE, force_N=100.0)]
    for edges, printed, digits in (("SSSS", 0.01160, 0.0), ("CCCC", 0.0056, 5e-5)):
        plate = rectangle(edges)
        found = solve(plate, load).deflection(MIDDLE) * plate.rigidity / (100.0 * SIDE**2)
        assert found == pytest.approx(printed, rel=DEFLECTION, abs=digits)


@pytest.mark.parametrize(("edges", "exact"), [("SSSS", 0.00406235), ("CCCC", 0.00126532)])
def test_the_error_falls_four_times_as_the_triangles_halve(edges: str, exact: float) -> None:
    """Order about 2 in the side of the triangles over three meshes (exact values: series)."""
    errors = [
        abs(deflection_factor(under_pressure(rectangle(edges, triangles=n)), MIDDLE) - exact)
        for n in (8, 16, 32)
    ]
    assert math.log2(errors[0] / errors[2]) / 2 > 1.75
    assert errors[2] < 0.002 * exact


@pytest.mark.parametrize(("edges", "exact"), [("SSSS", 0.00406235), ("CCCC", 0.00126532)])
def test_two_meshes_and_extrapolation(edges: str, exact: float) -> None:
    """Richardson from 16 and 32 triangles a side beats either of them."""
    plate = rectangle(edges, triangles=16)
    found, change = converged_deflection(plate, [Pressure(pressure_MPa=PRESSURE_MPa)], MIDDLE)
    factor = plate.rigidity / (PRESSURE_MPa * SIDE**4)
    assert found * factor == pytest.approx(exact, rel=5e-4)
    assert abs(change) * factor > abs(found * factor - exact)


def test_moments_converge_too() -> None:
    """At least first order on a clamped edge (exact -0.05133)."""
    errors = [
        abs(
            moment_factors(under_pressure(rectangle("CCCC", triangles=n)), (0.0, SIDE / 2))[0]
            + 0.05133
        )
        for n in (8, 16, 32)
    ]
    assert errors[0] / errors[2] > 4
    assert errors[2] < 0.01 * 0.05133


def test_roark_case_2a_one_side_free() -> None:
    """Three sides supported, one free, table 26 case 2a: alpha 0.140, beta 0.67 for the square."""
    bending = under_pressure(rectangle("SSFS"))
    printed = roark_uniform("three-sides-supported", 1.0)
    assert deflection_factor(bending, FREE_MIDDLE) * 10.92 == pytest.approx(
        printed["alpha"], rel=DEFLECTION
    )
    assert 6 * moment_factors(bending, FREE_MIDDLE)[0] == pytest.approx(printed["beta"], rel=MOMENT)


def test_worked_example_of_roark_case_2a() -> None:
    """15 x 12 x 0.25 in, 100 psi, 30e6 psi: 0.664 in, 165,900 psi (between rows)."""
    found = roark_uniform("three-sides-supported", 15 / 12)
    assert found["alpha"] == pytest.approx(0.15, abs=1e-9)
    assert found["beta"] == pytest.approx(0.72, abs=1e-9)
    assert found["alpha"] * 100 * 12**4 / (30e6 * 0.25**3) == pytest.approx(0.664, abs=5e-4)
    assert found["beta"] * 100 * 12**2 / 0.25**2 == pytest.approx(1.659e5, rel=5e-4)


def test_worked_example_of_roark_four_sides() -> None:
    """5 x 10 ft, 0.5 in, 71.7 GPa, 20 psf: 8.41436 MPa, 0.153704 in, 50.3 lb/ft."""
    found = roark_uniform("four-sides-supported", 2.0)
    pressure_MPa, short, thickness = 20 * 4.4482216 / 304.8**2, 1524.0, 12.7
    stress = found["beta"] * pressure_MPa * short**2 / thickness**2
    deflection = found["alpha"] * pressure_MPa * short**4 / (71_700 * thickness**3)
    assert stress == pytest.approx(8.41436, rel=1e-3)
    assert deflection / 25.4 == pytest.approx(0.153704, rel=1e-3)
    assert found["gamma"] * 20 * 5 == pytest.approx(50.3, abs=0.05)
