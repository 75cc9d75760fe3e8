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
    level, decided, do = _decided(case, side, it)
    found = phrase(
        "{what} stands {out} out of {wall} from {low} to {high}; {decided}.",
        what=sentence(article(it.name)),
        out=case.say(it.stands_out),
        wall=the_wall(side),
        low=case.size(it.from_),
        high=case.size(it.to),
        decided=decided,
    )
    return Finding(level=level, where=f"{side} wall", found=found, do=do)


def _decided(case: Case, side: Side, it: Projection) -> tuple[Level, str, str]:
    """Say what is cut, glass or tile, and what is to be done or asked."""
    what = article(it.name)
    if it.cut == "ask":
        do = phrase("Shall the glass be notched round {what}, or {what} be cut back?", what=what)
        return Level.NOT_CHECKED, "nobody decided what is cut", do
    if it.cut == "tile":
        do = phrase(
            "Have it cut flush from {low} to {high} at the glass line before the glass is hung.",
            low=case.size(it.from_),
            high=case.size(it.to),
        )
        return Level.WARN, "it is to be cut back", do
    pane = article(case.at_wall(side).id) if case.row else "the glass"
    if any(n.fitting == it.name for lite in case.lites for n in lite.notches):
        return Level.PASS, phrase("{pane} is notched round it", pane=pane), ""
    none = phrase("{pane} has no notch for it", pane=pane)
    if not case.lites:
        return Level.PASS, none, ""
    out = case.say(it.stands_out)
    do = phrase("Does the glass clear {what}, by {length}?", what=what, length=out)
    return Level.NOT_CHECKED, none, do
