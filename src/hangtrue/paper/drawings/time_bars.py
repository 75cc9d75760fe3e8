"""The steps on the clock: a bar each, two people thick, what decides the end in full black."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from hangtrue.hang.steps import Step
from hangtrue.hang.timetable import Timetable, clock
from hangtrue.paper import lettering
from hangtrue.paper.drawings import frame
from hangtrue.paper.scene import Line, Path, Primitive, Sheet, Text

ROW = 4.5
NAMES = 84.0
"""Room for what is done, mm."""
BAR = {1: 1.3, 2: 2.8}
"""Thickness of a bar by the hands it takes, mm."""
HEAD = 8.0
UNDER = 14.0
GRID = (15.0, 30.0, 60.0, 120.0, 240.0)
"""Steps of the scale of time, min."""
MOST_MARKS = 9
NARROW = 2.6
SMALL = 2.2


def time_bars(steps: Sequence[Step], times: Timetable, numbers: dict[str, int]) -> Sheet:
    """Draw the work of the first stretch, until the sealant is left to cure.

    Parameters
    ----------
    numbers
        Number of each step on the list of steps.

    """
    by_id = {s.id: s for s in steps}
    slots = [s for s in times.slots if s.start < times.worked and by_id[s.id].people > 0]
    slots.sort(key=lambda s: (s.start, numbers[s.id]))
    height = HEAD + UNDER + ROW * len(slots)
    span = max(times.worked, 1.0)
    wide = frame.WIDTH - NAMES - 2.0
    top = height - HEAD
    parts: list[Primitive] = [*_scale(span, wide, top, UNDER)]
    for row, slot in enumerate(slots):
        y = top - (row + 0.5) * ROW
        step = by_id[slot.id]
        name = f"{numbers[slot.id]}  {step.title}"
        parts.append(Text(at=(0.0, y - SMALL / 2), words=_short(name), height=SMALL))
        parts += _bar(
            NAMES + slot.start / span * wide,
            NAMES + slot.finish / span * wide,
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
        name=f"time-crew-{times.crew}",
        width=frame.WIDTH,
        height=height,
        title=f"Time of a crew of {times.crew}",
        description=f"{len(slots)} pieces of work, {times.worked:.0f} minutes.",
        primitives=(*parts, *frame.caption(words)),
    )


def _bar(start: float, end: float, y: float, *, thick: float, decides: bool) -> Iterator[Path]:
    box = (start, y - thick / 2, max(end, start + 0.8), y + thick / 2)
    if decides:
        yield frame.oblong(box, "outline", fill="solid")
    yield frame.oblong(box, "outline", weight="middle")


def _scale(span: float, wide: float, top: float, low: float) -> Iterator[Primitive]:
    """Upright lines with the time of day over them."""
    step = next((g for g in GRID if span / g <= MOST_MARKS), GRID[-1])
    marks = [k * step for k in range(int(span // step) + 1)]
    for mark in marks:
        x = NAMES + mark / span * wide
        yield Line(start=(x, low), end=(x, top), layer="dimension", stroke="dotted")
        _, hour, minute = clock(mark)
        yield Text(at=(x, top + 1.5), words=f"{hour}:{minute:02d}", anchor="middle", height=SMALL)
    for a, b in pairwise((0.0, NAMES + wide)):
        yield Line(start=(a, top), end=(b, top), layer="text")


def _short(words: str) -> str:
    """Words that have room before the bars; the list of steps has them in full."""
    if lettering.width(words, SMALL) <= NAMES - NARROW:
        return words
    kept = words
    while lettering.width(f"{kept}…", SMALL) > NAMES - NARROW:
        kept = kept[:-1]
    return f"{kept.rstrip()}…"
