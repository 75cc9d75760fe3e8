"""From what is printed on an instrument to a standard deviation, and how several add up."""

from __future__ import annotations

import math

from hangtrue.source import cites


@cites("gum", "4.3.7 rectangular distribution")
def rectangular_sd(half_width: float) -> float:
    """Return the standard deviation of a class limit: all within +-`half_width` equally likely."""
    return half_width / math.sqrt(3.0)


@cites("gum", "F.2.2.1 resolution of a digital indication")
def resolution_sd(step: float) -> float:
    """Return the standard deviation of a value rounded to the nearest `step`."""
    return step / math.sqrt(12.0)


@cites("gum", "4.3.9 triangular distribution")
def triangular_sd(half_width: float) -> float:
    """Return the standard deviation within +-`half_width` when the middle is the most likely."""
    return half_width / math.sqrt(6.0)


@cites("gum", "H.1 arcsine distribution of a cyclic variation")
def arcsine_sd(half_width: float) -> float:
    """Return the standard deviation of a swing between +-`half_width` (a bouncing pointer)."""
    return half_width / math.sqrt(2.0)


@cites("gum", "5.1.2 combination of uncorrelated inputs")
def root_sum_square(*parts: float) -> float:
    """Combine independent parts: standard deviations, or equal-confidence half-widths."""
    return math.hypot(*parts)


@cites("own", "interval arithmetic of a sum")
def worst_case(*half_widths: float) -> float:
    """Combine half-widths that may all go wrong the same way."""
    return math.fsum(map(abs, half_widths))
