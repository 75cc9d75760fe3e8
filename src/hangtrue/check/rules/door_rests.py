"""A door must stay where it is put, as its hinge plates will sit on the wall."""

from __future__ import annotations

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
from hangtrue.check.wording import sentence

PAIR = 2
SHUT, BACK = 3.0, 135.0
"""Degrees within which a door rests shut, and beyond which it rests against what is behind it."""


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
    if len(hung.plates) < PAIR:
        return Finding(
            level=Level.NOT_CHECKED,
            where=hung.id,
            found=f"{sentence(hung.called)} has no two hinges to swing on.",
            do="How many hinges does it hang on, and where?",
        )
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
    held = (
        f"its hinges hold {limit:g} N·m"
        if known is not None
        else f"{limit:g} N·m is what hinges are trusted to hold without being asked"
    )
    return replace_sheet(
        decide.finding(
            decided,
            where=hung.id,
            found=f"Left alone, {hung.called} {_goes(door)}; {held}.",
            missed=Missed(
                level=Level.NOT_CHECKED if known is None else Level.WARN,
                means="It will not stay where it is left.",
                do=f"{_ask(known)}{_cure(case, door)}",
            ),
            ask=f"Read the lean of the hinge wall again, both ways. {_cure(case, door)}",
            unit="Nm",
            source="maker" if known is not None else shop.source,
        ),
        door,
        hung,
        limit,
    )


@lru_cache(maxsize=128)
def chance(door: Swing, limit_Nm: float) -> float:  # noqa: N803 - a unit
    """Probability that the greatest torque is at most the limit."""
    return door.below(limit_Nm)


def replace_sheet(finding: Finding, door: Swing, hung: Hung, limit_Nm: float) -> Finding:  # noqa: N803
    """Put the calculation sheet on a finding."""
    return finding.with_sheet(sheet(door, hung.called, limit_Nm))


def _goes(door: Swing) -> str:
    rest, torque = door.rest_deg, door.torque.value
    if rest is None:
        return "stays where it is, for its hinges are plumb"
    pull = f"with up to {torque:.2f} N·m, {1000 * torque / door.handle:.1f} N at its free edge"
    if abs(rest) <= SHUT:
        return f"closes {pull}"
    if abs(rest) >= BACK:
        return f"swings right open {pull}"
    way = "" if rest > 0 else " the other way"
    return f"comes to rest {abs(rest):.0f}° open{way}, {pull}"


def _ask(known: float | None) -> str:
    return "" if known is not None else "What torque do its hinges hold, by their maker? "


def _cure(case: Case, door: Swing) -> str:
    """Say how far the upper plate moves so that the door rests shut."""
    inward, outward = swinging.plate_shift(door)
    side = "toward the room" if (outward > 0) is (case.job.wanted.swing != "in") else (
        "toward the shower"
    )  # fmt: skip
    moves = []
    if inward > 0:
        moves.append(f"pack the upper plate {case.say(inward)} off the wall")
    if abs(outward) >= 0.1:  # noqa: PLR2004 - mm nobody sets out
        moves.append(
            f"set the upper plate {case.say(abs(outward))} {side} of where the wall leads it"
        )
    row = " and ".join(moves) or "set the plates as they are"
    return f"{sentence(row)}: the door then rests shut."
