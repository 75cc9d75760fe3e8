"""Boxed sets that lie beside a job: on the shelf, so to speak."""

from __future__ import annotations

from pathlib import Path

from hangtrue.job.hardware import BoxedSet
from hangtrue.job.library import read_boxed_set

MOST_FILES = 200
MOST_BYTES = 100_000
MARK = "boxed_set:"


def boxed_sets_beside(job: Path) -> tuple[BoxedSet, ...]:
    """Read every boxed set in the folder of a job, in the order of their files; others are left."""
    found = []
    for path in sorted(job.parent.glob("*.yaml"))[:MOST_FILES]:
        if path.stat().st_size > MOST_BYTES or not _marked(path):
            continue
        box, problems = read_boxed_set(path)
        if box is not None and not problems:
            found.append(box)
    return tuple(found)


def _marked(path: Path) -> bool:
    """Whether a document says at the start of a line that it is a boxed set."""
    text = path.read_text(encoding="utf-8", errors="replace")
    return any(line.startswith(MARK) for line in text.splitlines())
