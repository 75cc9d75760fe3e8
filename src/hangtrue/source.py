"""Where a number or a formula comes from, and how well that is known.

Sources live in `data/sources.toml`. A formula carries its source by `@cites`, so that reports and
`docs/sources.md` are made from the code that is run.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal, TypeVar

from hangtrue.phrase import phrase
from hangtrue.tables import table

Known = Literal["read", "second-hand", "memory", "own derivation", "common practice"]
Formula = TypeVar("Formula", bound=Callable[..., Any])

CITED: dict[str, tuple[str, str]] = {}
"""Every citing function by its full name: (source id, clause)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """A published text, or the plain statement that there is none.

    Attributes
    ----------
    id
        Permanent short name, as used in the tables.
    title, edition
        As printed on the text itself.
    known
        `read` (seen in the text or an official copy), `second-hand` (a text restating it), `memory`
        (may inform, may not decide a pass), `own derivation`, or `common practice` (no source).

    """

    id: str
    title: str
    edition: str = ""
    known: Known

    @property
    def decides(self) -> bool:
        """Whether a number from here may decide that something passes."""
        return self.known != "memory"

    def __str__(self) -> str:
        """Write the source as a finding prints it."""
        if self.known == "common practice":
            return "common practice, no source"
        name = self.title
        if self.edition:
            name = phrase("{title} ({edition})", title=self.title, edition=self.edition)
        return phrase("{source}, from memory", source=name) if self.known == "memory" else name


@cache
def source(source_id: str) -> Source:
    """Return the source of that id.

    Raises
    ------
    KeyError
        If `data/sources.toml` has no such id: a bug in our tables, never the user's doing.

    """
    return Source(id=source_id, **table("sources")[source_id])


def cites(source_id: str, clause: str) -> Callable[[Formula], Formula]:
    """Mark a formula with its source; the function itself is unchanged."""

    def mark(function: Formula) -> Formula:
        CITED[f"{function.__module__}.{function.__qualname__}"] = (source_id, clause)
        return function

    return mark
