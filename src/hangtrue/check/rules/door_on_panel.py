"""A pane that carries a door must be held at the top as well."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.hung import Hung
from hangtrue.check.rule import rule
from hangtrue.fit.enclosure import Lite


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
    said, name = case.held(carrier), carrier.id.capitalize()
    level = {"yes": Level.PASS, "no": Level.FAIL}.get(said, Level.NOT_CHECKED)
    held = {
        "yes": f"{name} carries {door.called} and is held at the top.",
        "no": f"{name} carries {door.called} and is not held at the top.",
    }.get(said, f"{name} carries {door.called}; nobody said what holds its top.")
    width = case.say(max(carrier.width_top, carrier.width_bottom))
    cures = {
        Level.FAIL: f"Hold the top of this pane ({width} wide) by a header over the door, a bar "
        "to the wall or the ceiling, or hinge the door on a wall.",
        Level.NOT_CHECKED: "What holds the top of this pane: a header, a bar, the ceiling?",
    }
    return Finding(
        level=level,
        where=carrier.id,
        found=held,
        means="" if level is Level.PASS else "Nothing may hang on glass that stands free.",
        do=cures.get(level, ""),
    )
