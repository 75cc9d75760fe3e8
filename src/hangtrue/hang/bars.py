"""Where the flange of a bar meets a wall or the ceiling: a wall seldom on the glass line."""

from __future__ import annotations

from hangtrue.fit.enclosure import Bar, Enclosure, Place
from hangtrue.geometry import Point
from hangtrue.job.readings import Side


def off_the_line(enclosure: Enclosure, end: Place, side: Side) -> float:
    """How far an end of a bar lies from the glass line at a wall, mm, + into the shower.

    Square to the run that ends at that wall: a brace at 45 degrees and a bar straight across both
    meet the wall away from the glass. 0 where the enclosure has no plan.
    """
    if not enclosure.runs:
        return 0.0
    run = enclosure.runs[0 if side == "left" else -1]
    return run.across(end[:2])[1]


def along_the_line(enclosure: Enclosure, bar: Bar, end: Place) -> Point:
    """Where an end of a bar lies overhead: along the developed glass line, and how far off it, mm.

    As it stands in plan where the enclosure has none.
    """
    if not enclosure.runs:
        return end[0], end[1]
    return enclosure.runs[bar.run - 1].across(end[:2])
