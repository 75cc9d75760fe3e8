"""The inside corner of a notch is round, and clears the square corner of the step in it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from hangtrue.check import glass
from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.notch import corner_clearance, eased
from hangtrue.check.rule import rule
from hangtrue.check.wording import article
from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Lite, Notch
from hangtrue.phrase import phrase


@rule(
    id="notch-radius",
    title="The inside corners of a notch are round, and clear the step",
    why="A crack starts in a sharp inside corner, so it is cut round; but a round corner of glass "
    "stands into the room that the square corner of the step needs.",
    source="c1048-practice",
    needs="cut glass",
)
def notch_radius(case: Case) -> Iterable[Finding]:
    """Judge the sharpest inside corner of each stepped pane, and its distance from the step."""
    stepped = [pane for pane in case.lites if pane.steps]
    if not stepped:
        yield Finding(level=Level.PASS, where="glass", found="No pane is notched over a step.")
    for pane in stepped:
        yield _radius(case, pane, min(pane.steps, key=lambda notch: notch.radius))
        yield from _clear(case, pane)


def _radius(case: Case, pane: Lite, notch: Notch) -> Finding:
    practice, shop = case.brief.profile.hole_rules, case.limit("notch-radius-least")
    asked = glass.least(practice, "inside-radius", pane.thickness)
    limit, source = max(
        (asked, glass.source_of(practice, "inside-radius")), (shop.value, shop.source)
    )
    good = notch.radius >= limit
    return Finding(
        level=Level.PASS if good else Level.FAIL,
        where=pane.id,
        found=phrase(
            "The notch over {step} has an inside radius of {radius}; least is {least}.",
            step=article(notch.fitting),
            radius=case.say(notch.radius),
            least=case.say(limit),
        ),
        means="" if good else "A crack may start there.",
        do="" if good else phrase("Have the inside corner made {radius}.", radius=case.say(limit)),
        value=Estimate(notch.radius),
        limit=limit,
        unit="mm",
        at_most=False,
        source=source,
    )


def _clear(case: Case, pane: Lite) -> Iterator[Finding]:
    """Compare the round corner of the glass with the corner of each step, where both gaps are."""
    limit = case.limit("glass-clear-least")
    for notch in pane.steps:
        joints = list(case.joints(pane.id, notch.fitting))
        beside = [g.predicted.value for j in joints if j.upright for g in j.gaps]
        above = [g.predicted.value for j in joints if not j.upright for g in j.gaps]
        if not beside or not above:
            continue
        clear = corner_clearance(min(beside), min(above), notch.radius)
        good = clear >= limit.value
        ease = case.say(eased(limit.value - clear)) if not good else ""
        yield Finding(
            level=Level.PASS if good else Level.WARN,
            where=pane.id,
            found=phrase(
                "The round inside corner of {pane} comes within {clear} of the corner of {step}; "
                "it needs {least}.",
                pane=article(pane.id),
                clear=case.say(max(clear, 0.0)),
                step=article(notch.fitting),
                least=case.say(limit.value),
            ),
            means="" if good else "Glass that touches a corner of tile can burst.",
            do=""
            if good
            else phrase(
                "Have that corner rounded, radius {radius}, before the glass comes.", radius=ease
            ),
            value=Estimate(clear),
            limit=limit.value,
            unit="mm",
            at_most=False,
            source=limit.source,
        )
