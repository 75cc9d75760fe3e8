"""Where the flange of a bar meets a wall: seldom on the glass line, mostly out in the shower."""

from __future__ import annotations

from hangtrue.fit.enclosure import Enclosure, Place
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
