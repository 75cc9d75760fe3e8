"""A shower head should not throw water at the gaps of the door."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.hung import Hung
from hangtrue.check.rule import rule
from hangtrue.check.wording import article, sentence
from hangtrue.job.document import Obstacle
from hangtrue.measure.plan_line import glass_line
from hangtrue.phrase import phrase


@rule(
    id="head-aim",
    title="The shower head does not aim at the door",
    why="A door of glass is closed by seals, not by putty: a jet that strikes its gaps comes "
    "through. A head that throws along the glass, or away from it, does not.",
    needs="door",
)
def head_aim(case: Case) -> Iterable[Finding]:
    """Note each head that faces a door; a head at a side wall throws along the glass."""
    heads = [o for o in case.job.obstacles if o.kind == "head"]
    if not heads:
        yield Finding(
            level=Level.NOTE,
            where="shower head",
            found="Nobody said where the shower head is.",
            do="Where is it, and does it aim at the door?",
        )
    for head in heads:
        faced = next((door for door in case.hung if _faces(case, head, door)), None)
        yield _aimed(head, faced)


def _aimed(head: Obstacle, door: Hung | None) -> Finding:
    if door is None:
        found = phrase("{head} does not face a door.", head=sentence(article(head.name)))
        return Finding(level=Level.PASS, where=head.name, found=found)
    return Finding(
        level=Level.NOTE,
        where=head.name,
        found=phrase("{head} faces {door}.", head=sentence(article(head.name)), door=door.called),
        means="Water thrown at the gaps of a door comes through, whatever its seals.",
        do=phrase(
            "Let it aim away from {door}, or have it moved to a side wall.", door=door.called
        ),
    )


def _faces(case: Case, head: Obstacle, door: Hung) -> bool:
    """Whether a head stands across from a door, off the side walls, within the spread of it."""
    spread, pane = case.limit("head-spread").value, door.glass
    line = glass_line(case.opening, case.job.wanted)
    x0, y0 = line.place(pane.origin[0], run=pane.run)
    x1, y1 = line.place(pane.origin[0] + pane.width_bottom, run=pane.run)
    wide = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
    dx, dy = float(head.x) - x0, float(head.y) - y0
    along = (dx * (x1 - x0) + dy * (y1 - y0)) / wide
    away = (dy * (x1 - x0) - dx * (y1 - y0)) / wide
    front = case.job.wanted.front
    run = case.opening.estimate(case.opening.stop(front) - case.opening.start(front)).value
    aside = min(float(head.x), run - float(head.x)) if len(case.runs) == 1 else float("inf")
    return away > 0.0 and aside > spread and -spread <= along <= wide + spread
