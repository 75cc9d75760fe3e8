"""Shower glass must carry the safety mark that the place asks for, whatever its size."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.phrase import phrase
from hangtrue.tables import table


@rule(
    id="safety-glazing",
    title="The glass carries the right safety mark",
    why="Glass that breaks into blades kills. Every shower door and enclosure needs safety glass "
    "of the highest impact category, whatever the size of the pane, with a permanent mark.",
    source="cfr-1201",
)
def safety_glazing(case: Case) -> Iterable[Finding]:
    """Compare the mark that was ordered with those that are enough here."""
    here = "other" if case.brief.profile.jurisdiction == "none" else "us"
    marks = table("glass/safety")[here]
    mark, wanted = case.job.wanted.safety_mark, marks["wanted"]
    if mark == "unknown":
        yield Finding(
            level=Level.NOT_CHECKED,
            where="glass",
            found="It is not said which safety mark the plant puts on the glass.",
            do=phrase(
                "Ask the plant, and order every pane with the permanent mark {mark}.", mark=wanted
            ),
            source=marks["source"],
        )
    elif mark in marks["enough"]:
        yield Finding(
            level=Level.PASS,
            where="glass",
            found=phrase("Every pane is ordered with the permanent mark {mark}.", mark=mark),
            means="" if here == "us" else "Local rules may ask for more; they go before this.",
            source=marks["source"],
        )
    else:
        yield Finding(
            level=Level.FAIL,
            where="glass",
            found=phrase("The glass is ordered with the mark {mark}.", mark=mark),
            means=marks["why"][mark],
            do=phrase("Order every pane with the permanent mark {mark}.", mark=wanted),
            source="ibc-2406" if here == "us" and mark.startswith("ANSI") else marks["source"],
        )
