"""A door must open square without meeting what stands around it."""

from __future__ import annotations

import math
from collections.abc import Iterable

from hangtrue.check.around import Met, Way, meets, turning
from hangtrue.check.case import SIDES, Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.hung import Hung
from hangtrue.check.rule import rule
from hangtrue.check.wording import article, listed, sentence
from hangtrue.estimate import Estimate
from hangtrue.job.readings import Side
from hangtrue.mechanics.swing import clear_opening
from hangtrue.phrase import phrase

HALVINGS = 6
OWN = ("the glass", "the wall")
"""Beginnings of the names of what belongs to the shower: it is met itself, and cannot be moved."""
WAYS: dict[Way, str] = {"out": "outward", "in": "inward"}


@rule(
    id="door-swing",
    title="The door opens square without meeting anything",
    why="A glass door that swings against a toilet, a vanity or a tap bursts; one that does not "
    "open square leaves too narrow a way in.",
    needs="door",
)
def door_swing(case: Case) -> Iterable[Finding]:
    """Turn each door the ways it is to go, and say what it meets first and what cures it."""
    if not case.job.obstacles:
        yield Finding(
            level=Level.NOTE,
            where="door",
            found="Nothing is written down that stands or hangs around the glass.",
            do="Turn a lath of the door's width about the hinge line: does it meet anything?",
        )
    swing = case.job.wanted.swing
    ways: tuple[Way, ...] = ("out", "in") if swing == "both" else (swing,)
    for door in case.hung:
        for way in ways:
            yield _door(case, door, way)


def _door(case: Case, door: Hung, way: Way) -> Finding:
    met, limit = meets(case, door, way), case.limit("door-opens-least")
    words = {"door": sentence(door.called), "way": WAYS[way]}
    if met is None:
        found = phrase("{door} opens {way} and meets nothing that was written down.", **words)
        return Finding(level=Level.PASS, where=door.id, found=found, source=limit.source)
    if door.stop is not None and door.stop < met.angle:
        found = phrase(
            "{door} opens {way} to its stop at {stop:g}°, before it would come near {thing} at "
            "{angle}°.",
            stop=math.degrees(door.stop),
            thing=article(met.name),
            angle=met.degrees,
            **words,
        )
        return Finding(level=Level.PASS, where=door.id, found=found, source=limit.source)
    return Finding(
        level=_level(case, door, way, met),
        where=door.id,
        found=phrase(
            "{door} opens {way} to {angle}°; there it comes within {near} of {thing}.",
            angle=met.degrees,
            near=case.say(_near(case, met)),
            thing=article(met.name),
            **words,
        ),
        means="Glass that strikes it may burst.",
        do=_stop(met)
        if met.degrees >= limit.value
        else phrase("{cures}.", cures=sentence(listed(tuple(_cures(case, door, way, met)), "or"))),
        value=Estimate(math.degrees(met.angle)),
        limit=limit.value,
        unit="deg",
        at_most=False,
        source=limit.source,
    )


def _near(case: Case, met: Met) -> float:
    """How near the leaf comes: glass and walls of the shower are met themselves."""
    return 0.0 if met.name.startswith(OWN) else case.limit("swing-clear-least").value


def _stop(met: Met) -> str:
    return phrase(
        "Fix a stop that holds it at {angle}° or less, at the floor or on the wall.",
        angle=met.degrees,
    )


def _level(case: Case, door: Hung, way: Way, met: Met) -> Level:
    """A note past square, or on the second way; too narrow a way in must not be hung."""
    if met.degrees >= case.limit("door-opens-least").value:
        return Level.NOTE
    if way == "in" and case.job.wanted.swing == "both":
        return Level.NOTE
    narrow = _clear(case, door, way, met.angle) < case.limit("clear-opening-least").value
    return Level.FAIL if narrow and door.closes_on != "free" else Level.WARN


def _clear(case: Case, door: Hung, way: Way, angle: float) -> float:
    leaf = turning(case, door, way).leaf
    return clear_opening(leaf, (leaf.end, 0.0), angle)


def _cures(case: Case, door: Hung, way: Way, met: Met) -> Iterable[str]:
    """Hinge it on the other side, make it narrower, or stop it, each with its figure."""
    least = case.limit("door-opens-least").value
    other = SIDES[1 - SIDES.index(door.side)]
    holds = case.beside(door.glass, other) or other in case.opening.walls
    there = meets(case, door, way, side=other)
    if holds and (there is None or there.degrees >= least):
        yield _other_side(other, there)
    width = _narrower(case, door, way)
    if width is not None:
        yield phrase("make it {width} wide, which opens square", width=case.say(width))
    if not met.name.startswith(OWN):
        yield phrase("have {thing} moved", thing=article(met.name))
    clear = _clear(case, door, way, met.angle)
    if clear >= case.limit("clear-opening-least").value:
        yield phrase(
            "stop it at {angle}°, which leaves {clear} clear",
            angle=met.degrees,
            clear=case.say(clear),
        )
    elif way == "in":
        yield "let it open outward"


def _other_side(side: Side, there: Met | None) -> str:
    at = "hinge it on the left" if side == "left" else "hinge it on the right"
    if there is None:
        return phrase("{cure}, where it opens freely", cure=at)
    return phrase("{cure}, where it opens to {angle}°", cure=at, angle=there.degrees)


def _narrower(case: Case, door: Hung, way: Way) -> float | None:
    """Width at which it opens square; None if not even the narrowest usual door does."""
    limit, wide = case.limit("door-opens-least").value, door.glass.width_bottom
    narrow = case.limit("door-width-least").value
    if narrow >= wide or not _opens(case, door, way, narrow, limit):
        return None
    for _ in range(HALVINGS):
        middle = (narrow + wide) / 2
        if _opens(case, door, way, middle, limit):
            narrow = middle
        else:
            wide = middle
    step = float(case.brief.profile.plant.grid)
    return math.floor(narrow / step) * step


def _opens(case: Case, door: Hung, way: Way, width: float, least: float) -> bool:
    met = meets(case, door.narrowed(width), way)
    return met is None or met.degrees >= least
