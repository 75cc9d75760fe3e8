"""What glass weighs, and how its thickness is said."""

from __future__ import annotations

from hangtrue.source import cites
from hangtrue.tables import table
from hangtrue.units import MM, mixed

SAME = 1e-6
"""Sixteenths of an inch; a thickness further from a whole one was asked for in mm."""


def glass_said(mm: float) -> str:
    """Write a thickness of glass as it is asked for; an inch size with its class in mm.

    Examples
    --------
    >>> glass_said(9.525), glass_said(10.0), glass_said(12.7)
    ('3/8 in (10 mm)', '10 mm', '1/2 in (12 mm)')

    """
    inch = mm / float(MM["in"])
    if abs(inch * 16 - round(inch * 16)) > SAME:
        return f"{mm:g} mm"
    classes = [row[0] for row in table("mechanics/glass")["least-thickness"]["rows"]]
    return f"{mixed(inch, 16)} in ({min(classes, key=lambda size: abs(size - mm))} mm)"


@cites("en-572", "density of soda lime silicate glass")
def glass_mass_kg(area: float, thickness: float) -> float:
    """Mass of a pane of nominal thickness.

    Parameters
    ----------
    area, thickness
        mm2 and mm.

    Examples
    --------
    A square metre weighs 2.5 kg for every millimetre:

    >>> round(glass_mass_kg(1e6, 10.0), 9)
    25.0

    """
    return area * thickness * 1e-9 * float(table("fit")["glass"]["density_kg_m3"])
