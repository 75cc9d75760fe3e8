"""A wide fixed pane with a free edge needs something to hold that edge."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Lite

LOOSE = ("free", "door")
"""What holds no edge: nothing, and a door that only closes against it."""


@rule(
    id="free-edge-width",
    title="Fixed glass with a free edge is not too wide to stand alone",
    why="A wide pane held on one side sways when it is leaned on, and works itself loose.",
    needs="fixed glass",
)
def free_edge_width(case: Case) -> Iterable[Finding]:
    """Judge the width of each fixed pane one of whose upright edges nothing holds."""
    for pane in case.fixed:
        yield _pane(case, pane)


def _pane(case: Case, pane: Lite) -> Finding:
    limit = case.limit("free-edge-width-most")
    width = max(pane.width_bottom, pane.width_top)
    free = any(e.meets.startswith(LOOSE) for e in pane.edges if e.where in {"left", "right"})
    held = case.held(pane)
    name = pane.id.capitalize()
    if not free or held == "yes" or width <= limit.value:
        why = "has no free edge" if not free else f"is {case.say(width)} wide"
        bar = " and held at the top" if free and held == "yes" else ""
        level, found, do = Level.PASS, f"{name} {why}{bar}.", ""
    else:
        level = Level.FAIL if held == "no" else Level.NOT_CHECKED
        found = (
            f"{name} has a free edge and is {case.say(width)} wide; up to "
            f"{case.say(limit.value)} stands by itself."
        )
        bar = f"a support bar from the top of its free edge, {case.say(width)} from the wall"
        do = (
            f"Give it {bar}, or make it {case.say(width - limit.value)} narrower."
            if held == "no"
            else f"Is there {bar}? If not, it needs one."
        )
    return Finding(
        level=level,
        where=pane.id,
        found=found,
        means="" if level is Level.PASS else "It would sway when somebody leans on it.",
        do=do,
        value=Estimate(width) if free else None,
        limit=limit.value if free else None,
        unit="mm",
        source=limit.source,
    )
