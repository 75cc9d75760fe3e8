"""What a shop profile says of hands and instruments: whether it can be used."""

from __future__ import annotations

from collections.abc import Iterator

from hangtrue.job.instruments import Instrument
from hangtrue.job.problems import Path, near
from hangtrue.tables import Table

Slip = tuple[Path, str, str]
"""Where it stands in the profile, what is wrong, what to do about it."""


def hand_slips(rows: Table, known: dict[str, Instrument]) -> Iterator[Slip]:
    """Say which hands are learned of instruments that nobody has, or that read no lengths.

    An instrument that is neither shipped nor this job's own may be that of another job, so only a
    name that is nearly one of the known is a slip of the pen.
    """
    for path in _places(rows):
        name = str(path[-1])
        if name in known and known[name].error_deg:
            wrong = f"{name} reads degrees, and a scatter in lengths says nothing of it"
            yield path, wrong, "take it out"
        elif name not in known and (meant := near(name, known)):
            yield path, f"nobody knows an instrument {name!r}", f"did you mean {meant}?"


def _places(rows: Table) -> Iterator[Path]:
    shop, people = rows.get("instruments"), rows.get("people")
    for name in shop if isinstance(shop, dict) else ():
        yield "instruments", name
    for person, hands in people.items() if isinstance(people, dict) else ():
        for name in hands if isinstance(hands, dict) else ():
            yield "people", person, name
