"""The top of the curb must pitch slightly into the shower."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check import decide
from hangtrue.check.case import Case
from hangtrue.check.decide import Missed
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.check.wording import article
from hangtrue.estimate import Estimate
from hangtrue.job.readings import Pitch
from hangtrue.phrase import phrase

ASK = "Lay a short level across the curb and read which way, and how much, its top pitches."
PER_METRE = 1000.0


@rule(
    id="curb-pitch",
    title="The curb pitches slightly into the shower",
    why="Water that runs down the glass lands on the curb. It must run back in; on a curb that "
    "pitches out it runs under the door into the room.",
)
def curb_pitch(case: Case) -> Iterable[Finding]:
    """Judge the pitch where a door is, and where it was read; one that nobody read is not good."""
    if case.job.threshold.kind == "floor":
        yield Finding(
            level=Level.PASS, where="curb", found="The glass stands on the floor: no curb."
        )
        return
    for run in _asked(case):
        where = case.curb_named(run)
        entry = "pitch" if run == case.job.wanted.front else f"pitch run {run}"
        if _read(case, run) and case.opening.knows(entry):
            pitch = case.opening.estimate(case.opening.entry(entry))
            yield _judged(case, where, pitch.scaled(PER_METRE))
        else:
            yield Finding(
                level=Level.NOT_CHECKED,
                where=where,
                found=phrase(
                    "Nobody read which way the top of {curb} pitches.", curb=article(where)
                ),
                means="If it pitches out, water runs into the room.",
                do=ASK,
            )


def _asked(case: Case) -> list[int]:
    """Runs that must pitch well: with a door in them, or read; the front one if neither."""
    rows = enumerate(case.job.wanted.runs, start=1)
    doors = {n for n, row in rows for i in row if case.job.wanted.lites[i].kind == "door"}
    runs = [run for run in case.runs if run in doors or _read(case, run)]
    return runs or [case.job.wanted.front]


def _read(case: Case, run: int) -> bool:
    return any(isinstance(r, Pitch) and r.run == run for r in case.job.readings)


def _judged(case: Case, where: str, pitch: Estimate) -> Finding:
    """Judge a pitch in mm a metre, + into the shower: the gravest miss, else the gravest doubt."""
    limit = case.limit("curb-pitch-least")
    least, most = limit.value * PER_METRE, case.limit("curb-pitch-most").value * PER_METRE
    width = float(case.job.threshold.width)
    metres = width / PER_METRE
    lift = case.say(max(least - pitch.value, 0.0) * metres)
    inward = decide.at_least(pitch, 0.0, case.confidence)
    enough = decide.at_least(pitch, least, case.confidence)
    little = decide.at_most(pitch, most, case.confidence)
    raise_it = phrase(
        "Have the outer edge of the curb raised {length} over its width of {width}.",
        length=lift,
        width=case.say(width),
    )
    drop = case.say((pitch.value - most) * metres)
    out = Missed(level=Level.WARN, means="Water would run out into the room.", do=raise_it)
    flat = Missed(level=Level.WARN, means="Water would stand on the curb.", do=raise_it)
    steep = Missed(
        level=Level.WARN,
        means="The sweep under the door would not lie on it evenly.",
        do=phrase(
            "Have its inner edge raised {length}, or ask for a bottom edge that suits it.",
            length=drop,
        ),
    )
    rows = ((inward, out), (enough, flat), (little, steep))
    missed_rows = [row for row in rows if row[0].missed]
    open_rows = [row for row in rows if row[0].undecided]
    decided, missed = [*missed_rows, *open_rows, (enough, flat)][0]
    way = "into the shower" if pitch.value >= 0 else "out into the room"
    fall = pitch.size().scaled(metres)
    return decide.finding(
        decided,
        where=where,
        found=phrase(
            "The top of {curb} falls {fall} {way} over its width; {least} to {most} inward is "
            "good.",
            curb=article(where),
            fall=case.give(fall),
            way=way,
            least=case.say(least * metres),
            most=case.say(most * metres),
        ),
        missed=missed,
        ask=ASK,
        unit="mm/m",
        source=limit.source,
    )
