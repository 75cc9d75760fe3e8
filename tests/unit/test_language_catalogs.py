"""The catalogs are complete, fresh and fit for what is filled into them.

A message without a translation fails `test_every_message_is_translated` of its part alone.
"""

from __future__ import annotations

import ast
import string
from collections import defaultdict
from collections.abc import Iterator, Sequence
from functools import cache
from pathlib import Path

import pytest

from hangtrue.check.finding import Level
from hangtrue.check.rules import RULES
from hangtrue.check.verdict import SENTENCES
from hangtrue.paper import language
from hangtrue.paper.language import speaking, told
from hangtrue.phrase import phrase
from tools import language as tool

CODE = Path(__file__).parents[2] / "src" / "hangtrue"
TEMPLATES = {"phrase": (0,), "many": (1, 2)}
"""Calls that take templates, and the places of these among what they are given."""

Field = tuple[str, str, str | None]
"""A placeholder: its name, its format, its conversion."""


def fields(template: str) -> set[Field]:
    """Every placeholder of a template."""
    parsed = string.Formatter().parse(template)
    return {(name, spec or "", kind) for _, name, spec, kind in parsed if name is not None}


def forms(words: str | Sequence[str] | None) -> tuple[str, ...]:
    """The forms of a message, or of its translation."""
    return (words,) if isinstance(words, str) else tuple(words or ())


def messages(part: str) -> Iterator[tuple[tuple[str, ...], tuple[str, ...]]]:
    """Every message of a part with its translation, form by form."""
    for message in tool.catalog(part):
        if message.id:
            yield forms(message.id), forms(message.string)


# ----------------------------------------------------------------------------------------- catalogs


@pytest.mark.parametrize("part", tool.PARTS)
def test_every_message_is_translated(part: str) -> None:
    assert list(tool.untranslated(part)) == []


@pytest.mark.parametrize("part", tool.PARTS)
def test_a_translation_keeps_the_placeholders(part: str) -> None:
    """Names and formats; a part may be said twice, none may be left out or made up."""
    for said, translated in messages(part):
        asked = set().union(*map(fields, said))
        for form in filter(None, translated):
            # `1 barreno`: the form for one may write its number out.
            free = {("n", "", None)} if len(said) > 1 else set()
            assert fields(form) - free == asked - free, said


def test_a_text_that_two_parts_say_is_said_alike() -> None:
    """Of two translations only the first would ever be read."""
    known: dict[str, dict[str, str]] = defaultdict(dict)
    for part in tool.PARTS:
        for said, translated in messages(part):
            if len(said) == 1 and all(translated):
                known[said[0]][part] = translated[0]
    assert {k: v for k, v in known.items() if len(set(v.values())) > 1} == {}


def test_the_catalogs_are_as_made() -> None:
    assert list(tool.stale()) == []


# --------------------------------------------------------------------------------------------- code


@cache
def calls() -> tuple[tuple[str, ast.Call, str], ...]:
    """Every call that makes a phrase: where it stands, the call, its name."""
    return tuple(_calls())


def _calls() -> Iterator[tuple[str, ast.Call, str]]:
    for path in sorted(CODE.rglob("*.py")):
        if path == CODE / "phrase.py":
            continue
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Call):
                name = getattr(node.func, "id", getattr(node.func, "attr", ""))
                if name in TEMPLATES:
                    yield f"{path.relative_to(CODE)}:{node.lineno}", node, name


def templates(call: ast.Call, name: str) -> list[str | None]:
    """Templates of a call; None for one that is not written out."""
    given = [call.args[at] for at in TEMPLATES[name] if at < len(call.args)]
    return [
        node.value if isinstance(node, ast.Constant) and isinstance(node.value, str) else None
        for node in given
    ]


def test_every_template_is_written_out_in_its_call() -> None:
    """Or the catalogs do not find it."""
    loose = [
        where
        for where, call, name in calls()
        if None in (found := templates(call, name)) or len(found) != len(TEMPLATES[name])
    ]
    assert loose == []


def test_every_placeholder_is_filled() -> None:
    """By what the call names, unless it hands on parts that were named elsewhere."""
    for where, call, name in calls():
        given = {word.arg for word in call.keywords} | ({"n"} if name == "many" else set())
        if None in given:
            continue
        for template in filter(None, templates(call, name)):
            assert {field for field, _, _ in fields(template)} <= given, where


# ------------------------------------------------------------------------------------------ Spanish


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_a_rule_is_told(rule: object) -> None:
    """What it asks for and why."""
    book = language.catalog("es")
    for words in (rule.title, rule.why):  # type: ignore[attr-defined]
        assert book.gettext(words) != words


def test_every_verdict_and_every_level_is_told() -> None:
    book = language.catalog("es")
    for words in (*SENTENCES.values(), *(level.words for level in Level)):
        assert book.gettext(words) != words


@pytest.mark.parametrize(
    ("words", "drawn"),
    [
        (phrase("{number} of {wall}", number="de", wall="el muro"), "de of el muro"),
        (phrase("{one} {other}", one="de", other="el muro"), "del muro"),
        (phrase("{one} {other}", one="A", other="el fijo 1"), "Al fijo 1"),
        (phrase("{one} {other}", one="de", other="él"), "de él"),
        (phrase("{one} {other}", one="desde", other="el muro"), "desde el muro"),
    ],
)
def test_de_el_and_a_el_are_drawn_together(words: str, drawn: str) -> None:
    """As Spanish writes them everywhere but in names: Real Academia Española, DPD, «el»."""
    with speaking("es"):
        assert told(words) == drawn
    assert told(words) == str(words)


# ------------------------------------------------------------------------------------------- sheets


@pytest.mark.parametrize("job", [path.stem for path in tool.jobs()])
def test_every_text_on_the_sheets_of_a_job_is_in_the_catalogs(job: str) -> None:
    """Both packets, templates and lists: what was glued together would show here in English."""
    assert list(tool.census([job])) == []
