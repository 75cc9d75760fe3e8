"""Which reading to take next: by the risk that would remain, and by what it would tell apart."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from hangtrue.fit.enclosure import Enclosure
from hangtrue.job.brief import Brief
from hangtrue.measure.opening import Matrix, Opening, Vector
from hangtrue.measure.suspects import Others, without_each
from hangtrue.odds.candidates import Candidate, candidates
from hangtrue.odds.drawing import each, noise, stretches
from hangtrue.odds.drivers import Driver, Readings, by_origin, drivers, readings_of
from hangtrue.odds.margins import margin, system
from hangtrue.odds.model import Model, model
from hangtrue.odds.odds import Odds, odds_of, risk, where_rare
from hangtrue.odds.wording import said_chance
from hangtrue.source import cites
from hangtrue.tables import table

LIKELIEST = 200
"""Ways to fail by which readings are chosen for a closer look."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Worth:
    """One reading that could be taken, and what it would do.

    Attributes
    ----------
    words
        What to do, to the person in the room.
    remains
        Chance of a remake once it is read and the glass is sized anew.
    minutes
        Time that it takes.
    separates
        How far apart the two likeliest suspects put it, in standard deviations; 0 without suspects.
    gain
        What it saves on average less what it costs, in the shop's money; None without prices.

    """

    words: str
    remains: float
    minutes: float
    separates: float
    gain: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Advice:
    """What drives the risk, what to read next, and what it would change.

    Attributes
    ----------
    remake
        Chance of a remake as things stand.
    drivers
        Shares of the risk, largest first.
    readings
        Best first; only those that are worth their minutes or tell suspects apart.
    sentence
        The advice in one sentence.
    prices
        What was missing to count in money; empty where it was counted.

    """

    remake: float
    drivers: tuple[Driver, ...]
    readings: tuple[Worth, ...]
    sentence: str
    prices: str


def advise(brief: Brief, opening: Opening, made: Enclosure, found: Odds) -> Advice:
    """Rank every reading that could be taken next.

    A reading makes the opening better known and so lets the glass be sized closer: what remains is
    the risk at the same planned gaps with less scatter, whatever the reading will say.
    """
    of = model(brief, opening, made)
    shares = drivers(brief, opening, of, found)
    apart = readings_of(brief, opening)
    # Weighed against the same few draws, so that what is compared differs by the reading alone.
    now = remaining(of, brief.job.seed)
    scale = found.remake.value / now if now > 0.0 else 1.0
    two = _suspects(opening, apart)
    every = [
        _worth(brief, c, _after(of, apart, c, brief.job.seed) * scale, found, _told(c, apart, two))
        for c in (_promising(of, apart, found, two) if apart else ())
        if apart
    ]
    least, separates = (float(table("odds")["next"][key]) for key in ("worth", "separates"))
    useful = [
        w for w in every
        if found.remake.value - w.remains >= least or w.separates >= separates
    ]  # fmt: skip
    useful.sort(key=lambda w: (w.separates < separates, w.remains, w.minutes, w.words))
    # Of one reading by several instruments, the best.
    once = {_reading(w): w for w in reversed(useful)}
    best = tuple(list(reversed(once.values()))[: int(table("odds")["next"]["most"])])
    return Advice(
        remake=found.remake.value,
        drivers=shares,
        readings=best,
        sentence=_sentence(brief, found.remake.value, best, shares),
        prices="" if brief.profile.prices else NO_PRICES,
    )


NO_PRICES = (
    "What a remake and an hour on site cost is not in the shop's profile (table `prices`), "
    "so nothing is counted in money."
)


def _promising(
    of: Model, apart: Readings, found: Odds, two: tuple[Others, Others] | None
) -> tuple[Candidate, ...]:
    """Leave out readings that can hardly matter, before any is tried on draws.

    A reading counts by the share of the room's variance that it takes away, way to fail by way to
    fail. Of one reading by several instruments only the best is tried. What tells suspects apart
    stays.
    """
    every = candidates(apart.fit)
    if not found.failures and found.remake.value > 0.0:
        return every  # the ways to fail are not listed
    score = _taken_away(of, apart, found, every)
    told = float(table("odds")["next"]["separates"])
    ranked = sorted(range(len(every)), key=lambda i: (-score[i], every[i].words))
    once = list({_reading(every[i]): i for i in reversed(ranked)}.values())[::-1]
    few = {i for i in once[: int(table("odds")["next"]["tried"])] if score[i] > 0.0}
    few |= {i for i, c in enumerate(every) if two and _told(c, apart, two) >= told}
    return tuple(c for i, c in enumerate(every) if i in few)


def _taken_away(of: Model, apart: Readings, found: Odds, every: Sequence[Candidate]) -> Vector:
    """Share (c,) of the variance behind the failures that each candidate takes away."""
    if not found.failures:
        return np.zeros(len(every))
    likeliest = found.failures[:LIKELIEST]
    pull = np.array([failure.pull for failure in likeliest])
    variance = np.einsum("fk,kl,fl->f", pull, of.noise, pull) + ((pull @ of.uniform) ** 2).sum(1)
    chance = np.array([failure.chance for failure in likeliest])
    score = np.empty(len(every))
    for i, c in enumerate(every):
        here, own = _pulled(apart, c)
        gone = (pull @ of.shape @ here) ** 2 / (own + c.sigma**2)
        score[i] = chance @ (gone / variance) / chance.sum()
    return score


def _reading(c: Candidate | Worth) -> str:
    """What is read, whatever with."""
    return c.words.split(" with ")[0]


def remaining(of: Model, seed: int, count: int | None = None) -> float:
    """Chance of a remake by a few draws, weighted where it is rare."""
    draws = count or int(table("odds")["draws"]["candidate"])
    found = system(of)
    if found.circuits is None:
        return odds_of(of, seed, draws).remake.value
    drawn = noise(of, found)
    sizes = drawn.normal.shape[1], drawn.uniform.shape[1]
    failed = [
        block.weight[margin(found, drawn.of(block.normal, block.uniform)) < 0.0]
        for block in each(lambda b: b, stretches(seed, draws, sizes, where_rare(drawn)))
    ]
    return risk(np.concatenate(failed), draws).value


@cites("sherman-morrison-1950", "rank-one change of an inverse")
def once_read(covariance: Matrix, pull: Vector, own: float, sigma: float) -> Matrix:
    """Covariance (m, m) once a reading was taken, whatever it says.

    Parameters
    ----------
    pull, own
        (m,) its covariance with every entry, and its own variance, before.
    sigma
        Its standard uncertainty.

    """
    after: Matrix = covariance - np.outer(pull, pull) / (own + sigma**2)
    return after


def _after(of: Model, apart: Readings, c: Candidate, seed: int) -> float:
    """Chance of a remake once a candidate is read."""
    here, own = _pulled(apart, c)
    return remaining(of.known_better(once_read(of.covariance, here, own, c.sigma)), seed)


def _pulled(apart: Readings, c: Candidate) -> tuple[Vector, float]:
    """Covariance (m,) of a reading with every entry of the opening, and its own variance."""
    pull, own = apart.fit.pull(c.equation.terms)
    return np.array([pull[i] if i >= 0 else 0.0 for i in apart.place]), own


def _worth(brief: Brief, c: Candidate, after: float, found: Odds, separates: float) -> Worth:
    remains = min(after, found.remake.value)
    return Worth(
        words=c.words,
        remains=remains,
        minutes=c.minutes,
        separates=separates,
        gain=_gain(brief, found.remake.value - remains, c.minutes),
    )


def _gain(brief: Brief, saved: float, minutes: float) -> float | None:
    prices = brief.profile.prices
    return None if prices is None else saved * prices.remake - minutes / 60.0 * prices.hour


def _suspects(opening: Opening, apart: Readings | None) -> tuple[Others, Others] | None:
    """The two readings that are suspected most, as all the others see them."""
    ids = list(dict.fromkeys(s.reading for s in opening.agreement.suspects))
    if apart is None or len(ids) < 2 or not opening.agreement.alarm:  # noqa: PLR2004 - two
        return None
    by_id = {o.seen.reading.id: o for o in without_each(apart.fit)}
    known = [by_id[i] for i in ids if i in by_id][:2]
    return (known[0], known[1]) if len(known) == 2 else None  # noqa: PLR2004 - two


def _told(c: Candidate, apart: Readings, two: tuple[Others, Others] | None) -> float:
    """How far apart two suspects put a reading: by the shape that each says without the other."""
    if two is None:
        return 0.0
    one, other = two
    at, a = (np.array(part) for part in zip(*c.equation.terms, strict=True))
    _, own = apart.fit.pull(c.equation.terms)
    gained = (float(a @ one.lift[at]) ** 2 + float(a @ other.lift[at]) ** 2) / 2
    far = abs(float(a @ (one.x - other.x)[at]))
    return far / math.sqrt(max(own + gained, 0.0) + c.sigma**2)


# ------------------------------------------------------------------------------ in words


def _sentence(brief: Brief, now: float, best: tuple[Worth, ...], shares: tuple[Driver, ...]) -> str:
    if best and best[0].separates >= float(table("odds")["next"]["separates"]):
        first = best[0]
        return (
            f"{_capital(first.words)} ({first.minutes:g} minutes): it tells which of the two "
            "suspected readings is wrong."
        )
    if best:
        first = best[0]
        words = (
            f"{_capital(first.words)} ({first.minutes:g} minutes): {said_chance(now)} becomes "
            f"{said_chance(first.remains)}"
        )
        return f"{words}{_in_money(brief, first)}."
    if now < float(table("odds")["next"]["worth"]):
        return f"Nothing more needs to be read: the chance of a remake is {said_chance(now)}."
    origin = max(by_origin(shares).items(), key=lambda item: item[1])[0] if shares else "survey"
    return f"Nothing you can read helps much against {said_chance(now)}: {_DECIDES[origin]}."


_DECIDES = {
    "survey": "how walls bow where nobody reads decides; take hardware with more range",
    "plant": "the plant's tolerance decides; order a closer class or take a channel",
    "setting": "how the hardware is set decides; take hardware with more range or more packing",
}


def _in_money(brief: Brief, worth: Worth) -> str:
    prices = brief.profile.prices
    if prices is None or worth.gain is None:
        return ""
    verb = "saves" if worth.gain >= 0 else "costs"
    return f"; on average that {verb} {abs(worth.gain):,.0f} {prices.money}".rstrip()


def _capital(words: str) -> str:
    return words[0].upper() + words[1:]
