"""The developed glass line folded into plan, seen from above."""

from __future__ import annotations

import math
from itertools import accumulate

from hangtrue.fit.enclosure import Run
from hangtrue.fit.room import Room
from hangtrue.fit.rows import Row
from hangtrue.geometry import Point


def folded(row: Row, room: Room, front: int) -> tuple[Run, ...]:
    """Lay the straight parts of the glass line out in plan.

    Parameters
    ----------
    row, room
        Not mirrored.
    front
        Number of the run, from 1, that starts at (0, 0) and points along x; y is into the shower.

    """
    bends = []
    for j in row.turns:
        turn = row.turn(j)
        size = math.pi - room.angle(turn.number)[0]
        bends.append(size if turn.way == "in" else -size)
    headings = list(accumulate(bends, initial=0.0))
    ahead = headings[front - 1]
    headings = [heading - ahead for heading in headings]
    origins: list[Point] = [(0.0, 0.0)]
    for (low, high), heading in zip(_spans(room), headings, strict=True):
        x, y = origins[-1]
        length = high - low
        origins.append((x + length * math.cos(heading), y + length * math.sin(heading)))
    x0, y0 = origins[front - 1]
    return tuple(
        Run(number=k + 1, start=low, end=high, origin=(x - x0, y - y0), heading=heading)
        for k, ((low, high), heading, (x, y)) in enumerate(
            zip(_spans(room), headings, origins, strict=False)
        )
    )


def _spans(room: Room) -> list[tuple[float, float]]:
    return [room.run(k) for k in range(1, len(room.marks))]
