"""Slips of the pen: sizes that cannot be or are hard to believe, and what was probably meant."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache, reduce
from itertools import combinations
from statistics import median, median_low

from hangtrue import units
from hangtrue.job.brief import Brief
from hangtrue.job.document import Job
from hangtrue.job.problems import Fault, Path
from hangtrue.job.readings import CornerAngle, Height, Reading, Triangle, Width
from hangtrue.phrase import phrase
from hangtrue.tables import table
from hangtrue.units import Angle, Length, Slope, Unit

Quantity = Length | Slope | Angle

UNIT_SLIPS: tuple[tuple[float, str], ...] = (
    (10.0, "cm written as mm"),
    (0.1, "mm written as cm"),
    (25.4, "inches written as mm"),
    (1 / 25.4, "mm written as inches"),
    (2.54, "inches written as cm"),
    (1 / 2.54, "cm written as inches"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Plausible:
    """What a quantity can be and what it usually is, both ends included; mm, ratio or rad."""

    what: str
    can: tuple[float, float]
    usual: tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Place:
    """One quantity of the job, where it stands and by which row it is judged."""

    path: Path
    value: Quantity
    row: str


def slips(brief: Brief) -> Iterator[Fault]:
    """Yield what cannot be, what is hard to believe, and what its companions contradict."""
    job = brief.job
    for place in (*_wanted(job), *_site(job), *_steps(job), *_around(job), *_read(job)):
        yield from _judged(place)
    for run in range(1, len(job.wanted.runs) + 1):
        yield from _companions(job, "width", "width", _widths_of(run))
    sloped = job.above.kind != "open"
    for at in dict.fromkeys(r.at for r in job.readings if isinstance(r, Height) and sloped):
        yield from _companions(job, "ceiling height", "ceiling", _ceilings(at))
    if not sloped:
        yield from _companions(job, "ceiling height", "ceiling", _ceilings())


def _widths_of(run: int) -> Callable[[Reading], bool]:
    return lambda reading: isinstance(reading, Width) and reading.run == run


def _ceilings(at: str = "") -> Callable[[Reading], bool]:
    """Choose the ceiling's heights at one place; everywhere, if none is named."""

    def chosen(reading: Reading) -> bool:
        return isinstance(reading, Height) and reading.of == "ceiling" and at in {"", reading.at}

    return chosen


def within(name: str) -> float:
    """Return a row of `data/slips.toml`, mm; degrees where the row is an angle."""
    return float(table("slips")[name]["value"])


@cache
def plausible(name: str) -> Plausible:
    """Return the row of `data/plausible.toml` of that name."""
    row = table("plausible")[name]
    can, usual = ([_quantity(text) for text in row[key]] for key in ("can", "usual"))
    return Plausible(what=row["what"], can=(can[0], can[1]), usual=(usual[0], usual[1]))


def _quantity(text: str) -> float:
    read: Callable[[str], float] = units.length
    if text.endswith("°"):
        read = units.angle
    elif text.endswith("%"):
        read = units.slope
    return float(read(text))


def _wanted(job: Job) -> Iterator[_Place]:
    wanted = job.wanted
    glass = Length(wanted.height - _curb(job), wanted.height.typed)
    yield _Place(path=("wanted", "height"), value=glass, row="glass-height")
    yield _Place(path=("wanted", "handle_height"), value=wanted.handle_height, row="handle-height")
    for i, lite in enumerate(wanted.lites):
        if lite.width is not None:
            yield _Place(path=("wanted", "lites", i, "width"), value=lite.width, row="pane-width")
    if wanted.transom_at is not None:
        top = Length(wanted.transom_at - _curb(job), wanted.transom_at.typed)
        yield _Place(path=("wanted", "transom_at"), value=top, row="glass-height")
    for i, bar in enumerate(wanted.bars):
        if bar.at is not None:
            yield _Place(path=("wanted", "bars", i, "at"), value=bar.at, row="at")


def _curb(job: Job) -> float:
    """Return the height of the curb above the datum, as far as it is known before adjusting."""
    if job.datum != "mark":
        return 0.0
    read = [r.value for r in job.readings if isinstance(r, Height) and r.of == "curb"]
    return median(read) if read else 0.0


def _site(job: Job) -> Iterator[_Place]:
    threshold = job.threshold
    yield _Place(path=("threshold", "height"), value=threshold.height, row="threshold-height")
    yield _Place(path=("threshold", "width"), value=threshold.width, row="threshold-width")
    for part, built in (("threshold", threshold), ("above", job.above)):
        for i, layer in enumerate(built.layers):
            yield _Place(path=(part, "layers", i, "thickness"), value=layer.thickness, row="layer")
    for side, wall in (("left", job.walls.left), ("right", job.walls.right)):
        if wall is None:
            continue
        path: Path = ("walls", side)
        yield _Place(path=(*path, "foot_radius"), value=wall.foot_radius, row="foot-radius")
        for i, layer in enumerate(wall.layers):
            yield _Place(path=(*path, "layers", i, "thickness"), value=layer.thickness, row="layer")
        for i, wood in enumerate(wall.blocking):
            here = (*path, "blocking", i)
            yield _Place(path=(*here, "depth"), value=wood.depth, row="blocking-depth")
            yield _Place(path=(*here, "each_side"), value=wood.each_side, row="blocking-side")
            yield _Place(path=(*here, "from"), value=wood.from_, row="at")
            yield _Place(path=(*here, "to"), value=wood.to, row="at")

        for i, out in enumerate(wall.projections):
            here = (*path, "projections", i)
            yield _Place(path=(*here, "stands_out"), value=out.stands_out, row="stands-out")
            yield _Place(path=(*here, "from"), value=out.from_, row="at")
            yield _Place(path=(*here, "to"), value=out.to, row="at")


def _steps(job: Job) -> Iterator[_Place]:
    for i, step in enumerate(job.steps):
        path: Path = ("steps", i)
        height = Length(step.height - _curb(job), step.height.typed)
        yield _Place(path=(*path, "height"), value=height, row="step-height")
        yield _Place(path=(*path, "cap_fall"), value=step.cap_fall, row="step-fall")
        yield _Place(path=(*path, "width"), value=step.width, row="step-width")
        yield _Place(path=(*path, "overhang"), value=step.overhang, row="overhang")


def _around(job: Job) -> Iterator[_Place]:
    for i, obstacle in enumerate(job.obstacles):
        path: Path = ("obstacles", i)
        for key, place in (("x", obstacle.x), ("y", obstacle.y)):
            yield _Place(path=(*path, key), value=place, row="obstacle-place")
        for key, size in (("width", obstacle.width), ("depth", obstacle.depth)):
            yield _Place(path=(*path, key), value=size, row="obstacle-size")
        for key, height in (("bottom", obstacle.bottom), ("top", obstacle.top)):
            if height is not None:
                yield _Place(path=(*path, key), value=height, row="at")
        if obstacle.swing is not None:
            yield _Place(path=(*path, "swing", "width"), value=obstacle.swing.width, row="leaf")


def _read(job: Job) -> Iterator[_Place]:
    for i, reading in enumerate(job.readings):
        yield _Place(path=("readings", i, "value"), value=reading.value, row=_row(reading))
        for name in ("at", "from_", "to", "left_at", "right_at"):
            height = getattr(reading, name, None)
            if isinstance(height, Length):
                yield _Place(path=("readings", i, name.rstrip("_")), value=height, row="at")
        if isinstance(reading, Triangle):
            for key, leg in (("before", reading.before), ("after", reading.after)):
                yield _Place(path=("readings", i, key), value=leg, row="leg")


def _row(reading: Reading) -> str:
    if isinstance(reading.value, Slope):
        return "slope"
    if isinstance(reading, CornerAngle):
        return "angle"
    return reading.of if isinstance(reading, Height) else reading.what


def _judged(place: _Place) -> Iterator[Fault]:
    row, value = plausible(place.row), place.value
    if not row.can[0] <= value <= row.can[1]:
        wrong = f"{value.typed} cannot be {row.what}"
        yield Fault(path=place.path, wrong=wrong, do=_meant(value, row) or "read it again")
    elif not row.usual[0] <= value <= row.usual[1]:
        wrong = phrase("{value} is unusual for {what}", value=value.typed, what=row.what)
        do = _meant(value, row) or "look at it again; it is used as written"
        yield Fault(path=place.path, wrong=wrong, do=do, level="sure?")


def _meant(value: Quantity, row: Plausible) -> str:
    """Name the slip of unit that would make a length a usual one."""
    if not isinstance(value, Length) or not value:
        return ""
    meant: list[str] = [
        phrase(
            "{slip}? that would be {metric}, {inches}",
            slip=slip,
            metric=units.millimetres(value * factor),
            inches=units.inches(value * factor),
        )
        for factor, slip in UNIT_SLIPS
        if row.usual[0] <= value * factor <= row.usual[1] and slip.endswith(_unit_of(value))
    ]
    return reduce(_either, meant) if meant else ""


def _either(one: str, other: str) -> str:
    return phrase("{one}; or {other}", one=one, other=other)


def _unit_of(value: Length) -> str:
    """Return the unit that a length was written in, bare numbers by their size alone."""
    found = re.search(r"(mm|cm)\s*$", value.typed)
    if found:
        return found[1]
    return "inches" if re.search(r"(in|inch|inches|\"|″|”)\s*$", value.typed) else ""


def _companions(job: Job, what: str, row: str, among: Callable[[Reading], bool]) -> Iterator[Fault]:
    """Ask about a length that stands far from the others of its kind."""
    group = [(i, r.value) for i, r in enumerate(job.readings) if among(r)]
    can = plausible(row).can
    lengths = [(i, v) for i, v in group if isinstance(v, Length) and can[0] <= v <= can[1]]
    for i, value in lengths:
        others = [float(other) for j, other in lengths if j != i]
        if not others or (len(lengths) == 2 and i == lengths[0][0]):  # noqa: PLR2004 -- a pair
            continue
        middle = median_low(others)
        agreeing = sum(abs(other - middle) <= within("apart") for other in others)
        if 2 * agreeing > len(others):
            yield from _odd_one(value, median(others), what, ("readings", i, "value"), job.unit)


def _odd_one(value: Length, others: float, what: str, path: Path, unit: Unit) -> Iterator[Fault]:
    apart = abs(value - others)
    meant = _slip_of_pen(value, others, unit) if apart > within("swap-seen") else ""
    if apart <= within("apart") and not meant:
        return
    far = units.inches(apart) if unit == "in" else units.millimetres(apart)
    others_ = f"the other {what}s"
    wrong = phrase("{value} is {far} from {others}", value=value.typed, far=far, others=others_)
    do: str = "read it again"
    if meant:
        do = phrase("did you mean {meant}? {others} say so", meant=meant, others=others_)
    yield Fault(path=path, wrong=wrong, do=do, level="sure?")


def _slip_of_pen(value: Length, others: float, unit: Unit) -> str:
    """Return the text with two digits swapped, or one digit other, that agrees with the rest."""
    for text in (*_swapped(value.typed), *_one_off(value, unit)):
        try:
            meant = units.length(text, unit)
        except units.UnitsError:
            continue
        if abs(meant - others) <= within("agreed"):
            return text
    return ""


def _swapped(typed: str) -> Iterator[str]:
    """Yield the text with any two digits of its first number swapped."""
    found = re.search(r"\d+", typed)
    if not found:
        return
    for a, b in combinations(range(found.start(), found.end()), 2):
        marks = list(typed)
        marks[a], marks[b] = marks[b], marks[a]
        if marks[a] != marks[b]:
            yield "".join(marks)


def _one_off(value: Length, unit: Unit) -> Iterator[str]:
    """Yield the length a foot, ten inches, 100 mm or 1 m longer and shorter."""
    for step in (304.8, 254.0, 100.0, 1000.0):
        for sign in (1, -1):
            mm = value + sign * step
            yield units.inches(mm) if unit == "in" else units.millimetres(mm)
