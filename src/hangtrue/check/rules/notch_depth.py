"""A notch for a step may not take too much of its pane."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check import glass
from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.notch import taken
from hangtrue.check.rule import rule
from hangtrue.check.wording import article
from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Lite, Notch
from hangtrue.phrase import phrase


@rule(
    id="notch-depth",
    title="No notch for a step is too deep",
    why="A pane that steps down over a knee wall or a bench is weakest where it is notched. The "
    "deeper the notch, the more panes break in tempering, in handling, or later.",
    source="c1048-practice",
    needs="cut glass",
)
def notch_depth(case: Case) -> Iterable[Finding]:
    """Compare the deepest notch of each stepped pane with the practice and the shop's limit."""
    stepped = [pane for pane in case.lites if pane.steps]
    if not stepped:
        yield Finding(level=Level.PASS, where="glass", found="No pane is notched over a step.")
    for pane in stepped:
        yield _pane(case, pane, max(pane.steps, key=lambda notch: taken(pane, notch)))


def _pane(case: Case, pane: Lite, notch: Notch) -> Finding:
    practice, part = case.brief.profile.hole_rules, taken(pane, notch)
    usual = glass.share(practice, "cut-out-share")
    origin = glass.source_of(practice, "cut-out-share")
    shop = case.limit("notch-depth-share-most")
    over = part > usual, part > shop.value
    standard = origin != "practice"
    level = Level.PASS
    if any(over):
        level = Level.FAIL if over[1] or standard else Level.WARN
    limit, source = (shop.value, shop.source) if over[1] and not over[0] else (usual, origin)
    return Finding(
        level=level,
        where=pane.id,
        found=phrase(
            "The notch over {step} takes {part:.0%} of the width or height of {pane}; usual is up "
            "to {most:.0%}.",
            step=article(notch.fitting),
            part=part,
            pane=article(pane.id),
            most=limit,
        ),
        means="" if level is Level.PASS else "Not every plant tempers so deep a notch.",
        do="" if level is Level.PASS else _cure(case, pane, notch),
        value=Estimate(part),
        limit=limit,
        source=source,
    )


def _cure(case: Case, pane: Lite, notch: Notch) -> str:
    """Two panes with a joint above the riser where both are wide enough, else less of a step."""
    over, step = glass.extent(notch)[0], article(notch.fitting)
    beside, least = pane.width_bottom - over, case.limit("fixed-width-least").value
    if pane.kind == "fixed" and min(over, beside) >= least:
        return phrase(
            "Make two panes with a joint above the edge of {step}: {over} wide over it, {beside} "
            "beside it; or have the plant say in writing that it tempers this notch.",
            step=step,
            over=case.say(over),
            beside=case.say(beside),
        )
    return phrase(
        "Have {step} cut back by {over} so that no notch is needed, or have the plant say in "
        "writing that it tempers this notch. Two panes do not help: one would be {narrow} wide.",
        step=step,
        over=case.say(over),
        narrow=case.say(min(over, beside)),
    )
