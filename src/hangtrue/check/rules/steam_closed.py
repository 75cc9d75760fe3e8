"""Glass to the ceiling closes a steam room: over its door too, and with a way out for steam."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.check.wording import listed
from hangtrue.phrase import phrase


@rule(
    id="steam-closed",
    title="Glass to the ceiling closes over the door, and can be opened",
    why="Steam leaves over an open door; under a transom that never opens the room stays wet. "
    "What the glass is fixed to above must hold it.",
)
def steam_closed(case: Case) -> Iterable[Finding]:
    """Look over the panes up to the ceiling, the door between them, and what is above."""
    row = case.job.wanted.lites
    high = [wish for wish in row if wish.head != "level"]
    if not high:
        yield Finding(level=Level.PASS, where="top", found="The glass ends below the ceiling.")
        return
    low = [i for wish, i in zip(row, case.job.wanted.pane_ids, strict=True) if wish.head == "level"]
    if low:
        yield Finding(
            level=Level.WARN,
            where="top",
            found=phrase("Some glass reaches the ceiling; {panes} does not.", panes=listed(low)),
            means="Steam leaves there.",
            do="Put a transom over it, or take all the glass to one level line.",
        )
    yield _transom(case)
    yield _behind(case)


def _transom(case: Case) -> Finding:
    wanted = case.job.wanted
    doors = [wish for wish in wanted.lites if wish.kind == "door"]
    if any(door.head == "ceiling" for door in doors):
        return Finding(
            level=Level.FAIL,
            where="door",
            found="The door is to reach the ceiling.",
            means="A door needs room above it, and steam a way out.",
            do="Put a transom over the door.",
        )
    if not any(door.head == "transom" for door in doors):
        return Finding(level=Level.PASS, where="top", found="There is no transom over a door.")
    if wanted.transom == "tilting":
        return Finding(
            level=Level.NOTE,
            where="transom",
            found="The transom tilts to let steam out.",
            means="Its hinges, its stay and the seal round it are not planned here.",
            do="Enter them from their maker's drawing, and keep its way free of lights.",
        )
    return Finding(
        level=Level.NOTE,
        where="transom",
        found="The transom over the door is fixed.",
        means="Steam has no way out but the door; tile and grout stay wet.",
        do="Ask whether a tilting transom is wanted, or an extractor.",
    )


def _behind(case: Case) -> Finding:
    behind = case.job.above.behind
    good = behind == "blocking"
    lost = behind in {"hollow", "acrylic"}
    return Finding(
        level=Level.PASS if good else Level.FAIL if lost else Level.NOT_CHECKED,
        where="ceiling",
        found="There is solid wood in the ceiling along the glass."
        if good
        else "The ceiling is hollow along the glass."
        if lost
        else "It is not known that there is solid wood in the ceiling along the glass.",
        means="" if good else "The glass is fixed to it at its top.",
        do=""
        if good
        else "Have solid wood put in along the glass line."
        if lost
        else "Find out: what is behind the ceiling along the glass line?",
    )
