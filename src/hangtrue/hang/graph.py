"""Work that must follow other work: order, critical path, and who does what when.

Times are minutes from the start. Nothing here knows what the work is.
"""

from __future__ import annotations

import heapq
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from graphlib import CycleError, TopologicalSorter

SAME = 1e-9
"""Times no further apart are one, min."""

Opens = Callable[[float, float], float]
"""Earliest time from which work of that length can run through, given when it could start."""


class Circle(ValueError):  # noqa: N818 -- it names what is wrong
    """Work that waits for itself."""

    def __init__(self, names: Sequence[str]) -> None:
        """Build the message from the names, in the order in which they wait."""
        super().__init__(f"each of these waits for the one before it: {', '.join(names)}")
        self.names = tuple(names)


@dataclass(frozen=True, slots=True, kw_only=True)
class Activity:
    """One piece of work that is not interrupted.

    Attributes
    ----------
    duration
        min, >= 0.
    people
        How many hands it takes at once; 0 for waiting.
    after
        Ids of what must be done before it.

    """

    id: str
    duration: float
    people: int = 1
    after: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Float:
    """When an activity can run, if there are people enough; min.

    Attributes
    ----------
    earliest, latest
        Start: as soon as it may; as late as it may without delaying the end.

    """

    earliest: float
    latest: float

    @property
    def slack(self) -> float:
        """How long it may be put off without delaying the end."""
        return self.latest - self.earliest


@dataclass(frozen=True, slots=True, kw_only=True)
class CriticalPath:
    """The longest way through the work.

    Attributes
    ----------
    duration
        From the start to the end of the last, min; 0 where there is nothing to do.
    floats
        By id, in an order that respects what must precede what.
    critical
        Ids without slack, in order.

    """

    duration: float
    floats: dict[str, Float]
    critical: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Slot:
    """When an activity runs, min."""

    id: str
    start: float
    finish: float


def order(work: Sequence[Activity]) -> tuple[Activity, ...]:
    """Sort work so that nothing comes before what it waits for; otherwise as given.

    Raises
    ------
    Circle
        If work waits for itself.
    KeyError
        If work waits for what is not there.

    """
    place = {a.id: i for i, a in enumerate(work)}
    sorter = TopologicalSorter({a.id: a.after for a in work})
    try:
        sorter.prepare()
    except CycleError as error:
        raise Circle(error.args[1]) from None
    ready = [place[name] for name in sorter.get_ready()]
    heapq.heapify(ready)
    done: list[Activity] = []
    while ready:
        activity = work[heapq.heappop(ready)]
        done.append(activity)
        sorter.done(activity.id)
        for name in sorter.get_ready():
            heapq.heappush(ready, place[name])
    return tuple(done)


def critical_path(work: Sequence[Activity]) -> CriticalPath:
    """Earliest and latest start of all work, by a pass forward and a pass backward."""
    sorted_work = order(work)
    start: dict[str, float] = {}
    for a in sorted_work:
        start[a.id] = max((start[b] + _of(work, b).duration for b in a.after), default=0.0)
    end = max((start[a.id] + a.duration for a in work), default=0.0)
    latest = {a.id: end - a.duration for a in work}
    for a in reversed(sorted_work):
        for b in a.after:
            latest[b] = min(latest[b], latest[a.id] - _of(work, b).duration)
    floats = {a.id: Float(earliest=start[a.id], latest=latest[a.id]) for a in sorted_work}
    critical = tuple(name for name, f in floats.items() if f.slack < SAME)
    return CriticalPath(duration=end, floats=floats, critical=critical)


def _of(work: Iterable[Activity], name: str) -> Activity:
    return next(a for a in work if a.id == name)


def at_once(start: float, _duration: float) -> float:
    """Work can start at any time."""
    return start


def schedule(
    work: Sequence[Activity], crew: int, opens: Opens = at_once, first: Sequence[str] = ()
) -> tuple[Slot, ...]:
    """Give work to people: whenever hands are free, the first of the list that may start does.

    List scheduling: good, not always best, and more hands may even take longer (Graham 1969).

    Parameters
    ----------
    crew
        How many hands there are.
    opens
        When work can run, as in a working day; waiting (no people) runs at any time.
    first
        Ids in the order of preference; what is not named comes after, longest way to the end first.

    Returns
    -------
    Slots in order of their start, in a tie as preferred.

    Raises
    ------
    ValueError
        If something takes more hands than there are.

    """
    short = [a.id for a in work if a.people > crew]
    if short:
        msg = f"{crew} cannot do this alone: {', '.join(short)}"
        raise ValueError(msg)
    waiting = _preferred(work, first)
    slots: dict[str, Slot] = {}
    moments = [0.0]
    while waiting:
        now = heapq.heappop(moments)
        for a in tuple(waiting):
            start = _start(a, now, slots, opens)
            if start is None or _busy(now, work, slots) + a.people > crew:
                continue
            if start > now + SAME:
                heapq.heappush(moments, start)
                continue
            slots[a.id] = Slot(id=a.id, start=now, finish=now + a.duration)
            heapq.heappush(moments, now + a.duration)
            waiting.remove(a)
    return tuple(sorted(slots.values(), key=lambda s: s.start))


def _preferred(work: Sequence[Activity], first: Sequence[str]) -> list[Activity]:
    """Return the work in order of preference."""
    place = {name: i for i, name in enumerate(first)}
    latest = {name: f.latest for name, f in critical_path(work).floats.items()}
    return sorted(work, key=lambda a: (place.get(a.id, len(place)), latest[a.id]))


def _start(a: Activity, now: float, slots: dict[str, Slot], opens: Opens) -> float | None:
    """When an activity may start, from now on; None while something before it is not done."""
    if any(b not in slots or slots[b].finish > now + SAME for b in a.after):
        return None
    return opens(now, a.duration) if a.people else now


def _busy(now: float, work: Sequence[Activity], slots: dict[str, Slot]) -> int:
    running = [s for s in slots.values() if s.start <= now + SAME and s.finish > now + SAME]
    return sum(_of(work, s.id).people for s in running)
