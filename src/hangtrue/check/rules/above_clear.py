"""There must be room above the glass to lift it in."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check import decide
from hangtrue.check.around import heights
from hangtrue.check.case import Case
from hangtrue.check.decide import Missed
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.check.wording import article, sentence
from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Lite
from hangtrue.job.document import Obstacle
from hangtrue.measure.plan_line import glass_line
from hangtrue.phrase import phrase

REACHES = ("ceiling", "transom")


@rule(
    id="above-clear",
    title="There is room above the glass",
    why="Glass is lifted over its channel or onto its hinges. Without room above it does not go "
    "in, and a light or a pipe over it is struck.",
    needs="glass",
)
def above_clear(case: Case) -> Iterable[Finding]:
    """Compare the room under the ceiling, and under what hangs over the glass, with the least."""
    level = [pane for pane in case.row if pane.edge("top").meets not in REACHES]
    if not level:
        yield Finding(level=Level.PASS, where="top", found="All the glass goes up to the ceiling.")
        return
    if case.opening.has_ceiling:
        yield min((_ceiling(case, pane) for pane in level), key=lambda f: f.probability or 0.0)
    else:
        yield Finding(
            level=Level.NOTE,
            where="top",
            found="Nobody read the height of the ceiling.",
            do=phrase("Is there at least {least} above the glass?", least=case.say(_least(case))),
        )
    for thing in case.job.obstacles:
        yield from (f for pane in level if (f := _thing(case, pane, thing)))


def _least(case: Case) -> float:
    return case.limit("head-clearance-least").value


def _top(pane: Lite) -> float:
    return pane.origin[1] + max(pane.corners[2][1], pane.corners[3][1])


def _ceiling(case: Case, pane: Lite) -> Finding:
    ends = (pane.origin[0], pane.origin[0] + pane.width_top)
    over = min((case.opening.estimate(case.opening.ceiling(x)) for x in ends), key=_value)
    room = Estimate(over.value - _top(pane), over.sd)
    short = case.say(max(_least(case) - room.value, 0.0))
    return decide.finding(
        decide.at_least(room, _least(case), case.confidence),
        where="top of the glass",
        found=phrase(
            "Above {pane} there is {room} to the ceiling; at least {least} is needed.",
            pane=article(pane.id),
            room=case.give(room),
            least=case.say(_least(case)),
        ),
        missed=Missed(
            level=Level.WARN,
            means="It cannot be lifted in.",
            do=phrase(
                "Make the glass {length} lower, or take it up to the ceiling in a channel.",
                length=short,
            ),
        ),
        ask="Read the height of the ceiling above the glass once more.",
        source=case.limit("head-clearance-least").source,
    )


def _value(estimate: Estimate) -> float:
    return estimate.value


def _thing(case: Case, pane: Lite, thing: Obstacle) -> Finding | None:
    """Judge something that hangs over a pane: its box covers a part of the glass line there."""
    low, _ = heights(case, thing)
    room = low - _top(pane)
    if thing.bottom is None or not 0.0 <= room < _least(case) or not _over(case, pane, thing):
        return None
    return Finding(
        level=Level.WARN,
        where=pane.id,
        found=phrase(
            "{thing} hangs {room} over {pane}; at least {least} is needed.",
            thing=sentence(article(thing.name)),
            room=case.say(room),
            pane=article(pane.id),
            least=case.say(_least(case)),
        ),
        means="It would be struck when the glass is lifted in.",
        do=phrase("Have {thing} taken down until the glass stands.", thing=article(thing.name)),
        value=Estimate(room),
        limit=_least(case),
        unit="mm",
        at_most=False,
    )


def _over(case: Case, pane: Lite, thing: Obstacle) -> bool:
    line = glass_line(case.opening, case.job.wanted)
    ends = (pane.origin[0], pane.origin[0] + pane.width_top)
    (xa, ya), (xb, yb) = (line.place(x, run=pane.run) for x in ends)
    x0, y0, x1, y1 = thing.plan_box
    return min(xa, xb) <= x1 and max(xa, xb) >= x0 and min(ya, yb) <= y1 and max(ya, yb) >= y0
