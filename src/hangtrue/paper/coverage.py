"""Which characters the printing font holds; what it lacks is replaced, never dropped in silence."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from pathlib import Path

import font_source_sans_pro
from fontTools.ttLib import TTFont

FONT_FOLDER = Path(font_source_sans_pro.font_directory)
FONT_FILES = tuple(f"SourceSansPro-{cut}.otf" for cut in ("Regular", "Semibold", "Bold"))
STAND_IN = "?"
SPACES = "\n\t"


@cache
def covered() -> frozenset[str]:
    """Return every character that all the cuts we print with can show."""
    cuts = [_letters(name) for name in FONT_FILES]
    return frozenset.intersection(*cuts) | frozenset(SPACES)


def _letters(name: str) -> frozenset[str]:
    """Return every character that one cut can show."""
    with TTFont(FONT_FOLDER / name, lazy=True) as font:
        return frozenset(map(chr, font.getBestCmap()))


def missing(text: str) -> tuple[str, ...]:
    """Return the characters of a text that cannot be printed, each once, by their code."""
    if text.isascii() and text.isprintable():
        return ()
    return tuple(sorted(set(text) - covered()))


def printable(text: str) -> str:
    """Return the text with a question mark for every character that cannot be printed.

    Examples
    --------
    >>> printable('28-3/8" \u4e2d')
    '28-3/8" ?'

    """
    gaps = missing(text)
    return text.translate({ord(c): STAND_IN for c in gaps}) if gaps else text


def texts(value: object) -> Iterator[str]:
    """Yield every text inside plain records, mappings and lists."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        yield from texts(list(value.values()))
    elif isinstance(value, list | tuple):
        for part in value:
            yield from texts(part)
