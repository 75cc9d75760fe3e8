"""The odds in the plan document: chance of a remake, what drives it, cures, and what to read."""

from __future__ import annotations

import math
from typing import Literal

from pydantic import Field

from hangtrue.estimate import Estimate
from hangtrue.odds.next_reading import Advice, Worth
from hangtrue.odds.odds import Odds
from hangtrue.paper.opening_model import Known, Part
from hangtrue.plan import Plan


class JointOddsPart(Part):
    """What is to come of one joint."""

    joint: str = Field(description="Id of the joint; or which corner has to come flush")
    fails: float = Field(
        ge=0, le=1, description="Chance that the glass does not go in because of it"
    )
    at: float = Field(description="Where it fails most often, mm along the joint")
    worst: float = Field(description="Expected gap where it will be furthest from usual, mm")
    band: tuple[float, float] = Field(
        description="5 % of the least and 95 % of the greatest gap seen, mm"
    )


class CurePart(Part):
    """Something that may still be done on site."""

    words: str = Field(description="What is done")
    remake: Known = Field(description="Chance of a remake that is left then; sd from drawing")


class DriverPart(Part):
    """One source of the risk."""

    name: str = Field(description="What is not known")
    origin: Literal["survey", "plant", "setting"] = Field(description="Where it comes from")
    share: float = Field(ge=0, le=1, description="Share of the risk; all of them add up to 1")
    reading: str = Field(description="Id of the reading, if it is one; else empty")


class ReadingWorthPart(Part):
    """A reading that could be taken next."""

    words: str = Field(description="What to do")
    minutes: float = Field(description="Time that it takes")
    remains: float = Field(
        ge=0,
        le=1,
        description="Chance of a remake once it is read and the glass sized anew; of a boxed set, "
        "that it is taken all the same and does not go in",
    )
    leaves: float = Field(ge=0, le=1, description="Chance that it tells to leave a boxed set")
    separates: float = Field(
        description="How far apart the two likeliest suspects put it, in standard deviations; 0 "
        "without suspects"
    )
    gain: float | None = Field(
        description="What it saves on average less what it costs, in the shop's money; null "
        "without prices"
    )


class WhetherPart(Part):
    """Whether to read once more at all."""

    sentence: str = Field(description="All of it in words")
    reading: str = Field(description="What to read; empty where nothing helps")
    without: float | None = Field(
        description="Expected cost of remakes if the glass is ordered now; null without prices"
    )
    there: float | None = Field(
        description="Expected cost of remakes and time if it is read first, while still there; "
        "null without prices or a reading"
    )
    back: float | None = Field(description="The same if somebody has to go there once more")
    hours: float | None = Field(
        description="Hours of one person that a remake must cost for it to pay while still there; "
        "null where nothing is saved"
    )
    visits: float | None = Field(
        description="Visits that a remake must cost for it to pay to go back; null where nothing "
        "is saved"
    )
    perfect: float = Field(
        ge=0, le=1, description="Chance of a remake if the opening were known exactly"
    )


class OddsPart(Part):
    """The chance that the glass has to be made again."""

    remake: Known = Field(description="Chance of a remake; sd is the error from drawing")
    draws: int = Field(ge=1, description="How many draws")
    seed: int = Field(description="Where the draws come from")
    weighted: bool = Field(description="Drawn where failing is likely, because it is rare")
    cost: float | None = Field(
        description="Expected cost of a remake in the shop's money; null without prices"
    )
    joints: tuple[JointOddsPart, ...] = Field(description="Joint by joint; their chances add up")
    cures: tuple[CurePart, ...] = Field(description="What may still be done on site")
    drivers: tuple[DriverPart, ...] = Field(description="What drives the risk, largest first")
    advice: str = Field(description="What to read next, in a sentence")
    readings: tuple[ReadingWorthPart, ...] = Field(description="What could be read, best first")
    whether: WhetherPart | None = Field(description="Whether to read once more at all")
    assumed: str = Field(description="What was taken for granted of the plant; or empty")


def odds_part(plan: Plan) -> OddsPart | None:
    """Return the odds of a plan as they stand in its document; None before it is proved."""
    odds, advice = plan.odds, plan.advice
    if odds is None:
        return None
    return OddsPart(
        remake=_known(odds.remake),
        draws=odds.draws,
        seed=odds.seed,
        weighted=odds.weighted,
        cost=odds.cost,
        joints=_joints(odds),
        cures=tuple(CurePart(words=c.words, remake=_known(c.remake)) for c in plan.cures),
        drivers=_drivers(advice) if advice else (),
        advice=advice.sentence if advice else "",
        readings=tuple(map(_reading, advice.readings)) if advice else (),
        whether=_whether(advice) if advice else None,
        assumed=advice.assumed if advice else "",
    )


def _known(estimate: Estimate) -> Known:
    return Known(value=estimate.value, sd=estimate.sd)


def _joints(odds: Odds) -> tuple[JointOddsPart, ...]:
    return tuple(
        JointOddsPart(joint=j.joint, fails=j.fails, at=j.at, worst=j.worst, band=j.band)
        for j in odds.joints
    )


def _drivers(advice: Advice) -> tuple[DriverPart, ...]:
    return tuple(
        DriverPart(name=d.name, origin=d.origin, share=d.share, reading=d.reading)
        for d in advice.drivers
    )


def _reading(worth: Worth) -> ReadingWorthPart:
    return ReadingWorthPart(
        words=worth.words,
        minutes=worth.minutes,
        remains=worth.remains,
        leaves=worth.leaves,
        separates=worth.separates,
        gain=worth.gain,
    )


def _whether(advice: Advice) -> WhetherPart:
    found = advice.whether
    return WhetherPart(
        sentence=found.sentence,
        reading=found.reading,
        without=found.without,
        there=found.there,
        back=found.back,
        hours=found.hours if math.isfinite(found.hours) else None,
        visits=found.visits if math.isfinite(found.visits) else None,
        perfect=found.perfect,
    )
