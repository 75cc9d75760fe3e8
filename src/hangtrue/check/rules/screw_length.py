"""A hinge screw must be long enough to hold, and not longer than wall and wood."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.hung import Hung
from hangtrue.check.proof import hung_door
from hangtrue.check.proof.covered import covered
from hangtrue.check.proof.fixing import Fixing
from hangtrue.check.rule import rule
from hangtrue.check.wording import the_wall
from hangtrue.estimate import Estimate
from hangtrue.job.readings import Side
from hangtrue.mechanics.ranges import OutOfRange
from hangtrue.phrase import phrase


@rule(
    id="screw-length",
    title="Hinge screws end in the wood",
    why="A screw that is too short has no value at all, however many there are; one that comes out "
    "behind the wood may meet a pipe or a cable.",
    source="nds",
    needs="wall hinge",
)
@covered
def screw_length(case: Case) -> Iterable[Finding]:
    """Compare the screw that the hinge's data name with the layers and the wood of the wall."""
    for hung, side in case.wall_hung:
        yield _door(case, hung, side)


def _door(case: Case, hung: Hung, side: Side) -> Finding:
    if hung.hinge.screw.length is None:
        return Finding(
            level=Level.PASS,
            where=f"{side} wall",
            found="The hinge leaves the length of its screws open; it is chosen for this wall.",
        )
    piece = hung_door.wood_behind(case, hung, side)
    if piece is None or not case.wall(side).layers:
        return Finding(
            level=Level.NOT_CHECKED,
            where=f"{side} wall",
            found=phrase(
                "Whether the screws of {door} end in wood is not known.", door=hung.called
            ),
            do="How thick are tile and board, and where is the wood behind every plate?",
        )
    try:
        return _judged(case, side, hung_door.fixing(case, hung, side, piece))
    except OutOfRange as error:
        return Finding(
            level=Level.NOT_CHECKED,
            where=f"{side} wall",
            found=phrase(
                "The screw of the hinge's data is in no table: {error}.", error=error.words
            ),
            do="Which screw does the hinge maker ask for?",
        )


def _judged(case: Case, side: Side, fixing: Fixing) -> Finding:
    least = fixing.least_penetration
    goes = phrase(
        "A screw {long} long below the plate goes {deep} into the wood of {wall}; {least} is the "
        "least",
        long=case.say(fixing.length),
        deep=case.say(fixing.penetration),
        wall=the_wall(side),
        least=case.say(least),
    )
    figures = Estimate(fixing.penetration)
    if not fixing.bears:
        longer = fixing.over + max(least, case.limit("screw-in-wood-least").value)
        return Finding(
            level=Level.FAIL,
            where=f"{side} wall",
            found=phrase("{goes}.", goes=goes),
            means="It has no value.",
            do=phrase("Take screws {long} long below the plate.", long=case.say(longer)),
            value=figures,
            limit=least,
            unit="mm",
            at_most=False,
        )
    if fixing.sticks_out > 0:
        most = fixing.over + fixing.depth
        return Finding(
            level=Level.WARN,
            where=f"{side} wall",
            found=phrase(
                "{goes}, and its tip comes out {out} behind it.",
                goes=goes,
                out=case.say(fixing.sticks_out),
            ),
            means="Behind the wood may be a pipe, a cable or the next room.",
            do=phrase("Take screws at most {long} long below the plate.", long=case.say(most)),
            value=Estimate(fixing.length),
            limit=most,
            unit="mm",
        )
    return Finding(
        level=Level.PASS,
        where=f"{side} wall",
        found=phrase("{goes}.", goes=goes),
        value=figures,
        limit=least,
        unit="mm",
        at_most=False,
    )
