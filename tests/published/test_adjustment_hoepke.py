"""A distance network of eight points and a real slip of 50 mm made in copying one distance.

Source: W. Hoepke, Fehlerlehre und Ausgleichungsrechnung, de Gruyter, 1980, network Sattenhausen,
as collected in F. Krumm, Geodetic Network Adjustment Examples, University of Stuttgart, Institute
of Geodesy. All 27 distances have sigma 1 mm; the datum is free over all points.

The distance 1059-75 stands as 1789.449 m in one copy and as 1789.499 m in another. Second witness
for the copy with the slip, and for the statistics: GNU Gama, gama-local 2.24.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from hangtrue.measure.reliability import (
    chi_square_if_shifted,
    estimated_slips,
    global_test,
    normalised_residuals,
    tau,
)
from tests.published.networks import Line, Network, trilaterate

NEAR = {
    "20": (3579041.416, 5707194.412),
    "75": (3575403.277, 5707682.612),
    "86": (3575322.061, 5708700.952),
    "87": (3576581.778, 5709938.106),
    "1006": (3578284.289, 5708758.641),
    "1011": (3577052.332, 5708103.204),
    "1059": (3576852.894, 5706633.642),
    "1087": (3576213.699, 5709199.889),
}
DISTANCES = """
86-1006 2962.832; 86-87 1765.657; 86-1087 1021.768; 86-75 1021.536; 86-1011 1830.646;
86-20 4012.921; 86-1059 2572.516; 1087-87 824.863; 1087-20 3466.722; 1087-1059 2644.789;
1087-75 1720.130; 1087-1006 2117.134; 1087-1011 1380.633; 1006-75 3075.373; 1006-20 1737.824;
1006-1059 2562.134; 1006-1011 1395.459; 1006-87 2071.154; 1011-87 1894.263; 1011-75 1701.824;
1011-1059 1483.088; 1011-20 2186.853; 1059-20 2259.167; 1059-75 1789.449; 1059-87 3315.630;
20-87 3684.782; 20-75 3670.735
"""
SUSPECT = 23
"""Place of 1059-75, the 24th distance."""


def read(text: str) -> list[Line]:
    lines = []
    for entry in text.split(";"):
        ends, value = entry.split()
        start, end = ends.split("-")
        lines.append(Line(start, end, float(value), 0.001))
    return lines


@pytest.fixture(scope="module")
def clean() -> Network:
    return trilaterate(read(DISTANCES), {}, NEAR, inner=True)


@pytest.fixture(scope="module")
def slipped() -> Network:
    return trilaterate(read(DISTANCES.replace("1789.449", "1789.499")), {}, NEAR, inner=True)


def test_adjusted_coordinates(clean: Network) -> None:
    printed = {
        "20": (3579041.4042, 5707194.4039),
        "75": (3575403.2853, 5707682.6565),
        "86": (3575322.0203, 5708700.9554),
        "87": (3576581.7857, 5709938.0995),
        "1006": (3578284.2920, 5708758.6275),
        "1011": (3577052.3287, 5708103.2070),
        "1059": (3576852.9606, 5706633.5764),
        "1087": (3576213.6691, 5709199.9319),
    }
    for point, place in printed.items():
        assert clean.points[point] == pytest.approx(place, abs=0.5e-4 + 1e-9), point


def test_sum_of_squares(clean: Network) -> None:
    assert clean.adjustment.degrees_of_freedom == 14
    assert clean.adjustment.chi_square == pytest.approx(343.644, abs=0.5e-3)
    assert math.sqrt(clean.adjustment.variance_factor) == pytest.approx(4.954, abs=0.5e-3)


def test_without_the_slip_the_largest_tau_is_elsewhere(clean: Network) -> None:
    own = np.abs(tau(clean.adjustment))[:27]
    assert int(np.argmax(own)) == 8
    assert own[8] == pytest.approx(2.53, abs=0.5e-2)
    assert estimated_slips(clean.adjustment)[SUSPECT] * 1000 == pytest.approx(0.1, abs=0.05)


def test_the_slip_is_detected(slipped: Network) -> None:
    assert slipped.adjustment.chi_square == pytest.approx(1517.34, abs=0.5e-2)
    assert math.sqrt(slipped.adjustment.variance_factor) == pytest.approx(10.411, abs=0.5e-3)
    assert global_test(slipped.adjustment).disagrees


def test_the_slip_is_attributed_to_the_right_distance(slipped: Network) -> None:
    own = np.abs(tau(slipped.adjustment))[:27]
    assert int(np.argmax(own)) == SUSPECT
    assert own[SUSPECT] == pytest.approx(3.29, abs=0.5e-2)
    assert np.sort(own)[-2] == pytest.approx(2.3, abs=0.05)


def test_the_slip_is_found_to_be_50_mm_too_long(slipped: Network) -> None:
    adjustment = slipped.adjustment
    assert adjustment.residuals[SUSPECT] * 1000 == pytest.approx(-23.416, abs=0.5e-3)
    assert 100 * (1 - math.sqrt(1 - adjustment.redundancy[SUSPECT])) == pytest.approx(
        27.0, abs=0.05
    )
    assert estimated_slips(adjustment)[SUSPECT] * 1000 == pytest.approx(50.1, abs=0.05)


def test_taking_the_slip_off_gives_the_sum_of_squares_of_the_clean_copy(slipped: Network) -> None:
    """Within what the second linearisation changes: a hundredth."""
    shifts = np.zeros(len(slipped.adjustment.rows))
    shifts[SUSPECT] = -0.050
    found = chi_square_if_shifted(slipped.adjustment, shifts)
    assert found == pytest.approx(343.644, abs=0.05)


def test_the_datum_rows_carry_no_residual(slipped: Network) -> None:
    assert np.isnan(normalised_residuals(slipped.adjustment)[27:]).all()


def test_the_slip_moves_the_points(slipped: Network) -> None:
    assert slipped.points["1059"] == pytest.approx((3576852.97214, 5706633.57129), abs=0.5e-5)
    assert slipped.points["75"] == pytest.approx((3575403.27508, 5707682.66675), abs=0.5e-5)
