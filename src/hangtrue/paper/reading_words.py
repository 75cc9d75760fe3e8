"""Readings in words: what was read, where, and how large it is, for the lists on paper."""

from __future__ import annotations

import math
import re
from functools import singledispatch

from hangtrue.job.readings import (
    Bow,
    Corner,
    CornerAngle,
    Diagonal,
    Fall,
    Height,
    Lean,
    Offset,
    Pitch,
    Reading,
    Square,
    Triangle,
    Width,
)
from hangtrue.paper.lengths import INCH, Units, tidy
from hangtrue.units import Length, Unit

ANGLES = (CornerAngle, Corner, Square)
"""Readings of an angle rather than of a length."""
BARE = re.compile(r"[-+0-9., /½¼¾⅛⅜⅝⅞]+")
"""A value without a unit."""


@singledispatch
def place(reading: object, _units: Units) -> str:
    """Say what was read and where: `Width at 2 in`."""
    raise TypeError(reading)


@place.register
def _width(reading: Width, units: Units) -> str:
    return f"Width{_of_run(reading.run)} at {units.size(reading.at)}"


@place.register
def _lean(reading: Lean, units: Units) -> str:
    across = "" if reading.plane == "in" else " across the glass"
    span = _span(reading.from_, reading.to, units)
    return f"Lean of the {reading.wall} wall{across}, {span}"


@place.register
def _offset(reading: Offset, units: Units) -> str:
    return f"{reading.line} to the {reading.wall} wall at {units.size(reading.at)}"


@place.register
def _bow(reading: Bow, units: Units) -> str:
    return f"Bow of the {reading.wall} wall, {_span(reading.from_, reading.to, units)}"


@place.register
def _diagonal(reading: Diagonal, units: Units) -> str:
    ends = (units.size(reading.left_at), units.size(reading.right_at))
    return f"Diagonal{_of_run(reading.run)}, left {ends[0]} to right {ends[1]}"


@place.register
def _fall(reading: Fall, _units: Units) -> str:
    return f"Fall of the curb along the glass line{_of_run(reading.run)}"


@place.register
def _pitch(reading: Pitch, _units: Units) -> str:
    return f"Pitch of the curb across{_of_run(reading.run)}"


@place.register
def _height(reading: Height, _units: Units) -> str:
    return f"Height of the {reading.of}, {reading.at}"


@place.register
def _angle(reading: CornerAngle, _units: Units) -> str:
    return f"Angle between the curb and the {reading.wall} wall"


@place.register
def _corner(reading: Corner, _units: Units) -> str:
    return f"Inside angle of corner {reading.corner}"


@place.register
def _triangle(reading: Triangle, units: Units) -> str:
    legs = f"{units.size(reading.before)} before it, {units.size(reading.after)} after it"
    return f"Across corner {reading.corner}, from marks {legs}"


@place.register
def _square(reading: Square, _units: Units) -> str:
    return f"Angle in plan between the {reading.wall} wall and the glass line"


def _of_run(run: int) -> str:
    """Name a run other than the first; straight lines have no other."""
    return f" of run {run}" if run > 1 else ""


def _span(low: Length, high: Length, units: Units) -> str:
    return f"{units.size(low)} to {units.size(high)}"


def typed(reading: Reading, unit: Unit) -> str:
    """Say the value as it was written, with the word that carries its sign.

    A bare number gets the unit of the job.
    """
    written = reading.value.typed
    if BARE.fullmatch(written):
        written = f"{written} {unit}"
    match reading:
        case Lean(toward=str() as toward) | Bow(toward=str() as toward):
            return f"{written}, {toward}ward"
        case Fall(falls=str() as falls):
            return f"{written}, falls {falls}"
        case Pitch(falls=str() as falls):
            return f"{written}, falls {falls}ward"
        case _:
            return written


def amount(reading: Reading, value: float, units: Units) -> str:
    """Write a value in the unit of the reading: a small length, or degrees for an angle."""
    if isinstance(reading, ANGLES):
        return f"{tidy(math.degrees(value), 2)}°"
    return units.figure(value, fine=True)


def said(reading: Reading, value: float, units: Units) -> str:
    """Say a value with its unit."""
    return amount(reading, value, units) if isinstance(reading, ANGLES) else units.small(value)


def difference(reading: Reading, value: float, units: Units) -> str:
    """Write a difference between two values of a reading, with its sign, in decimals."""
    if isinstance(reading, ANGLES):
        return f"{tidy(math.degrees(value), 2)}°"
    return tidy(value / INCH, 3) if units.first == "in" else tidy(value, 1)


def who(reading: Reading) -> str:
    """Say with what, by whom and when it was read, and what was noted."""
    return ", ".join(part for part in (reading.with_, reading.by, reading.on, reading.note) if part)
