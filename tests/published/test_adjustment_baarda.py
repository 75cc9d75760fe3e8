"""Constants of data snooping and of the B-method: non-centrality, critical values, test levels.

Source: W. Baarda, A testing procedure for use in geodetic networks, Netherlands Geodetic
Commission, Publications on Geodesy, New Series 2 (5), Delft, 1968: alpha 0.001, beta 0.20,
critical value 3.29, non-centrality near 17.

The finer digits are closed form, evaluated with scipy 1.17.1 (normal, chi-square and non-central
chi-square quantiles), to which the published ones are the rounding.
"""

from __future__ import annotations

import pytest
from scipy import special

from hangtrue.measure.reliability import detection_shift, global_level, normal_critical


def test_the_published_critical_value_and_non_centrality() -> None:
    assert normal_critical(0.001) == pytest.approx(3.29, abs=0.5e-2)
    assert detection_shift(0.001, 0.20) ** 2 == pytest.approx(17.0, abs=0.1)


@pytest.mark.parametrize(
    ("alpha", "beta", "critical", "shift", "non_centrality"),
    [
        (0.001, 0.20, 3.2905, 4.1321, 17.0746),
        (0.01, 0.20, 2.5758, 3.4175, 11.6790),
        (0.05, 0.20, 1.9600, 2.8016, 7.8489),
        (0.001, 0.10, 3.2905, 4.5721, 20.9039),
        (0.001, 0.05, 3.2905, 4.9354, 24.3580),
        (0.0027, 0.20, 3.0000, 3.8416, 14.7579),
    ],
)
def test_shift_that_is_found_with_a_given_power(
    alpha: float, beta: float, critical: float, shift: float, non_centrality: float
) -> None:
    assert normal_critical(alpha) == pytest.approx(critical, abs=0.6e-4)
    assert detection_shift(alpha, beta) == pytest.approx(shift, abs=0.6e-4)
    assert detection_shift(alpha, beta) ** 2 == pytest.approx(non_centrality, abs=0.6e-4)


@pytest.mark.parametrize(
    ("freedom", "level", "critical"),
    [
        (1, 0.00100, 10.828),
        (2, 0.00284, 11.730),
        (3, 0.00550, 12.633),
        (5, 0.01302, 14.444),
        (10, 0.04043, 18.987),
        (20, 0.10610, 28.141),
    ],
)
def test_b_method_the_global_level_grows_with_the_degrees_of_freedom(
    freedom: int, level: float, critical: float
) -> None:
    found = global_level(freedom, alpha=0.001, beta=0.20)
    assert found == pytest.approx(level, abs=0.5e-5)
    assert special.chdtri(freedom, found) == pytest.approx(critical, abs=0.5e-3)
