"""Joints in words: what meets what, and how wide the gap is along it."""

from __future__ import annotations

from hangtrue.fit.enclosure import Bar, Joint
from hangtrue.fit.wording import joint_id
from hangtrue.paper.lengths import Units
from hangtrue.paper.words import figure


def joint_name(joint: Joint) -> str:
    """Say what meets what: `door to fixed 1`; at the riser of a step also which riser."""
    return joint.id if at_riser(joint) else joint_id(*joint.between)


def at_riser(joint: Joint) -> bool:
    """Whether a joint runs up beside the riser of a step."""
    return joint.id.endswith(" riser")


def range_words(joint: Joint, units: Units) -> str:
    """Least and greatest of the predicted gap along a joint."""
    values = [g.predicted.value for g in joint.gaps]
    low, high = (figure(units, v, fine=True) for v in (min(values), max(values)))
    if low == high:
        return f"{low}"
    if low.words == high.words:
        return f"{low.words} [{low.second.strip('[]')}–{high.second.strip('[]')}]"
    seconds = f" [{low.second.strip('[]')}–{high.second.strip('[]')}]" if low.second else ""
    return f"{low.words}–{high.words}{seconds}"


def bar_kind(bar: Bar) -> str:
    """Say what a bar is."""
    return {"header": "header", "support": "support bar"}[bar.kind]
