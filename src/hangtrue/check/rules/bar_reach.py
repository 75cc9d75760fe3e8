"""A header or support bar must reach, and be fixed to something that holds."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.check.wood import backing
from hangtrue.check.wording import article, sentence
from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Bar
from hangtrue.job.hardware import HeadBar
from hangtrue.phrase import phrase

KINDS = {"header": "the header bar", "support": "the support bar"}
LEFT, RIGHT = "left wall", "right wall"


@rule(
    id="bar-reach",
    title="Headers and support bars reach, and are fixed to something firm",
    why="A bar that is too long bends, and one that ends in hollow tile holds nothing: the glass "
    "that trusts it sways until it breaks.",
)
def bar_reach(case: Case) -> Iterable[Finding]:
    """Judge the length of each bar, and what is behind the end that is not on glass."""
    if not case.job.wanted.bars:
        yield Finding(level=Level.PASS, where="top", found="No bar is wanted.")
        return
    placed = case.enclosure.bars if case.enclosure else ()
    if not placed:
        yield Finding(
            level=Level.NOT_CHECKED,
            where="top",
            found="The bars that are wanted were not placed.",
            do="Measure from the top of the glass to where each is fixed, before ordering.",
        )
    for bar in placed:
        yield _length(case, bar)
        yield _end(case, bar)


def _length(case: Case, bar: Bar) -> Finding:
    item = case.brief.item(bar.hardware, HeadBar)
    most, length = float(item.reach_most), bar.length
    good = length.value <= most
    return Finding(
        level=Level.PASS if good else Level.FAIL,
        where=bar.id,
        found=phrase(
            "{bar} that holds {pane} is cut {length} long; its maker allows {most}.",
            bar=sentence(KINDS[bar.kind]),
            pane=article(bar.holds),
            length=case.give(length),
            most=case.say(most),
        ),
        means="" if good else "It would bend and not hold the glass still.",
        do=""
        if good
        else "Take a stiffer bar, or fix it nearer: to another wall or to the ceiling.",
        value=Estimate(length.value),
        limit=most,
        unit="mm",
        source="maker",
    )


def _end(case: Case, bar: Bar) -> Finding:
    height = bar.ends[1][2]
    words = {"place": article(bar.to), "height": case.size(height)}
    if bar.to not in {LEFT, RIGHT, "ceiling"}:
        found = phrase(
            "{bar} from {pane} is fixed to {place}.",
            bar=sentence(KINDS[bar.kind]),
            pane=article(bar.holds),
            place=article(bar.to),
        )
        return Finding(level=Level.PASS, where=bar.id, found=found)
    if bar.to == "ceiling":
        behind, wood = case.job.above.behind, case.job.above.behind == "blocking"
    else:
        side: Literal["left", "right"] = "left" if bar.to == LEFT else "right"
        wall = case.wall(side)
        behind, wood = wall.behind, backing(wall, height, height) is not None
    lost = behind in {"hollow", "acrylic"}
    return Finding(
        level=Level.PASS if wood else Level.FAIL if lost else Level.NOT_CHECKED,
        where=bar.id,
        found=phrase(
            "There is solid wood behind {place} at {height}, where the bar is fixed.", **words
        )
        if wood
        else phrase(
            "It is not known that there is solid wood behind {place} at {height}.", **words
        ),
        means="" if wood else "The bar holds no better than what it is screwed to.",
        do=""
        if wood
        else phrase("Have solid wood found, or put in, behind {place} at {height}.", **words),
    )
