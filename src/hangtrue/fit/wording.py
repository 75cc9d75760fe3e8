"""Lengths and requirements as a person reads them, in the job's own unit."""

from __future__ import annotations

from hangtrue.fit.rows import RowJoint
from hangtrue.units import Unit, inches

FINEST = 25.4 / 32
"""Shorter lengths are said in mm; a tape shows no such part of an inch."""


def said(mm: float, unit: Unit) -> str:
    """Write a length in the job's unit: `3.2 mm`, `1,200 mm`, `1/8"`."""
    if unit == "in" and abs(mm) >= FINEST:
        return inches(mm, 32)
    return f"{mm:,.1f}".removesuffix(".0") + " mm"


def at_place(joint: RowJoint, at: float, unit: Unit) -> str:
    """Say where on a joint: `door to left wall at 1,200 mm`; along the curb, how far along."""
    along = " along" if joint.level else ""
    return f"{joint.id} at {said(at, unit)}{along}"


def gap_words(joint: RowJoint, at: float, limit: float, unit: Unit, *, least: bool) -> str:
    """Say one end of a gap's range as a requirement."""
    end = "least" if least else "most"
    where = at_place(joint, at, unit)
    return f"{where}: gap at {end} {said(limit, unit)} ({joint.kind}, {joint.hardware})"
