"""A person must get in, and be got out: the way past the open door."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Final

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.hung import Hung
from hangtrue.check.rule import rule
from hangtrue.check.wording import listed
from hangtrue.estimate import Estimate
from hangtrue.mechanics.swing import PlanLeaf, clear_between, clear_opening
from hangtrue.phrase import phrase

SQUARE: Final = math.pi / 2


@rule(
    id="clear-opening",
    title="The way in is wide enough with the door open",
    why="A person must be able to get in, and to be got out by somebody else. The open door and "
    "its hinges stand in the way and are taken off.",
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
            found = phrase(
                "Nothing stands where {door} ends; the way in is open beside it.", door=door.called
            )
            yield Finding(level=Level.PASS, where=door.id, found=found)
        elif door not in pair:
            yield _way_in(case, door)


def _way_in(case: Case, *doors: Hung) -> Finding:
    """Judge the doors open square, or at their stop where that holds one short of square."""
    limit, doorway = case.limit("clear-opening-least"), _doorway(case, doors)
    at = tuple(min(d.stop or SQUARE, SQUARE) for d in doors)
    most, least = _clear(doors, doorway, at, 0.0), _clear(doors, doorway, at, 1.0)
    good, hopeless = least >= limit.value, most < limit.value
    level = Level.PASS if good else Level.FAIL if hopeless else Level.NOT_CHECKED
    short = any(angle < SQUARE for angle in at)
    turned = _turned(case, doors, doorway) if short and not good else None
    square = _clear(doors, doorway, (SQUARE,) * len(doors), 1.0)
    wider = case.say(limit.value - square)
    name = doors[0].called if len(doors) == 1 else "both doors"
    words = {
        "doors": name,
        "held": _held(at) if short else "open square",
        "clear": case.say(least),
        "least": case.say(limit.value),
    }
    return Finding(
        level=level,
        where=doors[0].id if len(doors) == 1 else "doors",
        found=_found(words, _further(case, doors, doorway)),
        means="" if good else "" if not hopeless else "It is too tight, whatever the hinge.",
        do=""
        if good
        else phrase("Set the stop of {doors} at {angle}° or more.", doors=name, angle=turned)
        if turned
        else phrase("Make {doors} {length} wider.", doors=name, length=wider)
        if hopeless
        else phrase(
            "Where is the pivot in the hinge maker's drawing? Or make {doors} {length} wider.",
            doors=name,
            length=wider,
        ),
        value=Estimate(least),
        limit=limit.value,
        unit="mm",
        at_most=False,
        source=limit.source,
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


def _further(case: Case, doors: tuple[Hung, ...], doorway: float) -> str:
    """Say what is clear at the stops, where they let the doors past square."""
    at = tuple(door.stop or SQUARE for door in doors)
    if min(at) < SQUARE or max(at) <= SQUARE:
        return ""
    clear = case.say(_clear(doors, doorway, at, 1.0))
    return phrase("{clear} {held}", clear=clear, held=_held(at))


def _turned(case: Case, doors: tuple[Hung, ...], doorway: float) -> int | None:
    """Least whole degrees, up to square, that leave enough; None if not even square does."""
    limit = case.limit("clear-opening-least").value
    tried = range(math.ceil(math.degrees(min(d.stop or SQUARE for d in doors))), 91)
    ways = ((n, tuple(max(math.radians(n), d.stop or SQUARE) for d in doors)) for n in tried)
    return next((n for n, at in ways if _clear(doors, doorway, at, 1.0) >= limit), None)


def _clear(doors: tuple[Hung, ...], doorway: float, at: tuple[float, ...], share: float) -> float:
    """Clear way with the doors held at these openings, mm.

    Parameters
    ----------
    share
        Of the depth of its notch, where each hinge has its pivot: 0 at the edge of the glass.

    """
    leaves = [_leaf(door, share * _notch(door)) for door in doors]
    apart = doorway + sum(leaf.start for leaf in leaves)
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
