"""Coming back: what is most likely behind a complaint, and which reading tells causes apart.

One cause at a time, and symptoms and readings independent of each other given the cause (naive
Bayes). Rates and likelihoods are judgement kept as data: they order the causes, they prove none.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from hangtrue.fit.enclosure import Enclosure
from hangtrue.tables import Table, table

Seen = Literal["yes", "no"]
Chances = dict[str, float]
"""Probability of each cause by its id; they sum to 1."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cause:
    """One cause with its probability.

    Attributes
    ----------
    before, chance
        Probability before anything was known, and now.
    speaks_for, speaks_against
        Ids of symptoms and tests that make it more or less likely than the others together.
    stop
        The door must not be used until it is cured.

    """

    id: str
    title: str
    before: float
    chance: float
    cure: str
    parts: tuple[str, ...]
    stop: bool
    speaks_for: tuple[str, ...]
    speaks_against: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """A reading or a look that has not been made, and what it is worth.

    Attributes
    ----------
    gain
        Expected information about the cause, bits.
    minutes
        What it takes.
    then
        For each outcome: its probability, and the cause that would then be most likely.

    """

    id: str
    do: str
    gain: float
    minutes: float
    then: tuple[tuple[str, float, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Diagnosis:
    """Causes, most likely first, and checks, most telling first.

    Attributes
    ----------
    odd
        No cause explains what is seen much better than chance does: look for something else.

    """

    causes: tuple[Cause, ...]
    checks: tuple[Check, ...]
    odd: bool


def has(enclosure: Enclosure, needs: str) -> bool:
    """Whether a layout has what a cause, symptom or test is about."""
    kinds = {pane.kind for pane in enclosure.lites}
    hung = {pane.hung_on for pane in enclosure.doors}
    return {
        "any": True,
        "door": "door" in kinds,
        "fixed": bool(kinds & {"fixed", "transom"}),
        "wall hinge": "wall" in hung,
        "glass hinge": "glass" in hung,
        "channel": any(joint.kind == "channel" for joint in enclosure.joints),
    }[needs]


def here(enclosure: Enclosure, name: Literal["symptoms", "tests", "causes"]) -> Table:
    """Rows of a table that this layout can have."""
    rows: Table = table("hang/symptoms")[name]
    return {key: row for key, row in rows.items() if has(enclosure, row.get("needs", "any"))}


def diagnose(
    enclosure: Enclosure, symptoms: Mapping[str, Seen], results: Mapping[str, str]
) -> Diagnosis:
    """Weigh the causes that this layout can have.

    Parameters
    ----------
    symptoms
        `yes` or `no` by id; what nobody looked for is left out and counts neither way.
    results
        Outcome of each check that was made, by its id.

    """
    causes = here(enclosure, "causes")
    before = _normed({name: float(row["rate"]) for name, row in causes.items()})
    facts = [
        *(_symptom(causes, name, seen) for name, seen in symptoms.items()),
        *(_result(causes, name, outcome) for name, outcome in results.items()),
    ]
    now = _weighed(before, (likelihood for _, likelihood in facts))
    listed = sorted(causes, key=lambda name: -now[name])
    return Diagnosis(
        causes=tuple(_cause(n, causes[n], before, now, facts) for n in listed),
        checks=tuple(_checks(enclosure, causes, now, results)),
        odd=bool(symptoms) and _odd(causes, symptoms, listed[0]),
    )


Fact = tuple[str, Chances]
"""A symptom or result, and its likelihood under each cause."""


def _symptom(causes: Table, name: str, seen: Seen) -> Fact:
    by_chance = float(table("hang/symptoms")["symptoms"][name]["by_chance"])
    shows = {cause: float(row["shows"].get(name, by_chance)) for cause, row in causes.items()}
    return name, shows if seen == "yes" else {cause: 1.0 - p for cause, p in shows.items()}


def _result(causes: Table, name: str, outcome: str) -> Fact:
    place = table("hang/symptoms")["tests"][name]["outcomes"].index(outcome)
    return name, {cause: _likely(causes, cause, name)[place] for cause in causes}


def _likely(causes: Table, cause: str, test: str) -> Sequence[float]:
    """Likelihood of each outcome of a test; of a cause that it is not about, that of soundness."""
    own: Sequence[float] | None = causes[cause].get("tests", {}).get(test)
    return own or _background(test)


def _background(test: str) -> Sequence[float]:
    """What comes out where the cause is another one: mostly the sound outcome."""
    row = table("hang/symptoms")
    count = len(row["tests"][test]["outcomes"])
    sound = float(row["sound"])
    sound_at = row["tests"][test]["outcomes"].index(row["tests"][test]["sound"])
    return [sound if i == sound_at else (1.0 - sound) / (count - 1) for i in range(count)]


def _weighed(chances: Chances, likelihoods: Iterable[Chances]) -> Chances:
    """Bayes' rule for one fact after the other."""
    for likelihood in likelihoods:
        chances = _normed({cause: p * likelihood[cause] for cause, p in chances.items()})
    return chances


def _normed(weights: Chances) -> Chances:
    total = sum(weights.values())
    return {name: weight / total for name, weight in weights.items()}


def _cause(name: str, row: Table, before: Chances, now: Chances, facts: Sequence[Fact]) -> Cause:
    ratios = {fact: _ratio(name, likelihood, before) for fact, likelihood in facts}
    return Cause(
        id=name,
        title=row["title"],
        before=before[name],
        chance=now[name],
        cure=row["cure"],
        parts=tuple(row["parts"]),
        stop=bool(row.get("stop", False)),
        speaks_for=tuple(f for f, ratio in ratios.items() if ratio > 1.0),
        speaks_against=tuple(f for f, ratio in ratios.items() if ratio < 1.0),
    )


def _ratio(name: str, likelihood: Chances, before: Chances) -> float:
    """How much likelier a fact is under one cause than under the others together."""
    rest = sum(p for cause, p in before.items() if cause != name)
    others = sum(before[cause] * p for cause, p in likelihood.items() if cause != name)
    return likelihood[name] * rest / others if others else math.inf


def _odd(causes: Table, symptoms: Mapping[str, Seen], best: str) -> bool:
    """Whether even the best cause names none of the symptoms that are there."""
    seen = [name for name, answer in symptoms.items() if answer == "yes"]
    return bool(seen) and not any(name in causes[best]["shows"] for name in seen)


def _checks(
    enclosure: Enclosure, causes: Table, now: Chances, results: Mapping[str, str]
) -> list[Check]:
    open_tests = {k: row for k, row in here(enclosure, "tests").items() if k not in results}
    made = [_check(name, row, causes, now) for name, row in open_tests.items()]
    return sorted(made, key=lambda check: -check.gain)


def _check(name: str, row: Table, causes: Table, now: Chances) -> Check:
    """Weigh a check: entropy of the causes now, less what it is expected to be after."""
    then, left = [], 0.0
    for outcome in row["outcomes"]:
        likelihood = _result(causes, name, outcome)[1]
        chance = sum(now[cause] * likelihood[cause] for cause in causes)
        after = _weighed(now, [likelihood])
        left += chance * entropy(after.values())
        then.append((outcome, chance, max(after, key=lambda cause: after[cause])))
    return Check(
        id=name,
        do=row["do"],
        gain=max(entropy(now.values()) - left, 0.0),
        minutes=float(row["minutes"]),
        then=tuple(then),
    )


def entropy(chances: Iterable[float]) -> float:
    """Entropy of a distribution, bits.

    Examples
    --------
    >>> entropy([0.5, 0.25, 0.25])
    1.5

    """
    return -sum(p * math.log2(p) for p in chances if p > 0.0)


def outcome_of(test: str, value: float) -> str:
    """Put a figure into an outcome: the first whose bound it is above, else the last.

    Parameters
    ----------
    value
        mm, signed as the test says.

    """
    row = table("hang/symptoms")["tests"][test]
    outcomes: list[str] = row["outcomes"]
    bounds: list[float] = row["bounds"]
    figure = abs(value) if row.get("size") else value
    for outcome, bound in zip(outcomes, bounds, strict=False):
        if figure > bound:
            return outcome
    return outcomes[len(bounds)]
