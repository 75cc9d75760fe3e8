"""The readings: each against its instrument, the walls, runs and corners it is of, and itself."""

from __future__ import annotations

import math
from collections.abc import Iterator

from hangtrue.job.brief import Brief
from hangtrue.job.document import Job
from hangtrue.job.problems import Fault, Path, suggest
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
from hangtrue.job.row_checks import LEAST_ANGLE, MOST_ANGLE
from hangtrue.job.slips import within
from hangtrue.phrase import phrase

SUITS: dict[str, tuple[str, ...]] = {
    "width": ("tape", "rule", "laser distance"),
    "lean": ("level", "digital level", "plumb line", "laser line"),
    "offset": ("laser line", "plumb line", "tape", "rule"),
    "bow": ("rule", "tape", "level", "laser line"),
    "diagonal": ("tape", "laser distance"),
    "fall": ("level", "digital level", "laser line"),
    "pitch": ("level", "digital level", "laser line"),
    "height": ("tape", "rule", "laser distance", "laser line"),
    "angle": ("angle finder", "digital level"),
    "corner": ("angle finder",),
    "triangle": ("tape", "rule", "laser distance"),
    "square": ("angle finder",),
    "step": ("tape", "rule", "laser distance", "laser line"),
}
"""Kinds of instrument that can take each kind of reading, and measure a step."""


def reading_checks(brief: Brief) -> Iterator[Fault]:
    """Yield what does not go together in each reading, and among them."""
    if not brief.job.readings:
        yield Fault(path=("readings",), wrong="there are no readings", do="add a width at least")
    for i, reading in enumerate(brief.job.readings):
        path = ("readings", i)
        yield from instrument_checks(brief, reading.with_, reading.what, path)
        yield from _ends(brief.job, reading, path)
        yield from _heights(reading, path)
        yield from _signs(reading, path)
        yield from _legs(reading, path)
        yield from _nominal(brief.job, reading, path)
    yield from _lonely_lines(brief.job)
    yield from _datum(brief.job)


def instrument_checks(brief: Brief, used: str, what: str, path: Path) -> Iterator[Fault]:
    """Check that an instrument exists and can measure such a thing."""
    instrument = brief.instruments.get(used)
    kinds = SUITS[what]
    suited = [key for key, other in brief.instruments.items() if other.kind in kinds]
    if instrument is None:
        wrong = f"nobody knows an instrument {used!r}"
        yield Fault(path=(*path, "with"), wrong=wrong, do=suggest(used, suited))
    elif instrument.kind not in kinds:
        wrong = f"a {what} is not read with a {instrument.kind}"
        yield Fault(path=(*path, "with"), wrong=wrong, do=suggest("", suited))


def _ends(job: Job, reading: Reading, path: Path) -> Iterator[Fault]:
    """Check that the walls, runs and corners exist that a reading is of."""
    runs = len(job.wanted.runs)
    if isinstance(reading, Width | Diagonal | Fall | Pitch) and reading.run > runs:
        wrong = f"there is no run {reading.run}: the glass line has {runs}"
        do = "count the straight parts from the left, or write the turn at its pane"
        yield Fault(path=(*path, "run"), wrong=wrong, do=do)
    elif isinstance(reading, Width | Diagonal):
        yield from _between_ends(job, reading, path)
    elif isinstance(reading, Lean | Offset | Bow | CornerAngle | Square):
        if job.wall(reading.wall) is None:
            wrong = f"there is no {reading.wall} wall"
            do = f"describe `walls: {reading.wall}:`, or correct the side"
            yield Fault(path=(*path, "wall"), wrong=wrong, do=do)
    elif (corner := _corner(reading)) >= runs:
        wrong = f"there is no corner {corner}: the glass line turns {_times(runs - 1)}"
        do = "count the corners from the left, or write the turn at its pane"
        key = "at" if isinstance(reading, Height) else "corner"
        yield Fault(path=(*path, key), wrong=wrong, do=do)


def _between_ends(job: Job, reading: Width | Diagonal, path: Path) -> Iterator[Fault]:
    """Check that a run does not end free where something is read from end to end."""
    sides: tuple[tuple[Side, bool], ...] = (
        ("left", reading.run == 1),
        ("right", reading.run == len(job.wanted.runs)),
    )
    for side, ends_here in sides:
        if ends_here and job.wall(side) is None:
            wrong = f"a {reading.what} goes from wall to wall, and there is no {side} wall"
            yield Fault(path=path, wrong=wrong, do=f"describe `walls: {side}:`, or take it out")


def _corner(reading: Reading) -> int:
    """Return the corner that a reading is of; 0 for none."""
    if isinstance(reading, Corner | Triangle):
        return reading.corner
    if isinstance(reading, Height) and reading.at.startswith("corner "):
        return int(reading.at.removeprefix("corner "))
    return 0


def _times(count: int) -> str:
    return ("nowhere", "once", "twice")[count] if count < 3 else f"{count} times"  # noqa: PLR2004 -- words


def _legs(reading: Reading, path: Path) -> Iterator[Fault]:
    """Check that the two legs and the distance of their ends can be a triangle."""
    if not isinstance(reading, Triangle):
        return
    a, b, c = reading.before, reading.after, reading.value
    if min(a, b, c) <= 0:
        wrong = f"sides of {a.typed}, {b.typed} and {c.typed} are no triangle"
        yield Fault(path=path, wrong=wrong, do="write three lengths above 0")
    elif not abs(a - b) < c < a + b:
        wrong = f"legs of {a.typed} and {b.typed} cannot end {c.typed} apart"
        yield Fault(path=(*path, "value"), wrong=wrong, do="read legs and distance again")
    elif reading.angle < LEAST_ANGLE - math.radians(within("corner-off")):
        wrong = f"legs of {a.typed} and {b.typed} that end {c.typed} apart make {_degrees(reading)}"
        do = "read them again; angles from 60° to less than 180° are planned"
        yield Fault(path=(*path, "value"), wrong=wrong, do=do)


def _nominal(job: Job, reading: Reading, path: Path) -> Iterator[Fault]:
    """Ask about a corner that was read far from the angle it was drawn with."""
    turns = job.wanted.turns
    if not isinstance(reading, Corner | Triangle) or reading.corner > len(turns):
        return
    read = reading.value if isinstance(reading, Corner) else reading.angle
    drawn = turns[reading.corner - 1].angle
    off = math.radians(within("corner-off"))
    planned = drawn >= LEAST_ANGLE and read >= LEAST_ANGLE - off and max(read, drawn) < MOST_ANGLE
    if planned and abs(read - drawn) > off:
        wrong = phrase(
            "corner {corner} reads {read}, and is wanted at {drawn}",
            corner=reading.corner,
            read=_degrees(reading),
            drawn=drawn.typed,
        )
        do = "read it again on the shower's side, or correct the turn's `angle`"
        yield Fault(path=(*path, "value"), wrong=wrong, do=do, level="sure?")


def _degrees(reading: Corner | Triangle) -> str:
    if isinstance(reading, Corner):
        return reading.value.typed
    return f"{math.degrees(reading.angle):.1f}°"


def _heights(reading: Reading, path: Path) -> Iterator[Fault]:
    """Check that `from` is below `to`, and a bow's height between them."""
    if not isinstance(reading, Lean | Bow):
        return
    if reading.from_ >= reading.to:
        wrong = f"from {reading.from_.typed} to {reading.to.typed} does not go up"
        yield Fault(path=(*path, "from"), wrong=wrong, do="write the lower height as `from`")
    elif isinstance(reading, Bow) and reading.at and not reading.from_ < reading.at < reading.to:
        wrong = f"{reading.at.typed} is not on the straightedge"
        do = f"write a height between {reading.from_.typed} and {reading.to.typed}"
        yield Fault(path=(*path, "at"), wrong=wrong, do=do)


def _signs(reading: Reading, path: Path) -> Iterator[Fault]:
    """Check that a sign is written once: before the value or as a word."""
    key = "toward" if isinstance(reading, Lean | Bow) else "falls"
    if not isinstance(reading, Lean | Bow | Fall | Pitch):
        return
    word = getattr(reading, key)
    if word is not None and reading.value < 0:
        wrong = f"{reading.value.typed} has a sign, and `{key}: {word}` says it again"
        yield Fault(path=(*path, "value"), wrong=wrong, do="keep the word and take the sign off")


def _datum(job: Job) -> Iterator[Fault]:
    """Ask about a curb that is said to be above or below itself."""
    for i, reading in enumerate(job.readings):
        if not isinstance(reading, Height) or reading.of != "curb" or not reading.value:
            continue
        if job.datum == f"curb {reading.at}":
            end = f"the curb at the {reading.at}"
            wrong = phrase("heights count from {end}, so there it is 0", end=end)
            do = "correct `datum` or `at`"
            yield Fault(path=("readings", i, "value"), wrong=wrong, do=do, level="sure?")


def _lonely_lines(job: Job) -> Iterator[Fault]:
    """Ask about a line with one offset: alone it says nothing of the wall."""
    lines = [r.line for r in job.readings if isinstance(r, Offset)]
    for i, reading in enumerate(job.readings):
        if isinstance(reading, Offset) and lines.count(reading.line) == 1:
            wrong = phrase(
                "the only offset from line {line!r}: alone it says nothing", line=reading.line
            )
            do = "read a second one, or correct the name of the line"
            yield Fault(path=("readings", i, "line"), wrong=wrong, do=do, level="sure?")
