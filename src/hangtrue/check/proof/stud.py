"""How thin a steel stud may be for a hinge screw to stay in it, by AISI S100."""

# ruff: noqa: N803 - units keep their capitals

from __future__ import annotations

from hangtrue.mechanics.sheet_steel import allowable, pull_out, sheet, sheet_screw
from hangtrue.tables import table


def thinnest_stud(size: str, tension_N: float) -> str | None:
    """Least thickness of sheet in mil that holds a screw of that number against a pull; or None.

    Raises
    ------
    OutOfRange
        For a screw that the table of sheet steel screws does not have.

    Examples
    --------
    >>> thinnest_stud("10", 300.0), thinnest_stud("10", 2000.0)
    ('33', None)

    """
    screw = sheet_screw(size)
    mils = (name for name in table("mechanics/sheet_steel")["sheet"] if name != "source")
    enough = (m for m in mils if allowable(pull_out(screw.diameter, sheet(m))) >= tension_N)
    return next(enough, None)
