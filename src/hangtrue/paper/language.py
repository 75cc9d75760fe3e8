"""The language of a sheet: what is drawn and laid out while it is spoken is said in it.

Stages below say everything in English and keep the parts (`hangtrue.phrase`); a sheet looks them up
in a gettext catalog, `data/language/es.mo`, made from the `.po` files beside it by `make language`.
"""

from __future__ import annotations

import gettext
import re
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import fields, is_dataclass, replace
from functools import cache
from importlib.resources import files
from typing import TypeVar

from hangtrue import phrase
from hangtrue.job.profile import Language, Profile, SheetName
from hangtrue.phrase import Catalog

T = TypeVar("T")

AS_THEY_ARE = frozenset({"kind", "svg", "align", "sign", "name", "scale"})
"""Fields of pages and drawings that are no words."""

DRAWN_TOGETHER = {"es": (re.compile(r"\b([Dd]e|[Aa]) el\b"), r"\1l")}
"""What a language draws together where parts meet: `de` and `el muro` are `del muro`."""

_spoken: ContextVar[Language] = ContextVar("spoken", default="en")


@cache
def catalog(language: Language) -> Catalog:
    """Return the catalog of a language; English is what stands in the code."""
    if language == "en":
        return gettext.NullTranslations()
    with files("hangtrue").joinpath("data", "language", f"{language}.mo").open("rb") as file:
        return gettext.GNUTranslations(file)


def language_of(profile: Profile, sheet: SheetName) -> Language:
    """Return the language in which a shop wants a sheet."""
    return profile.languages.get(sheet, profile.languages.get("all", "en"))


@contextmanager
def speaking(language: Language) -> Iterator[None]:
    """Say everything in a language until the end of the block."""
    before = _spoken.set(language)
    try:
        yield
    finally:
        _spoken.reset(before)


def spoken() -> Language:
    """Return the language of the sheet being made."""
    return _spoken.get()


def told(text: str) -> str:
    """Say a text in the language of the sheet being made.

    Examples
    --------
    >>> with speaking("es"):
    ...     told("door")
    'puerta'

    """
    language = _spoken.get()
    if language == "en":
        return text
    meeting, together = DRAWN_TOGETHER[language]
    return meeting.sub(together, phrase.told(text, catalog(language)))


def all_told(record: T) -> T:
    """Say every text of a page, or of any record made of texts, in the language being spoken."""
    return record if _spoken.get() == "en" else _told(record)


def _told(value: T) -> T:
    if isinstance(value, str):
        return told(value)  # type: ignore[return-value]
    if isinstance(value, tuple):
        return tuple(_told(part) for part in value)  # type: ignore[return-value]
    if is_dataclass(value) and not isinstance(value, type):
        names = (f.name for f in fields(value) if f.name not in AS_THEY_ARE)
        return replace(value, **{name: _told(getattr(value, name)) for name in names})
    return value
