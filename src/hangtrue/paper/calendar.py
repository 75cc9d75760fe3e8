"""Visits and dates for anybody's calendar, where it is known on which day the glass is hung."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, time, timedelta

from icalendar import Calendar, Event

from hangtrue.hang.handover import handover
from hangtrue.hang.timetable import Timetable, clock
from hangtrue.paper.language import told
from hangtrue.paper.work_set import Hanging, WorkSet
from hangtrue.phrase import phrase

DAY = 24 * 60.0
MAKER = "-//hangtrue//work papers//EN"


def visits(found: WorkSet, hanging: Hanging, first: date, crew: int = 2) -> bytes:
    """Write the days of work, the first water, and the days of tightening again (RFC 5545).

    Parameters
    ----------
    first
        First working day; times are those of the clock on the wall there.
    crew
        Whose timetable it is.

    """
    times = next(t for t in hanging.times if t.crew == crew)
    calendar = Calendar()
    calendar.add("prodid", MAKER)
    calendar.add("version", "2.0")
    head = found.plan.brief.job.job
    for number, (start, end, words) in enumerate(_events(hanging, times, first), 1):
        event = Event()
        event.add("uid", f"{head.id}-v{head.version}-{number}@hangtrue")
        # A version has no clock: the day itself is the stamp, and the same job the same file.
        event.add("dtstamp", datetime.combine(first, time()))
        event.add("dtstart", start)
        event.add("dtend", end)
        event.add("summary", f"{told(words)}: {head.room or head.id}")
        version = phrase("{job}, version {version}", job=head.id, version=head.version)
        event.add("description", told(version))
        calendar.add_component(event)
    return bytes(calendar.to_ical())


Span = tuple[datetime | date, datetime | date, str]


def _events(hanging: Hanging, times: Timetable, first: date) -> Iterator[Span]:
    people = {s.id: s.people for s in hanging.steps}
    worked = [s for s in times.slots if people[s.id]]
    for day in sorted({int(s.start // DAY) for s in worked}):
        slots = [s for s in worked if int(s.start // DAY) == day]
        start = min(s.start for s in slots)
        end = max(s.finish for s in slots)
        words = "Hang the glass" if start < times.worked else "Water test and hand-over"
        yield _moment(first, start), _moment(first, end), words
    if times.shower is not None:
        water = _moment(first, times.shower)
        yield water, water + timedelta(minutes=15), "First water, not before"
    sealed = _moment(first, times.sealed)
    for day_again in handover(hanging.made, hanging.cure, sealed).tighten_on:
        yield day_again, day_again + timedelta(days=1), "Tighten screws again, look at seals"


def _moment(first: date, minutes: float) -> datetime:
    day, hour, minute = clock(minutes)
    return datetime.combine(first + timedelta(days=day - 1), time(hour, minute))
