"""The top of the curb must pitch slightly into the shower."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check import decide
from hangtrue.check.case import Case
from hangtrue.check.decide import Missed
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.estimate import Estimate
from hangtrue.job.readings import Pitch

ASK = "Lay a short level across the curb and read which way, and how much, its top pitches."
PER_METRE = 1000.0


@rule(
    id="curb-pitch",
    title="The curb pitches slightly into the shower",
    why="Water that runs down the glass lands on the curb. It must run back in; on a curb that "
    "pitches out it runs under the door into the room.",
)
def curb_pitch(case: Case) -> Iterable[Finding]:
    """Judge the pitch: outward, too little, good, or too much; one that nobody read is not good."""
    read = any(isinstance(r, Pitch) for r in case.job.readings)
    if case.job.threshold.kind == "floor":
        yield Finding(
            level=Level.PASS, where="curb", found="The glass stands on the floor: no curb."
        )
    elif not read or not case.opening.knows("pitch"):
        yield Finding(
            level=Level.NOT_CHECKED,
            where="curb",
            found="Nobody read which way the top of the curb pitches.",
            means="If it pitches out, water runs into the room.",
            do=ASK,
        )
    else:
        yield _judged(case, case.opening.estimate(case.opening.entry("pitch")).scaled(PER_METRE))


def _judged(case: Case, pitch: Estimate) -> Finding:
    """Judge a pitch in mm a metre, + into the shower: the gravest miss, else the gravest doubt."""
    limit = case.limit("curb-pitch-least")
    least, most = limit.value * PER_METRE, case.limit("curb-pitch-most").value * PER_METRE
    width = float(case.job.threshold.width)
    metres = width / PER_METRE
    lift = case.say(max(least - pitch.value, 0.0) * metres)
    inward = decide.at_least(pitch, 0.0, case.confidence)
    enough = decide.at_least(pitch, least, case.confidence)
    little = decide.at_most(pitch, most, case.confidence)
    raise_it = f"Have the outer edge of the curb raised {lift} over its width of {case.say(width)}."
    drop = case.say((pitch.value - most) * metres)
    out = Missed(level=Level.WARN, means="Water would run out into the room.", do=raise_it)
    flat = Missed(level=Level.WARN, means="Water would stand on the curb.", do=raise_it)
    steep = Missed(
        level=Level.WARN,
        means="The sweep under the door would not lie on it evenly.",
        do=f"Have its inner edge raised {drop}, or ask for a bottom edge that suits it.",
    )
    rows = ((inward, out), (enough, flat), (little, steep))
    missed_rows = [row for row in rows if row[0].missed]
    open_rows = [row for row in rows if row[0].undecided]
    decided, missed = [*missed_rows, *open_rows, (enough, flat)][0]
    way = "into the shower" if pitch.value >= 0 else "out into the room"
    fall = pitch.size().scaled(metres)
    return decide.finding(
        decided,
        where="curb",
        found=f"The top of the curb falls {case.give(fall)} {way} over its width; "
        f"{case.say(least * metres)} to {case.say(most * metres)} inward is good.",
        missed=missed,
        ask=ASK,
        unit="mm/m",
        source=limit.source,
    )
