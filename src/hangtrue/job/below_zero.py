"""Lengths and sizes of hardware and of the way in that cannot be below zero."""

from __future__ import annotations

from collections.abc import Iterator

from pydantic import BaseModel

from hangtrue.job.document import Job
from hangtrue.job.problems import Fault, Path
from hangtrue.phrase import phrase
from hangtrue.units import Length

EITHER_WAY = frozenset({"along", "plate_offset"})
"""Offsets, which have two directions."""


def below_zero(job: Job) -> Iterator[Fault]:
    """Yield every length below zero among the job's own hardware and on its way in."""
    for i, item in enumerate(job.items):
        yield from _of(item, ("items", i))
    if job.way_in is not None:
        yield from _of(job.way_in, ("way_in",))


def _of(model: BaseModel, path: Path) -> Iterator[Fault]:
    """Yield the faults of a table and of the tables within it."""
    for name, value in model:
        rows = value if isinstance(value, tuple) else (value,)
        for i, row in enumerate(rows):
            here = (*path, name, i) if isinstance(value, tuple) else (*path, name)
            if isinstance(row, BaseModel):
                yield from _of(row, here)
            elif isinstance(row, Length) and row < 0 and name not in EITHER_WAY:
                wrong = phrase("{typed} is below 0", typed=row.typed)
                yield Fault(path=here, wrong=wrong, do="write how long it is, as it is measured")
