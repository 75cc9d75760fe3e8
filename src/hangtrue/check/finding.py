"""A finding: one rule applied once, with what was found, what it means and what to do."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import IntEnum
from typing import Literal

from hangtrue.check.sheet import CalculationSheet
from hangtrue.estimate import Estimate

FigureUnit = Literal["mm", "deg", "kg", "mm2", "mm/m", "N", "MPa", "Nm", ""]


class Level(IntEnum):
    """How bad; the worst wins. Not knowing ranks above passing."""

    PASS = 0
    NOTE = 1
    NOT_CHECKED = 2
    WARN = 3
    FAIL = 4

    @property
    def words(self) -> str:
        """Name of the level on paper."""
        return {0: "good", 1: "note", 2: "not checked", 3: "put right first", 4: "stop"}[int(self)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Fastened:
    """The screws that a finding is about, for whoever drills for them.

    Attributes
    ----------
    holds, of
        What they hold, as in the drilling plan: `channel`; and the pane that it holds.
    size
        Number of the screw that holds, or a lag screw's diameter; empty where none is proved.
    length
        Of it below the fitting, mm.

    """

    holds: str
    of: str
    size: str = ""
    length: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """What one rule found at one place.

    Attributes
    ----------
    rule
        Permanent id of the rule; filled in by the rule that is applied.
    where
        Place in words: `left wall`, `door`, `curb`.
    found, means, do
        What was found, what it means, what to do; sentences a customer understands. `do` is the
        computed cure, or the question that a NOT CHECKED finding asks; empty where there is
        nothing to do.
    value, limit, unit
        The figures, where the rule has any: `value` with its uncertainty; `limit` in the same unit.
    at_most
        The limit is an upper one.
    probability
        Probability that the limit is met; None where the rule is not about a number.
    source
        Source id of the limit; the rule's own source where a finding names none.
    sheet
        The calculation behind it, where there is one.
    fastened
        The screws that it is about, where it is about screws.

    """

    rule: str = ""
    level: Level
    where: str
    found: str
    means: str = ""
    do: str = ""
    value: Estimate | None = None
    limit: float | None = None
    unit: FigureUnit = ""
    at_most: bool = True
    probability: float | None = None
    source: str = ""
    sheet: CalculationSheet | None = None
    fastened: Fastened | None = None

    @property
    def margin(self) -> float | None:
        """How far the value is on the good side of the limit; negative where it is not."""
        if self.value is None or self.limit is None:
            return None
        room = self.limit - self.value.value
        return room if self.at_most else -room

    def with_sheet(self, sheet: CalculationSheet) -> Finding:
        """Return the finding with the calculation behind it."""
        return replace(self, sheet=sheet)
