"""What leans on each pane of the enclosure, and which of it a pane must answer for."""

from __future__ import annotations

from hangtrue.check.case import Case
from hangtrue.check.proof.bending import Answer, bend
from hangtrue.check.proof.cases import CaseSet, PaneCase, case_set
from hangtrue.check.proof.held_pane import HeldPane, held_pane
from hangtrue.fit.enclosure import Lite

DOOR_CASES = ("hand",)
"""A door gives way to whoever leans along it; a hand at its free edge may find it at its stop."""


def rules(case: Case) -> CaseSet:
    """Return the load cases of the shop's set of rules."""
    return case_set(case.brief.profile.strength_rules)


def floor(case: Case, pane: Lite) -> float:
    """Height of the floor above the datum corner of a pane, usually below it; mm."""
    curb = case.foot("left" if case.row and pane == case.row[0] else "right")
    return curb - float(case.job.threshold.height) - pane.origin[1]


def cases(case: Case, pane: Lite) -> tuple[PaneCase, ...]:
    """Return the loads that are tried on a pane."""
    found = rules(case).panes
    return tuple(c for c in found if c.id in DOOR_CASES) if pane.kind == "door" else found


def bent(case: Case, pane: Lite) -> tuple[HeldPane, Answer]:
    """Return a pane as it is held, bent by everything that is tried on it."""
    held = held_pane(case, pane)
    return held, bend(held, cases(case, pane), floor(case, pane))
