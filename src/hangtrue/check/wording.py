"""How findings name readings, directions and rows of things, so that all rules speak alike."""

from __future__ import annotations

import math
from collections.abc import Sequence

from hangtrue.check.case import Case
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


def into(amount: float) -> str:
    """Direction of a lean or a bow by its sign."""
    return "into" if amount >= 0 else "out of"


def listed(words: Sequence[str], last: str = "and") -> str:
    """Write a row of things: `one, two and three`."""
    *head, tail = words
    return f"{', '.join(head)} {last} {tail}" if head else tail


def corrected(case: Case, reading_id: str, value: float) -> str:
    """Write what a reading should be, in its own kind: an angle in degrees, all else a length."""
    if isinstance(case.reading(reading_id), CornerAngle):
        return f"{math.degrees(value):.1f}°"
    return case.say(value)


def named(case: Case, reading_id: str) -> str:
    """Name a reading as the person who took it would."""
    reading = case.reading(reading_id)
    return f"{_place(case, reading)} (reading {reading_id})" if reading else f"reading {reading_id}"


def _place(case: Case, reading: Reading) -> str:  # noqa: PLR0911 - one line a kind
    say = case.say
    match reading:
        case Width():
            return f"the width at {say(reading.at)}"
        case Lean(plane="in"):
            return f"the lean of the {reading.wall} wall in the plane of the glass"
        case Lean():
            return f"the lean of the {reading.wall} wall across the glass"
        case Offset():
            return f"the offset from {reading.line} to the {reading.wall} wall at {say(reading.at)}"
        case Bow():
            return f"the bow of the {reading.wall} wall"
        case Diagonal():
            low, high = say(reading.left_at), say(reading.right_at)
            return f"the diagonal from {low} at the left to {high} at the right"
        case Fall():
            return "the fall of the curb"
        case Pitch():
            return "the pitch of the curb"
        case Height():
            return f"the height of the {reading.of} at the {reading.at}"
        case CornerAngle():
            return f"the angle at the foot of the {reading.wall} wall"
