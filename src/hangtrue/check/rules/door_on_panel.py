"""A pane that carries a door must be held at the top as well."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.hung import Hung
from hangtrue.check.rule import rule
from hangtrue.check.wording import article, sentence
from hangtrue.fit.enclosure import Lite
from hangtrue.job.document import Answer
from hangtrue.phrase import phrase


@rule(
    id="door-on-panel",
    title="The pane that carries the door is held top and bottom",
    why="A door on glass hinges pulls its pane over every time it is opened. Held at the bottom "
    "alone the pane sways, the door sags, and the glass may come down.",
    needs="door",
)
def door_on_panel(case: Case) -> Iterable[Finding]:
    """Ask for a header, a bar or the ceiling at the top of the carrying pane."""
    carried = [door for door in case.hung if door.carrier]
    if not carried:
        yield Finding(
            level=Level.PASS, where="door", found="The door hangs on a wall, not on glass."
        )
    for door in carried:
        if door.carrier:
            yield _pane(case, door, door.carrier)


def _pane(case: Case, door: Hung, carrier: Lite) -> Finding:
    said = case.held(carrier)
    level = {"yes": Level.PASS, "no": Level.FAIL}.get(said, Level.NOT_CHECKED)
    width = case.say(max(carrier.width_top, carrier.width_bottom))
    cures = {
        Level.FAIL: phrase(
            "Hold the top of this pane ({width} wide) by a header over the door, a bar to the wall "
            "or the ceiling, or hinge the door on a wall.",
            width=width,
        ),
        Level.NOT_CHECKED: "What holds the top of this pane: a header, a bar, the ceiling?",
    }
    return Finding(
        level=level,
        where=carrier.id,
        found=_held(said, pane=sentence(article(carrier.id)), door=door.called),
        means="" if level is Level.PASS else "Nothing may hang on glass that stands free.",
        do=cures.get(level, ""),
    )


def _held(said: Answer, **words: str) -> str:
    match said:
        case "yes":
            return phrase("{pane} carries {door} and is held at the top.", **words)
        case "no":
            return phrase("{pane} carries {door} and is not held at the top.", **words)
        case _:
            return phrase("{pane} carries {door}; nobody said what holds its top.", **words)
