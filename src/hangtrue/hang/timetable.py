"""The steps on the clock: who works when, when the second person is needed, when water may run."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from hangtrue.hang.graph import CriticalPath, Slot, critical_path, schedule
from hangtrue.hang.steps import Step
from hangtrue.tables import table

DAY = 24 * 60.0
"""min."""

NEXT_TO = 1.0
"""Stretches of work no further apart are one, min."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """A stretch of time, min from the start of the first working day."""

    start: float
    finish: float

    @property
    def minutes(self) -> float:
        """How long it is."""
        return self.finish - self.start


@dataclass(frozen=True, slots=True, kw_only=True)
class Timetable:
    """When a crew does what.

    Attributes
    ----------
    crew
        How many come.
    slots
        Of every step, in order of their start.
    path
        Longest way through the steps, were there people enough.
    called
        When one more person is needed than the crew has: for one who works alone, the times when
        somebody must come and help.
    second
        When two work at the same thing.
    sealed
        When the sealant begins to cure; where nothing is sealed, the end of the work.
    worked
        End of the last work before the sealant is left to cure.
    shower
        When water may run first; None where nothing is sealed, and it may at once.
    finish
        End of everything, hand-over included.

    """

    crew: int
    slots: tuple[Slot, ...]
    path: CriticalPath
    called: tuple[Stretch, ...]
    second: tuple[Stretch, ...]
    sealed: float
    worked: float
    shower: float | None
    finish: float

    @property
    def days(self) -> int:
        """Working days on which somebody comes."""
        return len({int(s.start // DAY) for s in self.slots if s.id.split(":")[0] != "cure"})


def timetable(steps: Sequence[Step], crew: int) -> Timetable:
    """Put steps on the clock for a crew.

    Work that takes more hands than the crew has is done with help that is called in for it.

    Parameters
    ----------
    crew
        How many come, at least 1.

    """
    work = [replace(s.activity, people=min(s.people, crew)) for s in steps]
    slots = schedule(work, crew, in_the_day)
    by_id = {s.id: s for s in steps}
    waits = [slot for slot in slots if by_id[slot.id].people == 0]
    left = [slot.finish for slot in slots if by_id[slot.id].kind == "leave"]
    worked = max(left, default=0.0)
    return Timetable(
        crew=crew,
        slots=slots,
        path=critical_path([s.activity for s in steps]),
        called=_joined([s for s in slots if by_id[s.id].people > crew]),
        second=_joined([s for s in slots if by_id[s.id].people > 1]),
        sealed=max((slot.start for slot in waits), default=worked),
        worked=worked,
        shower=max((slot.finish for slot in waits), default=None),
        finish=max((s.finish for s in slots), default=0.0),
    )


def in_the_day(start: float, minutes: float) -> float:
    """Earliest time from which work can run through within working hours, min.

    Work longer than a day begins with the day.
    """
    hours = float(table("hang/steps")["day"]["hours"]) * 60.0
    day, time = divmod(start, DAY)
    if time + minutes <= hours or time == 0.0:
        return start
    return (day + 1.0) * DAY


def clock(minutes: float) -> tuple[int, int, int]:
    """Day from 1, hour and minute of a time of the table."""
    day, time = divmod(round(minutes), round(DAY))
    begin = round(float(table("hang/steps")["day"]["start_hour"]) * 60.0)
    later, time = divmod(begin + time, round(DAY))
    return day + later + 1, time // 60, time % 60


def _joined(slots: Sequence[Slot]) -> tuple[Stretch, ...]:
    """Stretches of time covered by slots."""
    joined: list[Stretch] = []
    for slot in sorted(slots, key=lambda s: s.start):
        if joined and slot.start <= joined[-1].finish + NEXT_TO:
            last = joined.pop()
            joined.append(replace(last, finish=max(last.finish, slot.finish)))
        else:
            joined.append(Stretch(start=slot.start, finish=slot.finish))
    return tuple(joined)
