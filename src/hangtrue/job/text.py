"""The text of a document: YAML 1.2 with every value kept as it was typed, and the line of each.

Only plain mappings, lists and values are read. Anchors, aliases, tags and merge keys are refused:
a job says everything once, and a document that can name its own parts can also grow without end.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path as FilePath

from ruamel.yaml import YAML
from ruamel.yaml.error import MarkedYAMLError, YAMLError, YAMLStreamError
from ruamel.yaml.events import (
    AliasEvent,
    DocumentStartEvent,
    Event,
    MappingEndEvent,
    MappingStartEvent,
    NodeEvent,
    ScalarEvent,
    SequenceEndEvent,
)

from hangtrue.job.problems import Path, Problem, dotted

MOST_BYTES = 1_000_000
MOST_DEPTH = 12
MOST_VALUES = 20_000
LONGEST_LINE = 2_000

Value = str | None | dict[str, "Value"] | list["Value"]
"""What a document holds: text, nothing, a mapping or a list."""

UNPRINTABLE = re.compile(
    "[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069\ud800-\udfff\uffff]"
)
"""Control characters, marks that turn the direction of writing, and halves of characters."""

EMPTY = {"", "~", "null", "Null", "NULL"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """A document as typed.

    Attributes
    ----------
    values
        The document; every leaf is the text typed, or None where nothing was.
    lines
        Line of every value by its path, counted from 1.

    """

    values: dict[str, Value]
    lines: dict[Path, int]

    def line(self, path: Path) -> int | None:
        """Return the line of a value, or of the nearest thing around it."""
        for end in range(len(path), 0, -1):
            if path[:end] in self.lines:
                return self.lines[path[:end]]
        return None


class _Refused(Exception):  # noqa: N818 -- never leaves this module
    """Reading cannot go on."""

    def __init__(self, line: int | None, path: Path, wrong: str, do: str) -> None:
        self.problem = Problem(line=line, field=dotted(path), wrong=wrong, do=do)
        super().__init__(wrong)


def read_text(path: FilePath) -> tuple[Text | None, tuple[Problem, ...]]:
    """Read a file; its size is looked at before anything else."""
    try:
        if path.stat().st_size > MOST_BYTES:
            return None, (_too_large(path.stat().st_size),)
        text = path.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError:
        return None, (_whole("this is not text in UTF-8", "save the job as plain text in UTF-8"),)
    except OSError as error:
        return None, (
            _whole(f"cannot read {path.name}: {error.strerror}", "check its name and place"),
        )
    return parse(text)


def parse(text: str) -> tuple[Text | None, tuple[Problem, ...]]:
    """Read YAML into values and lines.

    Returns
    -------
    The document, or None where it cannot be read at all; and the problems found. A key written
    twice is a problem, but the document is still read, with its first value.

    """
    if len(text.encode("utf-8", "surrogatepass")) > MOST_BYTES:
        return None, (_too_large(len(text)),)
    for number, line in enumerate(text.splitlines(), 1):
        if len(line) > LONGEST_LINE:
            wrong = f"this line is {len(line)} characters long"
            return None, (Problem(line=number, field="", wrong=wrong, do="is it the right file?"),)
    builder = _Builder()
    try:
        for event in _events(text):
            builder.take(event)
        return Text(values=builder.whole(), lines=builder.lines), tuple(builder.problems)
    except _Refused as refused:
        return None, (*builder.problems, refused.problem)


def _events(text: str) -> Iterator[Event]:
    """Yield what the YAML library sees, with its complaints turned into ours."""
    try:
        yield from YAML(typ="safe", pure=True).parse(text)
    except MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        line = mark.line + 1 if mark else None
        wrong = f"this is not YAML: {error.problem or error.context}"
        raise _Refused(line, (), wrong, _advice(text, line)) from None
    except (
        YAMLError,
        YAMLStreamError,
        ValueError,
        IndexError,
        AttributeError,
        AssertionError,
    ) as error:
        # The library's own slips on hostile text count as not YAML too.
        first = str(error).partition("\n")[0]
        raise _Refused(None, (), f"this is not YAML: {first}", "open it in a text editor") from None


def _advice(text: str, line: int | None) -> str:
    """Guess what a person did who wrote a line that is not YAML."""
    lines = text.splitlines()
    written = lines[line - 1] if line and line <= len(lines) else ""
    if "\t" in written:
        return "indent with blanks, not with tabs"
    if written.count(": ") > 1 and "{" not in written:
        return "write one `key: value` on a line, or put the value in quotes"
    return "look at this line and the one above: a missing blank after a colon, bracket or quote"


@dataclass(slots=True)
class _Builder:
    """Values and lines, grown event by event without recursion, so that depth is bounded by us."""

    lines: dict[Path, int] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    stack: list[tuple[Path, dict[str, Value] | list[Value]]] = field(default_factory=list)
    key: list[str | None] = field(default_factory=list)
    top: list[Value] = field(default_factory=list)
    key_line: int = 0
    documents: int = 0

    def take(self, event: Event) -> None:
        """Take in one event."""
        line = event.start_mark.line + 1
        if isinstance(event, DocumentStartEvent):
            self._begin(event, line)
        elif isinstance(event, NodeEvent):
            self._refuse(event, line)
            self._node(event, line)
        elif isinstance(event, SequenceEndEvent | MappingEndEvent):
            self.stack.pop()
            self.key.pop()

    def whole(self) -> dict[str, Value]:
        """Return the document, which must be a mapping."""
        if not self.top or self.top[0] is None:
            raise _Refused(None, (), "the document is empty", "start from `hangtrue new`")
        if not isinstance(self.top[0], dict):
            wrong = "the document is not a list of `key: value` lines"
            raise _Refused(1, (), wrong, "start from `hangtrue new`")
        return self.top[0]

    def _begin(self, event: DocumentStartEvent, line: int) -> None:
        self.documents += 1
        if self.documents > 1:
            raise _Refused(line, (), "a second document begins here", "keep one job in one file")
        if event.version and tuple(event.version) != (1, 2):
            raise _Refused(line, (), "this is marked as another YAML than 1.2", "take the mark out")

    def _refuse(self, event: NodeEvent, line: int) -> None:
        """Refuse what makes a document more than plain text."""
        here = self._path()
        if isinstance(event, AliasEvent):
            wrong = f"`*{event.anchor}` stands for another part of the document"
            raise _Refused(line, here, wrong, "write the value out")
        if event.anchor:
            wrong = f"`&{event.anchor}` names a part of the document"
            raise _Refused(line, here, wrong, "take the name out and write values out where needed")
        tag = getattr(event, "ctag", None) or getattr(event, "tag", None)
        if isinstance(event, ScalarEvent) and UNPRINTABLE.search(event.value):
            wrong = "this holds a character that cannot be printed"
            raise _Refused(line, here, wrong, "type it again by hand")
        if tag and str(tag) != "!":
            raise _Refused(
                line, here, f"`{tag}` is a YAML tag", "take it out; plain values are enough"
            )

    def _node(self, event: NodeEvent, line: int) -> None:
        """Put a value, a key or the start of a collection in its place."""
        if self._awaits_key():
            self._take_key(event, line)
            return
        path = self._path()
        if len(path) > MOST_DEPTH:
            raise _Refused(
                line, path[:3], f"nested deeper than {MOST_DEPTH} levels", "write it flatter"
            )
        if len(self.lines) > MOST_VALUES:
            raise _Refused(line, (), f"more than {MOST_VALUES} values", "keep one job in one file")
        value = _empty_of(event)
        self._place(value, path, line)
        if isinstance(value, dict | list):
            self.stack.append((path, value))
            self.key.append(None)

    def _awaits_key(self) -> bool:
        return bool(self.stack) and isinstance(self.stack[-1][1], dict) and self.key[-1] is None

    def _take_key(self, event: NodeEvent, line: int) -> None:
        if not isinstance(event, ScalarEvent):
            raise _Refused(line, self._path(), "a key is not a single word", "write `key: value`")
        if event.value == "<<" and event.implicit[0]:
            raise _Refused(line, self._path(), "`<<` merges another mapping", "write the keys out")
        self.key[-1], self.key_line = event.value, line

    def _path(self) -> Path:
        """Return the path of the value that comes next."""
        if not self.stack:
            return ()
        path, around = self.stack[-1]
        if isinstance(around, list):
            return (*path, len(around))
        key = self.key[-1]
        return path if key is None else (*path, key)

    def _place(self, value: Value, path: Path, line: int) -> None:
        if not self.stack:
            self.top.append(value)
            return
        around = self.stack[-1][1]
        if isinstance(around, list):
            around.append(value)
            self.lines.setdefault(path, line)
            return
        key, self.key[-1] = str(path[-1]), None
        if key in around:
            first = self.lines[path]
            wrong = f"`{key}` is written twice, first in line {first}"
            self.problems.append(
                Problem(line=self.key_line, field=dotted(path), wrong=wrong, do="keep one of them")
            )
            return
        around[key] = value
        self.lines.setdefault(path, self.key_line)  # of the key: an empty value has none of its own


def _empty_of(event: NodeEvent) -> Value:
    """Return the value of an event; a collection is still empty."""
    if isinstance(event, ScalarEvent):
        plain = event.implicit[0] and event.style in {None, ""}
        return None if plain and event.value in EMPTY else str(event.value)
    return {} if isinstance(event, MappingStartEvent) else []


def _whole(wrong: str, do: str) -> Problem:
    return Problem(line=None, field="", wrong=wrong, do=do)


def _too_large(size: int) -> Problem:
    wrong = f"{size / 1e6:.1f} MB is too large for a job; the most is {MOST_BYTES / 1e6:g} MB"
    return _whole(wrong, "is it the right file?")
