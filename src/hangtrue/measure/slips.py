"""The slips people make when they read or write: what each reading might have been."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from hangtrue.job.readings import Corner, CornerAngle, Reading, Square
from hangtrue.tables import table
from hangtrue.units import Angle, Length, Slope, Unit, UnitsError, length

_INCHES = re.compile(r"[\"'″”′’⁄/½¼¾⅛⅜⅝⅞]|in|ft|foot|feet")
_FRACTION = re.compile(r"(?P<num>\d+)/(?P<den>\d+)")
_DIGITS = re.compile(r"(?<![/\d])\d{2,}(?![/\d])")
EIGHTHS = range(1, 8)


@dataclass(frozen=True, slots=True, kw_only=True)
class Slip:
    """One way in which a reading may have gone wrong.

    Attributes
    ----------
    words
        The slip, as it is told.
    rate
        Chance of it, before the readings are looked at.
    retyped
        What the document should have said.

    """

    words: str
    rate: float
    retyped: Length | Slope | Angle


def slips(reading: Reading, unit: Unit) -> Iterator[Slip]:
    """Every slip of the table that this reading, as it was typed, could suffer from.

    Parameters
    ----------
    unit
        Of bare numbers in the job.

    """
    read = reading.value
    if isinstance(reading, CornerAngle | Corner | Square):
        yield from _wrong_side(reading)
        return
    if rate := _rate("sign", reading.what):
        yield Slip(
            words=table("misreadings")["sign"]["words"], rate=rate, retyped=type(read)(-read)
        )
    if not isinstance(read, Length):
        return
    typed = typed_unit(read.typed, unit)
    for row in table("misreadings")["shift"]:
        if reading.what in row["of"] and typed in row["units"]:
            yield from _shifted(read, row)
    for name, retype in _RETYPED.items():
        row = table("misreadings")[name]
        if typed in row["units"] and (rate := _rate(name, reading.what)):
            texts = retype(read.typed)
            found = [known for text in texts if (known := _read(text, unit)) is not None]
            for known in found:
                yield Slip(words=row["words"], rate=rate / len(found), retyped=known)


def _wrong_side(reading: CornerAngle | Corner | Square) -> Iterator[Slip]:
    """135 degrees for 45: what an angle finder shows on the other side of a leg."""
    if rate := _rate("wrong-side", reading.what):
        other = Angle(math.pi - reading.value)
        yield Slip(words=table("misreadings")["wrong-side"]["words"], rate=rate, retyped=other)


def typed_unit(typed: str, unit: Unit) -> Unit:
    """Return the unit that a length was typed in; feet count as inches."""
    if "mm" in typed:
        return "mm"
    if "cm" in typed:
        return "cm"
    return "in" if _INCHES.search(typed) else unit


def _rate(name: str, what: str) -> float:
    row: dict[str, Any] = table("misreadings")[name]
    return float(row["rate"]) if what in row["of"] else 0.0


def _shifted(read: Length, row: dict[str, Any]) -> Iterator[Slip]:
    """Too long and too short by a round amount; half the rate each."""
    for words, by in ((row["long"], -row["by"]), (row["short"], row["by"])):
        yield Slip(words=words, rate=row["rate"] / 2, retyped=Length(read + by))


def _digits_swapped(typed: str) -> list[str]:
    """Two neighbouring digits of a whole number change places."""
    places = (i for run in _DIGITS.finditer(typed) for i in range(run.start(), run.end() - 1))
    return [
        typed[:i] + typed[i + 1] + typed[i] + typed[i + 2 :]
        for i in places
        if typed[i] != typed[i + 1]
    ]


def _fraction_mirrored(typed: str) -> list[str]:
    """Five eighths for three eighths: the fraction counted from the other end of the inch."""
    mirrored = _FRACTION.sub(lambda m: f"{int(m['den']) - int(m['num'])}/{m['den']}", typed)
    return [mirrored] if mirrored != typed else []


def _fraction_backwards(typed: str) -> list[str]:
    """Three eighths short of the whole inch, written as three eighths beyond it."""
    found = re.search(r"(?P<whole>\d+)(?P<gap>[ -]+)(?P<num>\d+)/(?P<den>\d+)", typed)
    if not found or not int(found["whole"]):
        return []
    part = f"{int(found['den']) - int(found['num'])}/{found['den']}"
    short = f"{int(found['whole']) - 1}{found['gap']}{part}"
    return [typed[: found.start()] + short + typed[found.end() :]]


def _fraction_dropped(typed: str) -> list[str]:
    """Eighths beside a bare whole number of inches."""
    whole = re.search(r"(?<![./\d])\d+(?= ?(?:\"|in|$))", typed)
    if not whole or "/" in typed:
        return []
    return [f"{typed[: whole.end()]}-{n}/8{typed[whole.end() :]}" for n in EIGHTHS]


_RETYPED = {
    "digits": _digits_swapped,
    "fraction-mirrored": _fraction_mirrored,
    "fraction-backwards": _fraction_backwards,
    "fraction-dropped": _fraction_dropped,
}


def _read(text: str, unit: Unit) -> Length | None:
    try:
        return length(text, unit)
    except UnitsError:
        return None
