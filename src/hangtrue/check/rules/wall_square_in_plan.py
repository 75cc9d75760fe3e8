"""A wall that is not square to the glass must be within what the hinge or the channel takes up."""

from __future__ import annotations

import math
from collections.abc import Iterable

from hangtrue.check import decide
from hangtrue.check.case import Case
from hangtrue.check.decide import Missed
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.check.wording import sentence, the_wall
from hangtrue.estimate import Estimate
from hangtrue.job.hardware import Channel
from hangtrue.job.readings import Side, Square
from hangtrue.phrase import phrase
from hangtrue.tables import table


@rule(
    id="wall-square-in-plan",
    title="The walls are square enough to the glass",
    why="A hinge screwed to a wall that is turned in plan closes the door beside its line, unless "
    "it can be set; in a channel on such a wall the glass binds on one lip.",
)
def wall_square_in_plan(case: Case) -> Iterable[Finding]:
    """Compare the turn of each wall that carries glass with what hinge or channel takes up."""
    sides = [s for s in case.opening.walls if case.hung_on_wall(s) or s in case.fixed_walls]
    if not sides:
        yield Finding(level=Level.PASS, where="walls", found="No glass is fixed to a wall.")
    for side in sides:
        yield _hinge(case, side) if case.hung_on_wall(side) else _fixed(case, side)


def _turn(case: Case, side: Side) -> tuple[Estimate, str]:
    """How far a wall is from square, rad, and how that is known: read, or as walls usually are."""
    name = f"square {side}"
    read = any(isinstance(r, Square) and r.wall == side for r in case.job.readings)
    if case.opening.knows(name):
        turn = case.opening.estimate(case.opening.entry(name))
    else:
        turn = Estimate(0.0, float(table("measure")["prior-angle-sd"]["value"]))
    degrees = math.degrees(abs(turn.value))
    give = math.degrees(2.0 * turn.sd)
    if read:
        return turn, phrase(
            "{wall} is {angle:.1f}° from square, give or take {off:.1f}°",
            wall=sentence(the_wall(side)),
            angle=degrees,
            off=give,
        )
    return turn, phrase(
        "Nobody read whether {wall} is square; walls are within {off:.0f}°",
        wall=the_wall(side),
        off=give,
    )


def _ask(side: Side) -> str:
    return phrase(
        "Lay an angle finder between {wall} and the glass line, and read it.", wall=the_wall(side)
    )


def _hinge(case: Case, side: Side) -> Finding:
    door = case.hung_on_wall(side)
    most = door.hinge.closing_adjust_deg if door else 0.0
    turn, known = _turn(case, side)
    return decide.finding(
        decide.magnitude(turn.scaled(math.degrees(1.0)), most, case.confidence),
        where=f"{side} wall",
        found=phrase(
            "{known}; its hinges can be set {most:g}° either way.", known=known, most=most
        ),
        missed=Missed(
            level=Level.FAIL,
            means="The door would stand open, or past its line, when it is shut.",
            do="Take hinges that can be set further, have their plates bedded square, or hinge "
            "the door on the other side.",
        ),
        ask=_ask(side),
        unit="deg",
        source="maker",
    )


def _fixed(case: Case, side: Side) -> Finding:
    """Judge how far the glass is aside at the lips of its channel, or its edge open at one face."""
    limit, fitting = case.limit("glass-clear-least"), case.wall_fitting
    turn, known = _turn(case, side)
    channel = isinstance(fitting, Channel)
    deep = float(fitting.depth) if isinstance(fitting, Channel) else case.choice.thickness
    aside = turn.scaled(deep)
    return decide.finding(
        decide.magnitude(aside, limit.value, case.confidence),
        where=f"{side} wall",
        found=_aside(
            channel=channel,
            known=known,
            aside=case.say(abs(aside.value)),
            deep=case.say(deep),
            most=case.say(limit.value),
        ),
        missed=Missed(
            level=Level.WARN,
            means="The glass would bind on one lip." if channel else "The joint would gape.",
            do=phrase(
                "Bed one side of the channel {length} out, so that it stands square to the glass.",
                length=case.say(abs(aside.value)),
            )
            if channel
            else phrase(
                "Have the edge bevelled {angle:.1f}° to the wall.",
                angle=math.degrees(abs(turn.value)),
            ),
        ),
        ask=_ask(side),
        source=limit.source,
    )


def _aside(*, channel: bool, **words: str) -> str:
    """Say how far the glass is aside in its channel, or its joint open at one face."""
    if channel:
        return phrase(
            "{known}; its channel stands {aside} out over {deep}, and {most} is good.", **words
        )
    return phrase("{known}; its joint opens {aside} out over {deep}, and {most} is good.", **words)
