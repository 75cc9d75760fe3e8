"""How well each reading is known: from the limits of its instrument to one standard uncertainty.

Limits of error, resolution and seating are taken as rectangular: anything within them is equally
likely (GUM 4.3.7), as laws and makers state them; a limit stated as `95 %` is taken as normal.
"""

from __future__ import annotations

import math
from statistics import NormalDist

from hangtrue.job.instruments import Instrument, OwnHand
from hangtrue.job.readings import (
    Bow,
    Corner,
    CornerAngle,
    Diagonal,
    Fall,
    Height,
    Lean,
    Offset,
    Pitch,
    Reading,
    Square,
    Triangle,
    Width,
)
from hangtrue.measure.habits import usual
from hangtrue.measure.uncertainty_budget import rectangular_sd, resolution_sd, root_sum_square
from hangtrue.source import cites

NORMAL_95 = NormalDist().inv_cdf(0.975)
"""Standard deviations either side that hold 95 of 100."""

UPRIGHT = {"plumb line", "laser line"}
"""Instruments that make a line, whose error tilts all that is read from it together."""

SLOPES = {"level", "digital level", *UPRIGHT}
"""Instruments whose error is that of a slope, and grows with what they span."""


def standard_uncertainty(
    reading: Reading, instrument: Instrument, over: float, hand: OwnHand | None = None
) -> float:
    """Return the standard uncertainty of one reading, mm (angles: rad).

    Parameters
    ----------
    over
        Length that a slope was read over, mm; other readings do not look at it.
    hand
        What the shop has learned of who reads with it; None: as the instrument says.

    """
    if isinstance(reading, CornerAngle | Corner | Square):
        return _angle_sd(instrument)
    if isinstance(reading, Triangle):
        return _triangle_sd(reading, instrument, hand)
    return max(
        root_sum_square(
            _class_sd(reading, instrument, abs(over)),
            *_scatter(instrument, abs(over), hand),
        ),
        usual("least-sigma"),
    )


def taken_off(reading: Reading, hand: OwnHand | None) -> float:
    """Return what is taken off a reading because its reader is known to read too much, mm."""
    taped = isinstance(reading, Width | Diagonal | Offset | Height | Triangle)
    return float(hand.bias) if taped and hand and hand.bias is not None else 0.0


def tilt_sd(instrument: Instrument) -> float:
    """Return how plumb a line stands, rad: common to every offset from it."""
    if instrument.kind in UPRIGHT and instrument.slope_error > 0.0:
        return _of_limit(instrument, instrument.slope_error)
    return rectangular_sd(usual("line-tilt") / 1000.0)


def _class_sd(reading: Reading, instrument: Instrument, over: float) -> float:
    """Return what the class allows over the length of this reading."""
    if instrument.kind not in SLOPES:
        return _of_limit(instrument, instrument.length_error(_taped(reading)))
    if isinstance(reading, Offset):
        return 0.0  # the line carries this error as its tilt
    return _of_limit(instrument, instrument.slope_error * over)


def _of_limit(instrument: Instrument, limit: float) -> float:
    """Return the standard deviation behind a stated limit of error."""
    return limit / NORMAL_95 if instrument.stated == "95 %" else rectangular_sd(limit)


def _taped(reading: Reading) -> float:
    """Length of tape, rule or beam that was read, mm; a gap counts as the first metre."""
    return 1.0 if isinstance(reading, Lean | Bow | Fall | Pitch) else abs(float(reading.value))


@cites("gum", "F.2.2.1 repeats that fall on one step know no less than the step")
def _scatter(instrument: Instrument, over: float, hand: OwnHand | None) -> tuple[float, ...]:
    """Return the parts that differ from reading to reading: step and seating, or as learned."""
    step = _resolution_sd(instrument, over)
    if hand is None:
        return step, rectangular_sd(instrument.seating)
    return (max(float(hand.scatter), step),)


def _resolution_sd(instrument: Instrument, over: float) -> float:
    """Return the scatter of reading to whole steps; a digital level's are degrees."""
    if instrument.error_deg:
        return resolution_sd(math.radians(instrument.resolution) * over)
    return resolution_sd(instrument.resolution)


@cites("own", "derivatives of the law of cosines")
def _triangle_sd(reading: Triangle, instrument: Instrument, hand: OwnHand | None) -> float:
    """Return what the third side is known to, mm: its own error and that of both marks.

    A leg too long by 1 mm makes the third side longer by the cosine of the angle between them.
    """
    legs, third = (float(reading.before), float(reading.after)), float(reading.value)
    parts = [_length_sd(third, instrument, hand)]
    for leg, other in (legs, legs[::-1]):
        both = 2.0 * leg * third
        cosine = (leg**2 + third**2 - other**2) / both if both > 0.0 else 1.0
        parts.append(min(max(cosine, -1.0), 1.0) * _length_sd(leg, instrument, hand))
    return max(root_sum_square(*parts), usual("least-sigma"))


def _length_sd(length: float, instrument: Instrument, hand: OwnHand | None) -> float:
    """Return what a taped length is known to, mm."""
    return root_sum_square(
        _of_limit(instrument, instrument.length_error(abs(length))),
        *_scatter(instrument, abs(length), hand),
    )


def _angle_sd(instrument: Instrument) -> float:
    """Return what a corner angle is known to, rad; seating counts over the arm of the finder."""
    error = _of_limit(instrument, math.radians(instrument.error_deg))
    step = resolution_sd(math.radians(instrument.resolution))
    seat = rectangular_sd(instrument.seating) / usual("angle-arm")
    return max(root_sum_square(error, step, seat), usual("least-sigma-angle"))
