"""`learn`: an installer's own bias and scatter from finished jobs, near the default while few."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

from hangtrue.job.instruments import Instrument
from hangtrue.job.profile import Profile
from hangtrue.odds.components import Believed, Components, TooFewError, components, learned
from hangtrue.odds.history import History
from hangtrue.tables import table

FEW = 2
"""Jobs below which nothing is learned of what differs from job to job."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hand:
    """What is learned of one person's hand at one thing.

    Attributes
    ----------
    what
        `setting`, or the id of an instrument.
    jobs, count
        How many jobs and numbers it rests on.
    bias, bias_interval
        Mean of measured less predicted, mm, drawn to nought while data are few. Only for setting:
        nobody knows the true value of a reading.
    scatter, scatter_interval
        Standard deviation, mm, drawn to the default while data are few.
    default
        What the shop profile or the instrument says.
    from_jobs
        How much differs from job to job and how much within a job; None where too few tell.

    """

    person: str
    what: str
    jobs: int
    count: int
    bias: float
    bias_interval: tuple[float, float]
    scatter: float
    scatter_interval: tuple[float, float]
    default: float
    from_jobs: Components | None

    @property
    def biased(self) -> bool:
        """Whether the bias is not nought, as far as the data tell."""
        low, high = self.bias_interval
        return self.what == "setting" and not low <= 0.0 <= high


@dataclass(frozen=True, slots=True, kw_only=True)
class Learned:
    """What a history teaches.

    Attributes
    ----------
    hands
        One for each person and thing.
    setting_sd
        What the profile's `setting_sd` would become, mm, and what it is.
    notes
        What could not be learned, and why.

    """

    hands: tuple[Hand, ...]
    setting_sd: tuple[float, float]
    notes: tuple[str, ...]


def learn(history: History, profile: Profile, instruments: dict[str, Instrument]) -> Learned:
    """Estimate bias and scatter of every person, at setting and with every instrument.

    Nothing is changed by it: see `as_profile`.
    """
    hands = (*_setting(history, float(profile.setting_sd)), *_reading(history, instruments))
    setting = [hand for hand in hands if hand.what == "setting"]
    numbers = sum(hand.count for hand in setting)
    now = float(profile.setting_sd)
    pooled = sum(hand.count * (hand.scatter**2 + hand.bias**2) for hand in setting)
    return Learned(
        hands=hands,
        setting_sd=(math.sqrt(pooled / numbers) if numbers else now, now),
        notes=tuple(_notes(history, setting)),
    )


def _setting(history: History, default: float) -> Iterator[Hand]:
    """Measured less predicted gaps of each person who hangs glass."""
    off: dict[str, dict[str, list[float]]] = defaultdict(lambda: defaultdict(list))
    for job in history.jobs:
        for gap in job.gaps:
            off[job.set_by][job.job].append(float(gap.measured) - float(gap.predicted))
    for person, jobs in sorted(off.items()):
        yield _hand(person, "setting", list(jobs.values()), default, biased=True)


def _reading(history: History, instruments: dict[str, Instrument]) -> Iterator[Hand]:
    """Repeats of one length by one person, each about its own mean."""
    seen: dict[tuple[str, str], list[list[float]]] = defaultdict(list)
    for job in history.jobs:
        for reading in job.readings:
            seen[reading.by, reading.with_].append([float(v) for v in reading.values])
    for (person, item), groups in sorted(seen.items()):
        known = instruments.get(item)
        # A step is read to anywhere within half of it, and it seats anywhere within its seating.
        default = 0.5 if known is None else math.hypot(known.resolution / 2, known.seating) / 3**0.5
        yield _hand(person, item, groups, max(default, 0.05), biased=False)


def _hand(
    person: str, what: str, groups: list[list[float]], default: float, *, biased: bool
) -> Hand:
    """Draw what the numbers say toward the default, which counts like a few of them."""
    weight, coverage = (float(table("odds")["learn"][key]) for key in ("weight", "coverage"))
    centred = [x - 0.0 if biased else x - math.fsum(g) / len(g) for g in groups for x in g]
    a = weight / 2 + 1.0
    before = Believed(mean=0.0, weight=weight, a=a, b=default**2 * (a - 1.0))
    # Each group of repeats spends one number on its own mean.
    spent = 0.0 if biased else len(groups) / 2
    after = learned(before, centred)
    after = Believed(mean=after.mean, weight=after.weight, a=max(after.a - spent, a), b=after.b)
    return Hand(
        person=person,
        what=what,
        jobs=len(groups),
        count=len(centred),
        bias=after.mean if biased else 0.0,
        bias_interval=after.mean_interval(coverage) if biased else (0.0, 0.0),
        scatter=math.sqrt(after.variance),
        scatter_interval=after.sd_interval(coverage),
        default=default,
        from_jobs=_apart(groups, coverage) if biased else None,
    )


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


def as_profile(found: Learned, profile: Profile, name: str) -> str:
    """Write a shop profile that takes over what was learned: TOML, on top of the one in use."""
    learned_sd, now = found.setting_sd
    jobs = max((hand.jobs for hand in found.hands), default=0)
    return (
        f"# Taken over from {jobs} finished jobs; it was {now:.2f} mm.\n"
        f'id = "{name}"\n'
        f'title = "{profile.title}, as learned"\n'
        f'based_on = "{profile.id}"\n'
        f'setting_sd = "{learned_sd:.2f} mm"\n'
    )
