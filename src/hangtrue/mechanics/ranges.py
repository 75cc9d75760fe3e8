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

    def __init__(self, name: str, value: object, allowed: str, unit: str = "") -> None:
        """Build the message from the values, the value in its unit where it has one."""
        shown = f"{value:.4g}" if isinstance(value, float) else value
        words = {"name": name, "value": shown, "allowed": allowed}
        self.words = (
            phrase("{name} is {value} {unit}; the formula covers {allowed}", unit=unit, **words)
            if unit
            else phrase("{name} is {value}; the formula covers {allowed}", **words)
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
        raise OutOfRange(name, value, _between(low, high, unit), unit)
    return value


def _between(low: float, high: float, unit: str) -> str:
    if not math.isfinite(high):
        if not unit:
            return phrase("{low:g} and above", low=low)
        return phrase("{low:g} {unit} and above", low=low, unit=unit)
    if not unit:
        return phrase("{low:g} to {high:g}", low=low, high=high)
    return phrase("{low:g} to {high:g} {unit}", low=low, high=high, unit=unit)


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
