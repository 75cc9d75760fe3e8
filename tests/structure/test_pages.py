"""What the pages tell a reader to type is there to be typed, and their links lead somewhere."""

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PAGES = [*sorted(ROOT.glob("*.md")), *sorted((ROOT / "docs").rglob("*.md"))]
TARGETS = set(re.findall(r"^([a-z-]+):", (ROOT / "Makefile").read_text("utf-8"), re.MULTILINE))


def test_there_is_a_readme_with_the_two_commands() -> None:
    """A fresh machine needs no more than these."""
    readme = (ROOT / "README.md").read_text("utf-8")
    assert "make demo" in readme
    assert "make test" in readme


@pytest.mark.parametrize("page", PAGES, ids=lambda page: str(page.relative_to(ROOT)))
def test_every_make_command_of_a_page_exists(page: Path) -> None:
    """Both in running text, between backticks, and alone on a line of a code block."""
    named = re.findall(r"(?:`|^[ $]*)make ([a-z-]+)", page.read_text("utf-8"), re.MULTILINE)
    assert set(named) - TARGETS == set()


@pytest.mark.parametrize("page", PAGES, ids=lambda page: str(page.relative_to(ROOT)))
def test_every_link_of_a_page_leads_to_a_file(page: Path) -> None:
    """Links and pictures inside the project."""
    links = re.findall(r"\]\(([^)#\s]+)", page.read_text("utf-8"))
    inside = [link for link in links if "://" not in link and not link.startswith("mailto:")]
    assert [link for link in inside if not (page.parent / link).exists()] == []
