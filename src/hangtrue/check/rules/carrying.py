"""How many people, or which aid, each pane takes to carry and to set."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.proof.covered import covered
from hangtrue.check.rule import rule
from hangtrue.check.sheet import CalculationSheet, Given, Step
from hangtrue.check.wording import article, listed
from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Lite
from hangtrue.mechanics.lifting import (
    Lift,
    hse_filter,
    people_needed,
    recommended_weight,
    team_capacity,
)
from hangtrue.tables import table

ZONE = "elbow-to-knuckle"
TEAMS = (1, 2, 3)
ALONE = 1
SCOPE = (
    "A screen: the methods leave carrying, unstable loads and restricted rooms outside their "
    "scope. Each carries at a side, the pane upright."
)
OUTSIDE = "A screen only: carrying, tight rooms and sharp edges lie outside it."
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
    """What one person may lift by the shop's screen, kg, and how that was found."""

    each_kg: float
    source: str
    steps: tuple[Step, ...]

    def people(self, mass_kg: float) -> int | None:
        """Least team of one to three that may lift a mass; None if no such team may.

        NIOSH knows no teams: each takes an equal share. HSE counts two at 2/3, three at 1/2.
        """
        if self.source == "hse-l23":
            return people_needed(mass_kg, self.each_kg)
        teams = (n for n in TEAMS if mass_kg <= n * self.each_kg)
        return next(teams, None)


@rule(
    id="carrying",
    title="Each pane is carried by enough people, or by an aid",
    why="A pane has no handles, cannot be put down anywhere, and is carried through tight rooms. "
    "Backs are hurt and panes dropped long before anybody says it is too heavy.",
    source="niosh-94-110",
    needs="glass",
)
@covered
def carrying(case: Case) -> Iterable[Finding]:
    """Screen the mass of every pane; panes that take as many people are one finding."""
    screen = _screen(case)
    groups: dict[int | None, list[Lite]] = {}
    for pane in case.lites:
        groups.setdefault(screen.people(pane.mass_kg), []).append(pane)
    for people, panes in groups.items():
        yield _group(case, panes, people, screen)


def _screen(case: Case) -> Screen:
    """Return what one person may lift of glass: NIOSH in the United States, HSE elsewhere."""
    if case.brief.profile.strength_rules == "us":
        return _niosh(case.limit("carry-hours").value)
    each = hse_filter(ZONE, "men")
    step = Step(
        what="Filter, hands close, elbow to knuckle height", symbol="m_1", formula="table",
        value=each, unit="kg", source="hse-l23", clause="risk filter",
    )  # fmt: skip
    return Screen(each_kg=each, source="hse-l23", steps=(step,))


def _niosh(hours: float) -> Screen:
    row = table("mechanics/lifting")["pane"]
    lift = Lift(
        reach=float(row["reach"]),
        height=float(row["height"]),
        travel=float(row["travel"]),
        hours=hours,
    )
    limit = recommended_weight(lift)
    steps = [
        Step(
            what=what, symbol=symbol, formula=formula, value=value, source="niosh-94-110",
            clause="1.3",
        )
        for (what, symbol, formula), value in zip(MULTIPLIERS, limit.multipliers, strict=True)
    ]  # fmt: skip
    steps.append(
        Step(what="Recommended weight limit", symbol="m_1", formula="23 kg × multipliers",
             value=limit.limit_kg, unit="kg", source="niosh-94-110", clause="1.3")
    )  # fmt: skip
    return Screen(each_kg=limit.limit_kg, source="niosh-94-110", steps=tuple(steps))


def _group(case: Case, panes: list[Lite], people: int | None, screen: Screen) -> Finding:
    heaviest = max(panes, key=lambda pane: pane.mass_kg)
    each = listed([f"{article(pane.id)} of {case.weigh(pane.mass_kg)}" for pane in panes])
    who = {1: "One person carries", 2: "Two people carry", 3: "Three people carry"}
    alone = people == ALONE
    return Finding(
        level=Level.PASS if alone else Level.NOTE,
        where=listed([pane.id for pane in panes]),
        found=f"{who.get(people or 0, 'No team by hand carries')} {each}: this screen allows one "
        f"person {case.weigh(screen.each_kg)}.",
        means="" if alone else OUTSIDE,
        do="" if alone else _do(heaviest, people),
        value=Estimate(heaviest.mass_kg),
        limit=screen.each_kg,
        unit="kg",
        source=screen.source,
        sheet=_sheet(heaviest, screen, people),
    )


def _do(pane: Lite, people: int | None) -> str:
    grips = f"{cups_needed(pane.mass_kg)} hand cups, on clean, dry, smooth glass only"
    if people is None:
        return f"Bring a trolley and a lifter, and {grips}; on textured glass cups do not hold."
    return f"Have {grips}."


def cups_needed(mass_kg: float) -> int:
    """Hand cups for a pane held upright, in pairs, by what one carries."""
    each = float(table("mechanics/lifting")["pane"]["cup_kg"])
    return 2 * math.ceil(mass_kg / each / 2)


def _sheet(pane: Lite, screen: Screen, people: int | None) -> CalculationSheet:
    shares = {1: 1.0, 2: 2 / 3, 3: 1 / 2}
    teams = tuple(
        Step(what=f"Team of {n}", symbol=f"m_{n}", formula=f"{share:.3g} × {n} m_1",
             value=team_capacity((screen.each_kg,) * n), unit="kg", source="hse-l23",
             clause="team handling")
        for n, share in shares.items()
        if n > 1
    )  # fmt: skip
    row = table("mechanics/lifting")["pane"]
    return CalculationSheet(
        title=f"Carrying {pane.id}",
        basis=(
            SCOPE,
        ),
        given=(
            Given(what="Mass, by nominal thickness", symbol="m", value=pane.mass_kg, unit="kg",
                  origin="the enclosure"),
            Given(what="Centre of mass from the datum corner", symbol="x, y",
                  value=f"{pane.centroid[0]:.0f}, {pane.centroid[1]:.0f}", unit="mm",
                  origin="the enclosure"),
            Given(what="Hands in front of the ankles", symbol="H", value=float(row["reach"]),
                  unit="mm", origin="own"),
            Given(what="Height of the hands", symbol="V", value=float(row["height"]), unit="mm",
                  origin="own"),
            Given(what="Travel", symbol="D", value=float(row["travel"]), unit="mm", origin="own"),
        ),
        steps=(*screen.steps, *teams),
        result=f"People needed: {people}." if people else "No team of three: an aid is needed.",
    )  # fmt: skip
