"""The glass must go in on the day, not only on paper."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.check.wording import listed
from hangtrue.estimate import NORMAL, Estimate
from hangtrue.fit.enclosure import Enclosure, Joint, NoFit


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
    clash = listed([c.requirement for c in made.clashes]) if made.clashes else made.why
    return Finding(
        level=Level.FAIL,
        where="glass",
        found=f"It does not go in: {clash} cannot be had together.",
        means=made.why,
        do=f"Find {case.say(made.missing)} more: other hardware there, another layout, or the "
        "opening put right.",
        value=Estimate(-made.missing),
        limit=0.0,
        unit="mm",
        at_most=False,
        probability=0.0,
    )


def _fit(case: Case, made: Enclosure) -> Finding:
    margin, wanted = made.margin, case.limit("margin-sigmas-wanted").value
    joint = next((j for j in made.joints if j.id == margin.joint), None)
    where = place(joint) if joint else "glass"
    along = "across" if joint and not joint.upright else "up"
    found = f"The tightest gap is {where}, {case.say(margin.at)} {along}: {case.say(margin.mm)} to spare."
    sure = margin.sigmas >= wanted
    hopeless = margin.sigmas <= -wanted
    level = Level.PASS if sure else Level.FAIL if hopeless else Level.NOT_CHECKED
    chance = NORMAL.cdf(margin.sigmas)
    means = "" if sure else f"The chance that this gap comes out right as planned is {chance:.0%}."
    narrow = case.next_reading(f"Read the opening again {where}.")
    more = f"For certainty it takes {case.say(_short(made, wanted))} more room there."
    return Finding(
        level=level,
        where=where,
        found=found,
        means=means,
        do="" if sure else more if hopeless else f"{narrow} {more}",
        value=Estimate(margin.mm, _sd(made)),
        limit=0.0,
        unit="mm",
        at_most=False,
        probability=chance,
    )


def place(joint: Joint) -> str:
    """Say where a joint is: `between the door and the left wall`."""
    return f"between the {joint.between[0]} and the {joint.between[1]}"


def _sd(made: Enclosure) -> float:
    """Standard deviation of the tightest gap, which its margin is counted in."""
    sigmas = made.margin.sigmas
    return abs(made.margin.mm / sigmas) if sigmas else 0.0


def _short(made: Enclosure, wanted: float) -> float:
    return max(wanted * _sd(made) - made.margin.mm, 0.0)
