"""The locks hold a hash for every file they name, and no file of the project names a registry."""

import re
import subprocess
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
LOCKS = sorted((ROOT / "requirements").glob("*.txt"))

# In two halves, so that this file is not the one that names them.
REGISTRIES = tuple(
    "".join(halves)
    for halves in (
        ("py", "pi.org"), ("python", "hosted.org"), ("npm", "js.org"), ("npm", "js.com"),
        ("deb.", "debian.org"), ("archive.", "ubuntu.com"), ("crates", ".io"),
        ("proxy.", "golang.org"), ("conda", ".anaconda.org"), ("/opt/", "py"),
    )
)  # fmt: skip


def files() -> list[Path]:
    """Return every file that is, or is about to be, in the project."""
    command = ["git", "ls-files", "--cached", "--others", "--exclude-standard"]
    run = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True)
    return [ROOT / name for name in run.stdout.splitlines() if (ROOT / name).is_file()]


def pins(lock: Path) -> dict[str, int]:
    """Return for each pinned release of a lock how many hashes it carries."""
    blocks = re.split(r"\n(?=\S)", lock.read_text("utf-8"))
    return {block.split()[0]: block.count("--hash=sha256:") for block in blocks if block.strip()}


def test_no_file_names_a_package_registry() -> None:
    """Where packages come from is for each machine to say."""
    named = [
        f"{file.relative_to(ROOT)}: {host}"
        for file in files()
        for host in REGISTRIES
        if host.encode() in file.read_bytes()
    ]
    assert named == []


@pytest.mark.parametrize("lock", LOCKS, ids=lambda lock: lock.name)
def test_a_lock_pins_every_release_with_its_hashes_and_no_address(lock: Path) -> None:
    """Installing checks what it got, from wherever it came."""
    assert "://" not in lock.read_text("utf-8")
    pinned = pins(lock)
    assert pinned
    assert [name for name, hashes in pinned.items() if "==" not in name or not hashes] == []


def test_the_locks_hold_what_the_project_asks_for() -> None:
    """A dependency that was added to pyproject.toml and not to the locks shows here."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    asked = {
        "runtime": project["project"]["dependencies"],
        "build": project["dependency-groups"]["build"],
        "dev": project["dependency-groups"]["dev"],
        "bench": project["dependency-groups"]["bench"],
    }
    for lock, requirements in asked.items():
        held = {pin.partition("==")[0] for pin in pins(ROOT / "requirements" / f"{lock}.txt")}
        assert {bare_name(text) for text in requirements} - held == set()


def bare_name(requirement: str) -> str:
    """Return the name of a requirement as the locks write it."""
    return re.sub(r"[._]", "-", re.split(r"[<>=!~ ;\[]", requirement)[0]).lower()


def test_two_locks_agree_on_what_they_share() -> None:
    """All of them go into one environment, the tools on top of the runtime."""
    first, *rest = (releases(lock) for lock in LOCKS)
    for other in rest:
        shared = first.keys() & other.keys()
        assert {name: first[name] for name in shared} == {name: other[name] for name in shared}
        first = other | first


def releases(lock: Path) -> dict[str, set[str]]:
    """Return the releases of each package in a lock; there may be one for each Python."""
    held: dict[str, set[str]] = {}
    for pin in pins(lock):
        name, _, release = pin.partition("==")
        held.setdefault(name, set()).add(release)
    return held
