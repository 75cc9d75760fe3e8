"""Slips of the pen: sizes that cannot be, and sizes that are hard to believe."""

from __future__ import annotations

from collections.abc import Iterator

from hangtrue.job.brief import Brief
from hangtrue.job.problems import Fault


def slips(brief: Brief) -> Iterator[Fault]:
    """Yield what looks like a slip of the pen."""
    yield from ()
