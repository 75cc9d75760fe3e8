"""How many people, or which aid, each pane takes to carry and to set."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.proof.covered import covered
from hangtrue.check.proof.screen import Screen, cup_kg, cup_steps, cups_needed, screens
from hangtrue.check.rule import rule
from hangtrue.check.sheet import CalculationSheet, Given, Step
from hangtrue.check.wording import article, listed
from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Lite
from hangtrue.mechanics.lifting import team_capacity
from hangtrue.phrase import join, phrase
from hangtrue.tables import table

ALONE = 1
PAIR = 2
SCOPE = (
    "A screen: the methods leave carrying, unstable loads and restricted rooms outside their "
    "scope. Each carries at a side, the pane upright."
)
OUTSIDE = "A screen only: carrying, tight rooms and sharp edges lie outside it."
SMOOTH = (
    "Cups: on clean, dry, smooth glass only, and never more than their maker allows. On textured, "
    "wet or dusty glass they do not hold."
)
WHO = {1: "one person", 2: "two people", 3: "three people", None: "no team by hand"}


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
    rules, hours = case.brief.profile.strength_rules, case.limit("carry-hours").value
    found = screens(rules, hours)
    groups: dict[int | None, list[Lite]] = {}
    for pane in case.lites:
        groups.setdefault(_people(found[0], pane.mass_kg), []).append(pane)
    for people, panes in groups.items():
        yield _group(case, panes, people, found)


def _people(screen: Screen, mass_kg: float) -> int | None:
    """Return the least team; nobody said who carries, so one is enough only for whoever it is."""
    people = screen.people(mass_kg)
    return PAIR if people == ALONE and mass_kg > screen.least_kg else people


def _group(case: Case, panes: list[Lite], people: int | None, found: tuple[Screen, ...]) -> Finding:
    heaviest, screen = max(panes, key=lambda pane: pane.mass_kg), found[0]
    alone = people == ALONE
    strong = screen.people(heaviest.mass_kg) == ALONE and not alone
    words = (OUTSIDE, *((_strong(case, screen),) if strong else ()))
    return Finding(
        level=Level.PASS if alone else Level.NOTE,
        where=listed([pane.id for pane in panes]),
        found=phrase(
            "{who}: this screen allows one person {each}.",
            who=_carry(case, panes, people),
            each=case.weigh(screen.each_kg),
        ),
        means="" if alone else join(" ", (*words, _others(case, heaviest, found[1:]))),
        do="" if alone else _do(case, heaviest, people),
        value=Estimate(heaviest.mass_kg),
        limit=screen.each_kg,
        unit="kg",
        source=screen.source,
        sheet=_sheet(case, heaviest, people, found),
    )


def _strong(case: Case, screen: Screen) -> str:
    """Say whose figure that is: nobody said who carries."""
    return phrase(
        "That figure is for men, the pane held close; for women the guide has {less}, and a tall "
        "pane is not held close.",
        less=case.weigh(screen.least_kg),
    )


def _carry(case: Case, panes: list[Lite], people: int | None) -> str:
    each = listed(
        [phrase("{pane} of {mass}", pane=article(p.id), mass=case.weigh(p.mass_kg)) for p in panes]
    )
    if people is None:
        return phrase("No team by hand carries {panes}", panes=each)
    if people == ALONE:
        return phrase("One person carries {panes}", panes=each)
    if people == PAIR:
        return phrase("Two people carry {panes}", panes=each)
    return phrase("Three people carry {panes}", panes=each)


def _others(case: Case, pane: Lite, found: tuple[Screen, ...]) -> str:
    """Say whom the other screens would send for the heaviest pane; memory informs, no more."""
    one, other = found
    return phrase(
        "For {pane} {one} would ask for {few} at {light} each; {other}, from memory, for {many} "
        "at {heavy}.",
        pane=article(pane.id),
        one=one.name,
        few=WHO[one.people(pane.mass_kg)],
        light=case.weigh(one.each_kg),
        other=other.name,
        many=WHO[other.people(pane.mass_kg)],
        heavy=case.weigh(other.each_kg),
    )


def _do(case: Case, pane: Lite, people: int | None) -> str:
    if case.job.wanted.texture == "textured":
        if people is None:
            return (
                "Bring a trolley and a lifter with slings. Vacuum cups do not hold on textured "
                "glass."
            )
        return (
            "Carry it in straps or by gloved hands, with one more person than that. Vacuum cups do "
            "not hold on textured glass."
        )
    if people is None:
        return phrase(
            "Bring a trolley and a lifter, and {grips}; on textured glass cups do not hold.",
            grips=_grips(case, pane),
        )
    return phrase("Have {grips}.", grips=_grips(case, pane))


def _grips(case: Case, pane: Lite) -> str:
    size = case.size(float(table("mechanics/lifting")["hand-cup"]["diameter"]))
    return phrase(
        "{cups} pumped hand cups of {size}, each for {mass}, on clean, dry, smooth glass only",
        cups=cups_needed(pane.mass_kg),
        size=size,
        mass=case.weigh(cup_kg()),
    )


def _sheet(
    case: Case, pane: Lite, people: int | None, found: tuple[Screen, ...]
) -> CalculationSheet:
    textured = case.job.wanted.texture == "textured"
    return CalculationSheet(
        title=phrase("Carrying {pane}", pane=pane.id),
        basis=(SCOPE, SMOOTH),
        given=tuple(_given(pane, textured=textured)),
        steps=(
            *found[0].steps,
            *(_teams(found[0]) if found[0].shares else ()),
            *(step for other in found[1:] for step in _alternative(other, pane.mass_kg)),
            *(() if textured else cup_steps(pane.mass_kg)),
        ),
        result=phrase("People needed: {people}.", people=people)
        if people
        else "No team of three: an aid is needed.",
    )


def _given(pane: Lite, *, textured: bool) -> Iterator[Given]:
    row = table("mechanics/lifting")["pane"]
    yield Given(what="Mass, by nominal thickness", symbol="m", value=pane.mass_kg, unit="kg",
                origin="the enclosure")  # fmt: skip
    x, y = pane.centroid
    yield Given(what="Centre of mass from the datum corner", symbol="x, y",
                value=f"{x:.0f}, {y:.0f}", unit="mm", origin="the enclosure")  # fmt: skip
    yield Given(what="Faces of the glass", symbol="", value="textured" if textured else "clear")
    yield Given(what="Hands in front of the ankles", symbol="H", value=float(row["reach"]),
                unit="mm", origin="own")  # fmt: skip
    yield Given(what="Height of the hands", symbol="V", value=float(row["height"]), unit="mm",
                origin="own")  # fmt: skip
    yield Given(what="Travel", symbol="D", value=float(row["travel"]), unit="mm", origin="own")


def _teams(screen: Screen) -> Iterator[Step]:
    for count, share in ((2, "0.667"), (3, "0.5")):
        yield Step(
            what=phrase("Team of {n}", n=count), symbol=f"m_{count}",
            formula=f"{share} × {count} m_1", value=team_capacity((screen.each_kg,) * count),
            unit="kg", source="hse-l23", clause="team handling",
        )  # fmt: skip


def _alternative(screen: Screen, mass_kg: float) -> Iterator[Step]:
    """Say what another screen allows one person, and whom it would send; 0 for no team."""
    last = screen.steps[-1] if not screen.shares else screen.steps[0]
    yield Step(
        what=phrase("By {screen} one person may lift", screen=screen.name), symbol="m_1",
        formula=last.formula, value=screen.each_kg, unit="kg", source=screen.source,
        clause=last.clause,
    )  # fmt: skip
    yield Step(
        what=phrase("By {screen} people, 0 where no team may", screen=screen.name), symbol="n",
        formula="", value=float(screen.people(mass_kg) or 0), source=screen.source,
    )  # fmt: skip
