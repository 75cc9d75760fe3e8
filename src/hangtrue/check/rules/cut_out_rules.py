"""Cut-outs in tempered glass need round inside corners and may not take too much of the pane."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check import glass
from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.check.wording import article
from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Lite, Notch
from hangtrue.phrase import phrase


@rule(
    id="cut-out-rules",
    title="Cut-outs are as tempering allows them",
    why="A crack starts in a sharp inside corner, in the furnace or years later; a cut-out that "
    "takes too much of a pane leaves it too weak.",
    source="c1048-practice",
    needs="cut glass",
)
def cut_out_rules(case: Case) -> Iterable[Finding]:
    """Judge the sharpest inside corner and the greatest cut-out of each pane, but for steps."""
    for pane in case.lites:
        cuts = tuple(notch for notch in pane.notches if notch.of != "step")
        if cuts:
            yield _radius(case, pane, min(cuts, key=lambda notch: notch.radius))
            yield _size(case, pane, cuts)
        else:
            yield Finding(
                level=Level.PASS,
                where=pane.id,
                found=phrase("There are no cut-outs in {pane}.", pane=pane.id),
            )


def _radius(case: Case, pane: Lite, notch: Notch) -> Finding:
    practice = case.brief.profile.hole_rules
    limit = glass.least(practice, "inside-radius", pane.thickness)
    good = notch.radius >= limit
    return Finding(
        level=Level.PASS if good else Level.WARN,
        where=pane.id,
        found=phrase(
            "The {fitting} cut-out has inside corners of radius {radius}; least is {least}.",
            fitting=case.fitting(notch.fitting),
            radius=case.say(notch.radius),
            least=case.say(limit),
        ),
        means="" if good else "A crack may start there.",
        do="" if good else _rounder(case, notch, limit),
        value=Estimate(notch.radius),
        limit=limit,
        unit="mm",
        at_most=False,
        source=glass.source_of(practice, "inside-radius"),
    )


def _rounder(case: Case, notch: Notch, limit: float) -> str:
    """Rounder corners, as what the cut-out is for allows them."""
    if notch.of == "projection":
        return phrase(
            "Have the notch made taller so that a radius of {radius} goes in, have {what} cut back "
            "instead, or have the plant say in writing that it tempers this cut-out.",
            radius=case.say(limit),
            what=article(notch.fitting),
        )
    return phrase(
        "Have them made {radius} if the fitting allows, or have the plant say in writing that it "
        "tempers this cut-out.",
        radius=case.say(limit),
    )


def _size(case: Case, pane: Lite, cuts: tuple[Notch, ...]) -> Finding:
    practice = case.brief.profile.hole_rules
    part = glass.share(practice, "cut-out-share")
    width, height = min(pane.width_bottom, pane.width_top), min(pane.height_left, pane.height_right)
    taken, notch = max(
        ((max(w / width, h / height), n) for n in cuts for w, h in (glass.extent(n),)),
        key=lambda row: row[0],
    )
    good = taken <= part
    return Finding(
        level=Level.PASS if good else Level.FAIL,
        where=pane.id,
        found=phrase(
            "The {fitting} cut-out takes {taken:.0%} of the pane's width or height; most is "
            "{most:.0%}.",
            fitting=case.fitting(notch.fitting),
            taken=taken,
            most=part,
        ),
        means="" if good else "The glass left beside it would be too weak.",
        do="" if good else "Make the pane larger or the cut-out smaller.",
        value=Estimate(taken),
        limit=part,
        source=glass.source_of(practice, "cut-out-share"),
    )
