"""The generated pages leave nothing out."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import pytest

from hangtrue import cli
from hangtrue.check.rules import RULES
from hangtrue.job.blank import job_schema
from hangtrue.paper import pages
from hangtrue.tables import table


def test_every_rule_stands_on_its_page_with_reason_and_source() -> None:
    page = pages.rules_page()
    for rule in RULES:
        assert f"## {rule.title}\n\n`{rule.id}` · " in page
        assert rule.why in page


def test_every_source_stands_on_its_page() -> None:
    page = pages.sources_page()
    assert [row for row in table("sources") if f"| `{row}` | " not in page] == []


def test_what_is_from_memory_says_so() -> None:
    line = next(row for row in pages.sources_page().splitlines() if "`en-12150-memory`" in row)
    assert "decides no pass" in line
    assert "glass/holes.toml" in line


def fields() -> Iterator[tuple[str, str, dict[str, Any]]]:
    schema = job_schema()
    for part, content in (("Job", schema), *schema["$defs"].items()):
        for name, field in content.get("properties", {}).items():
            yield part, name, field


@pytest.fixture(scope="module")
def job_page() -> str:
    return pages.job_document_page()


@pytest.mark.parametrize(("part", "name", "field"), tuple(fields()))
def test_every_field_of_a_job_is_told_with_an_example(
    part: str, name: str, field: dict[str, Any], job_page: str
) -> None:
    section = job_page.split(f"\n## {part}\n")[1].split("\n## ", maxsplit=1)[0]
    (row,) = [line for line in section.splitlines() if line.startswith(f"| `{name}` |")]
    assert field["description"].replace("|", "\\|") in row
    assert not row.endswith("|  |")


def test_every_command_stands_on_its_page() -> None:
    page = pages.cli_page()
    for command in ("plan", "new", "readings", "schema"):
        assert f"## hangtrue {command}\n" in page
    assert cli.DESCRIPTION in page


@pytest.mark.parametrize("page", [pages.job_schema, pages.plan_schema])
def test_a_schema_page_is_json(page: Any) -> None:
    assert json.loads(page())["$schema"]


def test_pages_are_the_same_twice() -> None:
    assert pages.sources_page() == pages.sources_page()
