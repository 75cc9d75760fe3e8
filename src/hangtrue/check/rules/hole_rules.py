"""Holes in tempered glass: wide enough, and far enough from edges, corners and each other."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check import glass
from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.glass import Distance
from hangtrue.check.rule import rule
from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Lite
from hangtrue.phrase import join, phrase
from hangtrue.source import source

REMEMBERED = "That limit is from memory only and decides nothing."


@rule(
    id="hole-rules",
    title="Holes are where tempering allows them",
    why="A hole too small, or too near an edge, a corner or another hole, breaks the pane in the "
    "furnace or leaves a weak place for life. Nothing can be drilled afterwards.",
    source="c1048-practice",
    needs="cut glass",
)
def hole_rules(case: Case) -> Iterable[Finding]:
    """Judge the worst of each kind of distance in each pane, and its widest hole."""
    for pane in case.lites:
        if not pane.holes:
            none = phrase("There are no holes in {pane}.", pane=pane.id)
            yield Finding(level=Level.PASS, where=pane.id, found=none)
            continue
        rows = tuple(glass.distances(pane, case.fitting))
        for what in dict.fromkeys(row.what for row in rows):
            yield _distance(case, pane, min(r for r in rows if r.what == what))
        yield _widest(case, pane)


def _distance(case: Case, pane: Lite, row: Distance) -> Finding:
    practice = case.brief.profile.hole_rules
    limit = glass.least(practice, row.what, pane.thickness)
    good = row.mm >= limit
    short = case.say(limit - row.mm)
    cure = (
        phrase("Make the hole {length} wider.", length=short)
        if row.what == "hole-diameter"
        else phrase("Move the hole {length} away.", length=short)
    )
    return Finding(
        level=Level.PASS if good else Level.FAIL,
        where=pane.id,
        found=_said(row, case.say(row.mm), case.say(limit)),
        means="" if good else "The pane would break in tempering or soon after.",
        do="" if good else cure,
        value=Estimate(row.mm),
        limit=limit,
        unit="mm",
        at_most=False,
        source=glass.source_of(practice, row.what),
    )


def _said(row: Distance, length: str, least: str) -> str:
    words = {"fitting": row.fitting, "length": length, "least": least}
    match row.what:
        case "hole-diameter":
            return phrase("The {fitting} hole is {length} wide; least is {least}.", **words)
        case "hole-to-edge":
            return phrase(
                "From the {fitting} hole to the edge there is {length}; least is {least}.", **words
            )
        case "hole-to-corner":
            return phrase(
                "From the {fitting} hole to the corner there is {length}; least is {least}.",
                **words,
            )
        case _:
            return phrase(
                "Between the {fitting} holes there is {length}; least is {least}.", **words
            )


def _widest(case: Case, pane: Lite) -> Finding:
    """Judge the widest hole; a limit that is only remembered can ask but not pass."""
    practice = case.brief.profile.hole_rules
    limit = glass.share(practice, "hole-share") * min(pane.width_bottom, pane.height_left)
    widest = max(hole.diameter for hole in pane.holes)
    origin = glass.source_of(practice, "hole-share")
    good, known = widest <= limit, source(origin).decides
    found = phrase(
        "The widest hole is {length}; most is {most}.",
        length=case.say(widest),
        most=case.say(limit),
    )
    return Finding(
        level=(Level.FAIL if known else Level.NOT_CHECKED)
        if not good
        else (Level.PASS if known else Level.NOTE),
        where=pane.id,
        found=found if known else join(" ", (found, REMEMBERED)),
        do="" if good else "Ask the plant whether it tempers this pane.",
        value=Estimate(widest),
        limit=limit,
        unit="mm",
        source=origin,
    )
