"""The verdict on one alternative: its worst finding, in words a customer understands."""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum

from hangtrue.check.finding import Finding, Level
from hangtrue.check.sheet import CalculationSheet
from hangtrue.fit.enclosure import Alternative, NoFit
from hangtrue.odds.odds import Odds

READINGS_RULE = "readings-agree"


class Verdict(IntEnum):
    """What may be done now; the higher the worse."""

    GOES = 0
    ASK_FIRST = 1
    CURE_FIRST = 2
    MUST_NOT = 3
    NO_FIT = 4
    READ_AGAIN = 5

    @property
    def sentence(self) -> str:
        """Say it to the customer."""
        return SENTENCES[self]

    @property
    def stops(self) -> bool:
        """Whether glass must not be ordered as things stand."""
        return self >= Verdict.MUST_NOT


SENTENCES = {
    Verdict.GOES: "It goes: the enclosure can be built as drawn.",
    Verdict.ASK_FIRST: "It fits, but not before the questions here are answered.",
    Verdict.CURE_FIRST: "It goes once the things named here are put right.",
    Verdict.MUST_NOT: "It must not be hung here as it stands.",
    Verdict.NO_FIT: "Nothing that was asked for goes in here.",
    Verdict.READ_AGAIN: "Do not order yet: the readings contradict each other.",
}

BY_LEVEL = {
    Level.PASS: Verdict.GOES,
    Level.NOTE: Verdict.GOES,
    Level.NOT_CHECKED: Verdict.ASK_FIRST,
    Level.WARN: Verdict.CURE_FIRST,
    Level.FAIL: Verdict.MUST_NOT,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """One alternative with everything the rules found, worst first.

    Attributes
    ----------
    odds
        The chance that its glass goes in on the day; None where none does, or before it is proved.

    """

    alternative: Alternative
    findings: tuple[Finding, ...]
    odds: Odds | None = None

    @property
    def verdict(self) -> Verdict:
        """Contradicting readings, then no fit, then the worst finding; none at all is no pass."""
        if any(f.rule == READINGS_RULE and f.level is Level.FAIL for f in self.findings):
            return Verdict.READ_AGAIN
        if isinstance(self.alternative.made, NoFit):
            return Verdict.NO_FIT
        return BY_LEVEL[max((f.level for f in self.findings), default=Level.NOT_CHECKED)]

    @property
    def sheets(self) -> tuple[CalculationSheet, ...]:
        """Calculation sheets of all findings, each once, in the order of the findings."""
        return tuple(dict.fromkeys(f.sheet for f in self.findings if f.sheet is not None))

    @property
    def rank(self) -> tuple[int, int, float]:
        """Sort key, the best first: verdict, how many findings of the worst level, least margin."""
        worst = max((f.level for f in self.findings), default=Level.NOT_CHECKED)
        made = self.alternative.made
        room = -made.missing if isinstance(made, NoFit) else made.margin.sigmas
        return int(self.verdict), sum(f.level is worst for f in self.findings), -room
