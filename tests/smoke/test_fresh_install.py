"""The project works on the locked runtime alone, installed with a plain `pip install .`."""

import os
import shutil
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path

import pytest

from tools.demo import is_job

ROOT = Path(__file__).parents[2]
OWN_FILES = {".py", ".pyc"}


def run(*command: str | Path, cwd: Path, code: tuple[int, ...] = (0,)) -> str:
    """Run a command away from the project's folder and return what it printed."""
    done = subprocess.run(
        command, cwd=cwd, env=clean(os.environ), capture_output=True, text=True, check=False
    )
    assert done.returncode in code, f"{done.stdout}\n{done.stderr}"
    assert "Traceback" not in done.stderr
    return done.stdout


def clean(environment: Mapping[str, str]) -> dict[str, str]:
    """Return the environment without what would lead Python back to the project's own."""
    return {
        name: value
        for name, value in environment.items()
        if name not in {"PYTHONPATH", "PYTHONHOME", "VIRTUAL_ENV"}
    }


@pytest.fixture(scope="module")
def fresh(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Make an environment as a user would and return its folder of commands."""
    folder = tmp_path_factory.mktemp("fresh")
    run(sys.executable, "-m", "venv", folder / "venv", cwd=folder)
    commands = folder / "venv" / "bin"
    pip = (commands / "python", "-m", "pip", "install", "-qq", "--no-input")
    run(*pip, "--require-hashes", "-r", ROOT / "requirements" / "runtime.txt", cwd=folder)
    run(*pip, ROOT, cwd=folder)
    return commands


def test_the_installed_package_carries_its_tables_and_templates(
    fresh: Path, tmp_path: Path
) -> None:
    """Every file of the package that is not code is there after `pip install .` too."""
    where = run(fresh / "python", "-c", "import hangtrue; print(hangtrue.__file__)", cwd=tmp_path)
    installed = Path(where.strip()).parent
    assert ROOT not in installed.parents
    assert others(installed) == others(ROOT / "src" / "hangtrue")


def others(package: Path) -> set[Path]:
    """Return the files of a package that are not code."""
    found = {path.relative_to(package) for path in package.rglob("*") if path.is_file()}
    return {path for path in found if path.suffix not in OWN_FILES}


def test_the_development_tools_are_not_there(fresh: Path, tmp_path: Path) -> None:
    """Otherwise the other tests of this file would show nothing."""
    found = "import importlib.util; print(importlib.util.find_spec('pytest'))"
    assert run(fresh / "python", "-c", found, cwd=tmp_path).strip() == "None"


def test_help_says_what_the_commands_are(fresh: Path, tmp_path: Path) -> None:
    """The command is on the path of the environment and knows its own commands."""
    shown = run(fresh / "hangtrue", "--help", cwd=tmp_path)
    for command in ("plan", "new", "readings", "schema"):
        assert command in shown


def test_a_job_of_the_lodge_is_planned_and_its_packet_written(fresh: Path, tmp_path: Path) -> None:
    """From a copy of the job in another folder, with nothing of the project beside it."""
    shutil.copytree(ROOT / "examples" / "lodge", tmp_path / "lodge")
    job = min(path for path in (tmp_path / "lodge").glob("*.yaml") if is_job(path))
    shown = run(fresh / "hangtrue", "plan", job, "--out", "packet", cwd=tmp_path, code=(0, 1))
    assert shown.strip()
    assert {".pdf", ".svg", ".dxf", ".json"} <= {p.suffix for p in tmp_path.rglob("packet/**/*")}
