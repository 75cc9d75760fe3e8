"""Carrying a pane by hand: the NIOSH equation, HSE filters, ISO masses, teams, vacuum cups.

All of it screens. A pane is long, has no handles and is carried through tight rooms, which the
methods themselves leave outside their scope; say so beside every number.
"""

# ruff: noqa: N803 - units keep their capitals

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from hangtrue.mechanics.ranges import listed, positive, within
from hangtrue.source import cites
from hangtrue.tables import Table, table

Coupling = Literal["good", "fair", "poor"]
System = Literal["metric", "us"]
Sex = Literal["men", "women"]


def _data(name: str) -> Table:
    found: Table = table("mechanics/lifting")[name]
    return found


def _row(rows: Table, name: str, value: str) -> tuple[float, ...]:
    found = rows[listed(name, value, (row for row in rows if row != "source"))]
    return tuple(found) if isinstance(found, list) else (float(found),)


@dataclass(frozen=True, slots=True, kw_only=True)
class Lift:
    """One lift as the revised NIOSH equation describes it; lengths in mm.

    Attributes
    ----------
    reach
        From the ankles' midpoint to the hands, level.
    height
        Of the hands above the floor, where the load is taken or put down.
    travel
        Height that the hands move through.
    twist_rad
        Of the body out of its own middle plane.
    per_minute
        Lifts a minute.
    hours
        For which that goes on, at most 8.
    coupling
        A bare pane is `poor`: long, sharp-edged, gripped in gloves.

    """

    reach: float
    height: float
    travel: float
    twist_rad: float = 0.0
    per_minute: float = 0.2
    hours: float = 1.0
    coupling: Coupling = "poor"


@dataclass(frozen=True, slots=True, kw_only=True)
class RecommendedWeight:
    """Recommended weight limit with its multipliers, which say what to change.

    Attributes
    ----------
    constant_kg
        Load constant.
    reach, height, travel, twist, frequency, coupling
        Multipliers, 0 to 1; 0 where the lift lies beyond the method.

    """

    constant_kg: float
    reach: float
    height: float
    travel: float
    twist: float
    frequency: float
    coupling: float

    @property
    def multipliers(self) -> tuple[float, ...]:
        """HM, VM, DM, AM, FM, CM."""
        return (
            self.reach, self.height, self.travel, self.twist, self.frequency, self.coupling
        )  # fmt: skip

    @property
    def limit_kg(self) -> float:
        """Recommended weight limit."""
        return self.constant_kg * math.prod(self.multipliers)

    def index(self, load_kg: float) -> float:
        """Lifting index: load over limit; above 1 some, above 3 nearly all are at raised risk."""
        return positive("load", load_kg) / self.limit_kg if self.limit_kg else math.inf


@cites("niosh-94-110", "section 1.3, RWL")
def recommended_weight(lift: Lift, system: System = "metric") -> RecommendedWeight:
    """Recommended weight limit at one end of a lift, in the metric or the US form of the equation.

    Where setting down needs care, as glass does, take the lower of origin and destination.
    """
    rows = _data("niosh")[listed("system", system, ("metric", "us"))]
    unit = float(rows["unit_mm"])
    height = within("height of the hands", lift.height, 0, unit="mm") / unit
    low = height < float(rows["knuckle"])
    return RecommendedWeight(
        constant_kg=float(rows["load"]) * float(rows["load_kg"]),
        reach=_reach(positive("reach", lift.reach) / unit, rows),
        height=_height(height, rows),
        travel=_travel(within("travel", lift.travel, 0, unit="mm") / unit, rows),
        twist=_twist(math.degrees(within("twist", lift.twist_rad, 0, math.pi, "rad"))),
        frequency=frequency_multiplier(lift.per_minute, lift.hours, low=low),
        coupling=_row(_data("niosh")["coupling"], "coupling", lift.coupling)[0 if low else 1],
    )


def _reach(reach: float, rows: Table) -> float:
    if reach > float(rows["furthest"]):
        return 0.0
    return float(rows["reach"]) / max(reach, float(rows["reach"]))


def _height(height: float, rows: Table) -> float:
    if height > float(rows["highest"]):
        return 0.0
    return 1 - float(rows["height_slope"]) * abs(height - float(rows["knuckle"]))


def _travel(travel: float, rows: Table) -> float:
    if travel > float(rows["most_travel"]):
        return 0.0
    return float(rows["travel_base"]) + float(rows["travel"]) / max(
        travel, float(rows["least_travel"])
    )


def _twist(degrees: float) -> float:
    rows = _data("niosh")["twist"]
    return 1 - float(rows["slope"]) * degrees if degrees <= float(rows["most"]) else 0.0


@cites("niosh-94-110", "table 5, FM")
def frequency_multiplier(per_minute: float, hours: float, *, low: bool) -> float:
    """FM between the rows of the table; 0 above 15 lifts a minute. `low`: hands below 75 cm."""
    column = 1 + 2 * _duration(hours) + (0 if low else 1)
    rows = _data("niosh")["frequency"]["rows"]
    rate = max(within("lifts a minute", per_minute, 0), float(rows[0][0]))
    for before, after in pairwise(rows):
        if rate <= after[0]:
            share = (rate - before[0]) / (after[0] - before[0])
            return float(before[column] + share * (after[column] - before[column]))
    return 0.0


def _duration(hours: float) -> int:
    """Column of the frequency table: up to 1, 2 or 8 hours."""
    within("hours", hours, 0, 8, "h")
    return sum(hours > limit for limit in (1, 2))


@cites("niosh-94-110", "section 1.3, estimate of H")
def reach_of(container: float, height: float) -> float:
    """Reach for a load of that depth: 20 cm (25 below a height of 25 cm) and half of it; mm."""
    return (200 if height >= 250 else 250) + positive("depth", container) / 2  # noqa: PLR2004


@cites("niosh-94-110", "section 1.4, special frequency adjustment")
def spread_frequency(per_minute: float, minutes: float, period: float = 15.0) -> float:
    """Lifts a minute over the whole of a 15-minute period of which only some is lifting."""
    return per_minute * within("minutes of lifting", minutes, 0, period, "min") / period


@cites("hse-l23", "risk filter for lifting and lowering")
def hse_filter(zone: str, sex: Sex, *, twist_rad: float = 0.0, per_minute: float = 0.5) -> float:
    """Filter value with the load close to the body; kg.

    Zones: `above-shoulder`, `shoulder`, `elbow-to-knuckle`, `knuckle-to-mid-lower-leg`,
    `mid-lower-leg-to-floor`.
    """
    return _hse("close", zone, sex) * _hse_factors(twist_rad, per_minute)


@cites("hse-l23-recalled", "risk filter, arms extended")
def hse_filter_extended(
    zone: str, sex: Sex, *, twist_rad: float = 0.0, per_minute: float = 0.5
) -> float:
    """Filter value with the arms extended, from memory but for one; kg."""
    return _hse("extended", zone, sex) * _hse_factors(twist_rad, per_minute)


def _hse(reach: str, zone: str, sex: Sex) -> float:
    listed("sex", sex, ("men", "women"))
    return _row(_data("hse")[reach], "zone", zone)[0 if sex == "men" else 1]


def _hse_factors(twist_rad: float, per_minute: float) -> float:
    degrees = math.degrees(within("twist", twist_rad, 0, math.pi, "rad"))
    twist = next(f for least, f in reversed(_data("hse")["twist"]["rows"]) if degrees >= least)
    rows, rate = _data("hse")["frequency"], within("lifts a minute", per_minute, 0)
    often = next((f for top, f in rows["rows"] if rate <= top), rows["beyond"])
    return float(twist) * float(often)


@cites("hse-l23", "team handling")
def team_capacity(each_kg: tuple[float, ...]) -> float:
    """What a team may lift: two 2/3, three 1/2 of the sum of what each may; kg.

    Raises
    ------
    OutOfRange
        For more than three people, of whom the guide gives no share.

    """
    share = _row(_data("hse")["team"], "people in the team", str(len(each_kg)))[0]
    return share * sum(each_kg)


def people_needed(mass_kg: float, each_kg: float) -> int | None:
    """Least team of one to three that may lift a mass; None: no team may, use a lifting aid."""
    positive("mass", mass_kg)
    teams = (n for n in (1, 2, 3) if team_capacity((each_kg,) * n) >= mass_kg)
    return next(teams, None)


@cites("iso-11228-1-recalled", "table of reference masses")
def reference_mass(sex: Sex, age: str = "age-18-45") -> float:
    """Reference mass of ISO 11228-1, from memory; kg."""
    listed("sex", sex, ("men", "women"))
    return _row(_data("iso")["reference-mass"], "age", age)[0 if sex == "men" else 1]


@cites("own", "force of a vacuum on an area")
def cup_force(diameter: float, vacuum_MPa: float) -> float:
    """Force of a round vacuum cup on smooth, dry, clean glass; N. 60 kPa is 0.06 MPa.

    On textured glass, and on wet or dusty glass, a cup does not hold: give it no force at all.
    """
    within("vacuum", vacuum_MPa, 0, 0.1013, "MPa")
    return math.pi * positive("diameter", diameter) ** 2 / 4 * vacuum_MPa


@cites("asme-bth-1", "pad design factor")
def cup_design_factor(tilt_rad: float) -> float:
    """Design factor 2 + 2 (tilt / 90 degrees) of a pad: 2 lying flat, 4 upright (from memory)."""
    rows = _data("vacuum")["lifter"]
    share = within("tilt", tilt_rad, 0, math.pi / 2, "rad") / (math.pi / 2)
    return float(rows["flat"]) + share * (float(rows["upright"]) - float(rows["flat"]))


@cites("own", "friction of a vacuum cup on an upright pane")
def cup_mass(force_N: float, factor: float, friction: float | None = None) -> float:
    """Mass a cup may carry, kg: pulled straight off, or along an upright pane by friction."""
    share = 1.0 if friction is None else within("friction", friction, 0.05, 1)
    return share * positive("force of the cup", force_N) / (within("factor", factor, 1) * 9.80665)
