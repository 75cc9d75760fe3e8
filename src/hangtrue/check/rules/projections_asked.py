"""What stands out of a wall at the glass line is cut around, or cut away, and that is decided."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.check.wording import article, sentence, the_wall
from hangtrue.job.document import Projection
from hangtrue.job.readings import Side
from hangtrue.phrase import phrase


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
    name, out, low, high = (
        article(it.name),
        case.say(it.stands_out),
        case.size(it.from_),
        case.size(it.to),
    )
    if it.cut == "ask":
        level, decided = Level.NOT_CHECKED, "nobody decided what is cut"
        do: str = phrase(
            "Shall the glass be notched round {what}, or {what} be cut back?", what=name
        )
    elif it.cut == "tile":
        level, decided = Level.WARN, "it is to be cut back"
        do = phrase(
            "Have it cut flush from {low} to {high} at the glass line before the glass is hung.",
            low=low,
            high=high,
        )
    else:
        notched = any(n.fitting == it.name for pane in case.lites for n in pane.notches)
        level = Level.PASS if notched or not case.lites else Level.NOT_CHECKED
        pane = article(case.at_wall(side).id) if case.row else "the glass"
        decided = _notched(pane) if notched else _unnotched(pane)
        clear = phrase("Does the glass clear {what}, by {length}?", what=name, length=out)
        do = "" if level is Level.PASS else clear
    found = phrase(
        "{what} stands {out} out of {wall} from {low} to {high}; {decided}.",
        what=sentence(name),
        out=out,
        wall=the_wall(side),
        low=low,
        high=high,
        decided=decided,
    )
    return Finding(level=level, where=f"{side} wall", found=found, do=do)


def _notched(pane: str) -> str:
    return phrase("{pane} is notched round it", pane=pane)


def _unnotched(pane: str) -> str:
    return phrase("{pane} has no notch for it", pane=pane)
