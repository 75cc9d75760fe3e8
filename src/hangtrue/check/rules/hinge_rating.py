"""The door must be within what its hinges carry."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.hung import Hung
from hangtrue.check.rule import rule
from hangtrue.check.wording import sentence
from hangtrue.estimate import Estimate

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
    what = f"{sentence(hung.called)} weighs {case.weigh(door.mass_kg)} and hangs on {count} hinges"
    if rated is None:
        return Finding(
            level=Level.NOT_CHECKED,
            where=hung.id,
            found=f"{what}; its maker's rating for that many is not known.",
            do="Ask the hinge maker for the rating with this many hinges.",
        )
    good = door.mass_kg <= rated
    return Finding(
        level=Level.PASS if good else Level.FAIL,
        where=hung.id,
        found=f"{what}, rated for {case.weigh(rated)}.",
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
        cures.append(f"hang it on three hinges, rated for {case.weigh(third)}")
    narrower = door.width_bottom * rated / door.mass_kg
    if narrower >= case.limit("door-width-least").value:
        cures.append(f"make it at most {case.say(narrower)} wide")
    cures.append(f"take hinges rated for at least {case.weigh(door.mass_kg)}")
    row = ", or ".join(cures)
    return f"{row[0].upper()}{row[1:]}."


def _width(case: Case, hung: Hung) -> Finding:
    door, most = hung.glass, hung.hinge.door_width_most
    width = max(door.width_bottom, door.width_top)
    good = width <= most
    return Finding(
        level=Level.PASS if good else Level.FAIL,
        where=hung.id,
        found=f"{sentence(hung.called)} is {case.say(width)} wide; its hinges are rated to "
        f"{case.say(most)}.",
        means="" if good else "A wider door pulls harder on its upper hinge than it is made for.",
        do=""
        if good
        else f"Make {hung.called} {case.say(width - most)} narrower, or take hinges for it.",
        value=Estimate(width),
        limit=float(most),
        unit="mm",
    )
