"""No pane, and no strip of glass beside a cut-out, may be too narrow to temper and carry."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check import glass
from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.check.wording import article
from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Lite
from hangtrue.phrase import phrase


@rule(
    id="narrowest-strip",
    title="No pane and no strip of glass is too narrow",
    why="Narrow panes come out of tempering bent, and a thin strip beside a cut-out breaks in "
    "tempering or at the first knock.",
    needs="cut glass",
)
def narrowest_strip(case: Case) -> Iterable[Finding]:
    """Judge the width of each fixed pane, and the thinnest strip beside the cut-outs of each."""
    for pane in case.lites:
        if pane.kind == "fixed":
            yield _pane(case, pane)
        rows = tuple(glass.strips(pane, case.fitting))
        if rows:
            yield _strip(case, pane, min(rows, key=lambda row: row[1]))
    if not case.fixed and not any(pane.notches for pane in case.lites):
        yield Finding(
            level=Level.PASS, where="glass", found="There is neither fixed glass nor a cut-out."
        )


def _pane(case: Case, pane: Lite) -> Finding:
    limit = case.limit("fixed-width-least")
    width = min(pane.width_bottom, pane.width_top)
    good = width >= limit.value
    return Finding(
        level=Level.PASS if good else Level.FAIL,
        where=pane.id,
        found=phrase(
            "The narrowest place of {pane} is {width}; least is {least}.",
            pane=article(pane.id),
            width=case.say(width),
            least=case.say(limit.value),
        ),
        means="" if good else "It would not come straight and whole out of tempering.",
        do=""
        if good
        else phrase(
            "Take {length} from the door, or leave it out.", length=case.say(limit.value - width)
        ),
        value=Estimate(width),
        limit=limit.value,
        unit="mm",
        at_most=False,
        source=limit.source,
    )


def _strip(case: Case, pane: Lite, strip: tuple[str, float]) -> Finding:
    where, width = strip
    practice = case.brief.profile.hole_rules
    limit = glass.least(practice, "strip", pane.thickness)
    good = width >= limit
    return Finding(
        level=Level.PASS if good else Level.FAIL,
        where=pane.id,
        found=phrase(
            "Between {places} there is {width} of glass; least is {least}.",
            places=where,
            width=case.say(width),
            least=case.say(limit),
        ),
        means="" if good else "It would break in tempering or soon after.",
        do="" if good else phrase("Move them {length} apart.", length=case.say(limit - width)),
        value=Estimate(width),
        limit=limit,
        unit="mm",
        at_most=False,
        source=glass.source_of(practice, "strip"),
    )
