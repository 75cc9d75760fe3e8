"""What to read next in a sentence, and what was taken for granted of the plant."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from hangtrue.fit.enclosure import Enclosure
from hangtrue.job.brief import Brief
from hangtrue.odds.drivers import Driver, by_origin
from hangtrue.odds.errors import Origin, squareness_of, squareness_sd
from hangtrue.odds.wording import raised, said_amount, said_chance, written_small
from hangtrue.phrase import join, phrase
from hangtrue.tables import table

MATTERS = 0.05
"""Share of the risk from which on it is said what was taken for granted."""

DECIDES: dict[Origin, str] = {
    "plant": "the plant's tolerance decides; take hardware with more range",
    "survey": "how walls bow where nobody reads decides; take hardware with more range",
    "setting": "how the hardware is set decides; take hardware with more range or more packing",
}
BOXED: dict[Origin, str] = {
    "survey": "how walls bow where nobody reads decides; take a set with more range",
    "plant": "how well the set is made decides; take one with more range, or glass made to measure",
    "setting": "how the set is put up decides; take a set with more range",
}


class Weighed(Protocol):
    """A reading and what it would do; see `Worth`."""

    @property
    def words(self) -> str:
        """What to do."""

    @property
    def remains(self) -> float:
        """Chance of a remake then."""

    @property
    def minutes(self) -> float:
        """Time that it takes."""

    @property
    def separates(self) -> float:
        """How far apart two suspects put it."""

    @property
    def gain(self) -> float | None:
        """What it saves in money."""

    @property
    def leaves(self) -> float:
        """Chance that it tells to leave a boxed set."""


def advice_sentence(
    brief: Brief,
    made: Enclosure,
    now: float,
    best: Sequence[Weighed],
    shares: tuple[Driver, ...],
    closer: float,
) -> str:
    """Say what to read next with its minutes and what it changes, or why nothing helps.

    Parameters
    ----------
    closer
        Chance of a remake if the plant were half as far off.

    """
    if best:
        return _of_reading(brief, now, best[0])
    if now < float(table("odds")["next"]["worth"]):
        return phrase(
            "Nothing more needs to be read: the chance of a remake is {chance}.",
            chance=said_chance(now),
        )
    boxed = made.choice.cut == "boxed"
    origin = max(by_origin(shares).items(), key=lambda item: item[1])[0] if shares else "survey"
    why = (BOXED if boxed else DECIDES)[origin]
    if origin == "plant" and not boxed:
        why = phrase(
            "the plant's tolerance decides. A class half as wide would leave {closer}; order that, "
            "or take hardware with more range, such as a channel",
            closer=said_chance(closer),
        )
    return phrase(
        "Nothing you can read helps much against {chance}: {why}.", chance=said_chance(now), why=why
    )


def _of_reading(brief: Brief, now: float, first: Weighed) -> str:
    reading = raised(first.words)
    if first.separates >= float(table("odds")["next"]["separates"]):
        return phrase(
            "{reading} ({minutes:g} minutes): it tells which of the two suspected readings is "
            "wrong.",
            reading=reading,
            minutes=first.minutes,
        )
    if first.gain is not None and first.gain < 0.0:
        money = brief.profile.prices.money if brief.profile.prices else ""
        return phrase(
            "Nothing you can read pays. The best of it: {reading} ({minutes:g} minutes); {now} "
            "becomes {then}, and on average that costs {amount} more than it saves.",
            reading=first.words,
            minutes=first.minutes,
            then=said_chance(first.remains),
            now=said_chance(now),
            amount=said_amount(-first.gain, money),
        )
    words = phrase(
        "{reading} ({minutes:g} minutes): {now} becomes {then}",
        reading=reading,
        minutes=first.minutes,
        now=said_chance(now),
        then=said_chance(first.remains),
    )
    parts = (words, *_leaving(first), *_money(brief, first))
    return phrase("{all}.", all=join("; ", parts))


def _leaving(first: Weighed) -> tuple[str, ...]:
    if first.leaves <= 0.0:
        return ()
    chance = said_chance(first.leaves)
    return (phrase("in {chance} of cases it tells to leave the set", chance=chance),)


def _money(brief: Brief, first: Weighed) -> tuple[str, ...]:
    prices = brief.profile.prices
    if prices is None or first.gain is None:
        return ()
    amount = said_amount(first.gain, prices.money)
    return (phrase("on average that saves {amount}", amount=amount),)


def assumed(brief: Brief, made: Enclosure, shares: tuple[Driver, ...]) -> str:
    """Say how squareness was counted where it matters and the plant states nothing."""
    plant, names = brief.profile.plant, {squareness_of(pane.id) for pane in made.lites}
    share = sum(d.share for d in shares if d.name in names)
    if plant.diagonals is not None or share < MATTERS or made.choice.cut == "boxed":
        return ""
    return phrase(
        "How square the plant cuts is not in the shop's profile (“plant.diagonals”): it is taken "
        "to share the size tolerance, {amount} either way over the height of a pane.",
        amount=written_small(2 * squareness_sd(plant, made.lites[0]), brief.job.unit),
    )
