"""Which reading to take next: to decide between suspects, or to narrow the opening."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from hangtrue.job.readings import (
    Bow,
    CornerAngle,
    Diagonal,
    Height,
    Lean,
    Offset,
    Reading,
    Side,
    Width,
)
from hangtrue.measure.adjusting import Fit, see
from hangtrue.measure.equations import Equation, equation, glass_heights, inward, value
from hangtrue.measure.habits import usual
from hangtrue.measure.linear import Terms
from hangtrue.measure.opening import NextReading
from hangtrue.measure.suspects import Others
from hangtrue.units import Length, Unit, inches, millimetres


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """A reading somebody could take."""

    words: str
    equation: Equation
    sigma: float


def narrowing(fit: Fit) -> tuple[NextReading, ...]:
    """List the readings that take most variance from what the glass is made from, best first."""
    goals = _goals(fit)
    if not goals:
        return ()
    before = [fit.pull(goal)[1] for goal in goals]
    total = math.fsum(before)
    gains = [(_gain(fit, c, goals) / total, c) for c in _candidates(fit)] if total > 0.0 else []
    ranked = sorted(gains, key=lambda g: (-g[0], g[1].words))[: int(usual("advice-most"))]
    least = usual("advice-least")
    return tuple(
        NextReading(words=c.words, why="narrows", gain=gain) for gain, c in ranked if gain > least
    )


def deciding(fit: Fit, one: Others, other: Others) -> NextReading | None:
    """Find the reading that would tell best which of two suspects is wrong."""
    again = [_again(fit, o) for o in (one, other)]
    candidates = [*again, *_candidates(fit)]
    gain, best = max(
        ((_separation(fit, c, one, other), c) for c in candidates), key=lambda pair: pair[0]
    )
    return NextReading(words=best.words, why="decides", gain=gain) if gain > 0.0 else None


def once_more(fit: Fit, suspect: Others) -> NextReading:
    """Read the one suspect again: it decides between a slip there and no slip at all."""
    apart = abs(suspect.seen.observed - suspect.mean) / math.hypot(suspect.sd, suspect.seen.sigma)
    return NextReading(words=_again(fit, suspect).words, why="decides", gain=apart)


def _gain(fit: Fit, candidate: Candidate, goals: Sequence[Terms]) -> float:
    """Variance that a candidate takes from all goals together, mm2: a rank-one change."""
    pull, own = fit.pull(candidate.equation.terms)
    taken = [value(goal, pull) ** 2 for goal in goals]
    return math.fsum(taken) / (own + candidate.sigma**2)


def _separation(fit: Fit, candidate: Candidate, one: Others, other: Others) -> float:
    """How far apart the two suspects put a candidate, in standard deviations."""
    terms = candidate.equation.terms
    _, own = fit.pull(terms)
    gained = (value(terms, one.lift) ** 2 + value(terms, other.lift) ** 2) / 2
    apart = abs(value(terms, one.x) - value(terms, other.x))
    return apart / math.sqrt(max(own + gained, 0.0) + candidate.sigma**2)


def _goals(fit: Fit) -> list[Terms]:
    """Width at the bottom, middle and top of the glass; lean of each wall over the glass."""
    layout = fit.network.layout
    low, high = glass_heights(fit.network.brief.job)
    goals = [
        layout.wall(side, high, inward(side)) + layout.wall(side, low, -inward(side))
        for side in layout.walls
    ]
    if len(layout.walls) == 2:  # noqa: PLR2004 - both walls
        goals += [
            layout.wall("right", at) + layout.wall("left", at, -1.0)
            for at in (low, (low + high) / 2, high)
        ]
    return goals


def _candidates(fit: Fit) -> Iterator[Candidate]:
    """Everything that is easily read with what was used in this room."""
    net = fit.network
    unit = net.brief.job.unit
    low, high = (Length(h) for h in glass_heights(net.brief.job))
    middle = Length((low + high) / 2)
    names = {low: "the bottom", middle: "mid-height", high: "the top"}
    if len(net.layout.walls) == 2:  # noqa: PLR2004 - both walls
        for at, name in names.items():
            words = f"tape the width at {name} of the glass, {_written(at, unit)} up"
            yield _candidate(fit, Width(what="width", at=at, value=Length(0)), words)
        for left, right in ((low, high), (high, low)):
            words = f"tape the diagonal from {names[left]} left to {names[right]} right"
            reading = Diagonal(what="diagonal", left_at=left, right_at=right, value=Length(0))
            yield _candidate(fit, reading, words)
    for side in net.layout.walls:
        for to in (high, middle):
            words = f"plumb the {side} wall from its foot to {_written(to, unit)}"
            yield _candidate(fit, _lean(side, low, to), words)


def _lean(side: Side, low: Length, high: Length) -> Lean:
    return Lean(what="lean", wall=side, from_=low, to=high, value=Length(0))


def _candidate(fit: Fit, reading: Reading, words: str) -> Candidate:
    """Give it the instrument that readings of its kind were taken with."""
    net, x = fit.network, fit.adjustment.x
    kin = [s.reading.with_ for s in fit.seen if s.reading.what == reading.what]
    used = kin or [r for r in (_DEFAULT[reading.what], "tape") if r in net.brief.instruments]
    instrument = (used or list(net.brief.instruments))[0]
    eq = equation(reading, net.layout, x)
    typical = reading.model_copy(update={"with_": instrument, "value": Length(abs(eq.at(x)))})
    return Candidate(words=words, equation=eq, sigma=see(typical, net, x).sigma)


_DEFAULT = {"width": "tape", "diagonal": "tape", "lean": "level-72"}


def _again(fit: Fit, o: Others) -> Candidate:
    words = f"read {in_words(o.seen.reading, fit.network.brief.job.unit)} again"
    return Candidate(words=words, equation=fit.equations[o.index], sigma=o.seen.sigma)


def in_words(reading: Reading, unit: Unit) -> str:
    """Name a reading as people in the room would."""
    match reading:
        case Width(at=at):
            return f"the width at {_written(at, unit)}"
        case Diagonal(left_at=left, right_at=right):
            return f"the diagonal from {_written(left, unit)} left to {_written(right, unit)} right"
        case Lean(wall=side, plane=plane, to=to):
            across = " across" if plane == "across" else ""
            return f"the lean{across} of the {side} wall up to {_written(to, unit)}"
        case Offset(line=line, at=at):
            return f"the offset from {line} at {_written(at, unit)}"
        case Bow(wall=side):
            return f"the bow of the {side} wall"
        case Height(of=what):
            return f"the height of the {what}"
        case CornerAngle(wall=side):
            return f"the corner at the {side} wall"
        case _:
            return f"the {reading.what} of the curb"


def _written(height: float, unit: Unit) -> str:
    return inches(height) if unit == "in" else millimetres(height)
