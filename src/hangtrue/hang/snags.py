"""Snags: what must be seen to before or at the work, with what to do about it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from hangtrue.phrase import phrase


@dataclass(frozen=True, slots=True, kw_only=True)
class Snag:
    """Something that must be seen to before or at the work.

    Attributes
    ----------
    where
        Place in words: `left wall`, `hole W3`, `channel, fixed 1`.
    wrong, do
        What is wrong and what to do about it.
    stops
        The work named cannot be done as planned; otherwise it is a thing to look at.

    """

    where: str
    wrong: str
    do: str
    stops: bool = False

    def __str__(self) -> str:
        """Write it in one line."""
        return phrase("{where}: {wrong}; {do}", where=self.where, wrong=self.wrong, do=self.do)


def stops_first(snags: Iterable[Snag]) -> tuple[Snag, ...]:
    """Return each snag once, those that stop the work first."""
    return tuple(sorted(dict.fromkeys(snags), key=lambda s: not s.stops))
