"""What one more reading is worth in money, before anybody knows what it will say."""

from __future__ import annotations

import math

from hangtrue.estimate import NORMAL
from hangtrue.source import cites


@cites("raiffa-schlaifer-1961", "unit normal loss integral")
def normal_loss(distance: float) -> float:
    """Mean of what a standard normal variable goes beyond `distance`.

    Examples
    --------
    >>> round(normal_loss(0.5), 6)
    0.197797

    """
    return NORMAL.pdf(distance) - distance * NORMAL.cdf(-distance)


@cites("raiffa-schlaifer-1961", "two actions, linear payoff, normal prior and sample")
def value_of_reading(mean: float, sd: float, reading_sd: float) -> float:
    """Expected gain from reading once before choosing between two actions.

    One action pays what the quantity is, the other pays nought.

    Parameters
    ----------
    mean, sd
        Of the quantity before, in money.
    reading_sd
        Standard deviation of the reading, same unit; 0 for perfect information.

    Examples
    --------
    >>> round(value_of_reading(0.4, 1.0, 0.8), 7)
    0.1515224

    """
    if sd == 0.0:
        return 0.0
    told = sd * sd / math.hypot(sd, reading_sd)
    return told * normal_loss(abs(mean) / told)
