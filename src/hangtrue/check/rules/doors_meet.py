"""Two doors must not swing into each other: two leaves of the shower, or the room's own door."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from hangtrue.check.around import ROUND, Turning, Way, entrance, turning
from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.hung import Hung
from hangtrue.check.rule import rule
from hangtrue.check.wording import article, sentence
from hangtrue.estimate import Estimate
from hangtrue.phrase import phrase


@rule(
    id="doors-meet",
    title="No other door swings into the shower's door",
    why="Whoever opens the door of the room does not see that the glass door is open. Where their "
    "swings cross, the one strikes the other, and glass bursts.",
    needs="door",
)
def doors_meet(case: Case) -> Iterable[Finding]:
    """Turn each door into all that every other door sweeps: the worst of both."""
    ways: tuple[Way, ...] = ("in",) if case.job.wanted.swing == "in" else ("out",)
    for door in case.hung:
        found = [
            finding
            for way in ways
            for name, other in _others(case, door, way)
            if (finding := _meet(case, door, turning(case, door, way), (name, other)))
        ]
        yield from found
        if not found:
            free = phrase("No door that was written down swings into {door}.", door=door.called)
            yield Finding(level=Level.PASS, where=door.id, found=free)


def _others(case: Case, door: Hung, way: Way) -> Iterator[tuple[str, Turning]]:
    """Every other door, the shower's own and the room's."""
    for other in case.hung:
        if other.id > door.id:
            yield other.id, turning(case, other, way)
    for obstacle in case.job.obstacles:
        swings = entrance(case, obstacle)
        if swings:
            yield obstacle.name, swings


def _meet(case: Case, door: Hung, leaf: Turning, named: tuple[str, Turning]) -> Finding | None:
    (name, other), square = named, case.limit("door-opens-least")
    apart = math.dist(leaf.frame.origin, other.frame.origin)
    if apart > leaf.leaf.reach + other.leaf.reach or other.high <= leaf.low:
        return None
    swept = other.region(math.radians(square.value))
    angle = leaf.stops_at(swept, clip=False)
    if angle >= ROUND:
        return None
    degrees = math.floor(math.degrees(angle) + 1e-6)
    wide = degrees >= square.value
    return Finding(
        level=Level.NOTE if wide else Level.WARN,
        where=door.id,
        found=phrase(
            "{door} opens to {angle}° before it is where {other} swings.",
            door=sentence(door.called),
            angle=degrees,
            other=article(name),
        ),
        means="Opened further, the one may strike the other.",
        do=phrase("Fix a stop that holds it at {angle}° or less.", angle=degrees)
        if wide
        else phrase(
            "Hinge one of them on the other side, or give {other} a stop or a catch.",
            other=article(name),
        ),
        value=Estimate(math.degrees(angle)),
        limit=square.value,
        unit="deg",
        at_most=False,
        source=square.source,
    )
