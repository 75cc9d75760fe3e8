"""A pane that carries a door gives way under it, and the door drops as it opens."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.hung import Hung
from hangtrue.check.proof import hung_door
from hangtrue.check.proof.bending import opened
from hangtrue.check.proof.covered import covered
from hangtrue.check.proof.held_pane import HeldPane, held_pane
from hangtrue.check.rule import rule
from hangtrue.check.wording import article
from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Lite
from hangtrue.geometry import at_height
from hangtrue.mechanics.plate_model import PlateFault
from hangtrue.mechanics.ranges import OutOfRange
from hangtrue.phrase import phrase

OFF_EDGE = 25.0
"""mm from the edge at which a glass hinge grips the pane that carries it, beyond its cut-out."""


@rule(
    id="carrier-sag",
    title="A pane that carries a door holds it up",
    why="Opened square, a door pulls the pane it hangs on out of its plane at the upper hinge and "
    "pushes it in at the lower. As the pane gives way, the free corner of the door drops.",
    source="own",
    needs="door",
)
@covered
def carrier_sag(case: Case) -> Iterable[Finding]:
    """Compute how far the free corner of each door on glass hinges drops when it stands open."""
    on_glass = [hung for hung in case.hung if hung.carrier is not None]
    if not on_glass:
        yield Finding(level=Level.PASS, where="enclosure", found="No door hangs on glass here.")
    for hung in on_glass:
        if hung.carrier is not None:
            yield _door(case, hung, hung.carrier)


def _door(case: Case, hung: Hung, carrier: Lite) -> Finding:
    limit = case.limit("gap-even-within")
    try:
        held = held_pane(case, carrier)
        low, high = sorted(abs(_drop(hung, carrier, held, end)) for end in _ends(held))
    except (PlateFault, OutOfRange) as error:
        return Finding(
            level=Level.NOT_CHECKED,
            where=hung.id,
            found=phrase(
                "How far {door} drops on {pane} is not known: {why}.",
                door=hung.called,
                pane=article(carrier.id),
                why=error.words,
            ),
            do="What holds the pane that carries the door, at its top and at its sides?",
        )
    level = Level.PASS if high <= limit.value else Level.NOT_CHECKED
    return Finding(
        level=Level.WARN if low > limit.value else level,
        where=hung.id,
        found=phrase(
            "Opened square, {door} drops {low} to {high} at its free corner as {pane} gives way; "
            "more than {limit} is seen.",
            door=hung.called,
            low=case.say(low),
            high=case.say(high),
            pane=article(carrier.id),
            limit=case.say(limit.value),
        ),
        means="" if level is Level.PASS else "It depends on how firmly its channels grip it.",
        do=""
        if level is Level.PASS
        else phrase(
            "Hold the top of {pane} by a header, or hang {door} on a wall.",
            pane=article(carrier.id),
            door=hung.called,
        ),
        value=Estimate(high),
        limit=limit.value,
        unit="mm",
        source=limit.source,
    )


def _ends(held: HeldPane) -> tuple[str, str]:
    return held.brackets[0], held.brackets[-1]


def _drop(hung: Hung, carrier: Lite, held: HeldPane, bracket: str) -> float:
    """Drop of the free corner, mm, with the carrier's channels taken one way."""
    leaf = hung_door.leaf(hung)
    door = hung.glass
    at_left = hung.side == "right"  # the door's right edge is at the carrier's left one
    low, high = (carrier.corners[0], carrier.corners[3]) if at_left else carrier.corners[1:3]
    heights = tuple(plate - carrier.origin[1] for plate in hung.plates)
    cut = max((float(c.width) for c in hung.hinge.other_cut_outs), default=0.0) + OFF_EDGE
    x = at_height(low, high, sum(heights) / len(heights)) + (cut if at_left else -cut)
    pull = leaf.weight_N * leaf.centre / leaf.spacing
    slope = opened(held, bracket, x, heights, pull).slope
    return slope * max(door.width_bottom, door.width_top)
