"""A door closes on something firm; on another door, or on nothing, it must be known."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.hung import Hung
from hangtrue.check.rule import rule
from hangtrue.check.wording import article, sentence
from hangtrue.phrase import phrase


@rule(
    id="door-closes-on",
    title="Every door closes on something",
    why="Two doors that close on each other have nothing firm between them, and a flap that ends "
    "free lets water past; either is as it was wanted, or a slip.",
    needs="door",
)
def door_closes_on(case: Case) -> Iterable[Finding]:
    """Say what each door closes on."""
    for door in case.hung:
        yield _door(case, door)


def _door(case: Case, door: Hung) -> Finding:
    met, name = door.closes_on, sentence(door.called)
    if met == "free":
        return Finding(
            level=Level.NOTE,
            where=door.id,
            found=phrase("{door} ends free: it is a flap on a screen.", door=name),
            means="Water passes beyond it, and nothing stops it but its hinges.",
            do="Let the customer know, and keep the hinges' own stop.",
        )
    if met.startswith("door"):
        return Finding(
            level=Level.NOTE,
            where=door.id,
            found=phrase(
                "{door} closes on {other}; nothing firm is between them.",
                door=name,
                other=article(met),
            ),
            means="Both must hang true to each other, or their seal does not close.",
            do="Set both doors before either is fixed for good; a bar or sill behind them helps.",
        )
    gaps = case.gaps(door.id, met)
    found = (
        phrase(
            "{door} closes on {other}, {gap} from it at the foot.",
            door=name,
            other=article(met),
            gap=case.say(gaps[0].predicted.value),
        )
        if gaps
        else phrase("{door} closes on {other}.", door=name, other=article(met))
    )
    return Finding(level=Level.PASS, where=door.id, found=found)
