"""The stages import one way only, and the command starts without the heavy libraries."""

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
HEAVY = {
    "ezdxf", "highspy", "netgen", "numpy", "pydantic", "ruamel", "scipy", "shapely", "typst",
}  # fmt: skip


def test_the_import_contract_is_kept() -> None:
    """Layers and the borders of typst, ezdxf and highspy, as written in pyproject.toml."""
    linter = Path(sys.executable).with_name("lint-imports")
    run = subprocess.run([linter], cwd=ROOT, capture_output=True, text=True, check=False)
    assert run.returncode == 0, run.stdout + run.stderr
    assert "0 broken" in run.stdout


@pytest.mark.parametrize("option", ["--help", "--version"])
def test_the_command_answers_without_a_heavy_import(option: str) -> None:
    """What is not imported cannot cost time: `hangtrue --help` must answer at once."""
    imported = modules_of(option)
    assert "hangtrue.cli" in imported
    assert {name.partition(".")[0] for name in imported} & HEAVY == set()


def modules_of(*arguments: str) -> set[str]:
    """Run the command and return the name of every module that it imported."""
    command = [sys.executable, "-X", "importtime", "-m", "hangtrue", *arguments]
    run = subprocess.run(command, capture_output=True, text=True, check=True)
    assert run.stdout
    return {
        line.rpartition("|")[2].strip()
        for line in run.stderr.splitlines()
        if line.startswith("import time:")
    } - {"imported package"}
