"""Screws in wood by EN 1995-1-1: withdrawal, head, embedment, Johansen's modes, both at once."""

# ruff: noqa: N803, N806 - units and the symbols of the source keep their capitals

from __future__ import annotations

import math
from typing import Literal

from hangtrue.mechanics.dowel import Member, yield_loads
from hangtrue.mechanics.ranges import listed, positive, within
from hangtrue.source import cites
from hangtrue.tables import table

Johansen = Literal["a", "b", "c", "d", "e", "f"]
STEEPEST = math.radians(30)
"""Least angle of the screw to the grain."""
DIAMETERS = (6.0, 12.0)
"""Outer diameters, mm, that it is stated for."""
CORE = (0.6, 0.75)
"""Root over outer diameter of the screws that the formula of withdrawal is stated for."""


@cites("en-1995", "8.7.2, eq. 8.39")
def withdrawal_strength(diameter: float, thread: float, density: float) -> float:
    """Characteristic withdrawal strength f_ax,k = 0.52 d^-0.5 l_ef^-0.1 rho^0.8; MPa.

    Parameters
    ----------
    diameter
        Outer thread, 6 to 12 mm. Thinner screws need their own approval.
    thread
        In the wood on the point side, mm, at least 6 d.
    density
        Characteristic, kg/m3.

    """
    d = within("diameter of the screw", diameter, *DIAMETERS, unit="mm")
    within("thread in the wood", thread, 6 * d, unit="mm")
    return 0.52 * math.pow(d, -0.5) * math.pow(thread, -0.1) * math.pow(_rho(density), 0.8)


def _rho(density: float) -> float:
    return within("characteristic density", density, 250, 1000, "kg/m3")


@cites("en-1995", "8.7.2 (4)")
def covered_thread(diameter: float, root: float) -> float:
    """Root over outer diameter of a screw: 0.6 to 0.75, or the formula of withdrawal is not for it.

    Raises
    ------
    OutOfRange
        For a thicker or a thinner core: such a screw needs the values of its own approval.

    """
    share = positive("root diameter", root) / positive("diameter of the screw", diameter)
    return within("root over outer diameter of the screw", share, *CORE)


@cites("en-1995", "8.7.2, eq. 8.38")
def withdrawal(
    diameter: float, thread: float, density: float, screws: int = 1, grain_rad: float = math.pi / 2
) -> float:
    """Characteristic withdrawal of a group, 30 degrees or more to the grain; N."""
    angle = within("angle to the grain", grain_rad, STEEPEST, math.pi / 2, "rad")
    strength = withdrawal_strength(diameter, thread, density)
    depth = min(diameter / 8, 1.0)
    slope = 1.2 * math.cos(angle) ** 2 + math.sin(angle) ** 2
    return effective_number(screws) * strength * diameter * thread * depth / slope


@cites("en-1995", "8.7.2, eq. 8.40")
def withdrawal_declared(
    strength_MPa: float,
    declared_density: float,
    diameter: float,
    thread: float,
    density: float,
    screws: int = 1,
) -> float:
    """Characteristic withdrawal from the declared f_ax,k at the declared density; N."""
    scale = math.pow(_rho(density) / _rho(declared_density), 0.8)
    return effective_number(screws) * strength_MPa * diameter * thread * scale


@cites("en-1995", "8.7.2, eq. 8.41")
def effective_number(screws: int) -> float:
    """Effective number n^0.9 of screws that act together."""
    return math.pow(within("number of screws", screws, 1), 0.9)


@cites("en-1995", "8.7.2 (8.3.2 for undeclared screws)")
def head_pull_through(
    head: float,
    density: float,
    declared: tuple[float, float] | None = None,
    screws: int = 1,
) -> float:
    """Characteristic pull-through of heads of that diameter (mm); N.

    `declared` is the pair f_head,k (MPa) and its density; without it 70e-6 rho2, of smooth nails.
    """
    if declared is None:
        strength = 70e-6 * _rho(density) ** 2
    else:
        strength = declared[0] * math.pow(_rho(density) / _rho(declared[1]), 0.8)
    return effective_number(screws) * strength * positive("head", head) ** 2


@cites("en-1995", "8.3.1.1, eq. 8.15 and 8.16")
def embedment(diameter: float, density: float, *, predrilled: bool) -> float:
    """Characteristic embedment strength for nails, and screws up to 6 mm; MPa."""
    d = within("diameter", positive("diameter", diameter), 0, 8, "mm")
    if predrilled:
        return 0.082 * (1 - 0.01 * d) * _rho(density)
    return 0.082 * _rho(density) * math.pow(d, -0.3)


@cites("en-1995", "8.3.1.1, eq. 8.14; 8.7.1")
def yield_moment(tensile_MPa: float, diameter: float) -> float:
    """Characteristic yield moment 0.3 f_u d^2.6 of a round dowel; N mm.

    For a screw without 4 d of smooth shank beyond the joint, d is 1.1 times its root.
    """
    return 0.3 * positive("tensile strength", tensile_MPa) * math.pow(diameter, 2.6)


@cites("en-1995", "8.2.2, eq. 8.6")
def single_shear(
    diameter: float, yield_moment_Nmm: float, side: Member, main: Member
) -> dict[Johansen, float]:
    """Johansen's six modes of one dowel through two timbers that touch, without rope effect; N."""
    d, M = positive("diameter", diameter), positive("yield moment", yield_moment_Nmm)
    f, t1, t2 = side.bearing_MPa, side.length, main.length
    b, r = main.bearing_MPa / f, t2 / t1
    both = math.sqrt(b + 2 * b * b * (1 + r + r * r) + b**3 * r * r) - b * (1 + r)
    near = math.sqrt(2 * b * (1 + b) + 4 * b * (2 + b) * M / (f * d * t1 * t1)) - b
    far = math.sqrt(2 * b * b * (1 + b) + 4 * b * (1 + 2 * b) * M / (f * d * t2 * t2)) - b
    return {
        "a": f * t1 * d,
        "b": main.bearing_MPa * t2 * d,
        "c": f * t1 * d / (1 + b) * both,
        "d": 1.05 * f * t1 * d / (2 + b) * near,
        "e": 1.05 * f * t2 * d / (1 + 2 * b) * far,
        "f": 1.15 * math.sqrt(2 * b / (1 + b)) * math.sqrt(2 * M * f * d),
    }


@cites("en-1995-recalled", "8.2.2 (2)")
def with_rope(
    modes: dict[Johansen, float], axial_N: float, fastener: str = "screw"
) -> dict[Johansen, float]:
    """Add a quarter of the axial capacity to modes c to f, capped by the kind of fastener; N."""
    data = table("mechanics/eurocode5")
    caps = {**data["rope-cap-recalled"], **data["rope-cap"]}
    cap = float(caps[listed("fastener", fastener, (k for k in caps if k != "source"))])
    within("axial capacity", axial_N, 0)
    return {
        mode: value + (0.0 if mode in {"a", "b"} else min(axial_N / 4, cap * value))
        for mode, value in modes.items()
    }


@cites("en-1995-recalled", "8.2.3, eq. 8.9 and 8.10")
def steel_plate_shear(
    diameter: float, yield_moment_Nmm: float, wood: Member, plate: float, axial_N: float = 0.0
) -> float:
    """Characteristic single shear with a steel plate outside, its thickness in proportion; N.

    Thin up to d/2, thick from d. The wood's length is the penetration t1.
    """
    d, M = positive("diameter", diameter), positive("yield moment", yield_moment_Nmm)
    f, t, rope = wood.bearing_MPa, wood.length, axial_N / 4
    thin = min(0.4 * f * t * d, 1.15 * math.sqrt(2 * M * f * d) + rope)
    hinge = f * t * d * (math.sqrt(2 + 4 * M / (f * d * t * t)) - 1) + rope
    thick = min(hinge, 2.3 * math.sqrt(M * f * d) + rope, f * t * d)
    share = min(max(2 * positive("plate", plate) / d - 1, 0.0), 1.0)
    return thin + share * (thick - thin)


@cites("own", "general dowel equations with the strengths of EN 1995-1-1")
def shear_across_gap(
    diameter: float, yield_moment_Nmm: float, side: Member, main: Member, gap: float
) -> float:
    """Characteristic single shear across a gap, for which the standard has no term; N.

    Equilibrium of the dowel as in the general dowel equations, without rope effect.
    """
    bending_yield_MPa = 6 * yield_moment_Nmm / diameter**3
    return min(yield_loads(diameter, bending_yield_MPa, main, side, gap).values())


@cites("en-1995-recalled", "table 3.1")
def modification_factor(duration: str) -> float:
    """k_mod of solid timber in service classes 1 and 2 (from memory)."""
    rows = table("mechanics/eurocode5")["modification"]
    return float(rows[listed("duration", duration, (k for k in rows if k != "source"))])


@cites("en-1995", "2.4.3")
def design(characteristic_N: float, modification: float) -> float:
    """Design capacity k_mod R_k / 1.3 of a connection; N."""
    partial = float(table("mechanics/eurocode5")["partial"]["connections"])
    return within("k_mod", modification, 0, 1.1) * characteristic_N / partial


@cites("en-1995", "8.7.3, eq. 8.28")
def combined_use(axial_N: float, lateral_N: float, axial_Rd_N: float, lateral_Rd_N: float) -> float:
    """Sum of the squared uses under pull and shear; up to 1 it holds."""
    positive("axial capacity", axial_Rd_N)
    positive("lateral capacity", lateral_Rd_N)
    return (axial_N / axial_Rd_N) ** 2 + (lateral_N / lateral_Rd_N) ** 2
