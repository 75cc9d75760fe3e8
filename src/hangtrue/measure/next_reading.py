"""Which reading to take next: to decide between suspects, or to narrow the opening."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from hangtrue.job.readings import (
    Bow,
    Corner,
    CornerAngle,
    Diagonal,
    Fall,
    Height,
    Lean,
    Offset,
    Pitch,
    Reading,
    Side,
    Square,
    Triangle,
    Width,
)
from hangtrue.measure.adjusting import Fit, see
from hangtrue.measure.equations import between, equation, inward
from hangtrue.measure.habits import usual
from hangtrue.measure.layout import Equation, Layout, glass_heights, value
from hangtrue.measure.linear import Terms
from hangtrue.measure.opening import NextReading
from hangtrue.measure.suspects import Others
from hangtrue.phrase import phrase
from hangtrue.units import Angle, Length, Unit, inches, millimetres


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
    """Width of each run at the bottom, middle and top of the glass; leans; what is poorly known.

    A run between two corners is as wide at every height. Corners whose angle is not known well, and
    a sloped ceiling over glass that goes up to it.
    """
    layout = fit.network.layout
    low, high = glass_heights(fit.network.brief.job)
    goals = [
        layout.wall(side, high, inward(side)) + layout.wall(side, low, -inward(side))
        for side in layout.walls
    ]
    for run in _bounded(layout):
        heights = (low, (low + high) / 2, high) if _walled(layout, run) else (low,)
        goals += [between(layout, run, at, at) for at in heights]
    for k in range(1, layout.runs):
        angle = layout.entry(f"angle {k}")
        if fit.pull(angle)[1] > usual("advice-angle-sd") ** 2:
            goals.append(layout.entry(f"angle {k}", usual("advice-arm")))
    return [*goals, *(layout.entry(f"ceiling {station}") for station in _sloped(fit))]


def _sloped(fit: Fit) -> tuple[str, ...]:
    """Places of a sloped ceiling that glass goes up to."""
    net = fit.network
    reaches = any(lite.head != "level" for lite in net.brief.job.wanted.lites)
    return net.layout.stations if reaches and "ceiling left" in net.layout.names else ()


def _bounded(layout: Layout) -> list[int]:
    return [run for run in range(1, layout.runs + 1) if layout.bounded(run)]


def _walled(layout: Layout, run: int) -> bool:
    """Whether a run ends at a wall."""
    return bool({"left", "right"} & {*layout.walls} & {*layout.ends(run)})


def _candidates(fit: Fit) -> Iterator[Candidate]:
    """Everything that is easily read with what was used in this room."""
    net = fit.network
    unit = net.brief.job.unit
    low, high = (Length(h) for h in glass_heights(net.brief.job))
    middle = Length((low + high) / 2)
    names = {low: "the bottom", middle: "mid-height", high: "the top"}
    for run in _bounded(net.layout):
        width, diagonal = _named(net.layout, run, "width"), _named(net.layout, run, "diagonal")
        for at, name in names.items() if _walled(net.layout, run) else [(low, "the bottom")]:
            words = phrase(
                "tape {width} at {place} of the glass, {height} up",
                width=width,
                place=name,
                height=_written(at, unit),
            )
            yield _candidate(fit, Width(what="width", run=run, at=at, value=Length(0)), words)
        if not _walled(net.layout, run):
            continue
        for left, right in ((low, high), (high, low)):
            words = phrase(
                "tape {diagonal} from {low} left to {high} right",
                diagonal=diagonal,
                low=names[left],
                high=names[right],
            )
            slant = Diagonal(
                what="diagonal", run=run, left_at=left, right_at=right, value=Length(0)
            )
            yield _candidate(fit, slant, words)
    for k in range(1, net.layout.runs):
        yield from _corners(fit, k)
    for station in _sloped(fit):
        words = phrase("read the height of the ceiling at {place}", place=_place(station))
        height = Height.model_validate(
            {"what": "height", "of": "ceiling", "at": station, "value": Length(0)}
        )
        yield _candidate(fit, height, words)
    for side in net.layout.walls:
        for to in (high, middle):
            words = phrase(
                "plumb {wall} from its foot to {height}",
                wall=f"the {side} wall",
                height=_written(to, unit),
            )
            yield _candidate(fit, _lean(side, low, to), words)


def _corners(fit: Fit, corner: int) -> Iterator[Candidate]:
    """An angle finder at the corner, or 3-4-5 along its two glass lines."""
    finder = Corner(what="corner", corner=corner, value=Angle(0.0))
    words = phrase("read the inside angle of corner {corner} with an angle finder", corner=corner)
    yield _candidate(fit, finder, words)
    net, unit = fit.network, fit.network.brief.job.unit
    x = fit.adjustment.x
    before, after = (
        value(between(net.layout, run, 0.0, 0.0), x) or net.layout.stated[run - 1] or 0.0
        for run in (corner, corner + 1)
    )
    three, four = (before, after) if before < after else (after, before)
    units = THREES["in" if unit == "in" else "mm"]
    step = next((u for u in units if 3 * u <= three and 4 * u <= four), units[-1])
    legs = (3 * step, 4 * step) if before < after else (4 * step, 3 * step)
    triangle = Triangle(
        what="triangle",
        corner=corner,
        before=Length(legs[0]),
        after=Length(legs[1]),
        value=Length(0),
    )
    words = phrase(
        "mark {one} and {other} from corner {corner} on the two glass lines; "
        "tape from mark to mark",
        one=_written(legs[0], unit),
        other=_written(legs[1], unit),
        corner=corner,
    )
    yield _candidate(fit, triangle, words)


def _place(station: str) -> str:
    if station.startswith("corner"):
        return phrase("corner {corner}", corner=station.removeprefix("corner "))
    return f"the {station} end"


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


_DEFAULT = {
    "width": "tape",
    "diagonal": "tape",
    "lean": "level-72",
    "corner": "angle-finder",
    "triangle": "tape",
    "height": "tape",
}
THREES = {"in": (304.8, 203.2, 152.4, 101.6), "mm": (300.0, 200.0, 150.0, 100.0)}
"""Units of a 3-4-5 triangle that are easily marked, mm, longest first."""


def _again(fit: Fit, o: Others) -> Candidate:
    words = phrase(
        "read {reading} again", reading=in_words(o.seen.reading, fit.network.brief.job.unit)
    )
    return Candidate(words=words, equation=fit.equations[o.index], sigma=o.seen.sigma)


def in_words(reading: Reading, unit: Unit) -> str:
    """Name a reading as people in the room would."""
    match reading:
        case Width(at=at, run=run):
            return phrase(
                "{width} at {height}", width=_of_run("the width", run), height=_written(at, unit)
            )
        case Diagonal(left_at=left, right_at=right, run=run):
            return phrase(
                "{diagonal} from {low} left to {high} right",
                diagonal=_of_run("the diagonal", run),
                low=_written(left, unit),
                high=_written(right, unit),
            )
        case Lean(wall=side, plane=plane, to=to):
            wall, height = f"the {side} wall", _written(to, unit)
            if plane == "across":
                return phrase("the lean across of {wall} up to {height}", wall=wall, height=height)
            return phrase("the lean of {wall} up to {height}", wall=wall, height=height)
        case Offset(line=line, at=at):
            return phrase(
                "the offset from {line} at {height}", line=line, height=_written(at, unit)
            )
        case Bow(wall=side):
            return phrase("the bow of {wall}", wall=f"the {side} wall")
        case Height(of=what):
            return phrase("the height of {what}", what=f"the {what}")
        case CornerAngle(wall=side):
            return phrase("the corner at {wall}", wall=f"the {side} wall")
        case Square(wall=side):
            return phrase("the angle in plan of {wall}", wall=f"the {side} wall")
        case Corner() | Triangle() | Fall() | Pitch():
            return _by_number(reading)


def _by_number(reading: Corner | Triangle | Fall | Pitch) -> str:
    """Name a reading of a numbered corner or run."""
    match reading:
        case Corner(corner=k):
            return phrase("the angle of corner {corner}", corner=k)
        case Triangle(corner=k):
            return phrase("the triangle at corner {corner}", corner=k)
        case Fall(run=run) | Pitch(run=run):
            words = f"the {reading.what} of the curb"
            return phrase("{what} under run {run}", what=words, run=run) if run > 1 else words


def _named(layout: Layout, run: int, what: str) -> str:
    """Name what is read of a run; of one straight line the run goes without saying."""
    if layout.runs > 1:
        return phrase("{what} of run {run}", what=f"the {what}", run=run)
    return f"the {what}"


def _of_run(what: str, run: int) -> str:
    """Run 1 goes without saying."""
    return phrase("{what} of run {run}", what=what, run=run) if run > 1 else what


def _written(height: float, unit: Unit) -> str:
    return inches(height) if unit == "in" else millimetres(height)
