"""Keep the catalogs of other languages: `make language`.

A part of the program has one `.po` file: what stands in its code as `phrase("…")` or `many(…)`, and
what its sheets say as plain texts. All of them together become the `.mo` that the sheets read.

    tools/language.py                  add new messages to every part, compile
    tools/language.py --part hang      the same for one part
    tools/language.py --census [JOB]   say every text on the sheets that no catalog knows
    tools/language.py --check          change nothing, fail where a message or the .mo is not fresh
"""

import argparse
import io
import re
import sys
from collections.abc import Iterable, Iterator, Sequence
from datetime import UTC, datetime
from functools import cache
from pathlib import Path
from unittest.mock import patch

from babel.messages import Catalog
from babel.messages.extract import extract_from_file
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po

from hangtrue import phrase
from hangtrue.check.rules import RULES
from hangtrue.job.profile import Language, Profile, SheetName
from hangtrue.job.read import read_job
from hangtrue.paper import frame, language
from hangtrue.paper.contents import document
from hangtrue.paper.packet import drawn
from hangtrue.paper.template_pages import template_sheets
from hangtrue.paper.work_lists import lists
from hangtrue.paper.work_pages import work_document
from hangtrue.paper.work_set import work_set
from hangtrue.plan import Plan, plan, prove
from hangtrue.tables import table

ROOT = Path(__file__).parent.parent
CODE = ROOT / "src" / "hangtrue"
SHELF = CODE / "data" / "language"
LODGE = ROOT / "examples" / "lodge"
LANGUAGE: Language = "es"
PARTS = {
    "drawings": ("paper/drawings", "paper/template_pages.py"),
    "odds": ("odds", "compare", "paper/odds_pages.py", "paper/terminal_compare.py"),
    "proof": ("check/proof",),
    "check": ("check",),
    "hang": ("hang",),
    "work": ("paper/work_", "paper/calendar.py", "paper/frame.py", "paper/on_the_day.py"),
    "paper": ("paper",),
    "fit": ("fit", "measure", "job", "mechanics", "units.py", "source.py", "tables.py"),
}
"""Folders and modules of each part; what two parts could have goes to the first."""
NO_DAY = datetime(2026, 1, 1, tzinfo=UTC)
"""The compiled catalog carries a date; the same messages must make the same bytes."""
KEYWORDS = {"phrase": None, "many": (2, 3)}
Message = str | tuple[str, ...]
"""A message, or its forms for one and for more."""
A_WORD = re.compile(r"(?<![\w-])[A-Za-z][a-z]{3,}(?![\w-])")
"""A word that is no unit, symbol or id."""


def main(arguments: list[str] | None = None) -> int:
    """Run one of the jobs named above."""
    parser = argparse.ArgumentParser(description="Keep the catalogs of other languages.")
    parser.add_argument("--part", choices=PARTS, help="only this part")
    parser.add_argument("--check", action="store_true", help="change nothing, fail if not fresh")
    parser.add_argument("--census", nargs="*", metavar="JOB", help="texts that no catalog knows")
    asked = parser.parse_args(arguments)
    if asked.census is not None:
        return _say(census(asked.census or [p.stem for p in jobs()]))
    if asked.check:
        return _say(stale())
    parts = [asked.part] if asked.part else list(PARTS)
    # All are made before any is written: a message that moved takes its translation along.
    for part, content in [(part, renewed(part)) for part in parts]:
        (SHELF / LANGUAGE / f"{part}.po").write_bytes(content)
    mo().write_bytes(compiled())
    return _say((f"not translated: {words}" for words in untranslated(asked.part)), fail=False)


def _say(lines: Iterable[str], *, fail: bool = True) -> int:
    told = list(lines)
    for line in told:
        print(line)
    return 1 if told and fail else 0


# ----------------------------------------------------------------------------------------- messages


def part_of(module: str) -> str:
    """Return the part that a module belongs to, by its path inside the program."""
    return next((part for part, where in PARTS.items() if module.startswith(where)), "paper")


@cache
def in_code() -> dict[str, tuple[tuple[Message, str], ...]]:
    """Return every message in the code with its module, by part."""
    found: dict[str, dict[Message, str]] = {part: {} for part in PARTS}
    for path in sorted(CODE.rglob("*.py")):
        module = path.relative_to(CODE).as_posix()
        for _, message, _, _ in extract_from_file("python", path, keywords=KEYWORDS):
            if message:
                found[part_of(module)].setdefault(message, module)
    return {part: tuple(messages.items()) for part, messages in found.items()}


def catalog(part: str) -> Catalog:
    """Read the catalog of a part; empty where there is none yet."""
    path = SHELF / LANGUAGE / f"{part}.po"
    if not path.exists():
        return Catalog(locale=LANGUAGE)
    with path.open("rb") as file:
        return read_po(file, locale=LANGUAGE)


def renewed(part: str) -> bytes:
    """Return the file of a part with every message of its code, new ones without translation.

    Messages that came from the code and are no longer there are left out; plain texts stay.
    """
    old, new = catalog(part), Catalog(locale=LANGUAGE, fuzzy=False)
    coded = dict(in_code()[part])
    elsewhere = {m for other in PARTS if other != part for m, _ in in_code()[other]}
    for message in old:
        plain = message.id and message.id not in coded and not message.locations
        if plain and message.id not in elsewhere:
            new.add(message.id, message.string)
    others = [catalog(other) for other in PARTS if other != part]
    for words, module in coded.items():
        key = words if isinstance(words, str) else words[0]
        known = next((m for book in (old, *others) if (m := book.get(key)) and m.string), None)
        new.add(words, known.string if known else None, locations=[(module, 0)])
    return _written(new)


def _written(book: Catalog) -> bytes:
    out = io.BytesIO()
    write_po(out, book, width=100, sort_output=True, omit_header=True)
    return out.getvalue()


def untranslated(part: str | None = None) -> Iterator[str]:
    """Yield every message of the catalogs that has no translation."""
    for name in [part] if part else PARTS:
        for message in catalog(name):
            if message.id and not all(_strings(message.string)):
                yield f"{name}: {message.id!r}"


# ----------------------------------------------------------------------------------------- compiled


def mo() -> Path:
    """Return the file that the sheets read."""
    return SHELF / f"{LANGUAGE}.mo"


def compiled() -> bytes:
    """Compile all parts into one catalog; of two translations of a message the first stands."""
    book = Catalog(locale=LANGUAGE, fuzzy=False, creation_date=NO_DAY)
    for part in PARTS:
        for message in catalog(part):
            key = message.id if isinstance(message.id, str) else message.id and message.id[0]
            if key and book.get(key) is None and all(_strings(message.string)):
                book.add(message.id, message.string)
    book.mime_headers = [
        ("Content-Type", "text/plain; charset=utf-8"),
        ("Plural-Forms", "nplurals=2; plural=(n != 1);"),
    ]
    out = io.BytesIO()
    write_mo(out, book)
    return out.getvalue()


def _strings(string: str | Sequence[str] | None) -> tuple[str, ...]:
    return (string or "",) if isinstance(string, str | None) else tuple(string)


def stale() -> Iterator[str]:
    """Say what is not as `make language` would leave it."""
    for part in PARTS:
        path = SHELF / LANGUAGE / f"{part}.po"
        if path.read_bytes() != renewed(part):
            yield f"{path.name} is stale; run `make language`"
    if mo().read_bytes() != compiled():
        yield f"{mo().name} is stale; run `make language`"


# ------------------------------------------------------------------------------------------- census


class Recording:
    """A catalog that writes down what it was asked for and does not know."""

    def __init__(self, known: phrase.Catalog) -> None:
        """Record beside a compiled catalog."""
        self.known = known
        self.sheet = ""
        self.unknown: dict[str, str] = {}

    def gettext(self, message: str) -> str:
        """Look a message up."""
        return self._noted(message, self.known.gettext(message))

    def ngettext(self, one: str, more: str, count: int) -> str:
        """Look a message with a count up."""
        return self._noted(one, self.known.ngettext(one, more, count))

    def _noted(self, message: str, found: str) -> str:
        if found in (message, ""):
            self.unknown.setdefault(message, self.sheet)
        return found

    def on(self, _: Profile, sheet: SheetName) -> Language:
        """Note which sheet comes next."""
        self.sheet = sheet
        return LANGUAGE


def census(jobs: Iterable[str]) -> Iterator[str]:
    """Yield every text on the sheets of these jobs that is in no catalog, with job and sheet."""
    known = language.catalog(LANGUAGE)
    same = {m.id for part in PARTS for m in catalog(part) if m.id and m.id == m.string}
    seen: set[str] = set()
    for job in jobs:
        book = Recording(known)
        with (
            patch.object(language, "catalog", return_value=book),
            patch.object(frame, "language_of", side_effect=book.on),
        ):
            typed = _make(job)
        for words, sheet in book.unknown.items():
            if words not in seen | same | typed and A_WORD.search(words):
                seen.add(words)
                yield f"{job}, {sheet}: {words!r}"


def _make(job: str) -> set[str]:
    """Lay every sheet of a job out in the language; return what people typed, and permanent ids."""
    path = LODGE / f"{job}.yaml"
    brief, _ = read_job(path)
    if brief is None:
        msg = f"{path} cannot be read"
        raise ValueError(msg)
    brief = brief.written_in(None, LANGUAGE)
    made: Plan = prove(plan(brief))
    document(made, drawn(made))
    found = work_set(made)
    work_document(found)
    with language.speaking(LANGUAGE):
        language.all_told(lists(found))
        if found.hanging:
            template_sheets(found.hanging.hung.templates, brief.profile.paper, found.units, "")
    typed = set(_texts(brief.job.model_dump(mode="python")))
    return typed | set(_texts(table("sources"))) | {rule.id for rule in RULES}


def _texts(value: object) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for key, part in value.items():
            yield from _texts(key)
            yield from _texts(part)
    elif isinstance(value, list | tuple):
        for part in value:
            yield from _texts(part)


def jobs() -> list[Path]:
    """Return the jobs of the lodge."""
    return sorted(p for p in LODGE.glob("*.yaml") if "job:" in p.read_text("utf-8"))


if __name__ == "__main__":
    sys.exit(main())
