"""How findings name readings, directions and rows of things, so that all rules speak alike."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import Literal

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
    Side,
    Square,
    Triangle,
    Width,
)
from hangtrue.phrase import Phrase, join, phrase, reshaped

ALMOST = 0.99
"""Chance beyond which the figure says more than is known."""

OF_THE_CURB = {"fall": "the fall of the curb", "pitch": "the pitch of the curb"}
STATIONS = {"left": "at the left", "middle": "at the middle", "right": "at the right"}
PLACES = frozenset(
    {"left wall", "right wall", "curb", "ceiling", "door", "transom", "glass"}
    | {"hinge", "channel", "clamp", "joint", "head bar"}
)
"""What the program names; any other name is one that somebody typed."""


def into(amount: float) -> str:
    """Direction of a lean or a bow by its sign."""
    return "into the opening" if amount >= 0 else "out of the opening"


def the_wall(side: Side) -> str:
    """Name a wall in a sentence: `the left wall`."""
    return article(f"{side} wall")


def hinge_wall(side: Side) -> str:
    """Name the wall that carries the door: `the hinge wall (left)`."""
    return f"the hinge wall ({side})"


def off_line(far: str, off: float) -> Phrase:
    """Say on which side of the glass line a place is that lies that far off it."""
    return phrase("{far} inside", far=far) if off > 0 else phrase("{far} outside", far=far)


def listed(words: Sequence[str], last: Literal["and", "or"] = "and") -> str:
    """Write a row of things: `one, two and three`; empty for none."""
    *head, tail = words or [""]
    if not head:
        return tail
    pair = phrase("{head} or {tail}", head=join(", ", head), tail=tail)
    return pair if last == "or" else phrase("{head} and {tail}", head=join(", ", head), tail=tail)


def percent(chance: float) -> str:
    """Write a chance as a person says it: never 0 % or 100 % of what is not certain.

    Examples
    --------
    >>> percent(0.9999), percent(0.42), percent(0.0)
    ('over 99 %', '42 %', 'under 1 %')

    """
    if chance > ALMOST:
        return phrase("over 99 %")
    return phrase("under 1 %") if chance < 1 - ALMOST else f"{chance * 100:.0f} %"


def sentence(words: str) -> str:
    """Begin with a capital, and leave every other letter as it is."""
    return reshaped(words, _raised)


def _raised(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}"


def lowered(words: str) -> str:
    """Begin with a small letter, as inside a sentence, and leave every other letter as it is."""
    return reshaped(words, _dropped)


def _dropped(words: str) -> str:
    return f"{words[:1].lower()}{words[1:]}"


def article(place: str) -> str:
    """Put `the` before what takes one: `the door`, `the left wall`; panes by number take none.

    Place and article are one message to the catalogs: other languages have more than one article,
    and give one to numbered panes too. Of a name that somebody typed they do not know which.
    """
    kind, _, number = place.rpartition(" ")
    if number.isdigit() and kind in NUMBERED:
        return NUMBERED[kind](number)
    if place.startswith(("fixed", "door ", "the ")):
        return place
    return f"the {place}" if place in PLACES else phrase("the {name}", name=place)


def a_fitting(kind: str) -> str:
    """Put `a` before a sort of fitting, one message for both: `a hinge`."""
    return f"a {kind}"


NUMBERED: dict[str, Callable[[str], Phrase]] = {
    "fixed": lambda number: phrase("fixed {number}", number=number),
    "door": lambda number: phrase("door {number}", number=number),
    "transom": lambda number: phrase("the transom {number}", number=number),
    "curb of run": lambda number: phrase("the curb of run {run}", run=number),
}
"""How panes and parts of the curb are named inside a sentence, by what stands before the number."""


def between(joint: Joint) -> str:
    """Say where a joint is: `between the door and the left wall`."""
    one, other = joint.between
    return phrase("between {one} and {other}", one=article(one), other=article(other))


def corrected(case: Case, reading_id: str, value: float) -> str:
    """Write what a reading should be, in its own kind: an angle in degrees, all else a length."""
    if isinstance(case.reading(reading_id), Corner | CornerAngle | Square):
        return f"{math.degrees(value):.1f}°"
    return case.say(value)


def named(case: Case, reading_id: str) -> str:
    """Name a reading as the person who took it would."""
    reading = case.reading(reading_id)
    if reading is None:
        return phrase("reading {id}", id=reading_id)
    return phrase("{place} (reading {id})", place=_place(case, reading), id=reading_id)


def _place(case: Case, reading: Reading) -> str:
    say = case.say
    match reading:
        case Width():
            return phrase("the width at {height}", height=say(reading.at))
        case Lean():
            wall = the_wall(reading.wall)
            if reading.plane == "in":
                return phrase("the lean of {wall} in the plane of the glass", wall=wall)
            return phrase("the lean of {wall} across the glass", wall=wall)
        case Offset():
            return phrase(
                "the offset from {line} to {wall} at {height}",
                line=reading.line,
                wall=the_wall(reading.wall),
                height=say(reading.at),
            )
        case Diagonal():
            return phrase(
                "the diagonal from {low} at the left to {high} at the right",
                low=say(reading.left_at),
                high=say(reading.right_at),
            )
        case Height():
            return phrase(
                "the height of {what} {place}", what=article(reading.of), place=_at(reading.at)
            )
        case Bow() | CornerAngle() | Square():
            return _of_a_wall(reading)
        case Triangle():
            return phrase("the angle of corner {corner}, from leg to leg", corner=reading.corner)
        case Corner():
            return phrase("the angle of corner {corner}", corner=reading.corner)
        case Fall() | Pitch():
            return OF_THE_CURB[reading.what]


def _of_a_wall(reading: Bow | CornerAngle | Square) -> str:
    wall = the_wall(reading.wall)
    match reading:
        case Bow():
            return phrase("the bow of {wall}", wall=wall)
        case CornerAngle():
            return phrase("the angle at the foot of {wall}", wall=wall)
        case Square():
            return phrase("the squareness to the glass of {wall}", wall=wall)


def _at(station: str) -> str:
    return STATIONS.get(station) or phrase("at the {place}", place=station)
