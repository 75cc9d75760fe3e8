"""Which reading to take next: by the risk that would remain, and by what it would tell apart."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from hangtrue.fit.enclosure import Enclosure
from hangtrue.job.brief import Brief
from hangtrue.measure.opening import Matrix, Opening, Vector
from hangtrue.measure.suspects import Others, without_each
from hangtrue.odds.advice_words import advice_sentence, assumed
from hangtrue.odds.candidates import Candidate, candidates
from hangtrue.odds.drawing import each, factor, noise, stretches
from hangtrue.odds.drivers import Driver, Readings, drivers, readings_of
from hangtrue.odds.margins import margin, system
from hangtrue.odds.model import Model, model
from hangtrue.odds.odds import Odds, odds_of, risk, where_rare
from hangtrue.odds.value import Reread, Whether, equally_likely, saved_by_telling, whether
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
        Chance of a remake once it is read and the glass is sized anew; of a boxed set, that it is
        taken all the same and does not go in.
    saved
        What that saves, in remakes; of a set, leaving it counted as well.
    minutes
        Time that it takes.
    separates
        How far apart the two likeliest suspects put it, in standard deviations; 0 without suspects.
    gain
        What it saves on average less what it costs, in the shop's money; None without prices.
    leaves
        Chance that it tells to leave a boxed set; 0 for glass that is cut.

    """

    words: str
    remains: float
    saved: float
    minutes: float
    separates: float
    gain: float | None
    leaves: float


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
    whether
        Whether to read once more at all.
    prices
        What was missing to count in money; empty where it was counted.
    assumed
        What was taken for granted of the plant that matters here; empty where nothing was.

    """

    remake: float
    drivers: tuple[Driver, ...]
    readings: tuple[Worth, ...]
    sentence: str
    whether: Whether
    prices: str
    assumed: str

    @property
    def matters(self) -> bool:
        """Whether there is anything to read, or a risk worth a word that reading cannot lower."""
        return bool(self.readings) or self.remake >= float(table("odds")["next"]["worth"])


def advise(brief: Brief, opening: Opening, made: Enclosure, found: Odds) -> Advice:
    """Rank every reading that could be taken next.

    A reading makes the opening better known and so lets the glass be sized closer: what remains is
    the risk at the same planned gaps with less scatter, whatever the reading will say. A boxed set
    is not sized: there a reading only tells whether to take it.
    """
    of = model(brief, opening, made)
    few = remaining(of, brief.job.seed)
    case = _Case(
        brief=brief, of=of, found=found, apart=readings_of(brief, opening),
        boxed=made.choice.cut == "boxed", scale=found.remake.value / few if few > 0.0 else 1.0,
    )  # fmt: skip
    shares = drivers(of, found, case.apart)
    two = _suspects(opening, case.apart)
    best = _best(case, two)
    first = [Reread(words=w.words, minutes=w.minutes, saved=w.saved) for w in best if w.saved > 0.0]
    return Advice(
        remake=found.remake.value,
        drivers=shares,
        readings=best,
        sentence=advice_sentence(brief, made, found.remake.value, best, shares, case.cut_closer()),
        whether=whether(
            found.remake.value,
            first[0] if first else None,
            case.known_exactly(),
            brief.profile.prices,
        ),
        prices="" if brief.profile.prices else NO_PRICES,
        assumed=assumed(brief, made, shares),
    )


NO_PRICES = (
    "What a remake and an hour on site cost is not in the shop's profile (table `prices`), "
    "so nothing is counted in money."
)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Case:
    """What readings are weighed against.

    Attributes
    ----------
    scale
        Chance of a remake over that of the few draws on which all are weighed: the same draws for
        all, so that what is compared differs by the reading alone.

    """

    brief: Brief
    of: Model
    found: Odds
    apart: Readings | None
    boxed: bool
    scale: float

    @property
    def seed(self) -> int:
        return self.brief.job.seed

    def known_exactly(self) -> float:
        """Return what could be saved, in remakes, if there were nothing left to read."""
        known = self.of.known_better(np.zeros_like(self.of.covariance))
        if self.boxed:
            rng = np.random.Generator(np.random.SFC64((self.seed, 2**22)))
            root = self.of.shape @ factor(self.of.covariance)
            return self._told(known, root @ rng.standard_normal((root.shape[1], MANY))).saved
        left = remaining(known, self.seed) * self.scale
        return max(self.found.remake.value - left, 0.0)

    def cut_closer(self) -> float:
        """Return the chance of a remake if the plant were half as far off."""
        closer = tuple(
            replace(s, sd=s.sd / 2) if s.origin == "plant" else s for s in self.of.sources
        )
        left = remaining(replace(self.of, sources=closer), self.seed) * self.scale
        return min(left, self.found.remake.value)

    def once(self, apart: Readings, c: Candidate) -> _After:
        """Return what comes of it once a candidate is read."""
        here, own = _pulled(apart, c)
        after = self.of.known_better(once_read(self.of.covariance, here, own, c.sigma))
        if self.boxed:
            way = self.of.shape @ here / math.sqrt(own + c.sigma**2)
            return self._told(after, np.outer(way, equally_likely(TOLD)))
        now = self.found.remake.value
        left = min(remaining(after, self.seed) * self.scale, now)
        return _After(remains=left, leaves=0.0, saved=now - left)

    def _told(self, after: Model, moves: Matrix) -> _After:
        """Return what comes of a set if it is taken or left in each of (k, n) cases alike likely.

        To leave it counts as `leave` of a remake, so it is left where it would fail more often.
        """
        leave = float(table("odds")["next"]["leave"])
        fails = _failing(after, moves, self.seed)
        return _After(
            remains=float(fails[fails < leave].sum()) / len(fails),
            leaves=float((fails >= leave).mean()),
            saved=saved_by_telling(np.vstack([fails, np.full(len(fails), leave)])),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class _After:
    """What comes of a reading: the chance of a remake, that a set is left, and what it saves."""

    remains: float
    leaves: float
    saved: float


def _failing(of: Model, moves: Matrix, seed: int) -> Vector:
    """Chance (n,) of a remake if the gaps are off by each of (k, n) moves; the same few draws."""
    found = system(of)
    if found.circuits is None:
        return np.array(
            [odds_of(of.moved(of.planned + by), seed, FEW).remake.value for by in moves.T]
        )
    drawn = noise(of, found)
    sizes = drawn.normal.shape[1], drawn.uniform.shape[1]
    blocks = each(lambda b: drawn.of(b.normal, b.uniform), stretches(seed, FEW, sizes))
    seen = np.hstack(list(blocks))
    turned = found.sign[:, None] * moves[found.rows]
    return np.array([(margin(found, seen + by[:, None]) < 0.0).mean() for by in turned.T])


TOLD = 9
"""Equally likely answers of a reading that are looked at."""

FEW = 2000
"""Draws for each of them."""

MANY = 81
"""Openings that are looked at where the opening would be known exactly."""


def _best(case: _Case, two: tuple[Others, Others] | None) -> tuple[Worth, ...]:
    """Readings that are worth it, best first; of one reading by several instruments, the best."""
    apart = case.apart
    if apart is None:
        return ()
    every = [
        _worth(case.brief, c, case.once(apart, c), _told(c, apart, two))
        for c in _promising(case.of, apart, case.found, two)
    ]
    least, separates = (float(table("odds")["next"][key]) for key in ("worth", "separates"))
    useful = [w for w in every if w.saved >= least or w.separates >= separates]
    useful.sort(
        key=lambda w: (w.separates < separates, -(w.gain or 0.0), -w.saved, w.minutes, w.words)
    )
    once = {_reading(w): w for w in reversed(useful)}
    return tuple(list(reversed(once.values()))[: int(table("odds")["next"]["most"])])


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


def _pulled(apart: Readings, c: Candidate) -> tuple[Vector, float]:
    """Covariance (m,) of a reading with every entry of the opening, and its own variance."""
    pull, own = apart.fit.pull(c.equation.terms)
    return np.array([pull[i] if i >= 0 else 0.0 for i in apart.place]), own


def _worth(brief: Brief, c: Candidate, after: _After, separates: float) -> Worth:
    return Worth(
        words=c.words,
        remains=after.remains,
        saved=after.saved,
        minutes=c.minutes,
        separates=separates,
        gain=_gain(brief, after.saved, c.minutes),
        leaves=after.leaves,
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
