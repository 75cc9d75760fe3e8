"""The screws of fixed glass in the wood of its walls: the worst of a row, and what would do."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from hangtrue.check.case import Case
from hangtrue.check.proof.fixed_row import Demand, Row
from hangtrue.check.proof.fixing import (
    Capacity,
    Fixing,
    capacity,
    stock_lengths,
    stock_sizes,
    use,
)
from hangtrue.check.proof.hung_door import gravity, over
from hangtrue.check.wood import backing
from hangtrue.job.document import Wall
from hangtrue.mechanics.ranges import OutOfRange

MOST_FIXINGS = 40
Shared = Callable[[Row], tuple[Demand, ...]]
"""What every fixing of a row must bear, for any number of fixings."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Borne:
    """One screw under one load: what it bears, and how much of it is used; up to 1 it holds."""

    fixing: Fixing
    demand: Demand
    capacity: Capacity
    use: float


def in_wood(case: Case, row: Row, size: str, length: float = 0.0) -> Fixing | None:
    """Return the screw of a row in the thinnest wood behind it; None where a fixing has none."""
    wall, rules = case.wall(row.side), case.brief.profile
    pieces = [backing(wall, height, height) for height in row.heights]
    found = [piece for piece in pieces if piece is not None]
    if wall.behind not in {"blocking", "stud"} or len(found) < len(pieces) or not wall.layers:
        return None
    thin = min(found, key=lambda piece: piece.depth)
    return Fixing(
        kind="wood-screw",
        size=size,
        length=length,
        over=over(wall),
        depth=float(thin.depth),
        gravity=min(gravity(piece.species)[0] for piece in found),
        moisture=rules.wood_moisture,
        rules="nds" if rules.strength_rules == "us" else "ec5",
        under="channel-base" if row.holder == "channel" else "hinge-plate",
    )


def bears_no_wood(wall: Wall) -> bool:
    """Whether nobody knows of wood in that wall."""
    return wall.behind not in {"blocking", "stud"}


def worst(fixing: Fixing, demands: Iterable[Demand], factor: float) -> Borne:
    """Return the worst screw of a row.

    Raises
    ------
    OutOfRange
        If a screw of that length has no value, or the rules do not cover it.

    """
    found = []
    for demand in demands:
        borne = capacity(fixing, demand.duration)
        used = use(fixing, borne, factor * demand.tension_N, factor * demand.shear_N)
        found.append(Borne(fixing=fixing, demand=demand, capacity=borne, use=used))
    return max(found, key=lambda one: one.use)


def holds(fixing: Fixing, demands: Sequence[Demand], factor: float) -> bool:
    """Whether every screw of a row holds."""
    try:
        return worst(fixing, demands, factor).use <= 1.0
    except OutOfRange:
        return False


def reaches(fixing: Fixing) -> Fixing | None:
    """Return the shortest screw of the shops of that number that counts and stays in the wood."""
    tried = (fixing.with_length(length) for length in stock_lengths())
    return next((one for one in tried if one.bears and one.sticks_out <= 0), None)


def heavier(fixing: Fixing) -> Iterator[Fixing]:
    """Longest screws that stay in the wood, from this number up."""
    for size in _from(fixing.size):
        tried = (replace(fixing, size=size, length=long) for long in reversed(stock_lengths()))
        found = next((one for one in tried if one.bears and one.sticks_out <= 0), None)
        if found is not None:
            yield found


def _from(size: str) -> tuple[str, ...]:
    sizes = stock_sizes()
    return sizes[sizes.index(size) :] if size in sizes else sizes


def shortest(fixing: Fixing, demands: Sequence[Demand], factor: float) -> Fixing | None:
    """Return the thinnest and then shortest screw of the shops that holds and stays in the wood."""
    for size in _from(fixing.size):
        for length in stock_lengths():
            tried = replace(fixing, size=size, length=length)
            if tried.sticks_out <= 0 and holds(tried, demands, factor):
                return tried
    return None


def enough(row: Row, fixing: Fixing, asked: Shared, factor: float) -> Row | None:
    """Return a channel on the fewest fixings that hold with this screw; None where none do."""
    if not row.free or len(row.heights) < 2:  # noqa: PLR2004 - two ends
        return None
    apart = row.heights[-1] - row.heights[0]
    for count in range(len(row.heights) + 1, MOST_FIXINGS):
        if apart / (count - 1) < row.free[0]:
            return None
        more = row.with_count(count)
        if holds(fixing, asked(more), factor):
            return more
    return None
