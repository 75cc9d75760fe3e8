"""Forces and glass in the words of the job: pounds or newtons, 3/8 in or 10 mm."""

from __future__ import annotations

from hangtrue.check.case import Case
from hangtrue.mechanics.customary import POUND_FORCE

INCH_NAMES = {6.0: "1/4 in", 8.0: "5/16 in", 10.0: "3/8 in", 12.0: "1/2 in", 16.0: "5/8 in"}
"""Glass by its trade name in inches, from its trade name in mm."""


def force(case: Case, newtons: float) -> str:
    """Write a force; jobs in inches read pounds first."""
    if case.job.unit == "in":
        return f"{newtons / POUND_FORCE:.0f} lbf ({newtons:.0f} N)"
    return f"{newtons:.0f} N"


def glass_name(case: Case, nominal: float) -> str:
    """Write a trade thickness as the job would."""
    if case.job.unit == "in" and nominal in INCH_NAMES:
        return INCH_NAMES[nominal]
    return f"{nominal:g} mm"


def next_thicker(nominal: float) -> float | None:
    """Return the next trade thickness, mm; None where there is none that hardware takes."""
    return next((thick for thick in INCH_NAMES if thick > nominal), None)
