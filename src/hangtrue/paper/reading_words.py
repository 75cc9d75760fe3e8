"""Readings in words: what was read, where, and how large it is, for the lists on paper."""

from __future__ import annotations

import math
import re
from functools import singledispatch

from hangtrue.check.wording import article, the_wall
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
from hangtrue.phrase import join, phrase
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
    height = units.size(reading.at)
    if reading.run > 1:
        return phrase("Width of run {run} at {height}", run=reading.run, height=height)
    return phrase("Width at {height}", height=height)


@place.register
def _lean(reading: Lean, units: Units) -> str:
    wall, span = the_wall(reading.wall), _span(reading.from_, reading.to, units)
    if reading.plane == "in":
        return phrase("Lean of {wall}, {span}", wall=wall, span=span)
    return phrase("Lean of {wall} across the glass, {span}", wall=wall, span=span)


@place.register
def _offset(reading: Offset, units: Units) -> str:
    return phrase(
        "{line} to {wall} at {height}",
        line=reading.line,
        wall=the_wall(reading.wall),
        height=units.size(reading.at),
    )


@place.register
def _bow(reading: Bow, units: Units) -> str:
    span = _span(reading.from_, reading.to, units)
    return phrase("Bow of {wall}, {span}", wall=the_wall(reading.wall), span=span)


@place.register
def _diagonal(reading: Diagonal, units: Units) -> str:
    return phrase(
        "{diagonal}, left {low} to right {high}",
        diagonal=_of_run("Diagonal", reading.run),
        low=units.size(reading.left_at),
        high=units.size(reading.right_at),
    )


@place.register
def _fall(reading: Fall, _units: Units) -> str:
    return _of_run("Fall of the curb along the glass line", reading.run)


@place.register
def _pitch(reading: Pitch, _units: Units) -> str:
    return _of_run("Pitch of the curb across", reading.run)


@place.register
def _height(reading: Height, _units: Units) -> str:
    return phrase("Height of {what}, {place}", what=article(reading.of), place=_station(reading.at))


@place.register
def _angle(reading: CornerAngle, _units: Units) -> str:
    return phrase("Angle between the curb and {wall}", wall=the_wall(reading.wall))


@place.register
def _corner(reading: Corner, _units: Units) -> str:
    return phrase("Inside angle of corner {corner}", corner=reading.corner)


@place.register
def _triangle(reading: Triangle, units: Units) -> str:
    return phrase(
        "Across corner {corner}, from marks {before} before it, {after} after it",
        corner=reading.corner,
        before=units.size(reading.before),
        after=units.size(reading.after),
    )


@place.register
def _square(reading: Square, _units: Units) -> str:
    wall = the_wall(reading.wall)
    return phrase("Angle in plan between {wall} and the glass line", wall=wall)


def _of_run(what: str, run: int) -> str:
    """Name a run other than the first; straight lines have no other."""
    return phrase("{what} of run {run}", what=what, run=run) if run > 1 else what


def _station(at: str) -> str:
    """Name a place along the glass line: an end, or a corner by its number."""
    number = at.removeprefix("corner ")
    return at if number == at else phrase("corner {corner}", corner=number)


def _span(low: Length, high: Length, units: Units) -> str:
    return phrase("{low} to {high}", low=units.size(low), high=units.size(high))


def typed(reading: Reading, unit: Unit) -> str:
    """Say the value as it was written, with the word that carries its sign.

    A bare number gets the unit of the job.
    """
    written = reading.value.typed
    if BARE.fullmatch(written):
        written = f"{written} {unit}"
    match reading:
        case Lean(toward="in") | Bow(toward="in"):
            return phrase("{value}, inward", value=written)
        case Lean(toward="out") | Bow(toward="out"):
            return phrase("{value}, outward", value=written)
        case Fall(falls=str() as falls):
            return join(", ", (written, f"falls {falls}"))
        case Pitch(falls=str() as falls):
            return join(", ", (written, f"falls {falls}ward"))
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
    said = (reading.with_, reading.by, reading.on, reading.note)
    return join(", ", (part for part in said if part))
