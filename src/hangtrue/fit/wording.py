"""Lengths and requirements as a person reads them, in the job's own unit."""

from __future__ import annotations

from hangtrue.fit.rows import RowJoint
from hangtrue.phrase import phrase
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
    if joint.level:
        return phrase("{joint} at {place} along", joint=joint.id, place=said(at, unit))
    return phrase("{joint} at {height}", joint=joint.id, height=said(at, unit))


def gap_words(joint: RowJoint, at: float, limit: float, unit: Unit, *, least: bool) -> str:
    """Say one end of a gap's range as a requirement."""
    parts = {
        "where": at_place(joint, at, unit),
        "limit": said(limit, unit),
        "kind": joint.kind,
        "hardware": joint.hardware,
    }
    if least:
        return phrase("{where}: gap at least {limit} ({kind}, {hardware})", **parts)
    return phrase("{where}: gap at most {limit} ({kind}, {hardware})", **parts)


def joint_id(one: str, other: str) -> str:
    """Name a joint by what meets there: `door to left wall`."""
    return phrase("{one} to {other}", one=one, other=other)


def riser_id(pane: str, step: str, side: str) -> str:
    """Name the joint of a pane with the riser of a step: `fixed 1 to bench, left riser`."""
    return phrase("{pane} to {step}, {riser}", pane=pane, step=step, riser=f"{side} riser")


def gap_of(joint: str) -> str:
    """Name what a gap takes of a size: `gap, door to left wall`."""
    return phrase("gap, {joint}", joint=joint)
