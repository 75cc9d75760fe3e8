"""No edge may be further out of square than the plant cuts."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.check.wording import article
from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Edge
from hangtrue.phrase import phrase

EDGES = {
    "left": "The left edge",
    "right": "The right edge",
    "bottom": "The bottom edge",
    "top": "The top edge",
}


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
                found=phrase(
                    "The top of {pane} follows the ceiling: it rises {rise} over its width.",
                    pane=article(pane.id),
                    rise=case.say(abs(top.rake)),
                ),
                means="The plant cuts that as a shape, at its own price.",
            )
        rake = abs(edge.rake)
        good = rake <= most
        yield Finding(
            level=Level.PASS if good else Level.FAIL,
            where=pane.id,
            found=phrase(
                "{edge} of {pane} is {rake} out of square; the plant cuts up to {most}.",
                edge=EDGES[edge.where],
                pane=article(pane.id),
                rake=case.say(rake),
                most=case.say(most),
            ),
            do="" if good else _cure(edge, case.say(rake - most)),
            value=Estimate(rake),
            limit=most,
            unit="mm",
            source=case.brief.profile.plant.source,
        )


def _cure(edge: Edge, over: str) -> str:
    if not edge.meets.endswith("wall"):
        return "Ask the plant whether it cuts this."
    return phrase(
        "Have {wall} put right by {length}, or ask the plant whether it cuts this.",
        wall=article(edge.meets),
        length=over,
    )
