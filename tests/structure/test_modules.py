"""Every module says what it is for, and the package carries its types."""

import ast
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[2] / "src" / "hangtrue"
MODULES = sorted(PACKAGE.rglob("*.py"))
LONGEST_OPENING = 400


@pytest.mark.parametrize("module", MODULES, ids=lambda module: str(module.relative_to(PACKAGE)))
def test_a_module_opens_by_saying_what_it_is_for(module: Path) -> None:
    """One or two sentences that end; what needs more to be said belongs in two modules."""
    opening = (ast.get_docstring(ast.parse(module.read_text("utf-8"))) or "").split("\n\n")[0]
    assert opening.endswith(".")
    assert len(opening) <= LONGEST_OPENING


def test_no_module_is_a_drawer_for_odds_and_ends() -> None:
    """A module is named for what is in it."""
    assert {module.stem for module in MODULES} & {
        "utils",
        "util",
        "helpers",
        "misc",
        "common",
    } == set()


def test_the_package_is_typed() -> None:
    """Others' type checkers may rely on the annotations."""
    assert (PACKAGE / "py.typed").exists()
