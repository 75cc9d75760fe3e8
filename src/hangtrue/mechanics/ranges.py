"""The range a formula was stated for: outside it there is no answer, and none is invented."""

from __future__ import annotations

import math
from collections.abc import Iterable

from hangtrue.phrase import phrase


class OutOfRange(ValueError):  # noqa: N818 - it names what is wrong, as the trade would
    """A quantity lies outside what its formula or table covers.

    Attributes
    ----------
    name
        The quantity, in words.
    value
        What was given.
    allowed
        What the source covers, in words.
    words
        The message with its parts.

    """

    def __init__(self, name: str, value: object, allowed: str) -> None:
        """Build the message from the values."""
        shown = f"{value:.4g}" if isinstance(value, float) else value
        self.words = phrase(
            "{name} is {value}; the formula covers {allowed}",
            name=name,
            value=shown,
            allowed=allowed,
        )
        super().__init__(self.words)
        self.name = name
        self.value = value
        self.allowed = allowed


def within(name: str, value: float, low: float, high: float = math.inf, unit: str = "") -> float:
    """Return `value` if it is finite and low <= value <= high.

    Raises
    ------
    OutOfRange
        If it is not.

    """
    if not (math.isfinite(value) and low <= value <= high):
        top = f"to {high:g}" if math.isfinite(high) else "and above"
        raise OutOfRange(name, value, f"{low:g} {top} {unit}".rstrip())
    return value


def positive(name: str, value: float) -> float:
    """Return `value` if it is finite and greater than zero; else raise OutOfRange."""
    if not (math.isfinite(value) and value > 0):
        raise OutOfRange(name, value, "finite values above 0")
    return value


def listed(name: str, value: str, names: Iterable[str]) -> str:
    """Return `value` if a table lists it; else raise OutOfRange naming what is listed."""
    known = tuple(names)
    if value not in known:
        raise OutOfRange(name, value, ", ".join(known))
    return value
