"""What glass weighs."""

from __future__ import annotations

from hangtrue.source import cites
from hangtrue.tables import table


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
