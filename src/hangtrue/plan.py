"""The whole road: a brief in, a plan out."""

from __future__ import annotations

from dataclasses import dataclass

from hangtrue.check import check
from hangtrue.check.verdict import Judged, Verdict
from hangtrue.fit import fit
from hangtrue.job.brief import Brief
from hangtrue.measure import measure
from hangtrue.measure.opening import Opening


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """Everything that is known of one enclosure before glass is ordered.

    Attributes
    ----------
    best
        The alternative to build, with its findings.
    others
        Every other way the wishes left open, best first, each with what speaks against it.

    """

    brief: Brief
    opening: Opening
    best: Judged
    others: tuple[Judged, ...]

    @property
    def verdict(self) -> Verdict:
        """Verdict on the best alternative."""
        return self.best.verdict


def plan(brief: Brief) -> Plan:
    """Measure, fit every alternative, check each, and put the best first."""
    opening = measure(brief)
    judged = [check(brief, opening, way) for way in fit(brief, opening)]
    best, *others = sorted(judged, key=lambda way: way.rank)
    return Plan(brief=brief, opening=opening, best=best, others=tuple(others))
