"""Lateral strength of one screw: general dowel equations, with tile and backer as a gap between."""

# ruff: noqa: N802, N803, N806, N815 - units and the symbols of the source keep their capitals

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final, Literal

from hangtrue.mechanics.customary import INCH
from hangtrue.mechanics.ranges import positive, within
from hangtrue.source import cites

Mode = Literal["Im", "Is", "II", "IIIm", "IIIs", "IV"]

MODES: Final[tuple[Mode, ...]] = ("Im", "Is", "II", "IIIm", "IIIs", "IV")
THICK_REDUCTION: Final[dict[Mode, float]] = {
    "Im": 4.0,
    "Is": 4.0,
    "II": 3.6,
    "IIIm": 3.2,
    "IIIs": 3.2,
    "IV": 3.2,
}
"""R_d over K_theta for diameters from 1/4 in."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Member:
    """A member that a dowel bears in.

    Attributes
    ----------
    bearing_MPa
        Dowel bearing strength in the direction of the load.
    length
        Bearing length of the dowel in it, mm.

    """

    bearing_MPa: float
    length: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Lateral:
    """Reference lateral capacity of one dowel in single shear.

    Attributes
    ----------
    by_mode_N
        Capacity of each yield mode, before adjustment.

    """

    by_mode_N: dict[Mode, float]

    @property
    def mode(self) -> Mode:
        """The mode that governs."""
        return min(self.by_mode_N, key=self.by_mode_N.__getitem__)

    @property
    def capacity_N(self) -> float:
        """The least of the modes."""
        return self.by_mode_N[self.mode]


@cites("nds", "table 12.3.1B")
def reduction_terms(nominal: float, root: float, grain_rad: float = 0.0) -> dict[Mode, float]:
    """Reduction term R_d of each mode.

    Below 1/4 in K_D = 2.2 up to 0.17 in, else 10 D + 0.5 (inches), of the diameter that bends;
    from 1/4 in 4, 3.6 or 3.2 times K_theta = 1 + 0.25 (theta / 90 degrees).

    Parameters
    ----------
    nominal, root
        Diameters, mm, at most 1 in; for a plain nail or bolt both are the shank's.
    grain_rad
        Largest angle of the load to the grain of either member, 0 to pi/2.

    """
    within("diameter", positive("diameter", nominal), 0, INCH, "mm")
    within("angle to the grain", grain_rad, 0, math.pi / 2, "rad")
    k_theta = 1 + 0.25 * grain_rad / (math.pi / 2)
    D, quarter = positive("root diameter", root) / INCH, 0.25
    if quarter - 1e-9 <= D:
        return {mode: THICK_REDUCTION[mode] * k_theta for mode in MODES}
    k_d = 2.2 if D <= 0.17 else 10 * D + 0.5  # noqa: PLR2004 - of the table
    factor = k_d * (k_theta if nominal / INCH >= quarter - 1e-9 else 1.0)
    return dict.fromkeys(MODES, factor)


@cites("tr12", "table 1-1, single shear, solid dowel")
def yield_loads(
    diameter: float, bending_yield_MPa: float, main: Member, side: Member, gap: float = 0.0
) -> dict[Mode, float]:
    """Load at which each mode yields; N.

    Parameters
    ----------
    diameter
        Of the part that bears and bends, mm: the root where it is thread.
    bending_yield_MPa
        F_yb of the dowel.
    main, side
        The member that holds the point, and the one under the head.
    gap
        Between them, mm: tile, backer, adhesive, none of which is counted on.

    """
    q_m = positive("bearing strength", main.bearing_MPa) * positive("diameter", diameter)
    q_s = positive("bearing strength", side.bearing_MPa) * diameter
    crushed: dict[Mode, float] = {"Im": q_m * main.length, "Is": q_s * side.length}
    terms = quadratics(diameter, bending_yield_MPa, main, side, gap)
    return crushed | {mode: _root(*abc) for mode, abc in terms.items()}


@cites("tr12", "table 1-1, single shear, solid dowel")
def quadratics(
    diameter: float, bending_yield_MPa: float, main: Member, side: Member, gap: float = 0.0
) -> dict[Mode, tuple[float, float, float]]:
    """A, B and C of A P2 + B P + C = 0 for the modes in which the dowel turns or bends.

    Arguments as for `yield_loads`; A in mm/N, B in mm, C in N mm.
    """
    q_m = positive("bearing strength", main.bearing_MPa) * positive("diameter", diameter)
    q_s = positive("bearing strength", side.bearing_MPa) * diameter
    l_m, l_s = positive("bearing length", main.length), positive("bearing length", side.length)
    within("gap", gap, 0, unit="mm")
    moment = positive("bending yield strength", bending_yield_MPa) * diameter**3 / 6
    rotate_m, rotate_s = q_m * l_m**2 / 4, q_s * l_s**2 / 4
    return {
        "II": (1 / (4 * q_s) + 1 / (4 * q_m), l_s / 2 + gap + l_m / 2, -rotate_s - rotate_m),
        "IIIm": (1 / (2 * q_s) + 1 / (4 * q_m), gap + l_m / 2, -moment - rotate_m),
        "IIIs": (1 / (4 * q_s) + 1 / (2 * q_m), l_s / 2 + gap, -rotate_s - moment),
        "IV": (1 / (2 * q_s) + 1 / (2 * q_m), gap, -2 * moment),
    }


def _root(a: float, b: float, c: float) -> float:
    """Positive root of a P2 + b P + c = 0, c negative, without loss of digits at a wide gap."""
    return -2 * c / (b + math.sqrt(b * b - 4 * a * c))


@cites("tr12", "table 1-1 with the reduction terms of NDS table 12.3.1B")
def lateral(
    *,
    nominal: float,
    root: float,
    bending_yield_MPa: float,
    main: Member,
    side: Member,
    gap: float = 0.0,
    grain_rad: float = 0.0,
) -> Lateral:
    """Reference lateral capacity of a dowel in single shear across a gap; arguments as above."""
    loads = yield_loads(root, bending_yield_MPa, main, side, gap)
    terms = reduction_terms(nominal, root, grain_rad)
    return Lateral(by_mode_N={mode: loads[mode] / terms[mode] for mode in loads})


@cites("nds", "table 12.3.1A, single shear")
def yield_loads_in_contact(
    diameter: float, bending_yield_MPa: float, main: Member, side: Member
) -> dict[Mode, float]:
    """Load at which each mode yields where the members touch; N. Arguments as for `yield_loads`."""
    D, Fem, Fes = diameter, main.bearing_MPa, side.bearing_MPa
    lm, ls = main.length, side.length
    Re, Rt = Fem / Fes, lm / ls
    inner = Re + 2 * Re**2 * (1 + Rt + Rt**2) + Rt**2 * Re**3
    k1 = (math.sqrt(inner) - Re * (1 + Rt)) / (1 + Re)
    bend = 2 * bending_yield_MPa * D**2 / (3 * Fem)
    k2 = -1 + math.sqrt(2 * (1 + Re) + bend * (1 + 2 * Re) / lm**2)
    k3 = -1 + math.sqrt(2 * (1 + Re) / Re + bend * (2 + Re) / ls**2)
    return {
        "Im": D * lm * Fem,
        "Is": D * ls * Fes,
        "II": k1 * D * ls * Fes,
        "IIIm": k2 * D * lm * Fem / (1 + 2 * Re),
        "IIIs": k3 * D * ls * Fem / (2 + Re),
        "IV": D**2 * math.sqrt(2 * Fem * bending_yield_MPa / (3 * (1 + Re))),
    }
