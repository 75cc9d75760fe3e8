"""What stands on every sheet around its contents: title block, band, and the note on letters."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import asdict, replace

from hangtrue.job.profile import Language, Profile, SheetName
from hangtrue.paper import coverage
from hangtrue.paper.blocks import Document, Page, Text
from hangtrue.paper.language import all_told, language_of, speaking, told
from hangtrue.paper.lengths import Units
from hangtrue.phrase import phrase
from hangtrue.plan import Plan

FRAME = {
    "job": "Job",
    "room": "Room",
    "title": "Sheet title",
    "version": "Version",
    "date": "Date of version",
    "sheet": "Sheet",
    "of": "of",
    "scale": "Scale",
    "view": "View",
    "unit": "Unit",
    "made_by": "Made by",
    "checked_by": "Checked by (sign)",
    "stop": "DO NOT ORDER",
    "hold": "HOLD",
    "notes": "Notes from the room",
    "signed": "Date",
}
"""Words of the frame by what they stand for in the template."""

Sheets = Iterator[tuple[SheetName, Callable[[], Iterable[Page]]]]
"""How the pages of each sheet are made; they are made while its language is spoken."""


def in_language(profile: Profile, sheets: Sheets) -> Iterator[Page]:
    """Make the pages of each sheet in the language that the shop wants it in."""
    for name, make in sheets:
        language = language_of(profile, name)
        with speaking(language):
            said = tuple(replace(all_told(page), language=language) for page in make())
        yield from said


def frames(pages: Iterable[Page]) -> dict[str, dict[str, str]]:
    """Return the words around the contents for every language on the pages."""
    return _by_language(pages, FRAME)


def bands(pages: Iterable[Page], words: str) -> dict[str, str]:
    """Return the band in every language on the pages."""
    return {
        language: said["band"] for language, said in _by_language(pages, {"band": words}).items()
    }


def _by_language(pages: Iterable[Page], words: Mapping[str, str]) -> dict[str, dict[str, str]]:
    found: dict[str, dict[str, str]] = {}
    languages: set[Language] = {page.language for page in pages}
    for language in sorted(languages):
        with speaking(language):
            found[language] = {key: told(text) for key, text in words.items()}
    return found


def head_fields(plan: Plan, units: Units) -> dict[str, str]:
    """Return the fields of the title block that are the same on every sheet."""
    head = plan.brief.job.job
    return {
        "job": " · ".join(part for part in (head.title, head.id) if part),
        "room": head.room,
        "version": str(head.version),
        "date": head.date,
        "unit": units.head,
        "made_by": head.made_by,
    }


def unprintable(laid: Document) -> tuple[str, ...]:
    """Return the characters that the font lacks and that are printed as a question mark."""
    return coverage.missing("".join(coverage.texts(asdict(laid))))


def with_note(laid: Document) -> Document:
    """Say on the first page which characters are missing from the print."""
    lacking = unprintable(laid)
    if not lacking:
        return laid
    codes = ", ".join(f"U+{ord(character):04X}" for character in lacking)
    said = phrase("Printed as “?”, for the font has no letter for them: {codes}.", codes=codes)
    first, *others = laid.pages
    with speaking(first.language):
        note = Text(text=told(said), small=True)
    return replace(laid, pages=(replace(first, blocks=(*first.blocks, note)), *others))
