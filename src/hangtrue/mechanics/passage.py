"""Whether a pane gets into the room: through doorways, round turns, up stairs, under ceilings."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final, Literal

from hangtrue.mechanics.ranges import positive, within
from hangtrue.source import cites

Attitude = Literal["upright", "on its side", "flat", "tilted"]
GOLDEN: Final = (math.sqrt(5) - 1) / 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Carried:
    """A pane in the way it is carried; mm and rad.

    Attributes
    ----------
    attitude
        `upright` on its bottom edge, `on its side`, lying `flat`, or `tilted` in its own plane.
    tilt_rad
        Of the bottom edge from the level.
    length, height
        What it takes up, level and upright.

    """

    attitude: Attitude
    tilt_rad: float
    length: float
    height: float


def carried(width: float, height: float, tilt_rad: float) -> Carried:
    """Room that a pane of that width and height takes up at a tilt of its bottom edge."""
    within("tilt", tilt_rad, 0, math.pi / 2, "rad")
    cosine, sine = math.cos(tilt_rad), math.sin(tilt_rad)
    attitude: Attitude = "upright" if tilt_rad == 0 else "tilted"
    return Carried(
        attitude="on its side" if tilt_rad == math.pi / 2 else attitude,
        tilt_rad=tilt_rad,
        length=width * cosine + height * sine,
        height=width * sine + height * cosine,
    )


@cites("own", "rectangle turned in its plane under a ceiling")
def shortest_under(width: float, height: float, headroom: float) -> Carried | None:
    """Attitude that takes the least length under a headroom; None if none goes under it.

    Length and height are both greatest in between, so the best is upright, on its side, or just as
    steep as the headroom allows.
    """
    positive("width", width)
    positive("height", height)
    diagonal, lead = math.hypot(width, height), math.atan2(height, width)
    tilts = [0.0, math.pi / 2]
    if headroom < diagonal:
        turn = math.asin(positive("headroom", headroom) / diagonal)
        tilts += [t for t in (turn - lead, math.pi - turn - lead) if 0 < t < math.pi / 2]
    ways = [carried(width, height, tilt) for tilt in tilts]
    return min(
        (way for way in ways if way.height <= headroom + 1e-9),
        key=lambda way: way.length,
        default=None,
    )


@cites("own", "rectangle through a rectangular opening, edge first")
def passes_doorway(
    width: float, height: float, doorway: tuple[float, float], around: float = 0.0
) -> Attitude | None:
    """How a pane passes a clear doorway (width, height) edge first; None if it does not.

    Parameters
    ----------
    width, height
        Of the pane, mm.
    doorway
        Clear, mm.
    around
        Room to leave on both faces and above and below, mm: hands, cups, wrapping.

    """
    wide, high = (positive("doorway", side) - 2 * within("room", around, 0) for side in doorway)
    if min(wide, high) <= 0:
        return None
    if height <= high:
        return "upright"
    if width <= high:
        return "on its side"
    if min(width, height) <= wide:
        return "flat"
    return "tilted" if min(width, height) <= math.hypot(wide, high) else None


@cites("own", "rectangle round a right-angled corner")
def longest_round_turn(before: float, after: float, thickness: float = 0.0) -> float:
    """Greatest length, kept level, that goes round a right-angled turn of two passages; mm.

    Least over t of (a cos t + b sin t - w) / (sin t cos t); without thickness (a^2/3 + b^2/3)^3/2.

    Parameters
    ----------
    before, after
        Clear widths of the passages, mm.
    thickness
        Of the pane with hands, cups and wrapping, mm.

    """
    narrow = min(positive("passage", before), positive("passage", after))
    within("thickness", thickness, 0, narrow * (1 - 1e-9), "mm")

    def longest(t: float) -> float:
        sine, cosine = math.sin(t), math.cos(t)
        return (before * cosine + after * sine - thickness) / (sine * cosine)

    low, high = 1e-6, math.pi / 2 - 1e-6
    for _ in range(80):
        step = GOLDEN * (high - low)
        if longest(high - step) < longest(low + step):
            high = low + step
        else:
            low = high - step
    return longest((low + high) / 2)


def passes_turn(
    width: float, height: float, passages: tuple[float, float], headroom: float, thickness: float
) -> Carried | None:
    """How a pane goes round a turn under a headroom; None if it does not.

    Parameters
    ----------
    width, height
        Of the pane, mm.
    passages, headroom
        Clear, mm.
    thickness
        Of the pane with room for hands, cups and wrapping on both faces, mm.

    """
    way = shortest_under(width, height, headroom)
    if way is not None and _goes_round(way.length, passages, thickness):
        return way
    long, short = max(width, height), min(width, height)
    if thickness <= headroom and _goes_round(long, passages, short):
        return Carried(attitude="flat", tilt_rad=0.0, length=long, height=thickness)
    return None


def _goes_round(length: float, passages: tuple[float, float], across: float) -> bool:
    return across < min(passages) and length <= longest_round_turn(*passages, across)


@cites("own", "rectangle along a sloped passage")
def passes_flight(
    width: float, height: float, flight: tuple[float, float, float], thickness: float
) -> Attitude | None:
    """How a pane goes up a straight flight of stairs; None if it does not.

    Its foot runs along the edges of the steps: plumb it needs h + w tan(slope) under what is above,
    laid along the slope its short side; lying flat its short side must go between the walls.

    Parameters
    ----------
    width, height
        Of the pane, mm.
    flight
        Clear width, headroom plumb above the edges of the steps (mm), and slope from the level,
        rad.
    thickness
        Of the pane with room for hands, cups and wrapping on both faces, mm.

    """
    clear, headroom, slope = flight
    positive("width of the stairs", clear)
    positive("headroom", headroom)
    steep = math.tan(within("slope of the stairs", slope, 0, math.radians(75), "rad"))
    if thickness <= clear:
        if height + width * steep <= headroom:
            return "upright"
        if width + height * steep <= headroom:
            return "on its side"
        if min(width, height) <= headroom * math.cos(slope):
            return "tilted"
    square = headroom * math.cos(slope)
    return "flat" if min(width, height) <= clear and thickness <= square else None
