"""What no single field can tell: that names exist, and that the parts of a job suit each other."""

from __future__ import annotations

from collections.abc import Iterator

from hangtrue.job.brief import Brief
from hangtrue.job.problems import Fault


def cross_checks(brief: Brief) -> Iterator[Fault]:
    """Yield what does not go together in a job."""
    yield from ()
