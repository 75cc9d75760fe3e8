"""The door must be within what its hinges carry."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.hung import Hung
from hangtrue.check.rule import rule
from hangtrue.check.wording import sentence
from hangtrue.estimate import Estimate
from hangtrue.phrase import phrase

TWO, THREE = 2, 3


@rule(
    id="hinge-rating",
    title="The hinges carry the door",
    why="A hinge is rated for a mass and a width by its maker. Beyond either the door sags, and "
    "the glass is torn at its cut-outs.",
    source="maker",
    needs="door",
)
def hinge_rating(case: Case) -> Iterable[Finding]:
    """Compare mass and width of the door with the ratings for the hinges it hangs on."""
    for door in case.hung:
        yield _mass(case, door)
        yield _width(case, door)


def _mass(case: Case, hung: Hung) -> Finding:
    door, hinge, count = hung.glass, hung.hinge, len(hung.plates)
    rated = hinge.mass_kg if count == TWO else hinge.mass_third_kg if count >= THREE else None
    words = {"door": sentence(hung.called), "mass": case.weigh(door.mass_kg), "n": count}
    if rated is None:
        return Finding(
            level=Level.NOT_CHECKED,
            where=hung.id,
            found=phrase(
                "{door} weighs {mass} and hangs on {n} hinges; its maker's rating for that many is "
                "not known.",
                **words,
            ),
            do="Ask the hinge maker for the rating with this many hinges.",
        )
    good = door.mass_kg <= rated
    return Finding(
        level=Level.PASS if good else Level.FAIL,
        where=hung.id,
        found=phrase(
            "{door} weighs {mass} and hangs on {n} hinges, rated for {rated}.",
            rated=case.weigh(rated),
            **words,
        ),
        means="" if good else "It would sag and in time come off its hinges.",
        do="" if good else _lighter(case, hung, rated),
        value=Estimate(door.mass_kg),
        limit=rated,
        unit="kg",
    )


def _lighter(case: Case, hung: Hung, rated: float) -> str:
    """Third hinge, or the width that the same hinges carry, or hinges of a heavier kind."""
    door, third = hung.glass, hung.hinge.mass_third_kg
    cures = []
    if len(hung.plates) == TWO and third and door.mass_kg <= third:
        cures.append(phrase("hang it on three hinges, rated for {mass}", mass=case.weigh(third)))
    narrower = door.width_bottom * rated / door.mass_kg
    if narrower >= case.limit("door-width-least").value:
        cures.append(phrase("make it at most {width} wide", width=case.say(narrower)))
    mass = case.weigh(door.mass_kg)
    cures.append(phrase("take hinges rated for at least {mass}", mass=mass))
    row: str = cures[0]
    for cure in cures[1:]:
        row = phrase("{cures}, or {cure}", cures=row, cure=cure)
    return phrase("{cures}.", cures=sentence(row))


def _width(case: Case, hung: Hung) -> Finding:
    door, most = hung.glass, hung.hinge.door_width_most
    width = max(door.width_bottom, door.width_top)
    good = width <= most
    return Finding(
        level=Level.PASS if good else Level.FAIL,
        where=hung.id,
        found=phrase(
            "{door} is {width} wide; its hinges are rated to {most}.",
            door=sentence(hung.called),
            width=case.say(width),
            most=case.say(most),
        ),
        means="" if good else "A wider door pulls harder on its upper hinge than it is made for.",
        do=""
        if good
        else phrase(
            "Make {door} {length} narrower, or take hinges for it.",
            door=hung.called,
            length=case.say(width - most),
        ),
        value=Estimate(width),
        limit=float(most),
        unit="mm",
    )
