"""A bowed wall beside fixed glass is hidden in a channel, followed by the edge, or seen."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check import decide
from hangtrue.check.case import Case
from hangtrue.check.decide import Decided, Missed
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.check.wording import listed, sentence, the_wall
from hangtrue.estimate import Estimate
from hangtrue.job.hardware import Channel
from hangtrue.job.readings import Side
from hangtrue.phrase import phrase


@rule(
    id="bow-followed",
    title="Bowed walls beside fixed glass are hidden or followed",
    why="Glass is cut straight; a wall seldom is. A channel hides the difference up to its depth; "
    "without one the joint shows it, unless the edge is cut to a template of the wall.",
    needs="fixed glass",
)
def bow_followed(case: Case) -> Iterable[Finding]:
    """Judge the worst bow of each wall with fixed glass against what takes it up."""
    if not case.fixed_walls:
        yield Finding(level=Level.PASS, where="glass", found="No fixed glass meets a wall.")
    for side in case.fixed_walls:
        yield _scribed(case, side) if case.wall(side).edge == "scribed" else _straight(case, side)


def _bows(case: Case, side: Side) -> list[tuple[float, Estimate]]:
    """How far the wall lies off the straight line from foot to top, at each known height."""
    low, high = case.foot(side), case.top_at(side)
    opening = case.opening
    heights = [h for h in opening.heights if low < h < high]
    return [(h, opening.estimate(opening.bow(side, low, h, high))) for h in heights]


def _scribed(case: Case, side: Side) -> Finding:
    points = case.at_wall(side).edge(side).points
    if points:
        found = phrase(
            "The edge at {wall} is cut to it, by {n} offsets.", wall=the_wall(side), n=len(points)
        )
        return Finding(level=Level.PASS, where=f"{side} wall", found=found)
    bows = [
        phrase("{length} at {height}", length=case.say(b.value), height=case.size(h))
        for h, b in _bows(case, side)
    ]
    return Finding(
        level=Level.NOT_CHECKED,
        where=f"{side} wall",
        found=phrase(
            "The edge at {wall} is to follow it, but this glass is cut straight.",
            wall=the_wall(side),
        ),
        do=phrase(
            "Take a template of the wall: its offsets from a straight line are {offsets}.",
            offsets=listed(bows),
        )
        if bows
        else "Take a template of the wall.",
    )


def _straight(case: Case, side: Side) -> Finding:
    fitting, bows = case.wall_fitting, _bows(case, side)
    if isinstance(fitting, Channel):
        limit = float(fitting.depth - fitting.bite_least - fitting.floor_gap_least)
        source, what = "maker", phrase("its channel hides {most}", most=case.say(limit))
    else:
        even = case.limit("gap-even-within")
        limit, source = even.value, even.source
        what = phrase("a gap that changes by more than {most} is seen", most=case.say(limit))
    if not bows:
        found = phrase(
            "{wall} was looked at in no more than two places.", wall=sentence(the_wall(side))
        )
        return Finding(level=Level.NOT_CHECKED, where=f"{side} wall", found=found, do=_ask(side))
    decided = [(h, decide.magnitude(bow, limit, case.confidence)) for h, bow in bows]
    height, worst = min(decided, key=_order)
    return decide.finding(
        worst,
        where=f"{side} wall",
        found=phrase(
            "At {height} {wall} lies {bow} off the straight edge of the glass; {what}.",
            height=case.size(height),
            wall=the_wall(side),
            bow=case.give(worst.value),
            what=what,
        ),
        missed=Missed(
            level=Level.WARN,
            means="The joint would show it.",
            do=_cure(case, worst.value.value, limit),
        ),
        ask=_ask(side),
        source=source,
    )


def _cure(case: Case, bow: float, limit: float) -> str:
    """Hide it, follow it, or have it gone; a boxed set comes with its channel and its edge."""
    over = case.say(bow - limit)
    if case.boxed:
        return phrase("Have the wall made straight by {length}, or take another set.", length=over)
    return phrase(
        "Take a channel that hides {bow}, have the edge scribed to a template of the wall, or have "
        "the wall made straight by {length}.",
        bow=case.say(bow),
        length=over,
    )


def _order(row: tuple[float, Decided]) -> tuple[float, float]:
    """The least likely to be good first, the greatest bow where all are certain."""
    return row[1].probability, -row[1].value.value


def _ask(side: Side) -> str:
    return phrase(
        "Hold a straightedge to {wall} from foot to top and read the widest gap.",
        wall=the_wall(side),
    )
