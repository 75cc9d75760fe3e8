"""Notches where the foot of a pane steps over what stands below: depth, legs, inside corners."""

from __future__ import annotations

import math

from shapely import Polygon

from hangtrue.check.glass import TOUCH, extent
from hangtrue.fit.enclosure import Lite, Notch
from hangtrue.source import cites


def taken(pane: Lite, notch: Notch) -> float:
    """Greater part of the pane's width or height that a notch takes away, 0 to 1."""
    width, height = extent(notch)
    across = min(pane.width_bottom, pane.width_top)
    return max(width / across, height / min(pane.height_left, pane.height_right))


def legs(pane: Lite, notch: Notch) -> tuple[tuple[str, float], ...]:
    """Glass left standing: where beside its notch, and how wide, mm; none where it runs out."""
    x0, y0, x1, y1 = Polygon(notch.corners).bounds
    bl, br, tr, tl = pane.corners
    rows = (
        ("left of its notch", x0 - max(bl[0], tl[0])),
        ("right of its notch", min(br[0], tr[0]) - x1),
        ("below its notch", y0 - min(bl[1], br[1])),
        ("above its notch", min(tl[1], tr[1]) - y1),
    )
    return tuple((where, float(width)) for where, width in rows if width > TOUCH)


@cites("own", "arc of the inside corner against the corner of the step in it")
def corner_clearance(beside: float, above: float, radius: float) -> float:
    """Distance of the rounded inside corner of a notch from the square corner of its step, mm.

    Parameters
    ----------
    beside, above
        Gaps from the glass to the riser and to the cap, mm.
    radius
        Of the inside corner of the glass, mm.

    Examples
    --------
    >>> round(corner_clearance(5.0, 5.0, 10.0), 3)
    2.929

    """
    across, up = radius - beside, radius - above
    if across <= 0.0 or up <= 0.0:
        return min(beside, above)
    return radius - math.hypot(across, up)


def eased(short: float) -> float:
    """Radius that a step's square corner must be given to go back by so much, mm."""
    return short / (math.sqrt(2.0) - 1.0)
