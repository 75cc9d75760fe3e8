"""The curb must be level along the glass line."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check import decide
from hangtrue.check.case import Case
from hangtrue.check.decide import Missed
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.check.wording import article, sentence
from hangtrue.job.readings import Diagonal, Fall, Height
from hangtrue.phrase import phrase

ASK = "Lay a level along the curb and read its fall from wall to wall."


@rule(
    id="curb-level",
    title="The curb is level along the glass line",
    why="The gap under a door is set at the curb's highest point; where the curb falls away the "
    "gap grows and water finds it. Fixed glass must be cut to the fall.",
)
def curb_level(case: Case) -> Iterable[Finding]:
    """Compare the fall along each run with the most there may be; one nobody read is not level."""
    for run in case.runs:
        if case.covered(run):
            found = phrase(
                "Run {run} stands on {step}; its glass is cut to that.",
                run=run,
                step=article(case.covered(run)),
            )
            yield Finding(level=Level.PASS, where=case.covered(run), found=found)
        else:
            yield _run(case, run)


def _run(case: Case, run: int) -> Finding:
    opening, where = case.opening, case.curb_named(run)
    ends = [f"corner {run - 1}" if run > 1 else "left", _right(case, run)]
    if not _read(case, run, ends) or not all(opening.knows(f"curb {end}") for end in ends):
        return Finding(
            level=Level.NOT_CHECKED,
            where=where,
            found=phrase(
                "Nobody read whether {curb} is level along the glass line.", curb=article(where)
            ),
            do=ASK,
        )
    left, right = (opening.entry(f"curb {end}") for end in ends)
    fall = opening.estimate(left - right)
    limit = case.limit("curb-level-most")
    low = "to the right" if fall.value >= 0 else "to the left"
    end = "at the right end" if fall.value >= 0 else "at the left end"
    return decide.finding(
        decide.magnitude(fall, limit.value, case.confidence),
        where=where,
        found=phrase(
            "{curb} falls {fall} {way}; at most {most} is good.",
            curb=sentence(article(where)),
            fall=case.give(fall.size()),
            way=low,
            most=case.say(limit.value),
        ),
        missed=Missed(
            level=Level.WARN,
            means="The gap under the door would be uneven, and a sweep seals only an even gap.",
            do=phrase(
                "Have the curb raised {length} {end}, or have the bottom edges cut to the fall.",
                length=case.say(abs(fall.value)),
                end=end,
            ),
        ),
        ask=ASK,
        source=limit.source,
    )


def _right(case: Case, run: int) -> str:
    """Name of the right end of a run."""
    return f"corner {run}" if run <= case.opening.corners else "right"


def _read(case: Case, run: int, ends: list[str]) -> bool:
    """Whether anything was read that tells how a run of the curb falls."""
    straight = len(case.runs) == 1
    for reading in case.job.readings:
        match reading:
            case Fall() | Diagonal() if reading.run == run:
                return True
            case Height() if straight or (reading.of == "curb" and reading.at in ends):
                return True
    return False
