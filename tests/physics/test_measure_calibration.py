"""Two thousand made-up openings: intervals hold the truth as often as they say.

Rooms are drawn from what the program takes for granted of walls, readings scatter normally with the
standard uncertainties of their instruments, and lines stand as plumb as theirs allows.
"""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest

from hangtrue.estimate import Estimate
from hangtrue.measure import measure
from hangtrue.measure.opening import Opening
from tests.made_up import (
    GLASS,
    INCH,
    Room,
    Vector,
    brief,
    lean,
    offset,
    random_room,
    read,
    usual_readings,
)

ROOMS = 2000
COVERAGE = 0.95
REACH = 1.959964
HEIGHTS = tuple(h * INCH for h in (0, 10, 38, 66, 76))
BETWEEN = (20 * INCH, 54 * INCH)
"""Heights between nodes, where a wall is taken as straight."""

KINDS = {
    "usual": usual_readings("in", diagonals=True),
    "laser": (
        *usual_readings("mm")[:3],
        *(offset(side, h) for side in ("left", "right") for h in (0, 38, 76)),
        *(lean(side, h, "across") for side in ("left", "right") for h in (38, 72)),
    ),
}


def truths(room: Room) -> dict[str, float]:
    """Lengths of the room that glass is made from, by name."""
    found = {f"width at {h / INCH:.0f} in": room.width(h) for h in HEIGHTS}
    found |= {f"between nodes, {h / INCH:.0f} in": room.width(h) for h in BETWEEN}
    for side in ("left", "right"):
        found[f"{side} lean"] = room.lean(side, 0.0, GLASS)
        found[f"{side} lean over the hinges"] = room.lean(side, 10 * INCH, 66 * INCH)
        found[f"{side} across"] = room.across(side)
    return found | {"curb": room.curb_right, "pitch": room.pitch}


def estimates(opening: Opening) -> dict[str, Estimate]:
    """The same, as estimated."""
    lengths = {
        f"width at {h / INCH:.0f} in": opening.wall("right", h) - opening.wall("left", h)
        for h in HEIGHTS
    }
    lengths |= {
        f"between nodes, {h / INCH:.0f} in": opening.wall("right", h) - opening.wall("left", h)
        for h in BETWEEN
    }
    for side in ("left", "right"):
        lengths[f"{side} lean"] = opening.lean(side, 0.0, GLASS)
        lengths[f"{side} lean over the hinges"] = opening.lean(side, 10 * INCH, 66 * INCH)
        lengths[f"{side} across"] = opening.entry(f"across {side}")
    lengths |= {"curb": opening.entry("curb right"), "pitch": opening.entry("pitch")}
    return {name: opening.estimate(length) for name, length in lengths.items()}


@cache
def deviations(kind: str) -> dict[str, Vector]:
    """Error over standard deviation of every length in every room, (ROOMS,) each."""
    rng = np.random.default_rng(11)
    found: dict[str, list[float]] = {}
    for _ in range(ROOMS):
        room = random_room(rng)
        opening = measure(brief(read(room, KINDS[kind], rng, "mm", "normal")))
        true = truths(room)
        for name, e in estimates(opening).items():
            found.setdefault(name, []).append((e.value - true[name]) / e.sd)
    return {name: np.array(z) for name, z in found.items()}


def unread(kind: str, name: str) -> bool:
    """Whether nothing was read of it; then the prior answers, which is broader than these rooms."""
    if kind == "laser":
        return name in {"curb", "pitch"}
    return "across" in name


@pytest.mark.parametrize("kind", KINDS)
def test_intervals_hold_the_truth_as_often_as_they_say(kind: str) -> None:
    """Within what 2,000 rooms can tell, once in a thousand for each of some seventy lengths."""
    band = 3.3 * math.sqrt(COVERAGE * (1.0 - COVERAGE) / ROOMS)
    for name, z in deviations(kind).items():
        held = float((np.abs(z) < REACH).mean())
        if unread(kind, name):
            assert held >= COVERAGE, name
        elif "between" in name:
            assert held >= COVERAGE - band - 0.01, name
        else:
            assert held == pytest.approx(COVERAGE, abs=band), name


@pytest.mark.parametrize("kind", KINDS)
def test_estimates_are_not_biased(kind: str) -> None:
    for name, z in deviations(kind).items():
        if unread(kind, name):
            continue
        assert float(z.mean()) == pytest.approx(0.0, abs=3.3 / math.sqrt(ROOMS)), name
