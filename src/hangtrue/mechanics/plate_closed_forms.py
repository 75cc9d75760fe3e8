"""Panes that have an answer on paper: rectangles, strips, and a flat pane forced into a twist."""

# ruff: noqa: N803 - units keep their capitals

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from hangtrue.mechanics.ranges import OutOfRange, listed, positive, within
from hangtrue.source import cites
from hangtrue.tables import table

TERMS = range(1, 400, 2)
"""Odd terms of a series; the slowest, with 1/m3, are then settled to 1e-7."""
LARGEST = 350.0
"""Beyond this argument 1/cosh is nothing and its square overflows."""
LEAST_E1300_LOAD = 12.0
"""q (a b)^2 / (E t^4) below which the deflection polynomial is on the unsafe side."""


def flexural_rigidity(youngs_modulus_MPa: float, poisson: float, thickness: float) -> float:
    """E t3 / (12 (1 - nu2)), N mm."""
    within("Poisson's ratio", poisson, 0, 0.5)
    return youngs_modulus_MPa * positive("thickness", thickness) ** 3 / (12 * (1 - poisson**2))


def _halves(ratio: float) -> Iterator[tuple[int, float]]:
    """Odd terms m with m pi / 2 times the ratio of the sides, held where cosh would overflow."""
    for m in TERMS:
        yield m, min(m * math.pi * ratio / 2, LARGEST)


@cites("timoshenko", "art. 30, eq. 139")
def supported_deflection(pressure_MPa: float, short: float, long: float, rigidity: float) -> float:
    """Middle deflection of a rectangle simply supported on four sides, uniform load; mm.

    Parameters
    ----------
    pressure_MPa
        Uniform, across the pane.
    short, long
        Sides, mm, short <= long.
    rigidity
        `flexural_rigidity`, N mm.

    """
    within("long side over short side", long / positive("short side", short), 1)
    terms = (
        (-1) ** (m // 2) / m**5 * (1 - (x * math.tanh(x) + 2) / (2 * math.cosh(x)))
        for m, x in _halves(long / short)
    )
    return 4 * pressure_MPa * short**4 / (math.pi**5 * rigidity) * math.fsum(terms)


@cites("timoshenko", "art. 30, eq. 140-141")
def supported_moments(
    pressure_MPa: float, short: float, long: float, poisson: float
) -> tuple[float, float]:
    """Middle moments along the short and the long side of the same rectangle, N."""
    within("long side over short side", long / positive("short side", short), 1)
    along_short, along_long = [], []
    for m, x in _halves(long / short):
        a, b = -(x * math.tanh(x) + 2) / (2 * math.cosh(x)), 1 / (2 * math.cosh(x))
        value, curve, size = 1 + a, a + 2 * b, (-1) ** (m // 2) / m**3
        along_short.append(size * (value - poisson * curve))
        along_long.append(size * (poisson * value - curve))
    scale = 4 * pressure_MPa * short**2 / math.pi**3
    return scale * math.fsum(along_short), scale * math.fsum(along_long)


@cites("timoshenko", "art. 34, eq. 146")
def supported_point_deflection(force_N: float, short: float, long: float, rigidity: float) -> float:
    """Deflection under a force in the middle of a rectangle supported on four sides; mm."""
    within("long side over short side", long / positive("short side", short), 1)
    terms = ((math.tanh(x) - x / math.cosh(x) ** 2) / m**3 for m, x in _halves(long / short))
    return force_N * short**2 / (2 * math.pi**3 * rigidity) * math.fsum(terms)


@cites("roark", "table 11.4, cases 1a and 2a")
def roark_uniform(case: str, ratio: float) -> dict[str, float]:
    """Coefficients alpha, beta and gamma of `roark.toml` at a ratio of sides a/b.

    Raises
    ------
    OutOfRange
        Outside the rows, or for a case that the table does not hold.

    """
    cases = table("mechanics/roark")
    rows = cases[listed("case", case, cases)]
    within("ratio of the sides", ratio, rows["ratio"][0], rows["ratio"][-1])
    names = (name for name in rows if name not in {"ratio", "source"})
    return {name: float(np.interp(ratio, rows["ratio"], rows[name])) for name in names}


@cites("own", "pure twist of a thin plate")
def twist_corner_force(
    offset: float, width: float, height: float, rigidity: float, poisson: float
) -> float:
    """Force at a corner that holds a flat pane with that corner `offset` out of plane; N."""
    return 2 * rigidity * (1 - poisson) * offset / (width * height)


@cites("own", "pure twist of a thin plate")
def twist_stress(
    offset: float, width: float, height: float, thickness: float, shear_modulus_MPa: float
) -> float:
    """Principal tension at 45 degrees of the same pane, everywhere the same; MPa."""
    return shear_modulus_MPa * thickness * offset / (width * height)


@cites("own", "two adjacent edges supported: pure twist")
def corner_load_deflection(
    force_N: float, width: float, height: float, rigidity: float, poisson: float
) -> float:
    """Deflection of the free corner under a force there, two adjacent edges supported; mm."""
    return force_N * width * height / (2 * rigidity * (1 - poisson))


@cites("own", "two adjacent edges supported: reciprocity with pure twist")
def corner_deflection_uniform(
    pressure_MPa: float, width: float, height: float, rigidity: float, poisson: float
) -> float:
    """Deflection of the free corner under uniform load, two adjacent edges supported; mm."""
    return pressure_MPa * (width * height) ** 2 / (8 * rigidity * (1 - poisson))


@cites("own", "beam on two supports, force at height a")
def strip_deflection(
    load_N_per_mm: float, at: float, height: float, thickness: float, youngs_modulus_MPa: float
) -> float:
    """Deflection at a line load across a pane supported along top and bottom, as a strip; mm.

    Parameters
    ----------
    load_N_per_mm
        For each mm of width: 50 plf in IBC 2403.4.
    at
        Height of the load above the lower support, mm: at most 42 in (1067 mm) in IBC 2403.4.
    height
        Between the supports, mm.
    thickness, youngs_modulus_MPa
        Of the glass; the least thickness of its class.

    """
    within("height of the load", at, 0, positive("height", height), "mm")
    inertia = positive("thickness", thickness) ** 3 / 12
    above = height - at
    return load_N_per_mm * (at * above) ** 2 / (3 * youngs_modulus_MPa * inertia * height)


@cites("own", "beam on two supports, force at height a")
def strip_stress(load_N_per_mm: float, at: float, height: float, thickness: float) -> float:
    """Bending stress of the same strip under the load; MPa."""
    within("height of the load", at, 0, positive("height", height), "mm")
    moment = load_N_per_mm * at * (height - at) / height
    return 6 * moment / positive("thickness", thickness) ** 2


@cites("e1300", "appendix X1")
def e1300_deflection(
    pressure_MPa: float, short: float, long: float, thickness: float, youngs_modulus_MPa: float
) -> float:
    """Middle deflection with membrane action, four sides supported; mm.

    Raises
    ------
    OutOfRange
        For sides beyond 1:5, or a load so small that the polynomial is on the unsafe side.

    """
    ratio = within("long side over short side", long / positive("short side", short), 1, 5)
    load = pressure_MPa * (short * long) ** 2 / (youngs_modulus_MPa * thickness**4)
    if load < LEAST_E1300_LOAD:
        raise OutOfRange("q (a b)^2 / (E t^4)", load, f"{LEAST_E1300_LOAD:g} and above")
    coefficients = table("mechanics/glass")["e1300-deflection"]["polynomials"]
    r0, r1, r2 = (sum(c * ratio**i for i, c in enumerate(row)) for row in coefficients)
    x = math.log(math.log(load))
    return thickness * math.exp(r0 + r1 * x + r2 * x * x)
