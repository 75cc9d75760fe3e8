"""No edge may be further out of square than the plant cuts."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.check.wording import article
from hangtrue.estimate import Estimate


@rule(
    id="rake-plant",
    title="The plant can cut the rakes",
    why="A plant grinds edges out of square only so far; beyond that it sends the order back, or "
    "charges for a shape.",
    needs="glass",
)
def rake_plant(case: Case) -> Iterable[Finding]:
    """Judge the edge of each pane that is furthest out of square; a raked top is a shape."""
    most = float(case.brief.profile.plant.rake_most)
    for pane in case.lites:
        edge = max(pane.edges, key=lambda e: abs(e.rake) * (e.meets != "ceiling"))
        top = next((e for e in pane.edges if e.meets == "ceiling" and abs(e.rake) > most), None)
        if top:
            yield Finding(
                level=Level.NOTE,
                where=pane.id,
                found=f"The top of {article(pane.id)} follows the ceiling: it rises "
                f"{case.say(abs(top.rake))} over its width.",
                means="The plant cuts that as a shape, at its own price.",
            )
        rake = abs(edge.rake)
        good, wall = rake <= most, edge.meets.endswith("wall")
        over = case.say(rake - most)
        cure = f"Have the {edge.meets} put right by {over}, or ask" if wall else "Ask"
        yield Finding(
            level=Level.PASS if good else Level.FAIL,
            where=pane.id,
            found=f"The {edge.where} edge of {article(pane.id)} is {case.say(rake)} out of square; "
            f"the plant cuts up to {case.say(most)}.",
            do="" if good else f"{cure} the plant whether it cuts this.",
            value=Estimate(rake),
            limit=most,
            unit="mm",
            source=case.brief.profile.plant.source,
        )
