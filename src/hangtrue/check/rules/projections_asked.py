"""What stands out of a wall at the glass line is cut around, or cut away, and that is decided."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.check.wording import article
from hangtrue.job.document import Projection
from hangtrue.job.readings import Side


@rule(
    id="projections-asked",
    title="What stands out of a wall is cut around or cut away",
    why="A pencil tile or a border at the glass line stops the glass. Either the glass is notched "
    "round it or the tile is cut back; it must be settled before the glass is cut.",
)
def projections_asked(case: Case) -> Iterable[Finding]:
    """Ask where nothing is decided, and look whether what was decided was done."""
    rows = [(s, p) for s in case.opening.walls for p in case.wall(s).projections]
    if not rows:
        yield Finding(
            level=Level.PASS, where="walls", found="Nothing stands out of a wall at the glass."
        )
    for side, projection in rows:
        yield _projection(case, side, projection)


def _projection(case: Case, side: Side, it: Projection) -> Finding:
    place = f"from {case.size(it.from_)} to {case.size(it.to)}"
    out = case.say(it.stands_out)
    found = f"The {it.name} stands {out} out of the {side} wall {place}; "
    if it.cut == "ask":
        level = Level.NOT_CHECKED
        found += "nobody decided what is cut."
        do = f"Shall the glass be notched round the {it.name}, or the {it.name} be cut back?"
    elif it.cut == "tile":
        level = Level.WARN
        found += "it is to be cut back."
        do = f"Have it cut flush {place} at the glass line before the glass is hung."
    else:
        notched = any(n.fitting == it.name for pane in case.lites for n in pane.notches)
        level = Level.PASS if notched or not case.lites else Level.NOT_CHECKED
        pane = article(case.at_wall(side).id) if case.row else "the glass"
        found += f"{pane} is notched round it." if notched else f"{pane} has no notch for it."
        do = "" if level is Level.PASS else f"Does the glass clear the {it.name}, by {out}?"
    return Finding(level=level, where=f"{side} wall", found=found, do=do)
