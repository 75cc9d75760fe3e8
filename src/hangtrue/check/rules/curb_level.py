"""The curb must be level along the glass line."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check import decide
from hangtrue.check.case import Case
from hangtrue.check.decide import Missed
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.job.readings import Diagonal, Fall, Height

ASK = "Lay a level along the curb and read its fall from wall to wall."


@rule(
    id="curb-level",
    title="The curb is level along the glass line",
    why="The gap under a door is set at the curb's highest point; where the curb falls away the "
    "gap grows and water finds it. Fixed glass must be cut to the fall.",
)
def curb_level(case: Case) -> Iterable[Finding]:
    """Compare the fall along the curb with the most there may be; one nobody read is not level."""
    opening = case.opening
    read = any(isinstance(r, Fall | Height | Diagonal) for r in case.job.readings)
    if not read or not (opening.knows("curb left") and opening.knows("curb right")):
        yield Finding(
            level=Level.NOT_CHECKED,
            where="curb",
            found="Nobody read whether the curb is level along the glass line.",
            do=ASK,
        )
        return
    fall = opening.estimate(opening.entry("curb left") - opening.entry("curb right"))
    limit = case.limit("curb-level-most")
    low = "right" if fall.value >= 0 else "left"
    yield decide.finding(
        decide.magnitude(fall, limit.value, case.confidence),
        where="curb",
        found=f"The curb falls {case.give(fall.size())} to the {low}; at most "
        f"{case.say(limit.value)} is good.",
        missed=Missed(
            level=Level.WARN,
            means="The gap under the door would be uneven, and a sweep seals only an even gap.",
            do=f"Have the curb raised {case.say(abs(fall.value))} at the {low} end, or have the "
            "bottom edges cut to the fall.",
        ),
        ask=ASK,
        source=limit.source,
    )
