"""Holes in tempered glass must be wide enough, and far enough from edges, corners and each other."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import combinations

from hangtrue.check import glass
from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Lite
from hangtrue.source import source


@rule(
    id="hole-rules",
    title="Holes are where tempering allows them",
    why="A hole too small, or too near an edge, a corner or another hole, breaks the pane in the "
    "furnace or leaves a weak place for life. Nothing can be drilled afterwards.",
    source="c1048-practice",
    needs="glass",
)
def hole_rules(case: Case) -> Iterable[Finding]:
    """Judge every hole of every pane; say the worst of each kind, or that all is well."""
    for pane in case.lites:
        worst: dict[str, tuple[str, float, float]] = {}
        for what, hole, measured in _measured(pane):
            limit = glass.least(case.brief.profile.hole_rules, what, pane.thickness)
            if what not in worst or measured - limit < worst[what][1] - worst[what][2]:
                worst[what] = (hole, measured, limit)
        for what, (hole, measured, limit) in worst.items():
            yield _finding(case, pane, what, hole, measured, limit)
        yield (
            _largest(case, pane)
            if pane.holes
            else Finding(level=Level.PASS, where=pane.id, found=f"There are no holes in {pane.id}.")
        )


def _measured(pane: Lite) -> Iterator[tuple[str, str, float]]:
    """Every distance that a row of the table is about: row, hole, mm."""
    for hole in pane.holes:
        yield "hole-diameter", hole.fitting, hole.diameter
        yield "hole-to-edge", hole.fitting, glass.to_edge(pane, hole)
        yield "hole-to-corner", hole.fitting, glass.to_corner(pane, hole)
    for one, other in combinations(pane.holes, 2):
        yield "hole-to-hole", f"{one.fitting} and {other.fitting}", glass.apart(one, other)


WORDS = {
    "hole-diameter": "The hole for the {hole} is {value} wide; least is {limit}.",
    "hole-to-edge": "From the hole for the {hole} to the edge there is {value}; least is {limit}.",
    "hole-to-corner": "From the hole for the {hole} to the corner is {value}; least is {limit}.",
    "hole-to-hole": "Between the holes for {hole} there is {value}; least is {limit}.",
}


def _finding(  # noqa: PLR0913 - one row of the table, measured
    case: Case, pane: Lite, what: str, hole: str, measured: float, limit: float
) -> Finding:
    good = measured >= limit
    short = case.say(limit - measured)
    return Finding(
        level=Level.PASS if good else Level.FAIL,
        where=pane.id,
        found=WORDS[what].format(hole=hole, value=case.say(measured), limit=case.say(limit)),
        means="" if good else "It would break in tempering or soon after.",
        do=""
        if good
        else f"Make the hole {short} wider."
        if what == "hole-diameter"
        else f"Move the hole {short} away.",
        value=Estimate(measured),
        limit=limit,
        unit="mm",
        at_most=False,
        source=glass.source_of(case.brief.profile.hole_rules, what),
    )


def _largest(case: Case, pane: Lite) -> Finding:
    """Judge the widest hole; a limit known from memory only can warn but not pass."""
    practice = case.brief.profile.hole_rules
    limit = glass.share(practice, "hole-share") * min(pane.width_bottom, pane.height_left)
    widest = max(hole.diameter for hole in pane.holes)
    known = source(glass.source_of(practice, "hole-share")).decides
    good = widest <= limit
    return Finding(
        level=(Level.PASS if good else Level.FAIL) if known else Level.NOTE,
        where=pane.id,
        found=f"The widest hole in {pane.id} is {case.say(widest)}; most is {case.say(limit)}"
        + ("." if known else ", as far as is remembered."),
        do="" if good else "Ask the plant whether it tempers this pane.",
        value=Estimate(widest),
        limit=limit,
        unit="mm",
        source=glass.source_of(practice, "hole-share"),
    )
