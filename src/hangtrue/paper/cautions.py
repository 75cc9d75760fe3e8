"""The cautions that apply to a plan, each at the step of the work it belongs to."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from hangtrue.fit.enclosure import Enclosure
from hangtrue.paper.lengths import Units
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
        if APPLIES[row["when"]](plan, row)
    )


def at(step: str, listed: Iterable[Caution]) -> tuple[Caution, ...]:
    """Return those of one step."""
    return tuple(c for c in listed if c.step == step)


def _said(name: str, row: Mapping[str, Any], plan: Plan, units: Units) -> Caution:
    return Caution(
        id=name,
        step=row["step"],
        text=row["text"].replace("{mass}", units.mass(heaviest(plan))),
        front=row.get("front", False),
        source=str(source(row["source"])),
    )


def made(plan: Plan) -> Enclosure | None:
    """Return the enclosure of the best alternative; None where nothing fits."""
    way = plan.best.alternative.made
    return way if isinstance(way, Enclosure) else None


def heaviest(plan: Plan) -> float:
    """Mass of the heaviest pane, kg; 0 where there is none."""
    enclosure = made(plan)
    return max((lite.mass_kg for lite in enclosure.lites), default=0.0) if enclosure else 0.0


def _is_made(plan: Plan, _row: Mapping[str, Any]) -> bool:
    return made(plan) is not None


def _is_cut(plan: Plan, row: Mapping[str, Any]) -> bool:
    return _is_made(plan, row) and not _is_boxed(plan, row)


def _is_boxed(plan: Plan, _row: Mapping[str, Any]) -> bool:
    return plan.best.alternative.choice.cut == "boxed"


def _is_heavy(plan: Plan, row: Mapping[str, Any]) -> bool:
    return heaviest(plan) > float(row["mass_over_kg"])


def _has_hinges(plan: Plan, _row: Mapping[str, Any]) -> bool:
    return plan.best.alternative.choice.hinge_side is not None and made(plan) is not None


def _is_held_by_glass(plan: Plan, _row: Mapping[str, Any]) -> bool:
    return plan.best.alternative.choice.hung_on == "glass" and made(plan) is not None


def _has_free_edge(plan: Plan, _row: Mapping[str, Any]) -> bool:
    enclosure = made(plan)
    return enclosure is not None and any(
        edge.meets == "free" for lite in enclosure.lites for edge in lite.edges
    )


def _is_unknown_behind(plan: Plan, _row: Mapping[str, Any]) -> bool:
    walls = (plan.brief.job.walls.left, plan.brief.job.walls.right)
    return any(wall is not None and wall.behind == "unknown" for wall in walls)


APPLIES: dict[str, Callable[[Plan, Mapping[str, Any]], bool]] = {
    "always": lambda _plan, _row: True,
    "made": _is_made,
    "drilling": _is_made,
    "cut": _is_cut,
    "boxed": _is_boxed,
    "heavy": _is_heavy,
    "hinges": _has_hinges,
    "held by glass": _is_held_by_glass,
    "free edge": _has_free_edge,
    "unknown backing": _is_unknown_behind,
}
