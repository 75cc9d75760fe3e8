"""The steps on the clock: a bar each, two people thick, what decides the end in full black."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from hangtrue.hang.graph import Slot
from hangtrue.hang.steps import Step
from hangtrue.hang.timetable import Timetable, clock
from hangtrue.paper import lettering
from hangtrue.paper.drawings import frame
from hangtrue.paper.scene import Line, Path, Primitive, Sheet, Text

ROW, LEAST = 4.5, 3.6
"""Height of a row, as it is and at least, mm."""
NAMES = 84.0
"""Room for what is done, mm."""
BAR = {1: 1.3, 2: 2.8}
"""Thickness of a bar by the hands it takes, mm."""
HEAD = 8.0
UNDER = 14.0
GRID = (15.0, 30.0, 60.0, 120.0, 240.0)
"""Steps of the scale of time, min."""
MOST_MARKS = 9
NUMBER = 4.6
"""Right end of the numbers, mm."""
ROOM = NAMES - NUMBER - 1.8 - 2.0
SMALL = 2.2


def time_bars(
    steps: Sequence[Step], times: Timetable, numbers: dict[str, int], tall: float
) -> tuple[Sheet, ...]:
    """Draw the work until the sealant is left to cure, on as many drawings as it takes.

    Parameters
    ----------
    numbers
        Number of each step on the list of steps.
    tall
        Room for one drawing, mm of paper.

    """
    people = {s.id: s.people for s in steps}
    slots = [s for s in times.slots if s.start < times.worked and people[s.id] > 0]
    slots.sort(key=lambda s: (s.start, numbers[s.id]))
    room = tall - HEAD - UNDER
    count = max(1, math.ceil(len(slots) / int(room / LEAST)))
    each = max(1, math.ceil(len(slots) / count))
    row = min(ROW, room / each)
    by_id = {s.id: s for s in steps}
    return tuple(
        _sheet(slots[first : first + each], by_id, times, numbers, row)
        for first in range(0, len(slots), each)
    )


def _sheet(
    slots: Sequence[Slot],
    by_id: dict[str, Step],
    times: Timetable,
    numbers: dict[str, int],
    row: float,
) -> Sheet:
    height = HEAD + UNDER + row * len(slots)
    wide, top = frame.WIDTH - NAMES - 2.0, height - HEAD
    a_minute = wide / max(times.worked, 1.0)
    parts: list[Primitive] = [*_scale(times.worked, wide, top, UNDER)]
    for place, slot in enumerate(slots):
        y = top - (place + 0.5) * row
        step = by_id[slot.id]
        base = y - SMALL / 2
        number = str(numbers[slot.id])
        parts.append(Text(at=(NUMBER, base), words=number, anchor="end", height=SMALL))
        parts.append(Text(at=(NUMBER + 1.8, base), words=_short(step.title), height=SMALL))
        parts += _bar(
            NAMES + slot.start * a_minute,
            NAMES + slot.finish * a_minute,
            y,
            thick=BAR[min(step.people, 2)],
            decides=slot.id in times.path.critical,
        )
    words = (
        "Thick bar: two people",
        "black: it decides the end",
        "white: it may wait a little",
        f"crew of {times.crew}",
    )
    return Sheet(
        name=f"time-crew-{times.crew}-{numbers[slots[0].id]}",
        width=frame.WIDTH,
        height=height,
        title=f"Time of a crew of {times.crew}",
        description=f"{len(slots)} pieces of work of {times.worked:.0f} minutes.",
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


def _short(words: str) -> str:
    """Words that have room before the bars; the list of steps has them in full."""
    if lettering.width(words, SMALL) <= ROOM:
        return words
    kept = words
    while lettering.width(f"{kept}…", SMALL) > ROOM:
        kept = kept[:-1]
    return f"{kept.rstrip()}…"
