"""The glass left beside a notch for a step must be wide enough."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.notch import legs
from hangtrue.check.rule import rule
from hangtrue.check.wording import article, sentence
from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Lite
from hangtrue.phrase import phrase


@rule(
    id="notch-leg",
    title="The legs beside a notch are wide enough",
    why="Beside a notch a leg of glass stands by itself. A narrow one snaps off in tempering, in "
    "the van, or when the pane is set down on it.",
    needs="cut glass",
)
def notch_leg(case: Case) -> Iterable[Finding]:
    """Judge the narrowest leg beside or above the notches of each stepped pane."""
    stepped = [pane for pane in case.lites if pane.steps]
    if not stepped:
        yield Finding(level=Level.PASS, where="glass", found="No pane is notched over a step.")
    for pane in stepped:
        yield _pane(case, pane)


def _pane(case: Case, pane: Lite) -> Finding:
    limit = case.limit("notch-leg-least")
    rows = [(*leg, n.fitting) for n in pane.steps for leg in legs(pane, n)]
    where, width, step = min(rows, key=lambda row: row[1])
    good, short = width >= limit.value, case.say(limit.value - width)
    return Finding(
        level=Level.PASS if good else Level.FAIL,
        where=pane.id,
        found=phrase(
            "{pane} keeps {width} of glass {place} over {step}; least is {least}.",
            pane=sentence(article(pane.id)),
            width=case.say(width),
            place=where,
            step=article(step),
            least=case.say(limit.value),
        ),
        means="" if good else "A leg as narrow as that does not last.",
        do=""
        if good
        else phrase(
            "Make the pane {length} larger there, or make it two panes with a joint above the edge "
            "of {step}.",
            length=short,
            step=article(step),
        ),
        value=Estimate(width),
        limit=limit.value,
        unit="mm",
        at_most=False,
        source=limit.source,
    )
