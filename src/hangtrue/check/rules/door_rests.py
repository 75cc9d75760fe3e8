"""A door must stay where it is put, as its hinge plates will sit on the wall."""

from __future__ import annotations

import math
from collections.abc import Iterable
from functools import lru_cache

from hangtrue.check import decide
from hangtrue.check.case import Case
from hangtrue.check.decide import Decided, Missed
from hangtrue.check.finding import Finding, Level
from hangtrue.check.hung import Hung
from hangtrue.check.proof import swinging
from hangtrue.check.proof.covered import covered
from hangtrue.check.proof.swinging import Swing
from hangtrue.check.proof.swinging_sheet import sheet
from hangtrue.check.rule import rule
from hangtrue.check.wording import listed, sentence
from hangtrue.phrase import phrase

SHUT, BACK = 3.0, 135.0
"""Degrees within which a door rests shut, and beyond which it rests against what is behind it."""
SQUARE = 90
LEAST_SHIM = 0.1
"""mm; nobody sets out less."""


@rule(
    id="door-rests",
    title="The door stays where it is put",
    why="A hinge line that leans makes a door fall open or shut by itself. How hard, and where it "
    "comes to rest, follows from the plates as they will sit, packing included.",
    source="own",
    needs="door",
)
@covered
def door_rests(case: Case) -> Iterable[Finding]:
    """Compare the torque of each door about its axis with what its hinges hold."""
    for hung in case.hung:
        yield _door(case, hung)


def _door(case: Case, hung: Hung) -> Finding:
    asked = swinging.no_axis(hung)
    if asked is not None:
        return asked
    door = swinging.swing(case, hung)
    known, shop = hung.hinge.holding_torque, case.limit("self-swing-torque-most")
    limit = shop.value if known is None else known
    torque = door.torque
    decided = Decided(
        value=torque,
        limit=limit,
        at_most=True,
        probability=chance(door, limit),
        confidence=case.confidence,
    )
    return decide.finding(
        decided,
        where=hung.id,
        found=_found(hung, door, known, limit),
        missed=Missed(
            level=Level.NOT_CHECKED if known is None else Level.WARN,
            means=_stays(hung, door, limit),
            do=_do(case, door, known),
        ),
        ask=phrase(
            "Read the lean of the hinge wall again, both ways. {cure}", cure=_cure(case, door)
        ),
        unit="Nm",
        source="maker" if known is not None else shop.source,
    ).with_sheet(sheet(door, hung.called, limit, hung.stop))


@lru_cache(maxsize=128)
def chance(door: Swing, limit_Nm: float) -> float:  # noqa: N803 - a unit
    """Probability that the greatest torque is at most the limit."""
    return door.below(limit_Nm)


def _found(hung: Hung, door: Swing, known: float | None, limit: float) -> str:
    words = {"door": hung.called, "goes": _goes(hung, door), "limit": limit}
    if known is None:
        return phrase(
            "Left alone, {door} {goes}; {limit:g} N·m is what hinges are trusted to hold without "
            "being asked.",
            **words,
        )
    return phrase("Left alone, {door} {goes}; its hinges hold {limit:g} N·m.", **words)


def _goes(hung: Hung, door: Swing) -> str:
    """Say where the door goes by itself, how hard, and the push at the handle that stops it."""
    rest = door.rest_deg
    if rest is None:
        return "stays where it is, for its hinges are plumb"
    stop = math.degrees(hung.stop) if hung.stop else None
    pull = {"torque": door.torque.value, "push": 1000 * door.torque.value / door.handle}
    if abs(rest) <= SHUT:
        return phrase("closes with up to {torque:.2f} N·m, {push:.1f} N at its handle", **pull)
    if stop is not None and abs(rest) >= stop:
        return phrase(
            "swings to its stop at {stop:.0f}° with up to {torque:.2f} N·m, {push:.1f} N at its "
            "handle",
            stop=stop,
            **pull,
        )
    if abs(rest) >= BACK:
        return phrase(
            "swings right open with up to {torque:.2f} N·m, {push:.1f} N at its handle", **pull
        )
    if rest > 0:
        return phrase(
            "comes to rest {rest:.0f}° open, with up to {torque:.2f} N·m, {push:.1f} N at its "
            "handle",
            rest=rest,
            **pull,
        )
    return phrase(
        "comes to rest {rest:.0f}° open the other way, with up to {torque:.2f} N·m, {push:.1f} N "
        "at its handle",
        rest=-rest,
        **pull,
    )


def _stays(hung: Hung, door: Swing, limit: float) -> str:
    """Say from where on it is not held."""
    upto = round(math.degrees(hung.stop)) if hung.stop else SQUARE
    until = door.held_until(limit, upto)
    if until is None:
        return phrase(
            "It will not even stay shut: there the weight pulls with {pull:.2f} N·m.",
            pull=abs(door.pull_Nm(0.0)),
        )
    if until >= upto:
        return "It may not stay where it is left."
    return phrase("Opened beyond {angle}° it will not stay where it is left.", angle=until)


def _do(case: Case, door: Swing, known: float | None) -> str:
    if known is not None:
        return _cure(case, door)
    return phrase("What torque do its hinges hold, by their maker? {cure}", cure=_cure(case, door))


def _cure(case: Case, door: Swing) -> str:
    """Say how far the upper plate moves, and where the door rests then."""
    inward, outward = swinging.plate_shift(door)
    room = (outward > 0) is (case.job.wanted.swing != "in")
    moves: list[str] = []
    if inward > 0:
        moves.append(phrase("shim the upper plate {far} off the wall", far=case.say(inward)))
    if abs(outward) >= LEAST_SHIM:
        far = case.say(abs(outward))
        moves.append(
            phrase("shim the upper plate {far} toward the room", far=far)
            if room
            else phrase("shim the upper plate {far} toward the shower", far=far)
        )
    if not moves:
        return "Set the plates as they are: the door then rests shut."
    return phrase("{moves}: {rests}.", moves=sentence(listed(moves)), rests=_rests(door))


def _rests(door: Swing) -> str:
    rest = door.rest_deg
    if rest is None or abs(rest) <= SHUT:
        return "the door then rests shut"
    return phrase("it then rests shut instead of {rest:.0f}° open", rest=abs(rest))
