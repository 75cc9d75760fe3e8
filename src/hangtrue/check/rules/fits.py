"""The glass must go in on the day, not only on paper."""

from __future__ import annotations

import math
from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.check.wording import between, percent
from hangtrue.estimate import NORMAL, Estimate
from hangtrue.fit.enclosure import Enclosure, Joint, Margin, NoFit
from hangtrue.measure.opening import Linear
from hangtrue.phrase import join, phrase

SET = "Set this gap with care: it is a little tighter than the shop wants."


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
    return Finding(
        level=Level.FAIL,
        where="glass",
        found="It does not go in.",
        means=made.why,
        do=_more(case, made.missing),
        value=Estimate(-made.missing),
        limit=0.0,
        unit="mm",
        at_most=False,
        probability=0.0,
    )


def _more(case: Case, missing: float) -> str:
    if not missing:
        return "Choose other hardware, another layout, or another side for the hinges."
    return phrase(
        "Find {length} more for each of these: other hardware there, another layout, or the "
        "opening put right.",
        length=case.say(missing),
    )


def _fit(case: Case, made: Enclosure) -> Finding:
    margin, wanted = made.margin, case.limit("margin-sigmas-wanted")
    joint = next(j for j in made.joints if j.id == margin.joint)
    where = between(joint)
    sd = abs(margin.mm / margin.sigmas) if margin.sigmas else 0.0
    chance = NORMAL.cdf(margin.sigmas)
    level = _level(case, made, sd, chance)
    short = case.say(max(wanted.value * sd - margin.mm, 0.0))
    read = case.next_reading(phrase("Read the opening again {where}.", where=where))
    do = phrase(
        "To be sure it takes {length} more: hardware there with a wider range, or other glass.",
        length=short,
    )
    return Finding(
        level=level,
        where=where,
        found=phrase(
            "The tightest gap is {where}, {place}: {margin}.",
            where=where,
            place=_place(case, joint, margin),
            margin=_spare(case, margin),
        ),
        means=""
        if level is Level.PASS
        else phrase(
            "Set as planned, this gap by itself comes out right with a chance of {chance}. That is "
            "not the chance of a remake: panes may still be moved on site, and every other gap "
            "must be right too.",
            chance=percent(chance),
        ),
        do={
            Level.PASS: "",
            Level.NOTE: SET,
            Level.NOT_CHECKED: join(" ", (read, do)),
        }.get(level, do),
        value=Estimate(margin.mm, sd),
        limit=0.0,
        unit="mm",
        at_most=False,
        probability=chance,
        source=wanted.source,
    )


def _place(case: Case, joint: Joint, margin: Margin) -> str:
    at = case.size(margin.at)
    if joint.upright:
        return phrase("{height} up", height=at)
    return phrase("{distance} from the left", distance=at)


def _spare(case: Case, margin: Margin) -> str:
    length = case.say(abs(margin.mm))
    if margin.mm >= 0:
        return phrase("{length} to spare", length=length)
    return phrase("{length} too little", length=length)


def _level(case: Case, made: Enclosure, sd: float, chance: float) -> Level:
    """Judge the margin: good, met but less than wanted, missed, or undecided and by what."""
    if made.margin.sigmas >= case.limit("margin-sigmas-wanted").value:
        return Level.PASS
    if chance >= case.confidence:
        return Level.NOTE
    if chance <= 1 - case.confidence:
        return Level.FAIL
    return Level.NOT_CHECKED if _readings_decide(case, made, sd) else Level.WARN


def _readings_decide(case: Case, made: Enclosure, sd: float) -> bool:
    """Whether better readings could make sure of it: the margin is wide without their share."""
    margin = made.margin
    joint = next(j for j in made.joints if j.id == margin.joint)
    sds = (case.opening.estimate(place).sd for place in _faces(case, joint, margin))
    read = max(sds, default=0.0)
    rest = math.sqrt(max(sd**2 - read**2, 0.0))
    return NORMAL.cdf(margin.mm / rest) >= case.confidence if rest else margin.mm > 0.0


def _faces(case: Case, joint: Joint, margin: Margin) -> tuple[Linear, ...]:
    """What the opening puts beside the tightest gap: walls and corners, or what is below it."""
    opening = case.opening
    if not joint.upright and opening.corners:
        return (opening.curb(margin.at),)
    corners = (opening.corner(k) for k in range(1, opening.corners + 1))
    return (*(opening.wall(side, margin.at) for side in opening.walls), *corners)
