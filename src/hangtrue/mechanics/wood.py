"""Screws in wood by the NDS: withdrawal, head pull-through, bearing, penetration, adjustment."""

# ruff: noqa: N803, N806, N815 - units and the specific gravity keep their capitals

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from hangtrue.mechanics.customary import INCH, POUND_FORCE, PSI
from hangtrue.mechanics.ranges import OutOfRange, listed, positive, within
from hangtrue.phrase import phrase
from hangtrue.source import cites
from hangtrue.tables import table

Kind = Literal["wood-screw", "lag-screw"]
Moisture = Literal["dry", "wet", "fabricated"]

LEAST_G, MOST_G = 0.31, 0.73
"""Specific gravities for which the NDS tabulates connections."""
THIN = 0.25 * INCH
"""mm: below this diameter grain direction, group and geometry factors do not matter."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Screw:
    """A wood screw or lag screw of plain carbon steel; lengths in mm.

    Attributes
    ----------
    kind, size
        As in `screws.toml`: `wood-screw` "10", `lag-screw` "1/4".
    diameter, root
        Nominal (over the thread) and at its root.
    head
        Diameter of the head; 0 where the table has none (lag screws).
    tip
        Length of the tapered tip: 2 D for wood screws.
    bending_yield_MPa
        By nominal diameter.

    """

    kind: Kind
    size: str
    diameter: float
    root: float
    head: float
    tip: float
    bending_yield_MPa: float

    @property
    def root_area(self) -> float:
        """Area at the root of the thread, mm2: the steel's own tension acts on it."""
        return math.pi * self.root**2 / 4


@cites("nds", "appendix L, tables L2 and L3")
def screw(kind: Kind, size: str) -> Screw:
    """Return the screw of that number or size from `screws.toml`.

    Raises
    ------
    OutOfRange
        If the table has no such screw.

    """
    rows = table("mechanics/screws")[listed("kind of screw", kind, ("wood-screw", "lag-screw"))]
    listed("size of the screw", size, (name for name in rows if name not in {"source", "clause"}))
    diameter, root, last = (value * INCH for value in rows[size])
    return Screw(
        kind=kind,
        size=size,
        diameter=diameter,
        root=root,
        head=last if kind == "wood-screw" else 0.0,
        tip=2 * diameter if kind == "wood-screw" else last,
        bending_yield_MPa=bending_yield(diameter),
    )


@cites("nds", "appendix I, table I1")
def bending_yield(diameter: float) -> float:
    """Bending yield strength of a carbon steel screw or nail by nominal diameter (mm); MPa.

    Screws of stainless steel or brass are not covered: theirs must come from tests.
    """
    rows = table("mechanics/screws")["bending-yield"]["rows"]
    inches = positive("diameter", diameter) / INCH
    for top, psi in rows:
        if inches <= top + 1e-9:
            return float(psi) * PSI
    raise OutOfRange("diameter", diameter, phrase("up to {most:g} mm", most=rows[-1][0] * INCH))


@cites("nds", "table 12.3.3A")
def specific_gravity(species: str) -> float:
    """Assigned specific gravity of a species of `wood.toml`."""
    rows = table("mechanics/wood")["specific-gravity"]
    listed("species", species, (name for name in rows if name not in {"source", "clause"}))
    return float(rows[species])


def _gravity(G: float) -> float:
    return within("specific gravity", G, LEAST_G, MOST_G)


@cites("nds", "eq. 12.2-2")
def wood_screw_withdrawal(diameter: float, G: float) -> float:
    """Withdrawal from side grain for each mm of thread in the wood; N/mm.

    W = 2850 G2 D pounds per inch.

    Parameters
    ----------
    diameter
        Nominal, mm: No. 6 to 24.
    G
        Specific gravity, 0.31 to 0.73.

    """
    D = within("diameter", diameter, 0.137 * INCH, 0.373 * INCH, "mm") / INCH
    return 2850 * _gravity(G) ** 2 * D * POUND_FORCE / INCH


@cites("nds", "eq. 12.2-1")
def lag_screw_withdrawal(diameter: float, G: float) -> float:
    """Withdrawal of a lag screw (1/4 to 1-1/4 in) from side grain for each mm of thread; N/mm.

    W = 1800 G^1.5 D^0.75 pounds per inch; the tapered tip does not count as thread.
    """
    D = within("diameter", diameter, 0.2499 * INCH, 1.2501 * INCH, "mm") / INCH
    return 1800 * math.pow(_gravity(G), 1.5) * math.pow(D, 0.75) * POUND_FORCE / INCH


@cites("nds", "eq. 12.2-3")
def nail_withdrawal(diameter: float, G: float) -> float:
    """Withdrawal of a plain-shank nail from side grain for each mm in the wood; N/mm.

    W = 1380 G^2.5 D pounds per inch.
    """
    D = positive("diameter", diameter) / INCH
    return 1380 * math.pow(_gravity(G), 2.5) * D * POUND_FORCE / INCH


def withdrawal(screw: Screw, thread_in_wood: float, G: float) -> float:
    """Reference withdrawal capacity W p_t of a screw in side grain; N.

    Parameters
    ----------
    screw
        Wood screw or lag screw.
    thread_in_wood
        Thread in the member that holds it, mm; for lag screws without the tip. Not tile, not
        backer.
    G
        Specific gravity of that member.

    """
    rate = wood_screw_withdrawal if screw.kind == "wood-screw" else lag_screw_withdrawal
    return rate(screw.diameter, G) * within("thread in wood", thread_in_wood, 0)


@cites("nds", "eq. 12.2-6")
def head_pull_through(head: float, thickness: float, G: float) -> float:
    """Capacity of a wooden side member against the head pulling through it; N.

    690 pi D_H G2 t pounds up to t = 2.5 D_H, 1725 pi D_H2 G2 beyond; inches inside.
    """
    D, t = positive("head", head) / INCH, positive("thickness", thickness) / INCH
    return 690 * math.pi * D * _gravity(G) ** 2 * min(t, 2.5 * D) * POUND_FORCE


@cites("nds", "dowel bearing strength; its table number, 12.3.3, from memory")
def dowel_bearing(diameter: float, G: float, grain_rad: float = 0.0) -> float:
    """Dowel bearing strength of wood; MPa.

    Below 1/4 in: 16,600 G^1.84 psi at any angle to the grain. From 1/4 in: 11,200 G along,
    6,100 G^1.45 / sqrt(D) across, Hankinson's formula between.

    Parameters
    ----------
    diameter
        Nominal, mm.
    G
        Specific gravity, 0.31 to 0.73.
    grain_rad
        Angle of the load to the grain, 0 to pi/2.

    """
    within("angle to the grain", grain_rad, 0, math.pi / 2, "rad")
    if positive("diameter", diameter) < THIN - 1e-9:
        return 16_600 * math.pow(_gravity(G), 1.84) * PSI
    D = within("diameter", diameter, 0, INCH, "mm") / INCH
    along, across = 11_200 * _gravity(G), 6_100 * math.pow(G, 1.45) / math.sqrt(D)
    sine, cosine = math.sin(grain_rad) ** 2, math.cos(grain_rad) ** 2
    return along * across / (along * sine + across * cosine) * PSI


@cites("nds", "12.1.4.6, 12.1.5.6")
def least_penetration(screw: Screw) -> float:
    """Least penetration into the wood that carries a lateral load; mm.

    6 D for wood screws, their tip included; 4 D for lag screws without it. Less has no value.
    """
    return float(table("mechanics/wood")["least-penetration"][screw.kind]) * screw.diameter


@cites("nds", "tables 12J and 12L, footnote 3")
def penetration_factor(screw: Screw, penetration: float) -> float:
    """Share of a *tabulated* lateral value at a penetration between the least and the full one.

    Raises
    ------
    OutOfRange
        Below the least penetration: such a screw has no value.

    """
    within("penetration", penetration, least_penetration(screw) * (1 - 1e-9))
    full = float(table("mechanics/wood")["full-penetration"][screw.kind]) * screw.diameter
    return min(1.0, penetration / full)


@cites("nds", "12.3.5.3")
def bearing_length(screw: Screw, penetration: float) -> float:
    """Dowel bearing length of a penetration that includes the tip, mm: half the tip less."""
    return within("penetration", penetration, screw.tip / 2) - screw.tip / 2


@cites("nds", "appendix L, tables L2 and L3")
def least_thread_length(screw: Screw, length: float) -> float:
    """Least length of thread a standard screw of that length has; mm.

    Wood screws the greater of 4 D and 2/3 of the length, lag screws half the length and 1/2 in, at
    most 6 in.
    """
    positive("length of the screw", length)
    if screw.kind == "wood-screw":
        return min(length, max(4 * screw.diameter, 2 * length / 3))
    return min(length, 6 * INCH, length / 2 + INCH / 2)


@cites("nds", "table 2.3.2, 11.3.2")
def load_duration_factor(duration: str) -> float:
    """C_D of a connection: `permanent` (a hanging door) 0.9 up to `ten-minutes` 1.6.

    The 2.0 of the table for impact is not allowed for connections and is not listed.
    """
    rows = table("mechanics/wood")["load-duration"]
    listed("duration", duration, (name for name in rows if name not in {"source", "clause"}))
    return float(rows[duration])


@cites("nds", "table 11.3.3")
def wet_service_factor(
    load: Literal["lateral", "withdrawal"], moisture: Moisture, diameter: float
) -> float:
    """C_M: `dry`, `wet` (above 19 % in service) or `fabricated` wet and dry in service."""
    rows = table("mechanics/wood")["wet-service"][listed("load", load, ("lateral", "withdrawal"))]
    thickness = "-thin" if diameter < THIN else "-thick"
    name = listed("moisture", moisture, ("dry", "wet", "fabricated"))
    return float(rows[name + thickness if name == "fabricated" else name])


@cites("nds", "table 11.3.4")
def temperature_factor(celsius: float, moisture: Moisture = "dry") -> float:
    """C_t of a connection up to 65 degrees C (150 F)."""
    fahrenheit = within("temperature", celsius, -60, 65.5, "degrees C") * 1.8 + 32
    rows = table("mechanics/wood")["temperature"]["rows"]
    row = next(row for row in rows if fahrenheit <= row[0] + 1e-9)
    return float(row[1 if moisture == "dry" else 2])


def adjusted(reference_N: float, *factors: float) -> float:
    """Reference capacity times its adjustment factors; N."""
    return within("reference capacity", reference_N, 0) * math.prod(factors)


@cites("nds", "eq. 12.4-1")
def combined_capacity(withdrawal_N: float, lateral_N: float, angle_rad: float) -> float:
    """Capacity of a screw under a load at an angle to the wood's surface; N.

    Z'_a = W'p Z' / (W'p cos2 a + Z' sin2 a); a = 0 is lateral, pi/2 withdrawal.
    """
    within("angle to the surface", angle_rad, 0, math.pi / 2, "rad")
    W, Z = positive("withdrawal capacity", withdrawal_N), positive("lateral capacity", lateral_N)
    return W * Z / (W * math.cos(angle_rad) ** 2 + Z * math.sin(angle_rad) ** 2)


@cites("nds", "eq. 12.4-1")
def combined_use(tension_N: float, shear_N: float, withdrawal_N: float, lateral_N: float) -> float:
    """Load over capacity of a screw pulled and sheared at once; up to 1 it holds."""
    tension, shear = within("tension", tension_N, 0), within("shear", shear_N, 0)
    load = math.hypot(tension, shear)
    if load == 0:
        return 0.0
    return load / combined_capacity(withdrawal_N, lateral_N, math.atan2(tension, shear))


def lead_hole(screw: Screw, G: float, load: Literal["withdrawal", "lateral"]) -> float:
    """Diameter of the lead hole in the wood, mm; 0 where none is required.

    The shares for wood screws are from memory: `table("mechanics/wood")["lead-hole"]` names the
    source.
    """
    name = "lag-screw" if screw.kind == "lag-screw" else f"wood-screw-{load}"
    row = table("mechanics/wood")["lead-hole"][name]
    of = screw.root if row["of"] == "root" else screw.diameter
    shares = (share for low, high, share in row["rows"] if low < _gravity(G) <= high)
    return of * next(shares, 0.0)


def thread_needed(screw: Screw, tension_N: float, G: float, *factors: float) -> float:
    """Thread in the wood that just holds a pull; mm: the inverse of `withdrawal`."""
    return within("tension", tension_N, 0) / (withdrawal(screw, 1.0, G) * math.prod(factors))
