"""Glass that is not firmly held on all sides may need a licensed professional's analysis."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.check.wording import listed
from hangtrue.phrase import phrase

LOOSE = ("free", "door", "transom")


@rule(
    id="registered-professional",
    title="Whether a licensed professional must look at it",
    why="Building codes ask for an analysis by a registered design professional where a pane is "
    "not firmly held on all its sides. This program gives no such analysis.",
    source="ibc-2403",
    needs="glass",
)
def registered_professional(case: Case) -> Iterable[Finding]:
    """Name the panes with an edge that nothing holds; a door has no other kind."""
    loose = [
        pane.id
        for pane in case.lites
        if pane.kind == "door" or any(edge.meets.startswith(LOOSE) for edge in pane.edges)
    ]
    if loose:
        yield Finding(
            level=Level.NOTE,
            where="glass",
            found=phrase("Not firmly held on all sides: {panes}.", panes=listed(loose)),
            means="The building code may ask for an analysis by a registered design professional.",
            do="Ask the local building authority before ordering.",
        )
    else:
        yield Finding(level=Level.PASS, where="glass", found="Every pane is held on all its sides.")
