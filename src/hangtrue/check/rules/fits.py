"""The glass must go in on the day, not only on paper."""

from __future__ import annotations

import math
from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.check.wording import between, listed
from hangtrue.estimate import NORMAL, Estimate
from hangtrue.fit.enclosure import Enclosure, NoFit


@rule(
    id="fits",
    title="The glass goes in with room to spare",
    why="Every gap has a range that its hardware works in. The tightest one decides, counted "
    "against how well the opening is known and how well glass is cut and set.",
    source="own",
)
def fits(case: Case) -> Iterable[Finding]:
    """Judge the least margin, or say what clashes and by how much."""
    made = case.alternative.made
    yield _no_fit(case, made) if isinstance(made, NoFit) else _fit(case, made)


def _no_fit(case: Case, made: NoFit) -> Finding:
    clash = listed([c.requirement for c in made.clashes])
    return Finding(
        level=Level.FAIL,
        where="glass",
        found=f"It does not go in. These cannot be had together: {clash}." if clash else made.why,
        means=made.why if clash else "",
        do=f"Find {case.say(made.missing)} more: other hardware there, another layout, or the "
        "opening put right.",
        value=Estimate(-made.missing),
        limit=0.0,
        unit="mm",
        at_most=False,
        probability=0.0,
    )


def _fit(case: Case, made: Enclosure) -> Finding:
    margin, wanted = made.margin, case.limit("margin-sigmas-wanted")
    joint = next(j for j in made.joints if j.id == margin.joint)
    where, along = between(joint), "up" if joint.upright else "from the left"
    sd = abs(margin.mm / margin.sigmas) if margin.sigmas else 0.0
    spare = case.say(abs(margin.mm))
    level, chance = Level.PASS, NORMAL.cdf(margin.sigmas)
    means = do = ""
    if margin.sigmas < wanted.value:
        short = case.say(wanted.value * sd - margin.mm)
        means = f"The chance that this gap comes out right as planned is {chance:.0%}."
        do = f"To be sure it takes {short} more: hardware there with a wider range, or other glass."
        level = Level.FAIL if margin.sigmas <= -wanted.value else Level.WARN
        if _readings_decide(case, margin.mm, sd, margin.at):
            level = Level.NOT_CHECKED
            do = f"{case.next_reading(f'Read the opening again {where}.')} {do}"
    return Finding(
        level=level,
        where=where,
        found=f"The tightest gap is {where}, {case.size(margin.at)} {along}: {spare} "
        f"{'to spare' if margin.mm >= 0 else 'too little'}.",
        means=means,
        do=do,
        value=Estimate(margin.mm, sd),
        limit=0.0,
        unit="mm",
        at_most=False,
        probability=chance,
        source=wanted.source,
    )


def _readings_decide(case: Case, margin: float, sd: float, height: float) -> bool:
    """Whether better readings could make sure of it: the margin is wide without their share."""
    walls = case.opening.walls
    read = max((case.opening.estimate(case.opening.wall(w, height)).sd for w in walls), default=0.0)
    rest = math.sqrt(max(sd**2 - read**2, 0.0))
    return margin >= case.limit("margin-sigmas-wanted").value * rest
