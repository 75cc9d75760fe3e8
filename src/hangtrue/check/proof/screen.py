"""What one person may lift of glass by each published screen, and how many people a pane takes."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from hangtrue.check.sheet import Step
from hangtrue.mechanics.lifting import (
    Lift,
    cup_design_factor,
    cup_force,
    cup_mass,
    hse_filter,
    people_needed,
    recommended_weight,
    reference_mass,
)
from hangtrue.tables import table

ZONE = "elbow-to-knuckle"
TEAMS = (1, 2, 3)
UPRIGHT = math.pi / 2
MULTIPLIERS = (
    ("For the reach", "HM", "250 / H"),
    ("For the height", "VM", "1 − 0.0003 |V − 750|"),
    ("For the travel", "DM", "0.82 + 45 / D, D at least 250"),
    ("For twisting, which there is none of", "AM", "1 − 0.0032 A"),
    ("For how often: less than once in five minutes", "FM", "table 5"),
    ("For the grip, which is poor", "CM", "table 7"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Screen:
    """What one person may lift by one published screen, kg, and how that was found.

    Attributes
    ----------
    each_kg, least_kg
        Of a fit man, and of the least strong whom the screen counts with; kg.
    shares
        The guide says what share of their sum a team may lift: two 2/3, three 1/2.

    """

    name: str
    each_kg: float
    least_kg: float
    source: str
    shares: bool
    steps: tuple[Step, ...]

    def people(self, mass_kg: float) -> int | None:
        """Least team of one to three that may lift a mass; None if no such team may."""
        if self.shares:
            return people_needed(mass_kg, self.each_kg)
        teams = (n for n in TEAMS if mass_kg <= n * self.each_kg)
        return next(teams, None)


def screens(rules: str, hours: float) -> tuple[Screen, ...]:
    """Return all screens, first the one of the shop's rules: NIOSH for `us`, else HSE."""
    found = (niosh(hours), hse(), iso(hours))
    return found if rules == "us" else (found[1], found[0], found[2])


def carried(hours: float) -> Lift:
    """A pane carried upright at the side, by one end of it."""
    row = table("mechanics/lifting")["pane"]
    return Lift(
        reach=float(row["reach"]),
        height=float(row["height"]),
        travel=float(row["travel"]),
        hours=hours,
    )


@cache
def niosh(hours: float) -> Screen:
    """Revised NIOSH equation; it knows no teams, so each takes an equal share."""
    limit = recommended_weight(carried(hours))
    steps = (
        *_multipliers(limit.multipliers),
        Step(what="Recommended weight limit", symbol="m_1", formula="23 kg × multipliers",
             value=limit.limit_kg, unit="kg", source="niosh-94-110", clause="1.3"),
    )  # fmt: skip
    return Screen(
        name="NIOSH", each_kg=limit.limit_kg, least_kg=limit.limit_kg, source="niosh-94-110",
        shares=False, steps=steps,
    )  # fmt: skip


def _multipliers(values: tuple[float, ...]) -> Iterator[Step]:
    for (what, symbol, formula), value in zip(MULTIPLIERS, values, strict=True):
        yield Step(
            what=what, symbol=symbol, formula=formula, value=value, source="niosh-94-110",
            clause="1.3",
        )  # fmt: skip


@cache
def hse() -> Screen:
    """Filter of the British guide, hands close to the body at the best height."""
    men, women = hse_filter(ZONE, "men"), hse_filter(ZONE, "women")
    steps = (
        Step(what="Filter for men, hands close, elbow to knuckle height", symbol="m_1",
             formula="table", value=men, unit="kg", source="hse-l23", clause="risk filter"),
        Step(what="The same for women", symbol="m_w", formula="table", value=women, unit="kg",
             source="hse-l23", clause="risk filter"),
    )  # fmt: skip
    return Screen(
        name="HSE", each_kg=men, least_kg=women, source="hse-l23", shares=True, steps=steps
    )


@cache
def iso(hours: float) -> Screen:
    """Reference mass of ISO 11228-1 times the multipliers of NIOSH; from memory, so it informs."""
    share = math.prod(recommended_weight(carried(hours)).multipliers)
    men, women = reference_mass("men"), reference_mass("women")
    steps = (
        Step(what="Reference mass for men of 18 to 45, from memory", symbol="m_ref",
             formula="table", value=men, unit="kg", source="iso-11228-1-recalled",
             clause="reference masses"),
        Step(what="Recommended mass limit, from memory", symbol="m_R",
             formula="m_ref HM VM DM AM FM CM", value=men * share, unit="kg",
             source="iso-11228-1-recalled", clause="annex A"),
    )  # fmt: skip
    return Screen(
        name="ISO 11228-1", each_kg=men * share, least_kg=women * share,
        source="iso-11228-1-recalled", shares=False, steps=steps,
    )  # fmt: skip


# -------------------------------------------------------------------------------------------- cups


@cache
def cup_kg() -> float:
    """Mass that one hand cup may carry of a pane held upright, by friction; kg."""
    row = table("mechanics/lifting")["hand-cup"]
    force = cup_force(float(row["diameter"]), float(row["vacuum_MPa"]))
    return cup_mass(force, cup_design_factor(UPRIGHT), float(row["friction"]))


def cups_needed(mass_kg: float) -> int:
    """Hand cups for a pane held upright, in pairs, by what one carries."""
    return 2 * math.ceil(mass_kg / cup_kg() / 2)


def cup_steps(mass_kg: float) -> Iterator[Step]:
    """Work out the cups: area, vacuum, friction, factor, number."""
    row = table("mechanics/lifting")["hand-cup"]
    diameter, vacuum = float(row["diameter"]), float(row["vacuum_MPa"])
    values = (
        ("Diameter of a cup", "d", "", diameter, "mm", "practice", ""),
        ("Vacuum that its pump draws", "p", "", vacuum, "MPa", "practice", ""),
        ("Friction of rubber on dry glass", "μ", "", float(row["friction"]), "", "practice", ""),
        ("Force of a cup", "F", "π d² / 4 × p", cup_force(diameter, vacuum), "N", "own", ""),
        ("Factor for a pad that hangs upright, from memory", "N", "2 + 2 (90° / 90°)",
         cup_design_factor(UPRIGHT), "", "asme-bth-1", "pad design factor"),
        ("Mass that a cup may carry", "m_c", "μ F / (N g)", cup_kg(), "kg", "own", ""),
        ("Cups, in pairs", "n_c", "2 ceil(m / (2 m_c))", float(cups_needed(mass_kg)), "", "own",
         ""),
    )  # fmt: skip
    for what, symbol, formula, value, unit, source, clause in values:
        yield Step(what=what, symbol=symbol, formula=formula, value=value, unit=unit,
                   source=source, clause=clause)  # fmt: skip
