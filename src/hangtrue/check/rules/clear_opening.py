"""A person must get in, and be got out: the way past the open door."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace
from typing import Final

from hangtrue.check.around import handled
from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.hung import Hung
from hangtrue.check.rule import rule
from hangtrue.check.wording import listed, sentence
from hangtrue.estimate import Estimate
from hangtrue.mechanics.swing import PlanLeaf, clear_between, clear_opening
from hangtrue.phrase import phrase

SQUARE: Final = math.pi / 2


@rule(
    id="clear-opening",
    title="The way in is wide enough with the door open",
    why="A person must be able to get in, and to be got out by somebody else. The open door, its "
    "hinges and its handle stand in the way and are taken off.",
    source="irc-p2708",
    needs="door",
)
def clear_opening_rule(case: Case) -> Iterable[Finding]:
    """Take hinge and glass off the doorway; where only the hinge's pivot decides, ask for it.

    Two doors that close on each other are one way in; past a flap that ends free the way is open.
    """
    pair = [door for door in case.hung if door.closes_on.startswith("door")]
    if pair:
        yield _way_in(case, *pair)
    for door in case.hung:
        if door.closes_on == "free":
            yield _free(case, door)
        elif door not in pair:
            yield _way_in(case, door)


def _free(case: Case, door: Hung) -> Finding:
    """Say what is open beside a door that ends free: all of it, or what its stop leaves."""
    stop = door.stop
    if stop is None or stop >= SQUARE:
        found = phrase(
            "Nothing stands where {door} ends; the way in is open beside it.", door=door.called
        )
        return Finding(level=Level.PASS, where=door.id, found=found)
    leaf = _leaf(door, 0.0)
    found = phrase(
        "Nothing stands where {door} ends. {held}, it leaves {clear} of its own {width} open "
        "beside its free edge.",
        door=door.called,
        held=sentence(_held((stop,))),
        clear=case.say(leaf.end * (1.0 - math.cos(stop))),
        width=case.say(leaf.end),
    )
    return Finding(level=Level.PASS, where=door.id, found=found)


def _way_in(case: Case, *doors: Hung) -> Finding:
    """Judge the doors open square, or at their stop where that holds one short of square.

    The hinge is taken off in full first, then not at all: in between, its data decide.
    """
    limit, way = case.limit("clear-opening-least"), _Way(case, doors)
    at = tuple(min(d.stop or SQUARE, SQUARE) for d in doors)
    least, bare, most = way.least(at), way.beside_glass(at), way.most(at)
    hopeless = most < limit.value
    level = _level(limit.value, least, bare, most)
    name = doors[0].called if len(doors) == 1 else "both doors"
    words = {
        "doors": name,
        "held": _held(at) if min(at) < SQUARE else "open square",
        "clear": case.say(least) if least == bare else _two(case, least, bare),
        "least": case.say(limit.value),
    }
    return Finding(
        level=level,
        where=doors[0].id if len(doors) == 1 else "doors",
        found=_found(words, _further(case, way)),
        means="It is too tight, whatever hinge and handle." if hopeless else "",
        do="" if level is Level.PASS else _do(case, way, at, name, level),
        value=Estimate(least),
        limit=limit.value,
        unit="mm",
        at_most=False,
        source=limit.source,
    )


def _two(case: Case, least: float, bare: float) -> str:
    return phrase(
        "{least} beside the handle ({bare} beside the glass)",
        least=case.say(least),
        bare=case.say(bare),
    )


def _level(limit: float, least: float, bare: float, most: float) -> Level:
    """Judge by the glass; a handle alone, which is well past the doorway, is worth knowing."""
    if least >= limit:
        return Level.PASS
    if bare >= limit:
        return Level.NOTE
    return Level.FAIL if most < limit else Level.NOT_CHECKED


def _do(case: Case, way: _Way, at: tuple[float, ...], name: str, level: Level) -> str:
    if level is Level.NOTE:
        return "Ask the local authority whether a handle counts, or take one that stands out less."
    turned = _turned(case, way) if min(at) < SQUARE else None
    if turned:
        return phrase("Set the stop of {doors} at {angle}° or more.", doors=name, angle=turned)
    square = way.beside_glass((SQUARE,) * len(way.doors))
    wider = case.say(case.limit("clear-opening-least").value - square)
    if level is Level.FAIL:
        return phrase("Make {doors} {length} wider.", doors=name, length=wider)
    return phrase(
        "Where is the pivot in the hinge maker's drawing? Or make {doors} {length} wider.",
        doors=name,
        length=wider,
    )


def _held(at: tuple[float, ...]) -> str:
    """`held at its stop at 75°`; both openings where there are two doors."""
    each = listed([f"{math.degrees(angle):g}°" for angle in at])
    if len(at) == 1:
        return phrase("held at {angle} by its stop", angle=each)
    return phrase("held at {angles}", angles=each)


def _found(words: dict[str, str], further: str) -> str:
    if not further:
        return phrase(
            "With {doors} {held}, {clear} is clear, its hinges taken off in full; at least {least} "
            "is asked for.",
            **words,
        )
    return phrase(
        "With {doors} {held}, {clear} is clear, its hinges taken off in full, and {further}; at "
        "least {least} is asked for.",
        further=further,
        **words,
    )


def _further(case: Case, way: _Way) -> str:
    """Say what is clear at the stops, where they let the doors past square."""
    at = tuple(door.stop or SQUARE for door in way.doors)
    if min(at) < SQUARE or max(at) <= SQUARE:
        return ""
    return phrase("{clear} {held}", clear=case.say(way.least(at)), held=_held(at))


def _turned(case: Case, way: _Way) -> int | None:
    """Least whole degrees, up to square, that leave enough; None if not even square does."""
    limit = case.limit("clear-opening-least").value
    stops = tuple(d.stop or SQUARE for d in way.doors)
    tried = range(math.ceil(math.degrees(min(stops))), 91)
    ways = ((n, tuple(max(math.radians(n), stop) for stop in stops)) for n in tried)
    return next((n for n, at in ways if way.beside_glass(at) >= limit), None)


class _Way:
    """The way past one door or between two, for the openings that they are held at; mm."""

    def __init__(self, case: Case, doors: tuple[Hung, ...]) -> None:
        self.doors = doors
        self._case = case
        self._doorway = _doorway(case, doors)

    def least(self, at: tuple[float, ...]) -> float:
        """Clear beside the handles, each pivot at the end of its notch."""
        return self._clear(at, 1.0, handle=True)

    def beside_glass(self, at: tuple[float, ...]) -> float:
        """Clear beside the glass, each pivot at the end of its notch."""
        return self._clear(at, 1.0, handle=False)

    def most(self, at: tuple[float, ...]) -> float:
        """Clear beside the glass, each pivot at the edge of the glass."""
        return self._clear(at, 0.0, handle=False)

    def _with_rib(self, leaf: PlanLeaf) -> PlanLeaf:
        """Let the handle stand out all along the leaf: a person passes beside all of it."""
        for outline in handled(self._case, leaf).fittings:
            _, far = max(outline, key=lambda point: point[1])
            reach = max(x for x, _ in outline)
            rib = ((leaf.start, -far), (reach, -far), (reach, far), (leaf.start, far))
            return replace(leaf, fittings=(rib,))
        return leaf

    def _clear(self, at: tuple[float, ...], share: float, *, handle: bool) -> float:
        plain = [_leaf(door, share * _notch(door)) for door in self.doors]
        leaves = [self._with_rib(leaf) for leaf in plain] if handle else plain
        apart = self._doorway + sum(leaf.start for leaf in leaves)
        if len(leaves) == 1:
            return clear_opening(leaves[0], (apart, 0.0), at[0], (leaves[0].start, 0.0))
        return clear_between(leaves[0], leaves[1], apart, *at)


def _leaf(door: Hung, pivot: float) -> PlanLeaf:
    pane = door.glass
    width = min(pane.width_bottom, pane.width_top)
    return PlanLeaf(start=-pivot, end=width - pivot, thickness=pane.thickness)


def _doorway(case: Case, doors: tuple[Hung, ...]) -> float:
    """Narrowest clear width over strike and glass: the hinge-side gap never clears, mm."""
    ids = {door.id for door in doors}
    strikes = [
        gap.predicted.value
        for joint in case.joints()
        if joint.kind == "strike" and ids & set(joint.between)
        for gap in joint.gaps
    ]
    panes = [door.glass for door in doors]
    return sum(min(p.width_bottom, p.width_top) for p in panes) + min(strikes, default=0.0)


def _notch(door: Hung) -> float:
    """How far into the glass the hinge reaches: its pivot lies somewhere within, mm."""
    return max((float(cut.width) for cut in door.hinge.cut_outs), default=0.0)
