"""Whether to read once more at all: what is expected to be spent with and without it."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from scipy import special

from hangtrue.job.profile import Prices
from hangtrue.measure.opening import Matrix, Vector
from hangtrue.odds.wording import said_amount, said_chance
from hangtrue.phrase import join, phrase
from hangtrue.source import cites

NOTHING = 1e-7
"""Chances that are less than this apart are alike."""

HALF = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Whether:
    """Whether to read once more: expected cost with and without, or what would have to cost what.

    Attributes
    ----------
    reading
        What to read; empty where nothing helps.
    without
        Expected cost of remakes if the glass is ordered now; None without prices.
    there, back
        Expected cost of remakes and time if it is read first, while still there, or going there
        once more; None without prices or without a reading.
    hours
        Hours of one person that a remake must cost for the reading to pay while still there.
    visits
        Visits that a remake must cost for it to pay to go back; infinite where nothing is saved.
    perfect
        Chance of a remake if the opening were known exactly: no reading does better.
    sentence
        All of it for people.

    """

    reading: str
    without: float | None
    there: float | None
    back: float | None
    hours: float
    visits: float
    perfect: float
    sentence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Reread:
    """A reading that is worth a thought: its words, minutes, and the share of remakes it saves."""

    words: str
    minutes: float
    saved: float


def whether(now: float, best: Reread | None, most: float, prices: Prices | None) -> Whether:
    """Weigh one more reading against ordering now.

    Parameters
    ----------
    now
        Chance of a remake if the glass is ordered now.
    best
        The reading that is left to consider; None where none helps.
    most
        What could be saved of that chance if the opening were known exactly.

    """
    saved = most if best is None else best.saved
    perfect = max(now - most, 0.0)
    hours = best.minutes / 60.0 / saved if best and saved > NOTHING else math.inf
    without = there = back = None
    if prices is not None:
        without = now * prices.remake
        if best is not None:
            there = (now - best.saved) * prices.remake + best.minutes / 60.0 * prices.hour
            back = there + prices.visit
    return Whether(
        reading="" if best is None else best.words,
        without=without,
        there=there,
        back=back,
        hours=hours,
        visits=1.0 / saved if saved > NOTHING else math.inf,
        perfect=perfect,
        sentence=_sentence(now, best, perfect, saved, prices),
    )


@cites("raiffa-schlaifer-1961", "preposterior analysis, expected value of sample information")
def saved_by_telling(costs: Matrix) -> float:
    """Expected saving if one is told which case it is before one chooses what to do.

    Parameters
    ----------
    costs
        (a, n): what each of a things to do costs in each of n cases that are equally likely.

    Examples
    --------
    >>> saved_by_telling(np.array([[0.0, 4.0], [3.0, 3.0]]))
    0.5

    """
    return float(costs.mean(axis=1).min() - costs.min(axis=0).mean())


def equally_likely(count: int) -> Vector:
    """Middles (n,) of n slices of a standard normal variable, each as likely as the next."""
    middles: Vector = special.ndtri((np.arange(count) + HALF) / count)
    return middles


# ------------------------------------------------------------------------------ in words


def _sentence(
    now: float, best: Reread | None, perfect: float, saved: float, prices: Prices | None
) -> str:
    if best is None:
        return _nothing_helps(now, perfect, saved, prices)
    if saved <= NOTHING:
        return phrase("It changes nothing about the remake; it only tells which reading is wrong.")
    return _break_even(best, saved) if prices is None else _in_money(now, best, prices)


def _nothing_helps(now: float, perfect: float, saved: float, prices: Prices | None) -> str:
    if saved <= NOTHING:
        return phrase("Even an opening known exactly would change nothing: no reading pays.")
    before, after = said_chance(now), said_chance(perfect)
    known = phrase("Even an opening known exactly would leave {after}", after=after)
    if before != after:
        known = phrase("{known} instead of {before}", known=known, before=before)
    if prices is not None:
        amount = said_amount(saved * prices.remake, prices.money)
        return phrase(
            "{known}, and save {amount} on average: no reading that costs more than that pays.",
            known=known,
            amount=amount,
        )
    return phrase(
        "{known}: going back to read more pays only if a remake costs more than {visits} visits.",
        known=known,
        visits=_times(1.0 / saved),
    )


def _break_even(best: Reread, saved: float) -> str:
    return phrase(
        "While you are there it is worth its {minutes:g} minutes if a remake costs more than "
        "{hours} hours of one person's time; going back for it pays if a remake costs more than "
        "{visits} visits.",
        minutes=best.minutes,
        hours=_times(best.minutes / 60.0 / saved),
        visits=_times(1.0 / saved),
    )


def _in_money(now: float, best: Reread, prices: Prices) -> str:
    """Say both expected costs, and whether it pays there, and to go back for it."""
    time, money = best.minutes / 60.0 * prices.hour, prices.money
    gain = best.saved * prices.remake - time
    costs = phrase(
        "Ordering now is expected to cost {now} in remakes; reading first, {then} in remakes and "
        "{time} of time",
        now=said_amount(now * prices.remake, money),
        then=said_amount((now - best.saved) * prices.remake, money),
        time=said_amount(time, money),
    )
    if gain <= 0.0:
        return join(": ", (costs, phrase("do not read again.")))
    paid = phrase("read it, it saves {gain}.", gain=said_amount(gain, money))
    return join(" ", (join(": ", (costs, paid)), _going_back(gain, prices)))


def _going_back(gain: float, prices: Prices) -> str:
    if prices.visit <= 0.0:
        limit = said_amount(gain, prices.money)
        return phrase("Going back for it pays if a visit costs less than {limit}.", limit=limit)
    visit = said_amount(prices.visit, prices.money)
    if gain > prices.visit:
        return phrase("Going back for it pays too, at {visit} a visit.", visit=visit)
    return phrase("Going back for it does not pay, at {visit} a visit.", visit=visit)


def _times(number: float) -> str:
    """Write how many times something must go into another, to two figures."""
    if number < 10.0:  # noqa: PLR2004 - below ten the tenths count
        return f"{number:.1f}"
    size: int = 10 ** max(len(str(int(number))) - 2, 0)
    return f"{math.ceil(number / size) * size:,}"
