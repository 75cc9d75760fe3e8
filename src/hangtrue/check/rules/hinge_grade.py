"""What grade of a European single-axis hinge a door would ask for: a yardstick."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.hung import Hung
from hangtrue.check.proof.covered import covered
from hangtrue.check.rule import rule
from hangtrue.check.wording import sentence
from hangtrue.estimate import Estimate
from hangtrue.mechanics.door_statics import adjusted_mass, hinge_grade
from hangtrue.mechanics.ranges import OutOfRange
from hangtrue.phrase import phrase


@rule(
    id="hinge-grade",
    title="The door against a published scale of hinges",
    why="Hinges of glass doors are rated by their makers alone. The European scale for single-axis "
    "hinges does not cover them, but says how demanding a door is.",
    source="en-1935",
    needs="door",
)
@covered
def hinge_grade_rule(case: Case) -> Iterable[Finding]:
    """Name the grade of each door, its width allowed for."""
    for hung in case.hung:
        yield _door(case, hung)


def _door(case: Case, hung: Hung) -> Finding:
    door = hung.glass
    width = max(door.width_bottom, door.width_top)
    mass = adjusted_mass(door.mass_kg, door.height_left, width)
    words = {
        "door": sentence(hung.called),
        "mass": case.weigh(mass),
    }
    return Finding(
        level=Level.NOTE,
        where=hung.id,
        found=_found(mass, words),
        means="A yardstick only: hinges that clamp glass and swing both ways lie outside it.",
        do="Compare with what the hinge maker had tested.",
        value=Estimate(mass),
        unit="kg",
    )


def _found(mass_kg: float, words: dict[str, str]) -> str:
    try:
        grade = hinge_grade(mass_kg)
    except OutOfRange:
        return phrase(
            "{door}, {mass} with its width allowed for, would ask for more than any grade of that "
            "scale at 200,000 swings.",
            **words,
        )
    return phrase(
        "{door}, {mass} with its width allowed for, would ask for grade {grade} of that scale at "
        "200,000 swings.",
        grade=grade,
        **words,
    )
