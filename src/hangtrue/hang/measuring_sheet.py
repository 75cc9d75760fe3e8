"""The blank measuring sheet of one layout: its readings numbered in the order of the walk."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from hangtrue.check.wording import sentence
from hangtrue.job.brief import Brief
from hangtrue.job.document import Job
from hangtrue.job.readings import Side
from hangtrue.job.room import Step
from hangtrue.phrase import Phrase, phrase
from hangtrue.tables import Table, table

SIDES: tuple[Side, Side] = ("left", "right")
Given = tuple[tuple[str, str | int | float], ...]
"""What the job document will say of a reading but its value: key and word, or mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BlankReading:
    """One line to fill in.

    Attributes
    ----------
    number
        From 1, in the order of the walk.
    station
        Where to stand: `left wall`, `front`, `run 2`, `corner 1`, `right wall`.
    kind
        Row of the table that says it.
    words, parts
        What to read, and what fills it; `{low}` and `{high}` stand for `low` and `high`, for the
        sheet to write in its units.
    low, high
        Heights it is read at or between, mm above the datum; None where it has none.
    tool
        Kind of instrument.
    given
        What the job document says of it, ready to be typed.

    """

    number: int
    station: str
    kind: str
    words: str
    parts: tuple[tuple[str, str], ...]
    low: float | None
    high: float | None
    tool: str
    given: Given

    def said(self, low: str = "", high: str = "") -> Phrase:
        """Say what to read, with its heights as the sheet writes them."""
        return Phrase.made(self.words, {**dict(self.parts), "low": low, "high": high})


@dataclass(frozen=True, slots=True, kw_only=True)
class _Ask:
    """A reading before it has its number."""

    station: str
    kind: str
    given: Given
    words: tuple[tuple[str, str], ...] = ()
    low: float | None = None
    high: float | None = None


def measuring_sheet(brief: Brief) -> tuple[BlankReading, ...]:
    """Return what to read for a layout: every wall, run, corner and step, from left to right."""
    asked = [
        ask for run in range(1, len(brief.job.wanted.runs) + 1) for ask in _run(brief.job, run)
    ]
    every = [*_wall(brief.job, "left"), *asked, *_wall(brief.job, "right"), *_ceiling(brief.job)]
    return tuple(_numbered(ask, number) for number, ask in enumerate(every, 1))


def noted(job: Job) -> tuple[str, ...]:
    """What is written down beside the readings: of every wall, then of the room."""
    walls = [side for side in SIDES if job.wall(side) is not None]
    rows: list[Table] = table("hang/before")["noted"]
    of_walls = (
        sentence(Phrase.made(row["what"], {"wall": f"{side} wall"}))
        for side in walls
        for row in rows
        if row["of"] == "wall"
    )
    return (*of_walls, *(row["what"] for row in rows if row["of"] == "job"))


def heights(job: Job) -> tuple[float, float, float]:
    """Heights near foot, middle and top of the glass where widths are read, mm above the datum."""
    inset = float(table("hang/before")["reading"]["from_ends"][job.unit])
    top = float(job.wanted.height)
    return inset, top / 2, top - inset


def _wall(job: Job, side: Side) -> Iterator[_Ask]:
    if job.wall(side) is None:
        return
    _, middle, high = heights(job)
    low = _foot(job, side)
    middle = max(middle, (low + high) / 2)
    station = f"{side} wall"
    words = (("wall", station),)
    span: Given = (("from", low), ("to", high))
    for kind, plane in (("lean", "in"), ("across", "across")):
        given: Given = (("what", "lean"), ("wall", side), ("plane", plane), *span)
        yield _Ask(station=station, kind=kind, given=given, words=words, low=low, high=high)
    given = (("what", "bow"), ("wall", side), *span, ("at", middle))
    yield _Ask(station=station, kind="bow", given=given, words=words, low=low, high=high)
    if job.wanted.turns:
        given = (("what", "square"), ("wall", side))
        yield _Ask(station=station, kind="square", given=given, words=words)


def _foot(job: Job, side: Side) -> float:
    """Height of the lowest reading at a wall: over the step that stands before it, if one does."""
    run = 1 if side == "left" else len(job.wanted.runs)
    at_wall = [
        s for s in job.steps if s.run == run and (s.from_ if side == "left" else s.to) is None
    ]
    return heights(job)[0] + max((float(s.height) for s in at_wall), default=0.0)


def _run(job: Job, run: int) -> Iterator[_Ask]:
    station = _called(job, run)
    words, number = (("run", station),), ("run", run)
    ends = _ends(job, run)
    base = max((float(s.height) for s in job.steps if s.run == run and _whole(s)), default=0.0)
    low, middle, high = heights(job)
    places = (base + low, (base + high + low) / 2 if base else middle, high)
    if all(ends):
        for at in places:
            given: Given = (("what", "width"), number, ("at", at))
            yield _Ask(station=station, kind="width", given=given, words=words, low=at)
        yield from _diagonals(station, number, words, places[0], high)
        given = (("what", "width"), number, ("at", places[1]))
        yield _Ask(station=station, kind="again", given=given, words=words, low=places[1])
    for kind in () if base else ("fall", "pitch"):
        yield _Ask(station=station, kind=kind, given=(("what", kind), number), words=words)
    for step in job.steps:
        if step.run == run:
            yield from _step(step, station)
    if run < len(job.wanted.runs):
        yield from _corner(run)


def _diagonals(
    station: str,
    number: tuple[str, int],
    words: tuple[tuple[str, str], ...],
    low: float,
    high: float,
) -> Iterator[_Ask]:
    """Both diagonals of a run: only both together tell a lean from an end that stands high."""
    for kind, left, right in (("diagonal", low, high), ("diagonal_down", high, low)):
        given: Given = (("what", "diagonal"), number, ("left_at", left), ("right_at", right))
        yield _Ask(station=station, kind=kind, given=given, words=words, low=low, high=high)


def _called(job: Job, run: int) -> str:
    """Name of a run as people say it."""
    if len(job.wanted.runs) == 1:
        return "the front"
    if run == job.wanted.front:
        return phrase("run {number} (the front)", number=run)
    return phrase("run {number}", number=run)


def _ends(job: Job, run: int) -> tuple[bool, bool]:
    """Whether each end of a run is a wall or a corner, so that a width can be read to it."""
    first, last = run == 1, run == len(job.wanted.runs)
    return (
        not first or job.wall("left") is not None,
        not last or job.wall("right") is not None,
    )


def _whole(step: Step) -> bool:
    """Whether a step lies under the whole run, so that nothing can be read below its cap."""
    return step.from_ is None and step.to is None


def _step(step: Step, station: str) -> Iterator[_Ask]:
    words = (("step", step.name), ("run", station))
    named: Given = (("what", "step"), ("name", step.name))
    if step.from_ is not None:
        yield _Ask(station=station, kind="step_from", given=(*named, ("key", "from")), words=words)
    if step.to is not None:
        yield _Ask(station=station, kind="step_to", given=(*named, ("key", "to")), words=words)
    yield _Ask(station=station, kind="step_height", given=(*named, ("key", "height")), words=words)


def _corner(number: int) -> Iterator[_Ask]:
    station = phrase("corner {number}", number=number)
    words = (("corner", str(number)), ("station", station))
    for kind in ("corner", "triangle"):
        given: Given = (("what", kind), ("corner", number))
        yield _Ask(station=station, kind=kind, given=given, words=words)
    given = (("what", "height"), ("of", "curb"), ("at", station))
    yield _Ask(station=station, kind="curb", given=given, words=words)


def _ceiling(job: Job) -> Iterator[_Ask]:
    if job.above.kind == "open":
        return
    corners = [phrase("corner {number}", number=k) for k in range(1, len(job.wanted.turns) + 1)]
    for place in ("right", *reversed(corners), "left"):
        given: Given = (("what", "height"), ("of", "ceiling"), ("at", place))
        yield _Ask(
            station="back along the ceiling",
            kind="ceiling",
            given=given,
            words=(("station", place),),
        )


def _numbered(ask: _Ask, number: int) -> BlankReading:
    row: Table = table("hang/before")["walking"][ask.kind]
    return BlankReading(
        number=number,
        station=ask.station,
        kind=ask.kind,
        words=row["words"],
        parts=ask.words,
        low=ask.low,
        high=ask.high,
        tool=row["with"],
        given=ask.given,
    )
