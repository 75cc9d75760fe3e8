"""Problems: what is wrong in a document, where it stands, and what to do about it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Literal

Path = tuple[str | int, ...]
"""Where something stands in a document: keys and positions from the top down, counted from 0."""

Level = Literal["wrong", "sure?"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One thing that is wrong, or that looks like a slip.

    Attributes
    ----------
    line
        Line of the document, counted from 1; None where the whole document is meant.
    field
        Where it stands, as a person sees it: `readings[3].value`; positions are counted from 1.
    wrong
        What is wrong.
    do
        What to do about it.
    level
        `wrong`: this part cannot be used. `sure?`: it is used as written, but is it so?

    """

    line: int | None
    field: str
    wrong: str
    do: str
    level: Level = "wrong"

    def __str__(self) -> str:
        """Write the problem in one line, as a terminal shows it."""
        where = f"line {self.line}: " if self.line else ""
        field = f"{self.field}: " if self.field else ""
        return f"{where}{field}{self.wrong}; {self.do}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """A problem before its line is known: what a check says about one place of a document."""

    path: Path
    wrong: str
    do: str
    level: Level = "wrong"


def dotted(path: Path) -> str:
    """Write a path as a person sees it.

    Examples
    --------
    >>> dotted(("readings", 2, "value"))
    'readings[3].value'

    """
    written = ""
    for step in path:
        if isinstance(step, int):
            written += f"[{step + 1}]"
        else:
            written += f".{step}" if written else step
    return written


def any_wrong(problems: Iterable[Problem]) -> bool:
    """Tell whether any of them is more than a question."""
    return any(problem.level == "wrong" for problem in problems)


def near(typed: str, known: Iterable[str]) -> str:
    """Return the known name that was probably meant; empty where none is near."""
    return next(iter(get_close_matches(typed, list(known), n=1, cutoff=0.6)), "") if typed else ""


def suggest(typed: str, known: Iterable[str]) -> str:
    """Say which of the known names was probably meant; all of them where none is near."""
    known = list(known)
    meant = near(typed, known)
    return f"did you mean {meant}?" if meant else f"write {', '.join(known)}"
