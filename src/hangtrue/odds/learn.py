"""`learn`: an installer's own bias and scatter from finished jobs, near the default while few."""

from __future__ import annotations

import json
import math
import re
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from hangtrue.job.instruments import Instrument, OwnHand
from hangtrue.job.profile import Profile
from hangtrue.odds.components import Believed, Components, TooFewError, components, learned
from hangtrue.odds.history import History, Repeated
from hangtrue.phrase import many
from hangtrue.tables import table

FEW = 2
"""Jobs below which nothing is learned of what differs from job to job."""

SETTING = "setting"

BARE = re.compile(r"[A-Za-z0-9_-]+")
"""Keys of TOML that need no quotes."""

EVERYBODY = ""
"""In the place of a person: all who read with an instrument, together."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hand:
    """What is learned of one person's hand at one thing.

    Attributes
    ----------
    person
        Who; `EVERYBODY` for all who read with an instrument.
    what
        `setting`, or the id of an instrument.
    jobs, count
        How many jobs and numbers it rests on.
    tells_bias, tells_scatter
        Whether there was anything to tell them from: a bias needs lengths known otherwise, a
        scatter a length read twice.
    bias, bias_interval
        Mean of measured less predicted or known, mm, drawn to nought while data are few.
    scatter, scatter_interval
        Standard deviation, mm, drawn to the default while data are few.
    default, bias_now
        Scatter and bias as the shop profile, else the instrument, says now, mm.
    from_jobs
        How much differs from job to job and how much within a job; None where too few tell.

    """

    person: str
    what: str
    jobs: int
    count: int
    tells_bias: bool
    tells_scatter: bool
    bias: float
    bias_interval: tuple[float, float]
    scatter: float
    scatter_interval: tuple[float, float]
    default: float
    bias_now: float
    from_jobs: Components | None

    @property
    def biased(self) -> bool:
        """Whether the bias is not nought, as far as the data tell."""
        low, high = self.bias_interval
        return self.tells_bias and not low <= 0.0 <= high


@dataclass(frozen=True, slots=True, kw_only=True)
class Learned:
    """What a history teaches.

    Attributes
    ----------
    hands
        One for each person and thing.
    jobs
        Finished jobs in the history.
    setting_sd
        What the profile's `setting_sd` would become, mm, and what it is.
    setting_interval
        Where it lies, mm, with the bias of whoever hangs counted in.
    notes
        What could not be learned, and why.

    """

    hands: tuple[Hand, ...]
    jobs: int
    setting_sd: tuple[float, float]
    setting_interval: tuple[float, float]
    notes: tuple[str, ...]

    @property
    def taken(self) -> tuple[Hand, ...]:
        """Hands at instruments that a profile can take over: those that numbers tell of."""
        return tuple(h for h in self.hands if h.what != SETTING and h.tells_scatter)


def learn(history: History, profile: Profile, instruments: dict[str, Instrument]) -> Learned:
    """Estimate bias and scatter of every person, at setting and with every instrument.

    Nothing is changed by it: see `as_profile`.
    """
    hands = (
        *_setting(history, float(profile.setting_sd)),
        *_reading(history, profile, instruments),
    )
    setting = [hand for hand in hands if hand.what == SETTING]
    numbers = sum(hand.count for hand in setting)
    now = float(profile.setting_sd)
    pooled = sum(hand.count * (hand.scatter**2 + hand.bias**2) for hand in setting)
    becomes = math.sqrt(pooled / numbers) if numbers else now
    return Learned(
        hands=hands,
        jobs=len({job.job for job in history.jobs}),
        setting_sd=(becomes, now),
        setting_interval=_about(becomes, numbers),
        notes=(*_notes(history, setting), *_degrees(history, instruments)),
    )


def _setting(history: History, default: float) -> Iterator[Hand]:
    """Measured less predicted gaps of each person who hangs glass."""
    off: dict[str, dict[str, list[float]]] = defaultdict(lambda: defaultdict(list))
    for job in history.jobs:
        for gap in job.gaps:
            off[job.set_by][job.job].append(float(gap.measured) - float(gap.predicted))
    for person, jobs in sorted(off.items()):
        groups = list(jobs.values())
        _, coverage = _steering()
        yield replace(
            _hand(person, SETTING, _Numbers(jobs=set(jobs), known=groups), default),
            from_jobs=_apart(groups, coverage),
        )


@dataclass(slots=True, kw_only=True)
class _Numbers:
    """What was read by one hand: off a known length, or again and again, mm."""

    jobs: set[str] = field(default_factory=set)
    known: list[list[float]] = field(default_factory=list)
    repeats: list[list[float]] = field(default_factory=list)

    def take(self, job: str, reading: Repeated) -> None:
        values = [float(value) for value in reading.values]
        self.jobs.add(job)
        if reading.known is None:
            self.repeats.append(values)
        else:
            self.known.append([value - float(reading.known) for value in values])


def _reading(
    history: History, profile: Profile, instruments: dict[str, Instrument]
) -> Iterator[Hand]:
    """Lengths read more than once or known otherwise: by each person, and by all together."""
    seen: dict[tuple[str, str], _Numbers] = defaultdict(_Numbers)
    for job in history.jobs:
        for reading in job.readings:
            known = instruments.get(reading.with_)
            if known is None or not known.error_deg:
                for who in sorted({reading.by.strip(), EVERYBODY}):
                    seen[who, reading.with_].take(job.job, reading)
    for (person, item), numbers in sorted(seen.items()):
        own = profile.hand(person, item)
        default = _trusted(own, instruments.get(item))
        now = float(own.bias) if own and own.bias is not None else 0.0
        yield replace(_hand(person, item, numbers, default), bias_now=now)


def _trusted(own: OwnHand | None, known: Instrument | None) -> float:
    """Scatter that readings are given now, mm: as the profile says, else as the instrument."""
    if own is not None:
        return float(own.scatter)
    # A step is read to anywhere within half of it, and it seats anywhere within its seating.
    default = 0.5 if known is None else math.hypot(known.resolution / 2, known.seating) / 3**0.5
    return max(default, 0.05)


def _hand(person: str, what: str, numbers: _Numbers, default: float) -> Hand:
    """Draw what the numbers say toward the default, which counts like a few of them."""
    weight, coverage = _steering()
    a = weight / 2 + 1.0
    before = Believed(mean=0.0, weight=weight, a=a, b=default**2 * (a - 1.0))
    off = [x for group in numbers.known for x in group]
    shared = person == EVERYBODY
    seen = _about_nought(before, off) if shared else learned(before, off)
    after = _with_repeats(seen, numbers.repeats)
    return Hand(
        person=person,
        what=what,
        jobs=len(numbers.jobs),
        count=len(off) + sum(map(len, numbers.repeats)),
        tells_bias=(biased := bool(off) and not shared),
        tells_scatter=after.a > a,
        bias=after.mean if biased else 0.0,
        bias_interval=after.mean_interval(coverage) if biased else (0.0, 0.0),
        scatter=math.sqrt(after.variance),
        scatter_interval=after.sd_interval(coverage),
        default=default,
        bias_now=0.0,
        from_jobs=None,
    )


def _about_nought(before: Believed, off: list[float]) -> Believed:
    """Add what people together are off: the bias of each is scatter to whoever is not named."""
    squares = math.fsum(x**2 for x in off)
    return replace(before, a=before.a + len(off) / 2, b=before.b + squares / 2)


def _with_repeats(before: Believed, groups: list[list[float]]) -> Believed:
    """Add repeats of lengths that nobody knows: each group spends one number on its own mean."""
    squares = math.fsum((x - math.fsum(g) / len(g)) ** 2 for g in groups for x in g)
    free = sum(len(group) - 1 for group in groups)
    return replace(before, a=before.a + free / 2, b=before.b + squares / 2)


def _about(sd: float, count: int) -> tuple[float, float]:
    """Interval of a standard deviation that so many numbers and the default tell of, mm."""
    weight, coverage = _steering()
    a = (weight + count) / 2 + 1.0
    return Believed(mean=0.0, weight=weight, a=a, b=sd**2 * (a - 1.0)).sd_interval(coverage)


def _steering() -> tuple[float, float]:
    """Return how many numbers the default counts like, and what the intervals cover."""
    row = table("odds")["learn"]
    return float(row["weight"]), float(row["coverage"])


def _apart(groups: list[list[float]], coverage: float) -> Components | None:
    try:
        return components(groups, "reml", coverage)
    except TooFewError:
        return None


def _notes(history: History, setting: list[Hand]) -> Iterator[str]:
    jobs = {job.job for job in history.jobs}
    if not jobs:
        yield "The history is empty: nothing is learned, the defaults stay."
    elif len(jobs) < FEW:
        yield (
            "One job only: what differs from job to job cannot be told from what differs within "
            "a job; the numbers stay near the defaults."
        )
    if jobs and not setting:
        yield "No gaps were read after hanging: nothing is learned of setting."
    for hand in setting:
        if hand.jobs >= FEW and hand.from_jobs is None:
            yield f"{hand.person}: one gap a job does not tell jobs apart; read two at least."


def _degrees(history: History, instruments: dict[str, Instrument]) -> Iterator[str]:
    used = sorted({reading.with_ for job in history.jobs for reading in job.readings})
    for item in used:
        if item in instruments and instruments[item].error_deg:
            yield f"{item} reads degrees: nothing is learned of it from lengths."


def as_profile(found: Learned, profile: Profile, name: str) -> str:
    """Write a shop profile that takes over what was learned: TOML, on top of the one in use."""
    now = found.setting_sd[1]
    jobs = many(found.jobs, "{n} finished job", "{n} finished jobs")
    return (
        f"# Taken over from {jobs}; setting_sd was {now:.2f} mm.\n"
        f"id = {_text(name)}\n"
        f"title = {_text(profile.title + ', as learned')}\n"
        f"based_on = {_text(profile.id)}\n"
        f'setting_sd = "{found.setting_sd[0]:.2f} mm"\n'
        + "".join(_own_hand(hand) for hand in found.taken)
    )


def _own_hand(hand: Hand) -> str:
    """Write the table of one hand."""
    whose = ("people", hand.person) if hand.person else ("instruments",)
    head = ".".join(part if BARE.fullmatch(part) else _text(part) for part in (*whose, hand.what))
    bias = f'bias = "{hand.bias:.2f} mm"\n' if hand.tells_bias else ""
    return (
        f'\n[{head}]\nscatter = "{max(hand.scatter, 0.01):.2f} mm"\n{bias}'
        f"numbers = {hand.count}\njobs = {hand.jobs}\n"
    )


def _text(text: str) -> str:
    """Write a text as TOML does, which escapes as JSON does."""
    return json.dumps(text, ensure_ascii=False)
