"""The cautions that apply to a plan, each at the step of the work it belongs to."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from hangtrue.hang.cautions import applies, heaviest
from hangtrue.paper.lengths import Units
from hangtrue.phrase import Phrase
from hangtrue.plan import Plan
from hangtrue.source import source
from hangtrue.tables import table

LIMITS = (
    (
        "This packet is an aid. Local code, the hardware maker's instructions and a licensed "
        "professional decide."
    ),
    (
        "It is worked out from the readings and data listed in it and from nothing else. What was "
        "not read or not answered is not known, and is said to be so."
    ),
    (
        "It holds for this version only. A changed reading, pane or fitting needs a new plan with "
        "a new version."
    ),
    "Strength of the glass and of its fixings in wind, impact or fire is not worked out here.",
)
"""Standing limits of use, on every packet."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """One caution that applies.

    Attributes
    ----------
    id
        Permanent name in the table.
    step
        Step of the work: `order`, `receive`, `carry and lift`, `drill`, `hang`, `hand over`.
    front
        It matters now, so it stands on the first page as well.

    """

    id: str
    step: str
    text: str
    front: bool
    source: str


def cautions(plan: Plan, units: Units) -> tuple[Caution, ...]:
    """Return the cautions that apply to the best alternative, in the order of the work."""
    return tuple(
        _said(name, row, plan, units)
        for name, row in table("cautions").items()
        if applies(row, plan.brief, plan.best.alternative.made)
    )


def at(step: str, listed: Iterable[Caution]) -> tuple[Caution, ...]:
    """Return those of one step."""
    return tuple(c for c in listed if c.step == step)


def _said(name: str, row: Mapping[str, Any], plan: Plan, units: Units) -> Caution:
    mass = units.mass(heaviest(plan.best.alternative.made))
    return Caution(
        id=name,
        step=row["step"],
        text=Phrase.made(row["text"], {"mass": mass}),
        front=row.get("front", False),
        source=str(source(row["source"])),
    )
