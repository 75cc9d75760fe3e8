"""Readings in words: what was read, where, and how large it is, for the lists on paper."""

from __future__ import annotations

import math

from hangtrue.job.readings import (
    Bow,
    CornerAngle,
    Diagonal,
    Fall,
    Height,
    Lean,
    Offset,
    Pitch,
    Reading,
    Width,
)
from hangtrue.paper.lengths import Units, tidy


def place(reading: Reading, units: Units) -> str:
    """Say what was read and where: `Width at 2 in`."""
    size = units.size
    match reading:
        case Width():
            return f"Width at {size(reading.at)}"
        case Lean(plane="in"):
            return f"Lean of the {reading.wall} wall, {size(reading.from_)} to {size(reading.to)}"
        case Lean():
            span = f"{size(reading.from_)} to {size(reading.to)}"
            return f"Lean of the {reading.wall} wall across the glass, {span}"
        case Offset():
            return f"{reading.line} to the {reading.wall} wall at {size(reading.at)}"
        case Bow():
            span = f"{size(reading.from_)} to {size(reading.to)}"
            return f"Bow of the {reading.wall} wall, {span}"
        case Diagonal():
            return f"Diagonal, left {size(reading.left_at)} to right {size(reading.right_at)}"
        case Fall():
            return "Fall of the curb along the glass line"
        case Pitch():
            return "Pitch of the curb across"
        case Height(of="curb"):
            return f"Height of the curb, {reading.at}"
        case Height():
            return f"Height of the ceiling, {reading.at}"
        case CornerAngle():
            return f"Angle between the curb and the {reading.wall} wall"


def typed(reading: Reading) -> str:
    """Say the value as it was written, with the words that carry its sign."""
    written = str(reading.value.typed)
    match reading:
        case Lean(toward=str() as toward) | Bow(toward=str() as toward):
            return f"{written} {toward}"
        case Fall(falls=str() as falls) | Pitch(falls=str() as falls):
            return f"{written}, falls {falls}"
        case _:
            return written


def amount(reading: Reading, value: float, units: Units) -> str:
    """Write a value in the unit of the reading: a small length, or degrees for an angle."""
    if isinstance(reading, CornerAngle):
        return f"{tidy(math.degrees(value), 2)}°"
    return units.figure(value, fine=True)


def off_by(reading: Reading, value: float, units: Units) -> str:
    """Write a difference between two values of a reading, with its sign, in decimals."""
    if isinstance(reading, CornerAngle):
        return f"{tidy(math.degrees(value), 2)}°"
    return units.exact(value)[:-1] if units.first == "mm" else units.exact(value)


def who(reading: Reading) -> str:
    """Say who read it, when and with what."""
    return ", ".join(part for part in (reading.with_, reading.by, reading.on, reading.note) if part)
