"""No shower head and no body jet should throw water at the gaps of the door."""

from __future__ import annotations

import math
from collections.abc import Iterable

from hangtrue.check.around import heights
from hangtrue.check.case import SIDES, Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.hung import Hung
from hangtrue.check.rule import rule
from hangtrue.check.wording import article, listed, sentence
from hangtrue.job.document import Obstacle
from hangtrue.measure.plan_line import glass_line
from hangtrue.phrase import join, phrase

THROWS = ("head", "jet")
"""Kinds of things that throw water: shower heads, and body jets in the walls."""
THROWN = "Water thrown at the gaps of a door comes through, whatever its seals."


@rule(
    id="head-aim",
    title="The shower head does not aim at the door",
    why="A door of glass is closed by seals, not by putty: a jet that strikes its gaps comes "
    "through. A head that throws along the glass, or away from it, does not.",
    needs="door",
)
def head_aim(case: Case) -> Iterable[Finding]:
    """Note each head or body jet that faces a door; one at a side wall throws along the glass."""
    heads = [o for o in case.job.obstacles if o.kind in THROWS]
    if not any(o.kind == "head" for o in heads):
        yield Finding(
            level=Level.NOTE,
            where="shower head",
            found="Nobody said where the shower head is.",
            do="Where is it, and does it aim at the door?",
        )
    for head in heads:
        faced = next((door for door in case.hung if _faces(case, head, door)), None)
        yield _aimed(case, head, faced)


def _aimed(case: Case, head: Obstacle, door: Hung | None) -> Finding:
    name = sentence(article(head.name))
    if door is None:
        found = phrase("{head} does not face a door.", head=name)
        return Finding(level=Level.PASS, where=head.name, found=found)
    gaps = _gaps(case, head, door)
    words = {"head": name, "door": door.called}
    return Finding(
        level=Level.NOTE,
        where=head.name,
        found=phrase("{head} faces {door} and its {gaps}.", gaps=listed(gaps), **words)
        if gaps
        else phrase("{head} faces {door}.", **words),
        means=join(" ", (THROWN, _runs(case))),
        do=phrase(
            "Turn it down or away from {door}, or have it moved to a side wall.", door=door.called
        )
        if head.kind == "jet"
        else phrase(
            "Let it aim away from {door}, or have it moved to a side wall.", door=door.called
        ),
    )


def _runs(case: Case) -> str:
    """Say where water goes that came through the gaps: by the pitch of the curb."""
    if case.job.threshold.kind == "floor":
        return "There is no curb to hold it."
    if not case.opening.knows("pitch"):
        return "Which way it runs on the curb is not known, as nobody read its pitch."
    pitch = case.opening.estimate(case.opening.entry("pitch"))
    inward = pitch.scaled(-1.0).below(0.0)
    if inward >= case.confidence:
        return "What lands on the curb runs back into the shower."
    if inward <= 1.0 - case.confidence:
        return "What lands on the curb runs out into the room."
    return "These readings do not say which way it runs on the curb."


def _gaps(case: Case, head: Obstacle, door: Hung) -> list[str]:
    """Name the upright gaps of a door that are within the spread of what is thrown."""
    spread = case.limit("head-spread").value
    along, _, wide = _across(case, head, door)
    near = {"left": along, "right": wide - along}
    names = {door.side: "hinge gap", door.closing: "strike gap"}
    return [names[side] for side in SIDES if abs(near[side]) <= spread]


def _across(case: Case, head: Obstacle, door: Hung) -> tuple[float, float, float]:
    """Place of a head along a shut door from its left edge, away from it, and its width; mm."""
    pane, line = door.glass, glass_line(case.opening, case.job.wanted)
    x0, y0 = line.place(pane.origin[0], run=pane.run)
    x1, y1 = line.place(pane.origin[0] + pane.width_bottom, run=pane.run)
    wide = math.hypot(x1 - x0, y1 - y0)
    dx, dy = float(head.x) - x0, float(head.y) - y0
    along = (dx * (x1 - x0) + dy * (y1 - y0)) / wide
    return along, (dy * (x1 - x0) - dx * (y1 - y0)) / wide, wide


def _faces(case: Case, head: Obstacle, door: Hung) -> bool:
    """Whether a head stands across from a door, off the side walls, within the spread of it.

    A body jet throws straight and level: only where it is as high as the door, and not over it.
    """
    spread, pane = case.limit("head-spread").value, door.glass
    along, away, wide = _across(case, head, door)
    front = case.job.wanted.front
    run = case.opening.estimate(case.opening.stop(front) - case.opening.start(front)).value
    aside = min(float(head.x), run - float(head.x)) if len(case.runs) == 1 else float("inf")
    low, high = heights(case, head)
    top = pane.origin[1] + max(corner[1] for corner in pane.corners)
    meets = head.kind != "jet" or (low < top and high > pane.origin[1])
    return meets and away > 0.0 and aside > spread and -spread <= along <= wide + spread
