"""The steps on the clock: a bar each, two people thick, what decides the end in full black."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from hangtrue.hang.graph import Slot
from hangtrue.hang.steps import Step
from hangtrue.hang.timetable import Timetable, clock
from hangtrue.paper import lettering
from hangtrue.paper.drawings import frame
from hangtrue.paper.language import told
from hangtrue.paper.scene import Line, Path, Primitive, Sheet, Text
from hangtrue.phrase import phrase

FEEDS = ((4.4, 3.0), (3.6, 2.95))
"""Height of a row of one line, and of each further line, mm: usual, and to save a sheet."""
MOST_LINES = 3
NAMES = 84.0
"""Room for what is done, mm."""
BAR = {1: 1.3, 2: 2.8}
"""Thickness of a bar by the hands it takes, mm."""
HEAD = 8.0
UNDER = 10.0
GRID = (15.0, 30.0, 60.0, 120.0, 240.0)
"""Steps of the scale of time, min."""
MOST_MARKS = 9
NUMBER = 4.6
"""Right end of the numbers, mm."""
ROOM = NAMES - NUMBER - 1.8 - 2.0
SMALL = 2.2


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One piece of work with its words, line by line."""

    slot: Slot
    step: Step
    lines: tuple[str, ...]
    feed: tuple[float, float]

    @property
    def tall(self) -> float:
        """Height, mm."""
        return self.feed[0] + self.feed[1] * (len(self.lines) - 1)


def time_bars(
    steps: Sequence[Step], times: Timetable, numbers: dict[str, int], room: tuple[float, float]
) -> tuple[Sheet, ...]:
    """Draw the work until the sealant is left to cure, on as many drawings as it takes.

    Parameters
    ----------
    numbers
        Number of each step on the list of steps.
    room
        For the first drawing, and for each further one, mm of paper.

    """
    by_id = {s.id: s for s in steps}
    slots = [s for s in times.slots if s.start < times.worked and by_id[s.id].people > 0]
    slots.sort(key=lambda s: (s.start, numbers[s.id]))
    lines = {s.id: _lines(by_id[s.id].title) for s in slots}
    ways = [
        tuple(
            _parted([Row(slot=s, step=by_id[s.id], lines=lines[s.id], feed=f) for s in slots], room)
        )
        for f in FEEDS
    ]
    return tuple(_sheet(part, times, numbers) for part in min(ways, key=len))


def _parted(rows: Sequence[Row], room: tuple[float, float]) -> Iterator[tuple[Row, ...]]:
    """Rows of each drawing: as many as have room, in order."""
    part: list[Row] = []
    left = room[0] - HEAD - UNDER
    for row in rows:
        if part and row.tall > left:
            yield tuple(part)
            part, left = [], room[1] - HEAD - UNDER
        part.append(row)
        left -= row.tall
    if part:
        yield tuple(part)


def _sheet(rows: Sequence[Row], times: Timetable, numbers: dict[str, int]) -> Sheet:
    height = HEAD + UNDER + sum(row.tall for row in rows)
    wide, top = frame.WIDTH - NAMES - 5.0, height - HEAD
    a_minute = wide / max(times.worked, 1.0)
    parts: list[Primitive] = [*_scale(times.worked, wide, top, UNDER)]
    y = top
    for row in rows:
        slot, first = row.slot, y - row.feed[0] / 2 - SMALL / 2
        number = str(numbers[slot.id])
        parts.append(Text(at=(NUMBER, first), words=number, anchor="end", height=SMALL))
        for n, line in enumerate(row.lines):
            at = (NUMBER + 1.8, first - n * row.feed[1])
            parts.append(Text(at=at, words=line, height=SMALL))
        parts += _bar(
            NAMES + slot.start * a_minute,
            NAMES + slot.finish * a_minute,
            y - row.feed[0] / 2,
            thick=BAR[min(row.step.people, 2)],
            decides=slot.id in times.path.critical,
        )
        y -= row.tall
    words = (
        "Thick bar: two people",
        "black: it decides the end",
        "white: it may wait a little",
        phrase("crew of {crew}", crew=times.crew),
    )
    return Sheet(
        name=f"time-crew-{times.crew}-{numbers[rows[0].slot.id]}",
        width=frame.WIDTH,
        height=height,
        title=phrase("Time of a crew of {crew}", crew=times.crew),
        description=phrase(
            "{count} pieces of work of {minutes:.0f} minutes.",
            count=len(rows),
            minutes=times.worked,
        ),
        primitives=(*parts, *frame.caption(words)),
    )


def _bar(start: float, end: float, y: float, *, thick: float, decides: bool) -> Iterator[Path]:
    box = (start, y - thick / 2, max(end, start + 0.8), y + thick / 2)
    if decides:
        yield frame.oblong(box, "outline", fill="solid")
    yield frame.oblong(box, "outline", weight="middle")


def _scale(span: float, wide: float, top: float, low: float) -> Iterator[Primitive]:
    """Upright lines with the time of day over them."""
    span = max(span, 1.0)
    step = next((g for g in GRID if span / g <= MOST_MARKS), GRID[-1])
    marks = [k * step for k in range(int(span // step) + 1)]
    for mark in marks:
        x = NAMES + mark / span * wide
        yield Line(start=(x, low), end=(x, top), layer="dimension", stroke="dotted")
        _, hour, minute = clock(mark)
        yield Text(at=(x, top + 1.5), words=f"{hour}:{minute:02d}", anchor="middle", height=SMALL)
    yield Line(start=(0.0, top), end=(NAMES + wide, top), layer="text")


def _lines(title: str) -> tuple[str, ...]:
    """Words in lines that have room before the bars; the list of steps has the longest in full."""
    lines = lettering.wrapped(told(title), ROOM, SMALL)
    if len(lines) <= MOST_LINES:
        return lines
    return (*lines[: MOST_LINES - 1], f"{lines[MOST_LINES - 1]} …")
