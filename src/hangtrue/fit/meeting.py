"""How two panes meet where the glass line turns: the gap and the flush as linear forms.

Seen from above, both glass lines (middle of the glass) end in the mark of the corner, and the line
turns by `turn`. Each pane has two freedoms there: how far its edge is cut back from the mark, and
how far it stands off its line, toward the inside of the angle.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Literal

from hangtrue.fit.enclosure import CornerJoint

Laps = Literal["before", "after"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Form:
    """A length at a corner: `cut * cut back + off * stand off`, for both panes, and a constant."""

    cut_before: float
    cut_after: float
    off_before: float
    off_after: float
    constant: float

    def at(self, cut: tuple[float, float], off: tuple[float, float] = (0.0, 0.0)) -> float:
        """Return the length for given cuts and shifts of the panes before and after, mm."""
        return (
            self.cut_before * cut[0]
            + self.cut_after * cut[1]
            + self.off_before * off[0]
            + self.off_after * off[1]
            + self.constant
        )

    def swapped(self) -> Form:
        """Return the same with the two panes exchanged."""
        return Form(
            cut_before=self.cut_after,
            cut_after=self.cut_before,
            off_before=self.off_after,
            off_after=self.off_before,
            constant=self.constant,
        )

    def seen(self, way: Literal["in", "out"]) -> Form:
        """Return the same with shifts counted + into the shower, whichever way the line turns."""
        if way == "in":
            return self
        return replace(self, off_before=-self.off_before, off_after=-self.off_after)


def gap_form(joint: CornerJoint, laps: Laps, turn: float, thickness: float) -> Form:
    """Clear gap between the panes, where they are nearest.

    Butt: from the inner face of the lapping pane to the nearer arris of the other's square edge,
    `c sin(turn) + s cos(turn) - s' - t/2 (1 + |cos(turn)|)` with cut back c and shift s of the pane
    that is cut short and shift s' of the one that laps. Mitre: between the bevelled edges,
    `(c + c') cos(turn/2) - (s + s') sin(turn/2)`. Clamp and hinge: between the inner arrises of two
    square edges, the same less `t sin(turn/2)`. Own derivation, see docs/fit.md.

    Parameters
    ----------
    turn
        How far the line turns, rad, over 0; pi less the inside angle.
    thickness
        mm.

    Examples
    --------
    At a right angle the pane that is cut short ends half a thickness and the gap from the mark:

    >>> form = gap_form("butt", "before", math.pi / 2, 10.0)
    >>> round(form.at((-5.0, 7.0)), 9)
    2.0

    """
    if joint == "butt":
        form = Form(
            cut_before=0.0,
            cut_after=math.sin(turn),
            off_before=-1.0,
            off_after=math.cos(turn),
            constant=-thickness / 2 * (1.0 + abs(math.cos(turn))),
        )
        return form if laps == "before" else form.swapped()
    cos, sin = math.cos(turn / 2), math.sin(turn / 2)
    square = 0.0 if joint == "mitre" else thickness * sin
    return Form(cut_before=cos, cut_after=cos, off_before=-sin, off_after=-sin, constant=-square)


def flush_form(joint: CornerJoint, laps: Laps, turn: float, thickness: float) -> Form:
    """How far the panes are out of flush; nought is flush.

    Butt: how far the edge of the lapping pane runs on past the outer arris of the edge it covers.
    Else how far the arrises are out of line across the joint. Own derivation, see docs/fit.md.

    Examples
    --------
    At a right angle the lapping pane runs half a thickness past the mark:

    >>> form = flush_form("butt", "before", math.pi / 2, 10.0)
    >>> round(form.at((-5.0, 7.0)), 9)
    0.0

    """
    if joint == "butt":
        form = Form(
            cut_before=-1.0,
            cut_after=-math.cos(turn),
            off_before=0.0,
            off_after=math.sin(turn),
            constant=-thickness / 2 * math.sin(turn),
        )
        return form if laps == "before" else form.swapped()
    cos, sin = math.cos(turn / 2), math.sin(turn / 2)
    return Form(cut_before=-sin, cut_after=sin, off_before=-cos, off_after=cos, constant=0.0)


def bevel(joint: CornerJoint, turn: float) -> float:
    """How far an edge is ground from square: half the turn at a mitre, rad."""
    return turn / 2 if joint == "mitre" else 0.0


def usual_cuts(
    joint: CornerJoint, laps: Laps, turn: float, thickness: float, gap: float
) -> tuple[float, float]:
    """Cut back of the panes before and after, flush and at a given gap, mm; - runs past the mark.

    Examples
    --------
    >>> [round(c, 9) for c in usual_cuts("butt", "before", math.pi / 2, 10.0, 2.0)]
    [-5.0, 7.0]

    """
    form = gap_form(joint, laps, turn, thickness)
    if joint != "butt":
        both = (gap - form.constant) / (form.cut_before + form.cut_after)
        return both, both
    short = (gap - form.constant) / (form.cut_before + form.cut_after)
    past = short * math.cos(turn) + thickness / 2 * math.sin(turn)
    return (-past, short) if laps == "before" else (short, -past)
