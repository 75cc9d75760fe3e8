"""A wide fixed pane with a free edge needs something to hold that edge."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.check.wording import article, sentence
from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Lite
from hangtrue.job.document import Answer
from hangtrue.phrase import phrase

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
    words = {"pane": sentence(article(pane.id)), "width": case.say(width)}
    level, do = Level.PASS, ""
    found: str
    if not free:
        found = phrase("{pane} has no free edge.", **words)
    elif held == "yes":
        found = phrase("{pane} is {width} wide and held at the top.", **words)
    elif width <= limit.value:
        found = phrase("{pane} is {width} wide.", **words)
    else:
        level = Level.FAIL if held == "no" else Level.NOT_CHECKED
        found = phrase(
            "{pane} has a free edge and is {width} wide; up to {most} stands by itself.",
            most=case.say(limit.value),
            **words,
        )
        do = _cure(held, case.say(width), case.say(width - limit.value))
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


def _cure(held: Answer, width: str, over: str) -> str:
    """Ask for a bar, or say that it must have one."""
    if held == "no":
        return phrase(
            "Give it a support bar from the top of its free edge, {width} from the wall, or make "
            "it {over} narrower.",
            width=width,
            over=over,
        )
    return phrase(
        "Is there a support bar from the top of its free edge, {width} from the wall? If not, it "
        "needs one.",
        width=width,
    )
