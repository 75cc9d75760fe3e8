"""How findings name readings, directions and rows of things, so that all rules speak alike."""

from __future__ import annotations

import math
from collections.abc import Sequence

from hangtrue.check.case import Case
from hangtrue.fit.enclosure import Joint
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

ALMOST = 0.99
"""Chance beyond which the figure says more than is known."""

OF_A_WALL = {"bow": "bow", "angle": "angle at the foot", "square": "squareness to the glass"}
"""What a reading of a wall is of, by its kind."""


def into(amount: float) -> str:
    """Direction of a lean or a bow by its sign."""
    return "into" if amount >= 0 else "out of"


def listed(words: Sequence[str], last: str = "and") -> str:
    """Write a row of things: `one, two and three`; empty for none."""
    *head, tail = words or [""]
    return f"{', '.join(head)} {last} {tail}" if head else tail


def percent(chance: float) -> str:
    """Write a chance as a person says it: never 0 % or 100 % of what is not certain.

    Examples
    --------
    >>> percent(0.9999), percent(0.42), percent(0.0)
    ('over 99 %', '42 %', 'under 1 %')

    """
    if chance > ALMOST:
        return "over 99 %"
    return "under 1 %" if chance < 1 - ALMOST else f"{chance * 100:.0f} %"


def sentence(words: str) -> str:
    """Begin with a capital, and leave every other letter as it is."""
    return f"{words[:1].upper()}{words[1:]}"


def lowered(words: str) -> str:
    """Begin with a small letter, as inside a sentence, and leave every other letter as it is."""
    return f"{words[:1].lower()}{words[1:]}"


def article(place: str) -> str:
    """Put `the` before what takes one: `the door`, `the left wall`; panes by number take none."""
    return place if place.startswith(("fixed", "door ", "the ")) else f"the {place}"


def between(joint: Joint) -> str:
    """Say where a joint is: `between the door and the left wall`."""
    return f"between {article(joint.between[0])} and {article(joint.between[1])}"


def corrected(case: Case, reading_id: str, value: float) -> str:
    """Write what a reading should be, in its own kind: an angle in degrees, all else a length."""
    if isinstance(case.reading(reading_id), Corner | CornerAngle | Square):
        return f"{math.degrees(value):.1f}°"
    return case.say(value)


def named(case: Case, reading_id: str) -> str:
    """Name a reading as the person who took it would."""
    reading = case.reading(reading_id)
    return f"{_place(case, reading)} (reading {reading_id})" if reading else f"reading {reading_id}"


def _place(case: Case, reading: Reading) -> str:
    say = case.say
    match reading:
        case Width():
            return f"the width at {say(reading.at)}"
        case Lean():
            plane = "in the plane of the glass" if reading.plane == "in" else "across the glass"
            return f"the lean of the {reading.wall} wall {plane}"
        case Offset():
            return f"the offset from {reading.line} to the {reading.wall} wall at {say(reading.at)}"
        case Diagonal():
            low, high = say(reading.left_at), say(reading.right_at)
            return f"the diagonal from {low} at the left to {high} at the right"
        case Height():
            return f"the height of the {reading.of} at the {reading.at}"
        case Bow() | CornerAngle() | Square():
            return f"the {OF_A_WALL[reading.what]} of the {reading.wall} wall"
        case Corner() | Triangle():
            legs = ", from leg to leg" if isinstance(reading, Triangle) else ""
            return f"the angle of corner {reading.corner}{legs}"
        case Fall() | Pitch():
            return f"the {reading.what} of the curb"
