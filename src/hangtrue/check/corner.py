"""The clip that a square corner of glass needs where wall and curb meet in a rounding."""

from __future__ import annotations

import math

from hangtrue.source import cites


@cites("own", "a chord of the circle of the rounding")
def clip(gap: float, rise: float, radius: float, clear: float) -> float:
    """Leg of the 45° clip that keeps a corner clear of the rounding, mm; 0 if it is clear uncut.

    Parameters
    ----------
    gap, rise
        Distance of the square corner from the wall and from the curb, mm, >= 0.
    radius
        Of the rounding, mm.
    clear
        What must stay between glass and rounding, mm. If more than the corner has from wall or
        curb themselves, no clip helps and the leg is infinite.

    """
    across, up, reach = radius - gap, radius - rise, radius - clear
    if across <= 0.0 or up <= 0.0 or math.hypot(across, up) <= reach:
        return 0.0
    if max(across, up) > reach:
        return math.inf
    # Both ends of the clip must lie within the circle; what is between them then does too.
    return max(across - math.sqrt(reach**2 - up**2), up - math.sqrt(reach**2 - across**2))
