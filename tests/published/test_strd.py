"""Coefficients and standard deviations of the statistical reference datasets, linear regression.

Source: National Institute of Standards and Technology, Statistical Reference Datasets (StRD),
Linear Regression: Norris, Pontius, NoInt1, NoInt2, Filip, Longley, Wampler1 to Wampler5.
Certified values to 15 digits; the data are public domain. All data but Norris were typed from
memory: a wrong digit anywhere would spoil the certified coefficients.

Significant digits reached when this file was written (64-bit Linux, coefficients; standard
deviations), beside the number asked for below:

============  ============  ===================  =====
set           coefficients  standard deviations  asked
============  ============  ===================  =====
Norris        14.1          13.9                 11
Pontius       13.5          13.8                 10
NoInt1        14.7          15.0                 13
NoInt2        15.0          14.9                 13
Longley       14.6          12.7                 9
Wampler1      13.4          exact fit            8
Wampler2      13.5          exact fit            11
Wampler3      13.3          13.6                 8
Wampler4      11.7          13.6                 7
Wampler5      9.5           13.6                 6
Filip         7.9           7.5                  6
============  ============  ===================  =====

Asked for is what plain double precision gives, with some room: the refinement step gains less on
a machine whose long double is a double. Filip is limited by the rounding of its tenth powers.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
import pytest

from hangtrue.measure.linear import Adjustment, Row, Underdetermined, adjust

NORRIS = (
    (0.2, 0.1),
    (337.4, 338.8),
    (118.2, 118.1),
    (884.6, 888),
    (10.1, 9.2),
    (226.5, 228.1),
    (666.3, 668.5),
    (996.3, 998.5),
    (448.6, 449.1),
    (777, 778.9),
    (558.2, 559.2),
    (0.4, 0.3),
    (0.6, 0.1),
    (775.5, 778.1),
    (666.9, 668.8),
    (338, 339.3),
    (447.5, 448.9),
    (11.6, 10.8),
    (556, 557.7),
    (228.1, 228.3),
    (995.8, 998),
    (887.6, 888.8),
    (120.2, 119.6),
    (0.3, 0.3),
    (0.3, 0.6),
    (556.8, 557.6),
    (339.1, 339.3),
    (887.2, 888),
    (999, 998.5),
    (779, 778.9),
    (11.1, 10.2),
    (118.3, 117.6),
    (229.2, 228.9),
    (669.1, 668.4),
    (448.9, 449.2),
    (0.5, 0.2),
)
PONTIUS_LOADS = np.arange(1, 21) * 150_000.0
PONTIUS_UP = (
    *(0.11019, 0.21956, 0.32949, 0.43899, 0.54803, 0.65694, 0.76562, 0.87487, 0.98292, 1.09146),
    *(1.20001, 1.30822, 1.41599, 1.52399, 1.63194, 1.73947, 1.84646, 1.95392, 2.06128, 2.16844),
)
PONTIUS_DOWN = (
    *(0.11052, 0.22018, 0.32939, 0.43886, 0.54798, 0.65739, 0.76596, 0.87474, 0.98300, 1.09150),
    *(1.20004, 1.30818, 1.41613, 1.52408, 1.63159, 1.73965, 1.84696, 1.95445, 2.06177, 2.16829),
)
FILIP_Y = (
    *(0.8116, 0.9072, 0.9052, 0.9039, 0.8053, 0.8377, 0.8667, 0.8809, 0.7975, 0.8162, 0.8515),
    *(0.8766, 0.8885, 0.8859, 0.8959, 0.8913, 0.8959, 0.8971, 0.9021, 0.9090, 0.9139, 0.9199),
    *(0.8692, 0.8872, 0.8900, 0.8910, 0.8977, 0.9035, 0.9078, 0.7675, 0.7705, 0.7713, 0.7736),
    *(0.7775, 0.7841, 0.7971, 0.8329, 0.8641, 0.8804, 0.7668, 0.7633, 0.7678, 0.7697, 0.7700),
    *(0.7749, 0.7796, 0.7897, 0.8131, 0.8498, 0.8741, 0.8061, 0.8460, 0.8751, 0.8856, 0.8919),
    *(0.8934, 0.8940, 0.8957, 0.9047, 0.9129, 0.9209, 0.9219, 0.7739, 0.7681, 0.7665, 0.7703),
    *(0.7702, 0.7761, 0.7809, 0.7961, 0.8253, 0.8602, 0.8809, 0.8301, 0.8664, 0.8834, 0.8898),
    *(0.8964, 0.8963, 0.9074, 0.9119, 0.9228),
)
FILIP_X = (
    *(-6.860120914, -4.324130045, -4.358625055, -4.358426747, -6.955852379, -6.661145254),
    *(-6.355462942, -6.118102026, -7.115148017, -6.815308569, -6.519993057, -6.204119983),
    *(-5.853871964, -6.109523091, -5.79832982, -5.482672118, -5.171791386, -4.851705903),
    *(-4.517126416, -4.143573228, -3.709075441, -3.499489089, -6.300769497, -5.953504836),
    *(-5.642065153, -5.031376979, -4.680685696, -4.329846955, -3.928486195, -8.56735134),
    *(-8.363211311, -8.107682739, -7.823908741, -7.522878745, -7.218819279, -6.920818754),
    *(-6.628932138, -6.323946875, -5.991399828, -8.781464495, -8.663140179, -8.473531488),
    *(-8.247337057, -7.971428747, -7.676129393, -7.352812702, -7.072065318, -6.774174009),
    *(-6.478861916, -6.159517513, -6.835647144, -6.53165267, -6.224098421, -5.910094889),
    *(-5.598599459, -5.290645224, -4.974284616, -4.64454848, -4.290560426, -3.885055584),
    *(-3.408378962, -3.13200249, -8.726767166, -8.66695597, -8.511026475, -8.165388579),
    *(-7.886056648, -7.588043762, -7.283412422, -6.995678626, -6.691862621, -6.392544977),
    *(-6.067374056, -6.684029655, -6.378719832, -6.065855188, -5.752272167, -5.132414673),
    *(-4.811352704, -4.098269308, -3.66174277, -3.2644011),
)
LONGLEY_Y = (
    *(60323, 61122, 60171, 61187, 63221, 63639, 64989, 63761),
    *(66019, 67857, 68169, 66513, 68655, 69564, 69331, 70551),
)
LONGLEY_X = (
    (83.0, 234289, 2356, 1590, 107608, 1947),
    (88.5, 259426, 2325, 1456, 108632, 1948),
    (88.2, 258054, 3682, 1616, 109773, 1949),
    (89.5, 284599, 3351, 1650, 110929, 1950),
    (96.2, 328975, 2099, 3099, 112075, 1951),
    (98.1, 346999, 1932, 3594, 113270, 1952),
    (99.0, 365385, 1870, 3547, 115094, 1953),
    (100.0, 363112, 3578, 3350, 116219, 1954),
    (101.2, 397469, 2904, 3048, 117388, 1955),
    (104.6, 419180, 2822, 2857, 118734, 1956),
    (108.4, 442769, 2936, 2798, 120445, 1957),
    (110.8, 444546, 4681, 2637, 121950, 1958),
    (112.6, 482704, 3813, 2552, 123366, 1959),
    (114.2, 502601, 3931, 2514, 125368, 1960),
    (115.7, 518173, 4806, 2572, 127852, 1961),
    (116.9, 554894, 4007, 2827, 130081, 1962),
)
WAMPLER_X = np.arange(21.0)
WAMPLER_PATTERN = np.array(
    (
        *(759, -2048, 2048, -2048, 2523, -2048, 2048, -2048, 1838, -2048, 2048),
        *(-2048, 1838, -2048, 2048, -2048, 2523, -2048, 2048, -2048, 759),
    )
)
WAMPLER3_SD = (
    *(2152.32624678170, 2363.55173469681, 779.343524331583),
    *(101.475507550350, 5.64566512170752, 0.112324854679312),
)


class Dataset(NamedTuple):
    """One reference dataset: its model matrix, its response and what is certified."""

    name: str
    design: np.ndarray
    response: np.ndarray
    coefficients: tuple[float, ...]
    sds: tuple[float, ...]
    residual_sd: float
    digits: float


def polynomial(x: np.ndarray | Sequence[float], degree: int) -> np.ndarray:
    return np.vander(np.asarray(x, dtype=float), degree + 1, increasing=True)


def wampler(name: str, size: float, digits: float) -> Dataset:
    response = polynomial(WAMPLER_X, 5).sum(axis=1) + size * WAMPLER_PATTERN
    sds = tuple(size * sd for sd in WAMPLER3_SD)
    return Dataset(
        name, polynomial(WAMPLER_X, 5), response, (1.0,) * 6, sds, size * 2360.14502379268, digits
    )


DATASETS = (
    Dataset(
        "Norris",
        polynomial([x for x, _ in NORRIS], 1),
        np.array([y for _, y in NORRIS]),
        (-0.262323073774029, 1.00211681802045),
        (0.232818234301152, 0.429796848199937e-03),
        0.884796396144373,
        11,
    ),
    Dataset(
        "Pontius",
        polynomial(np.concatenate([PONTIUS_LOADS, PONTIUS_LOADS]), 2),
        np.array(PONTIUS_UP + PONTIUS_DOWN),
        (0.673565789473684e-03, 0.732059160401003e-06, -0.316081871345029e-14),
        (0.107938612033077e-03, 0.157817399981659e-09, 0.486652849992036e-16),
        0.205177424076185e-03,
        10,
    ),
    Dataset(
        "NoInt1",
        np.arange(60.0, 71.0)[:, np.newaxis],
        np.arange(130.0, 141.0),
        (2.07438016528926,),
        (0.165289256198347e-01,),
        3.56753034006338,
        13,
    ),
    Dataset(
        "NoInt2",
        np.array([[4.0], [5.0], [6.0]]),
        np.array([3.0, 4.0, 4.0]),
        (0.727272727272727,),
        (0.420827318078432e-01,),
        0.369274472937998,
        13,
    ),
    Dataset(
        "Longley",
        np.column_stack([np.ones(16), LONGLEY_X]),
        np.array(LONGLEY_Y, dtype=float),
        (
            *(-3482258.63459582, 15.0618722713733, -0.358191792925910e-01, -2.02022980381683),
            *(-1.03322686717359, -0.511041056535807e-01, 1829.15146461355),
        ),
        (
            *(890420.383607373, 84.9149257747669, 0.334910077722432e-01, 0.488399681651699),
            *(0.214274163161675, 0.226073200069370, 455.478499142212),
        ),
        304.854073561965,
        9,
    ),
    wampler("Wampler3", 1.0, 8),
    wampler("Wampler4", 100.0, 7),
    wampler("Wampler5", 10_000.0, 6),
)


def fit(design: np.ndarray, response: np.ndarray) -> Adjustment:
    rows = [
        Row(name=f"{i + 1}", terms=tuple(enumerate(map(float, line))), observed=float(y), sigma=1.0)
        for i, (line, y) in enumerate(zip(design, response, strict=True))
    ]
    return adjust(rows, design.shape[1])


def digits(found: np.ndarray | float, certified: tuple[float, ...] | float) -> float:
    """Fewest significant digits in which `found` equals `certified`; certified ones end at 15."""
    error = np.max(np.abs(np.divide(np.subtract(found, certified), certified)))
    return 15.0 if error == 0.0 else min(15.0, -math.log10(error))


@pytest.mark.parametrize("data", DATASETS, ids=lambda data: data.name)
def test_certified_coefficients_and_standard_deviations(data: Dataset) -> None:
    adjustment = fit(data.design, data.response)
    residual_sd = math.sqrt(adjustment.variance_factor)
    sds = residual_sd * np.sqrt(np.diag(adjustment.covariance))
    assert digits(adjustment.x, data.coefficients) >= data.digits
    assert digits(sds, data.sds) >= data.digits
    assert digits(residual_sd, data.residual_sd) >= data.digits


@pytest.mark.parametrize(("name", "step", "asked"), [("Wampler1", 1.0, 8), ("Wampler2", 0.1, 11)])
def test_wampler_1_and_2_an_exact_polynomial_is_found_again(
    name: str, step: float, asked: float
) -> None:
    coefficients = step ** np.arange(6)
    design = polynomial(WAMPLER_X, 5)
    adjustment = fit(design, design @ coefficients)
    assert digits(adjustment.x, tuple(coefficients)) >= asked, name


def test_filip_the_tenth_power_is_fitted_not_dropped() -> None:
    """B0 to B5 are compared; a solver that quietly drops rank finds none of their digits."""
    adjustment = fit(polynomial(FILIP_X, 10), np.array(FILIP_Y))
    certified = (
        *(-1467.48961422980, -2772.17959193342, -2316.37108160893),
        *(-1127.97394098372, -354.478233703349, -75.1242017393757),
    )
    residual_sd = math.sqrt(adjustment.variance_factor)
    sds = residual_sd * np.sqrt(np.diag(adjustment.covariance))
    assert digits(adjustment.x[:6], certified) >= 6
    assert digits(sds[:3], (298.084530995537, 559.77986547495, 466.477572127796)) >= 6
    assert digits(residual_sd, 0.334801051324544e-02) >= 8


def test_a_column_that_repeats_another_is_refused_not_guessed() -> None:
    design = polynomial(WAMPLER_X, 5)
    with pytest.raises(Underdetermined) as refused:
        fit(np.column_stack([design, design[:, 2]]), design.sum(axis=1))
    assert refused.value.unknowns == (2, 6)
