"""The angle of a corner must be known well enough for the joint in it."""

from __future__ import annotations

import math
from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.estimate import Estimate
from hangtrue.job.readings import Corner, Triangle
from hangtrue.phrase import phrase

STEP = {"in": 25.4, "mm": 50.0, "cm": 50.0}
"""Steps in mm of the legs that are marked out; figures on a tape, not limits."""
SHORT, LONG = 3, 4


@rule(
    id="corner-known",
    title="The angle of every corner is known",
    why="Rooms are seldom square. A corner that is off by a degree opens its joint at one face, "
    "and leaves the far end of a return off the curb.",
    source="own",
    needs="corner",
)
def corner_known(case: Case) -> Iterable[Finding]:
    """Compare how well each angle is known with what the shop asks; one not read is not known."""
    for number in case.runs[:-1]:
        yield _corner(case, number)


def _corner(case: Case, number: int) -> Finding:
    limit = case.limit("corner-angle-sd-most")
    angle = case.opening.estimate(case.opening.angle(number)).scaled(math.degrees(1.0))
    read = any(isinstance(r, Corner | Triangle) and r.corner == number for r in case.job.readings)
    good = read and angle.sd <= limit.value
    far = _length(case, number + 1) * math.radians(2.0 * angle.sd)
    found = (
        phrase(
            "Corner {corner} has {angle:.1f}°, give or take {off:.1f}°.",
            corner=number,
            angle=angle.value,
            off=2.0 * angle.sd,
        )
        if read
        else phrase(
            "Nobody read the angle of corner {corner}; {angle:.1f}° is what was wanted.",
            corner=number,
            angle=angle.value,
        )
    )
    loose = phrase(
        "The far end of the run after it may be {length} off its place.", length=case.say(far)
    )
    return Finding(
        level=Level.PASS if good else Level.NOT_CHECKED,
        where=phrase("corner {corner}", corner=number),
        found=found,
        means="" if good else loose,
        do="" if good else _ask(case, number),
        value=Estimate(angle.sd),
        limit=limit.value,
        unit="deg",
        source=limit.source,
    )


def _length(case: Case, run: int) -> float:
    opening = case.opening
    return opening.estimate(opening.stop(run) - opening.start(run)).value


def _ask(case: Case, number: int) -> str:
    """Three, four, five, as large as the two runs allow, whatever the angle is to be."""
    before, after = _length(case, number), _length(case, number + 1)
    step = STEP[case.job.unit]
    unit = max(min(min(before, after) / SHORT, max(before, after) / LONG) // step, 1.0) * step
    legs = (SHORT * unit, LONG * unit) if before <= after else (LONG * unit, SHORT * unit)
    wanted = float(case.job.wanted.turns[number - 1].angle)
    across = math.sqrt(sum(leg**2 for leg in legs) - 2.0 * math.prod(legs) * math.cos(wanted))
    one, other = map(case.say, legs)
    return phrase(
        "Mark {one} from the corner along the glass line before it and {other} along the one "
        "after it, and read the straight distance of the marks: {across} at {angle:.0f}°.",
        one=one,
        other=other,
        across=case.say(across),
        angle=math.degrees(wanted),
    )
