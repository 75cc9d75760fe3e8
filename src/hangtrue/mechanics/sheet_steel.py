"""Screws in sheet steel studs by AISI S100: shear, pull-out, pull-over and both at once."""

# ruff: noqa: N803, N806, N815 - units keep their capitals

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from hangtrue.mechanics.customary import INCH, POUND_FORCE, PSI
from hangtrue.mechanics.ranges import listed, positive, within
from hangtrue.source import cites
from hangtrue.tables import table

LEAST_D, MOST_D = 0.08 * INCH, 0.25 * INCH
"""mm; the screws that the specification covers."""
WIDEST_HEAD: Final = 0.75 * INCH
"""mm; of a head or washer, no more counts against pull-over."""
LEAST_HEAD: Final = 5 / 16 * INCH
"""mm; of a head or washer of a screw in tension."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetScrew:
    """A self-drilling screw: diameter and head in mm, the screw's own nominal strengths in N."""

    size: str
    diameter: float
    head: float
    shear_N: float
    tension_N: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A sheet of design thickness in mm and tensile strength in MPa."""

    thickness: float
    tensile_MPa: float


def sheet_screw(size: str) -> SheetScrew:
    """Return a screw of `sheet_steel.toml` by its number; else raise OutOfRange."""
    rows, strengths = (table("mechanics/sheet_steel")[k] for k in ("screw", "screw-strength"))
    listed("size of the screw", size, (name for name in rows if name != "source"))
    diameter, head = (value * INCH for value in rows[size])
    shear_N, tension_N = (value * POUND_FORCE for value in strengths[size])
    return SheetScrew(size=size, diameter=diameter, head=head, shear_N=shear_N, tension_N=tension_N)


def sheet(mil: str) -> Sheet:
    """Return a stud sheet of `sheet_steel.toml` by its thickness in mil; else raise OutOfRange."""
    rows = table("mechanics/sheet_steel")["sheet"]
    listed("thickness of the sheet", mil, (name for name in rows if name != "source"))
    inches, _, ksi = rows[mil]
    return Sheet(thickness=inches * INCH, tensile_MPa=ksi * 1000 * PSI)


def _diameter(d: float) -> float:
    return within("diameter of the screw", d, LEAST_D * (1 - 1e-9), MOST_D * (1 + 1e-9), "mm")


@cites("aisi-s100", "J4.3.1 (E4.3.1)")
def shear(diameter: float, top: Sheet, base: Sheet) -> float:
    """Nominal shear of the sheets, tilting and bearing; N.

    t2/t1 <= 1: least of 4.2 (t2^3 d)^0.5 Fu2, 2.7 t1 d Fu1, 2.7 t2 d Fu2; t2/t1 >= 2.5: least of
    the two bearings; in proportion between.

    Parameters
    ----------
    diameter
        2.03 to 6.35 mm.
    top
        The sheet under the head (t1).
    base
        The sheet that the thread holds in (t2).

    """
    d = _diameter(diameter)
    t1, t2 = positive("thickness", top.thickness), positive("thickness", base.thickness)
    bearing = min(2.7 * t1 * d * top.tensile_MPa, 2.7 * t2 * d * base.tensile_MPa)
    tilting = min(bearing, 4.2 * math.sqrt(t2**3 * d) * base.tensile_MPa)
    share = min(max((t2 / t1 - 1) / 1.5, 0.0), 1.0)
    return tilting + share * (bearing - tilting)


@cites("aisi-s100", "J4.4.1 (E4.4.1)")
def pull_out(diameter: float, base: Sheet, penetration: float | None = None) -> float:
    """Nominal pull-out 0.85 t_c d Fu2; N. t_c is the lesser of the sheet and the penetration.

    Later tests found that this equation needs an adjustment factor: keep a margin.
    """
    engaged = base.thickness if penetration is None else min(base.thickness, penetration)
    return 0.85 * positive("thickness", engaged) * _diameter(diameter) * base.tensile_MPa


@cites("aisi-s100", "J4.4.2 (E4.4.2)")
def pull_over(head: float, top: Sheet) -> float:
    """Nominal pull-over 1.5 t1 d_w Fu1; N. The head or washer is at least 5/16 in in tension."""
    wide = min(positive("head", head), WIDEST_HEAD)
    return 1.5 * positive("thickness", top.thickness) * wide * top.tensile_MPa


@cites("aisi-s100", "J4 (E4)")
def allowable(nominal_N: float) -> float:
    """Allowable strength: nominal over the safety factor 3.0; N."""
    return nominal_N / float(table("mechanics/sheet_steel")["safety"]["omega"])


@cites("aisi-s100", "J4.5.1 (E4.5.1)")
def shear_and_pull_over_use(
    shear_N: float, tension_N: float, shear_nominal_N: float, pull_over_nominal_N: float
) -> float:
    """Use under shear with pull-over: V/Pns + 0.71 T/Pnov over 1.10/2.35; up to 1 it holds."""
    ratio = shear_N / shear_nominal_N + 0.71 * tension_N / pull_over_nominal_N
    return ratio / (1.10 / 2.35)


@cites("aisi-s100-recalled", "J4.5.2 (E4.5.2)")
def shear_and_pull_out_use(
    shear_N: float, tension_N: float, shear_nominal_N: float, pull_out_nominal_N: float
) -> float:
    """Use under shear with pull-out: V/Pns + T/Pnot over 1.15/2.55; from memory."""
    ratio = shear_N / shear_nominal_N + tension_N / pull_out_nominal_N
    return ratio / (1.15 / 2.55)


@cites("aisi-s100", "J4.1, J4.2 (E4.1, E4.2)")
def least_spacing(diameter: float) -> tuple[float, float]:
    """Least spacing (3 d) and edge distance (1.5 d) of screws; mm."""
    return 3 * _diameter(diameter), 1.5 * diameter
