"""The readings must not contradict each other."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case, asked
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.check.wording import corrected, listed, named
from hangtrue.measure.opening import Agreement
from hangtrue.phrase import join, phrase

RARE = 1e-6
OTHERWISE = "Take every reading once more, on other marks."
SEVERAL = "That alone does not settle it: more than one is wrong."


@rule(
    id="readings-agree",
    title="The readings agree with each other",
    why="Widths, leans, bows and diagonals of one opening close like the sides of a figure. A sign "
    "turned round or an inch lost on the tape is found here, or it is paid for with a pane.",
    source="baarda-1968",
)
def readings_agree(case: Case) -> Iterable[Finding]:
    """Say whether they do, which one does not, or which reading would tell."""
    agreement = case.opening.agreement
    if agreement.degrees_of_freedom <= 0:
        yield Finding(
            level=Level.NOT_CHECKED,
            where="readings",
            found="There are only just enough readings; none of them checks another.",
            means="A slip in any of them would go unseen.",
            do=case.next_reading("Read both diagonals, and the width once more at mid height."),
        )
    elif not agreement.alarm:
        yield Finding(
            level=Level.PASS,
            where="readings",
            found="The readings agree with each other as well as the instruments allow.",
            probability=agreement.probability,
        )
    else:
        yield _disagree(case, agreement)


def _disagree(case: Case, agreement: Agreement) -> Finding:
    slip, do = agreement.named, OTHERWISE
    if slip:
        name, right = named(case, slip.reading), corrected(case, slip.reading, slip.corrected)
        found = phrase(
            "The readings contradict each other. It looks like {reading}: {slip}.",
            reading=name,
            slip=slip.slip,
        )
        do = phrase(
            "Read it again. Without the slip it would be {right}; change it only if you read that.",
            right=right,
        )
    else:
        who = listed([named(case, s.reading) for s in agreement.suspects] or ["any of them"], "or")
        found = phrase(
            "The readings contradict each other. It may be {readings}; they do not say which.",
            readings=who,
        )
        if agreement.decider:
            do = asked(agreement.decider)
    return Finding(
        level=Level.FAIL,
        where="readings",
        found=join(" ", (found, SEVERAL)) if agreement.several else found,
        means=phrase("Honest scatter does this {odds}.", odds=_odds(agreement.probability)),
        do=do,
        probability=agreement.probability,
    )


def _odds(chance: float) -> str:
    """Say a small chance in words."""
    if chance < RARE:
        return "less than once in a million times"
    return phrase("once in {times:,.0f} times", times=1 / chance)
