"""Quantities as they stand on paper: in the profile's units, the other in brackets where wanted."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Literal

from hangtrue.job.brief import Brief
from hangtrue.phrase import phrase
from hangtrue.units import MM, mixed

PaperUnit = Literal["in", "mm"]
INCH = float(MM["in"])
POUNDS = 0.45359237
SQUARE_FOOT = (12 * INCH) ** 2
STAMPED = 64
"""Finest part of an inch that shims and blocks are sold by."""
COVERAGE = 2.0
"""A plus-minus on paper is this many standard deviations."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Units:
    """How lengths are written on the papers of one job.

    Attributes
    ----------
    first
        The unit that comes first, and alone where `both` is not wanted.
    both
        Write the other unit in brackets.
    fraction
        Finest part of an inch for sizes; small lengths (gaps, leans) are written twice as fine.

    """

    first: PaperUnit
    both: bool
    fraction: int = 16

    @property
    def second(self) -> PaperUnit:
        """The other unit."""
        return "mm" if self.first == "in" else "in"

    @property
    def alone(self) -> Units:
        """The same without the other unit, for columns that have no room for it."""
        return replace(self, both=False)

    @property
    def head(self) -> str:
        """Unit as it stands in the head of a column."""
        return f"{self.first} ({self.second})" if self.both else self.first

    def size(self, mm: float) -> str:
        """Size of a pane or an opening, with its unit: `28-3/8 in` or `721 mm`."""
        return self._said(mm, fine=False)

    def small(self, mm: float) -> str:
        """Gap, lean, margin or any other small length, with its unit: `7/32 in` or `5.6 mm`."""
        return self._said(mm, fine=True)

    def figure(self, mm: float, *, fine: bool = False) -> str:
        """Length without its unit, for a column whose head carries it."""
        first = number(mm, self.first, self._parts(fine=fine), fine=fine)
        if not self.both:
            return first
        return f"{first} ({number(mm, self.second, self._parts(fine=fine), fine=fine)})"

    def spread(self, sd: float) -> str:
        """Plus-minus of a length, without sign and unit, in decimals: `0.04` or `1.1`."""
        return decimals(COVERAGE * sd, self.first)

    def exact(self, mm: float) -> str:
        """Length in decimals of the first unit, fine enough to be added up by hand."""
        return f"{mm / INCH:.3f}" if self.first == "in" else f"{mm:.2f}"

    def piece(self, mm: float) -> str:
        """Thickness of a shim or block as it is stamped, without its unit: the thinnest is 1/64 in.

        Examples
        --------
        >>> Units(first="in", both=True).piece(0.396875), Units(first="mm", both=False).piece(0.5)
        ('1/64', '0.5')

        """
        return mixed(mm / INCH, STAMPED) if self.first == "in" else tidy(mm, 1)

    def mass(self, kg: float) -> str:
        """Mass; jobs in inches read pounds first."""
        pounds, kilograms = f"{kg / POUNDS:.0f} lb", f"{kg:.1f} kg"
        return f"{pounds} ({kilograms})" if self.first == "in" else kilograms

    def area(self, mm2: float) -> str:
        """Area of glass."""
        if self.first == "in":
            return phrase("{area:.1f} sq ft", area=mm2 / SQUARE_FOOT)
        return f"{mm2 / 1e6:.2f} m²"

    def _parts(self, *, fine: bool) -> int:
        return self.fraction * 2 if fine else self.fraction

    def _said(self, mm: float, *, fine: bool) -> str:
        parts = self._parts(fine=fine)
        first = f"{number(mm, self.first, parts, fine=fine)} {self.first}"
        if not self.both:
            return first
        return f"{first} ({number(mm, self.second, parts, fine=fine)} {self.second})"


def units_of(brief: Brief) -> Units:
    """Return the units of a job's papers: the profile's; of both, the job's own comes first."""
    profile, own = brief.profile, brief.job.unit
    own_first: PaperUnit = "in" if own == "in" else "mm"
    first: PaperUnit = own_first if profile.units == "both" else profile.units
    return Units(first=first, both=profile.units == "both", fraction=profile.fraction)


def number(mm: float, unit: PaperUnit, parts: int, *, fine: bool) -> str:
    """Length as a bare number: a mixed fraction of inches, or mm (fine: to a tenth).

    Examples
    --------
    >>> number(720.725, "in", 16, fine=False), number(720.725, "mm", 16, fine=True)
    ('28-3/8', '720.7')

    """
    if not math.isfinite(mm):
        return "none"
    if unit == "mm":
        return tidy(mm, 1 if fine else 0)
    return mixed(mm / INCH, parts)


def decimals(mm: float, unit: PaperUnit) -> str:
    """Length in decimals: hundredths of an inch or tenths of a mm."""
    if not math.isfinite(mm):
        return "none"
    return tidy(mm / INCH, 2) if unit == "in" else tidy(mm, 1)


def tidy(value: float, places: int) -> str:
    """Write a number with fixed decimals and no minus before a zero."""
    return f"{round(value, places) + 0.0:.{places}f}"
