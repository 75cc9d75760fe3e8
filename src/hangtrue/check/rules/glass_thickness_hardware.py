"""Every fitting must be made for the thickness of its glass."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.check.wording import lowered
from hangtrue.job.hardware import Item
from hangtrue.phrase import phrase
from hangtrue.tables import table


@rule(
    id="glass-thickness-hardware",
    title="The fittings are made for this glass",
    why="A hinge or clamp made for other glass either does not close or does not hold.",
    source="maker",
)
def glass_thickness_hardware(case: Case) -> Iterable[Finding]:
    """Judge every fitting that holds glass here against the thickness chosen."""
    thickness = case.choice.thickness
    if not thickness:
        yield Finding(
            level=Level.NOT_CHECKED,
            where="hardware",
            found="No glass was chosen, as nothing goes in.",
        )
        return
    wrong = [i for i in case.fittings if not _takes(i, thickness)]
    for item in wrong:
        yield Finding(
            level=Level.FAIL,
            where=lowered(item.title),
            found=phrase(
                "The {fitting} takes glass from {least} to {most}; this glass is {thickness}.",
                fitting=lowered(item.title),
                least=case.say(item.glass_least),
                most=case.say(item.glass_most),
                thickness=case.say(thickness),
            ),
            means="It would not hold the glass.",
            do=phrase(
                "Take a fitting made for {thickness}, or other glass.",
                thickness=case.say(thickness),
            ),
        )
    if not wrong:
        yield Finding(
            level=Level.PASS,
            where="hardware",
            found=phrase(
                "Every fitting takes glass of {thickness}.", thickness=case.say(thickness)
            ),
        )


def _takes(item: Item, thickness: float) -> bool:
    """Whether a fitting takes that glass; 3/8 in and 10 mm, 1/2 in and 12 mm are one glass each."""
    same = float(table("slips")["same-glass"]["value"])
    return item.glass_least - same <= thickness <= item.glass_most + same
