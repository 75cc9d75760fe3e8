"""One screw in the wood behind tile and board: what it bears by NDS or Eurocode 5."""

# ruff: noqa: N803, N815 - units keep their capitals

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache

from hangtrue.mechanics import eurocode5, wood
from hangtrue.mechanics.customary import INCH, PSI
from hangtrue.mechanics.dowel import Lateral, Member, Mode, lateral, yield_loads
from hangtrue.mechanics.ranges import OutOfRange, within
from hangtrue.phrase import phrase
from hangtrue.tables import table

ACROSS = math.pi / 2
"""Angle of the load to the grain that is reckoned with, rad."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fixing:
    """A screw through a plate or a channel and the wall's layers into wood; lengths in mm.

    Attributes
    ----------
    length
        Below the plate.
    over
        Tile, backer and whatever else lies over the wood: a gap that bears nothing.
    depth
        Thickness of the wood.
    gravity
        Specific gravity of the wood.
    moisture
        `dry`, `wet` or `fabricated`.
    rules
        `nds` or `ec5`.
    under
        What is under its head: a row of the load cases, `hinge-plate` or `channel-base`.

    """

    kind: wood.Kind
    size: str
    length: float
    over: float
    depth: float
    gravity: float
    moisture: wood.Moisture
    rules: str
    under: str = "hinge-plate"

    @property
    def screw(self) -> wood.Screw:
        """The screw of the tables."""
        return wood.screw(self.kind, self.size)

    @property
    def sticks_out(self) -> float:
        """How far its tip comes out behind the wood, mm; negative while it stays in."""
        return self.length - self.over - self.depth

    @property
    def penetration(self) -> float:
        """Length in the wood, tip included, mm."""
        return max(0.0, min(self.length - self.over, self.depth))

    @property
    def thread(self) -> float:
        """Thread really in the wood, mm; a lag screw's tip does not count."""
        tip = self.screw.tip if self.kind == "lag-screw" and self.sticks_out <= 0 else 0.0
        reach = min(self.length - self.over, self.depth + max(0.0, self.sticks_out))
        start = reach - wood.least_thread_length(self.screw, self.length)
        return max(0.0, self.penetration - tip - max(0.0, start))

    @property
    def least_penetration(self) -> float:
        """6 D of a wood screw, 4 D of a lag screw; with less there is no value, mm."""
        return wood.least_penetration(self.screw)

    @property
    def bears(self) -> bool:
        """Whether it is deep enough in the wood to count at all."""
        counted = self.penetration - (self.screw.tip if self.kind == "lag-screw" else 0.0)
        return counted >= self.least_penetration - 1e-9

    def with_length(self, length: float) -> Fixing:
        """Return the same with another screw length, mm."""
        return replace(self, length=length)


@dataclass(frozen=True, slots=True, kw_only=True)
class Capacity:
    """What a screw bears, N: pulled out and sideways, reference values and adjusted ones."""

    withdrawal_N: float
    lateral_N: float
    reference: tuple[float, float]
    factors: tuple[tuple[str, float, float], ...]
    mode: Mode


@lru_cache(maxsize=512)
def capacity(fixing: Fixing, duration: str) -> Capacity:
    """Return what a screw bears under a load of that duration.

    Raises
    ------
    OutOfRange
        If it is not deep enough in the wood, or the rules do not cover it.

    """
    if not fixing.bears:
        least = fixing.least_penetration
        raise OutOfRange(
            "penetration into the wood",
            fixing.penetration,
            phrase("{least:.3g} mm or more", least=least),
            "mm",
        )
    return _nds(fixing, duration) if fixing.rules == "nds" else _ec5(fixing, duration)


def known_to_rules(fixing: Fixing) -> None:
    """Ask whether the rules cover a screw at all, however long it is.

    Raises
    ------
    OutOfRange
        If it is in no table, or Eurocode 5 leaves its thread to an approval of its own.

    """
    screw = fixing.screw
    if fixing.rules != "nds":
        within("diameter of the screw", screw.diameter, *eurocode5.DIAMETERS, unit="mm")
        eurocode5.covered_thread(screw.diameter, screw.root)


def members(fixing: Fixing) -> tuple[Member, Member]:
    """Wood and plate as a dowel sees them: main and side member.

    Nobody says which way the grain of the wood runs, and the load turns with the door: screws thick
    enough for it to matter are taken to bear across the grain.
    """
    screw = fixing.screw
    tip_in = fixing.sticks_out <= 0
    into = wood.bearing_length(screw, fixing.penetration) if tip_in else fixing.penetration
    if fixing.rules == "nds":
        bears = wood.dowel_bearing(screw.diameter, fixing.gravity, ACROSS)
    else:
        bears = eurocode5.embedment(screw.diameter, _density(), predrilled=True)
    return Member(bearing_MPa=bears, length=into), _under_head(fixing.under)


def _density() -> float:
    """Characteristic density of the wood behind a wall by Eurocode 5, kg/m3."""
    return float(table("mechanics/load_cases")["density"]["softwood"])


def _under_head(name: str) -> Member:
    """Return the plate or channel under a screw's head as a side member."""
    plate, known = table("mechanics/load_cases")[name], table("mechanics/screws")["bearing-psi"]
    bears = float(known[plate["like"]]) * PSI if "like" in plate else float(plate["bearing_MPa"])
    return Member(bearing_MPa=bears, length=float(plate["thickness"]))


def sideways(fixing: Fixing, bending_yield_MPa: float | None = None) -> Lateral:
    """Reference lateral capacity across the layers, by mode; steel of the table unless told."""
    screw = fixing.screw
    main, side = members(fixing)
    return lateral(
        nominal=screw.diameter,
        root=screw.root,
        bending_yield_MPa=bending_yield_MPa or screw.bending_yield_MPa,
        main=main,
        side=side,
        gap=fixing.over,
        grain_rad=ACROSS,
    )


def _nds(fixing: Fixing, duration: str) -> Capacity:
    screw = fixing.screw
    out, along = wood.withdrawal(screw, fixing.thread, fixing.gravity), sideways(fixing)
    time = wood.load_duration_factor(duration)
    wet = (
        wood.wet_service_factor("withdrawal", fixing.moisture, screw.diameter),
        wood.wet_service_factor("lateral", fixing.moisture, screw.diameter),
    )
    return Capacity(
        withdrawal_N=wood.adjusted(out, time, wet[0]),
        lateral_N=wood.adjusted(along.capacity_N, time, wet[1]),
        reference=(out, along.capacity_N),
        factors=(("C_D", time, time), ("C_M", *wet)),
        mode=along.mode,
    )


def _ec5(fixing: Fixing, duration: str) -> Capacity:
    """Eurocode 5: characteristic values times k_mod (from memory) over 1.3."""
    screw, rows = fixing.screw, table("mechanics/load_cases")
    known_to_rules(fixing)
    out = eurocode5.withdrawal(screw.diameter, fixing.thread, _density())
    main, side = members(fixing)
    moment = screw.bending_yield_MPa * screw.root**3 / 6
    along = eurocode5.shear_across_gap(screw.root, moment, side, main, fixing.over)
    modes = yield_loads(screw.root, screw.bending_yield_MPa, main, side, fixing.over)
    k_mod = eurocode5.modification_factor(rows["duration-ec5"][duration])
    return Capacity(
        withdrawal_N=eurocode5.design(out, k_mod),
        lateral_N=eurocode5.design(along, k_mod),
        reference=(out, along),
        factors=(("k_mod", k_mod, k_mod), ("1/γ_M", 1 / 1.3, 1 / 1.3)),
        mode=min(modes, key=modes.__getitem__),
    )


def use(fixing: Fixing, capacity: Capacity, tension_N: float, shear_N: float) -> float:
    """Load over capacity of a screw pulled and sheared at once; up to 1 it holds.

    The NDS interpolates by the angle of the load, so that a little pull would make a sheared screw
    better; here it is never better than under either alone. Eurocode 5 sums the squares of both
    uses; the root of that sum grows as the load does.
    """
    out, along = capacity.withdrawal_N, capacity.lateral_N
    if fixing.rules != "nds":
        return math.sqrt(eurocode5.combined_use(tension_N, shear_N, out, along))
    both = wood.combined_use(tension_N, shear_N, out, along)
    return max(both, tension_N / out, shear_N / along)


def stock_lengths() -> tuple[float, ...]:
    """Lengths of screws that are in the shops, below the plate, shortest first; mm."""
    return tuple(inches * INCH for inches in table("mechanics/load_cases")["screws"]["lengths_in"])


def stock_sizes() -> tuple[str, ...]:
    """Numbers of wood screws, thinnest first."""
    return tuple(table("mechanics/load_cases")["screws"]["sizes"])
