"""A wall with fixed glass may lean and bow no more than its channel hides."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check import decide
from hangtrue.check.case import Case
from hangtrue.check.decide import Missed
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.check.wording import into, sentence, the_wall
from hangtrue.estimate import Estimate
from hangtrue.job.hardware import Channel
from hangtrue.job.readings import Side
from hangtrue.phrase import phrase


@rule(
    id="fixed-wall-in-channel",
    title="The channel takes up the wall of the fixed glass",
    why="Fixed glass stands plumb in its channel while the wall leans. The channel hides the "
    "difference up to a point; drawn out further, the glass has no hold.",
    needs="fixed glass",
)
def fixed_wall_in_channel(case: Case) -> Iterable[Finding]:
    """Judge the lean of each wall with fixed glass, and how far the glass is drawn out."""
    if not case.fixed_walls:
        yield Finding(level=Level.PASS, where="glass", found="No fixed glass meets a wall.")
    for side in case.fixed_walls:
        yield _lean(case, side)
        fitting = case.wall_fitting
        if isinstance(fitting, Channel):
            yield _drawn_out(case, side, fitting)


def _lean(case: Case, side: Side) -> Finding:
    limit = case.limit("fixed-wall-lean-most")
    lean = case.lean(side)
    too_much = case.say(max(abs(lean.value) - limit.value, 0.0))
    return decide.finding(
        decide.magnitude(lean, limit.value, case.confidence),
        where=f"{side} wall",
        found=phrase(
            "{wall} leans {lean} {way} over {height}; a fixed pane bears {most}.",
            wall=sentence(the_wall(side)),
            lean=case.give(lean.size()),
            way=into(lean.value),
            height=case.say(case.rise(side)),
            most=case.say(limit.value),
        ),
        missed=Missed(
            level=Level.FAIL,
            means="No channel hides that much, and a raked edge would show.",
            do=phrase("Have the wall put right by at least {length}.", length=too_much),
        ),
        ask=phrase(
            "Read the lean of {wall} again over the height of the glass.", wall=the_wall(side)
        ),
        source=limit.source,
    )


def _drawn_out(case: Case, side: Side, channel: Channel) -> Finding:
    """Judge the most that the glass is planned to stand off the channel's floor, up the wall.

    Whether it comes out as planned is a matter of the gaps, and of the rule that it fits.
    """
    limit = case.limit("fixed-pane-drawn-out-most")
    pane = case.at_wall(side)
    worst = max(case.gaps(pane.id, f"{side} wall"), key=lambda gap: gap.predicted.value)
    out = worst.predicted.value - channel.base
    good = out <= limit.value
    wider = phrase("Make the pane {length} wider there.", length=case.say(out - limit.value))
    return Finding(
        level=Level.PASS if good else Level.FAIL,
        where=f"{side} wall",
        found=phrase(
            "At {height} up the glass is to stand {out} off the floor of its channel; no pane is "
            "drawn out more than {most}.",
            height=case.size(worst.at),
            out=case.say(out),
            most=case.say(limit.value),
        ),
        means="" if good else "Its edge would show, or leave the channel.",
        do="" if good else "Take another set." if case.boxed else wider,
        value=Estimate(out),
        limit=limit.value,
        unit="mm",
        source=limit.source,
    )
