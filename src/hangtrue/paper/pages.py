"""The pages of docs/ that are made from the program: rules, sources, the job document, commands."""

from __future__ import annotations

import argparse
import importlib
import json
import pkgutil
import re
import sys
import tomllib
from collections.abc import Iterable, Iterator
from importlib.resources import files
from pathlib import Path
from typing import Any

import hangtrue
from hangtrue.check.rules import RETIRED, RULES
from hangtrue.hang import asbuilt_document, diagnosis_document
from hangtrue.job import blank
from hangtrue.paper import plan_json
from hangtrue.source import CITED, source
from hangtrue.tables import table

PROFILE_HEAD = """\
# The shop profile

Made from the program. `profile: our-shop.toml` in a job names a TOML file that lies beside it. It
says what differs from a shipped profile, `inch-shop` or `metric-shop`; the rest stays as it is.
Every length carries its unit. What is wrong in it is listed all at once, with the line.

Under `substrates`, `shelf` and `habits` it says what lies over the tables of the same names in
`src/hangtrue/data/hang`. A list stands for the whole list. Ways of fixing go before the shipped
ones, so the shop's own wins for what it says that it holds. Offcuts are used before new stock.

```toml
id = "our-shop"
title = "Our shop"
based_on = "inch-shop"

[substrates.families.tile]
how = "wet, no hammer, template clamped on"

[[substrates.fixing]]
holds = "channel"
on = "wall"
into = ["blocking", "stud"]
clearance = "1/4 in"
pilot = "1/8 in"
screw = "10"
thread = "1-1/4 in"
fixing = "stainless wood screw No. 10, hole filled with sealant"
torque = "low: snug"
behind = "the stud or blocking"

[shelf.bits]
diamond = ["1/4 in", "5/16 in"]

[shelf.shims]
sizes = ["0.5 mm", "1 mm", "2 mm", "3 mm"]

[shelf.cutting]
kerf = "3 mm"

[shelf.stock]
channel = ["98 in"]

[shelf.offcuts.channel]
channel-deep = ["77-1/2 in", "41 in"]

[habits.spacing]
channel_apart_most = "16 in"
```
"""

Schema = dict[str, Any]

WIDTH = 90
"""Columns of the commands' help."""

KNOWN = {
    "read": "read in its own text or an official copy",
    "second-hand": "a text that restates it",
    "memory": "from memory only: it may warn, it decides no pass",
    "own derivation": "derived in this project",
    "common practice": "common practice, no source",
}


def rules_page() -> str:
    """Write every rule in force: id, what it asks for, why, and where it is from."""
    head = (
        "# Rules\n\nMade from the program. Ids are permanent; [check.md](check.md) tells how a "
        "rule decides, and the limits of a shop stand in its profile.\n"
    )
    parts = [
        f"## {rule.title}\n\n`{rule.id}` · {source(rule.source)}\n\n{rule.why}\n" for rule in RULES
    ]
    retired = [f"- `{old}`: {new}\n" for old, new in sorted(RETIRED.items())]
    tail = ["## Retired\n", "".join(retired)] if retired else []
    return "\n".join([head, *parts, *tail])


def sources_page() -> str:
    """Write every source, how well it is known, and what is taken from it."""
    users = _users()
    rows = [
        (f"`{source_id}`", _titled(source_id), KNOWN[source(source_id).known], users[source_id])
        for source_id in sorted(table("sources"))
    ]
    head = "# Sources\n\nMade from the program: what each number, rule and formula rests on.\n"
    return "\n".join([head, *_table(("id", "source", "how known", "taken from it"), rows), ""])


def job_document_page() -> str:
    """Write every field of the job document with its meaning, its default and an example."""
    head = (
        "# The job document\n\nMade from the program. A job is one YAML document; a bare number is "
        "in the job's unit. `hangtrue new` writes a commented one to fill in.\n"
    )
    return _schema_page(head, "Job", blank.job_schema())


def shop_profile_page() -> str:
    """Write every field of a shop profile, after an example of a shop's own."""
    return _schema_page(PROFILE_HEAD, "Profile", blank.profile_schema())


def _schema_page(head: str, name: str, schema: Schema) -> str:
    parts: list[str] = [head]
    for title, whole in ((name, schema), *sorted(schema["$defs"].items())):
        part = _with_fields(whole)
        if "properties" in part:
            parts += [f"## {title}\n", f"{part.get('description', '')}\n", *_fields(part), ""]
    return "\n".join(parts)


def _with_fields(part: Schema) -> Schema:
    """Return the form of a part that has fields, where a bare word may stand for it too."""
    return next((form for form in part.get("anyOf", ()) if "properties" in form), part)


def job_schema() -> str:
    """Write the JSON Schema of the job document."""
    return _as_json(blank.job_schema())


def plan_schema() -> str:
    """Write the JSON Schema of the plan."""
    return _as_json(plan_json.plan_schema())


def boxed_set_schema() -> str:
    """Write the JSON Schema of the document of a boxed set."""
    return _as_json(blank.boxed_set_schema())


def profile_schema() -> str:
    """Write the JSON Schema of a shop profile."""
    return _as_json(blank.profile_schema())


def asbuilt_schema() -> str:
    """Write the JSON Schema of what is read on the day."""
    return _as_json(asbuilt_document.asbuilt_schema())


def visit_schema() -> str:
    """Write the JSON Schema of what is noted on a return visit."""
    return _as_json(diagnosis_document.visit_schema())


def _as_json(schema: Schema) -> str:
    return json.dumps(schema, indent=2, ensure_ascii=False, sort_keys=True)


def cli_page() -> str:
    """Write every command with its own help."""
    # The command stands above the papers; it is called by name so that nothing below imports it.
    parser: argparse.ArgumentParser = importlib.import_module("hangtrue.cli").parser()
    parts = ["# The command line\n\nMade from the program.\n", _help(parser)]
    for command in _commands(parser):
        parts += [f"## {command.prog}\n", _help(command)]
    return "\n".join(parts)


def _titled(source_id: str) -> str:
    found = source(source_id)
    return f"{found.title} ({found.edition})" if found.edition else found.title


def _users() -> dict[str, str]:
    """Say for every source which rules, formulas and tables name it."""
    users: dict[str, list[str]] = {source_id: [] for source_id in table("sources")}
    for rule in RULES:
        users[rule.source].append(f"rule `{rule.id}`")
    for module in pkgutil.walk_packages(hangtrue.__path__, "hangtrue."):
        if module.name not in sys.modules and not module.name.endswith("__main__"):
            importlib.import_module(module.name)
    for formula, (source_id, clause) in sorted(CITED.items()):
        users[source_id].append(f"`{formula.removeprefix('hangtrue.')}` ({clause})")
    data = files("hangtrue").joinpath("data")
    for path in sorted(Path(str(data)).rglob("*.toml")):
        name = path.relative_to(str(data)).as_posix()
        for source_id in sorted(set(_named(tomllib.loads(path.read_text("utf-8"))))):
            users[source_id].append(f"table `{name}`")
    return {source_id: "; ".join(named) for source_id, named in users.items()}


def _named(part: object) -> Iterator[str]:
    """Walk a table for the sources that its rows name."""
    if isinstance(part, dict):
        yield from (part["source"],) if isinstance(part.get("source"), str) else ()
    if isinstance(part, dict | list):
        for below in part.values() if isinstance(part, dict) else part:
            yield from _named(below)


def _table(head: Iterable[str], rows: Iterable[Iterable[str]]) -> Iterator[str]:
    """Write a table line by line; a bar inside a cell is escaped."""
    cells = [[cell.replace("|", "\\|") for cell in row] for row in (head, *rows)]
    yield f"| {' | '.join(cells[0])} |"
    yield "|" + "---|" * len(cells[0])
    yield from (f"| {' | '.join(row)} |" for row in cells[1:])


def _fields(part: Schema) -> Iterator[str]:
    required = set(part.get("required", ()))
    rows = [
        (
            f"`{name}`",
            _kind(field),
            field.get("description", ""),
            "must be given" if name in required else _default(field.get("default")),
            ", ".join(_code(example) for example in field.get("examples", ())),
        )
        for name, field in part["properties"].items()
    ]
    return _table(("field", "takes", "meaning", "if left out", "example"), rows)


def _default(value: object) -> str:
    """Write a default; that of a whole part stands with the part."""
    return "as that part says" if isinstance(value, dict) else _code(value)


def _code(value: object) -> str:
    """Write a value as it stands in a document; nothing for nothing."""
    if value in (None, "", [], {}):
        return ""
    return f"`{value if isinstance(value, str) else json.dumps(value, ensure_ascii=False)}`"


def _kind(field: Schema) -> str:
    """Say what a field takes: its choices, the part it is, or the plain type."""
    if "$ref" in field:
        name = field["$ref"].rsplit("/", 1)[1]
        return f"[{name}](#{name.lower()})"
    if "enum" in field or "const" in field:
        return ", ".join(_code(choice) for choice in field.get("enum", [field.get("const")]))
    options = field.get("anyOf") or field.get("oneOf") or ()
    if options:
        kinds = (_kind(option) for option in options if option.get("type") != "null")
        return " or ".join(dict.fromkeys(kinds))
    if field.get("type") == "array":
        return f"list of {_kind(field.get('items', {}))}"
    kind = field.get("type", "anything")
    return "text or number" if isinstance(kind, list) else {"string": "text"}.get(kind, str(kind))


def _commands(parser: argparse.ArgumentParser) -> Iterator[argparse.ArgumentParser]:
    for action in parser._actions:  # noqa: SLF001 - argparse has no public way to its commands
        if isinstance(action, argparse._SubParsersAction):  # noqa: SLF001 - likewise
            yield from action.choices.values()


def _help(parser: argparse.ArgumentParser) -> str:
    """Write the help of a command as a block, the same width on every machine."""
    parser.formatter_class = _Fixed
    text = re.sub(r" +$", "", parser.format_help(), flags=re.MULTILINE)
    return f"```text\n{text.rstrip()}\n```\n"


class _Fixed(argparse.RawDescriptionHelpFormatter):
    def __init__(self, prog: str) -> None:
        super().__init__(prog, width=WIDTH)
