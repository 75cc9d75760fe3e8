"""Numbers that steer the adjustment and that no shop needs to touch, from `data/measure.toml`."""

from __future__ import annotations

from hangtrue.tables import table


def usual(name: str) -> float:
    """Return the number of that name.

    Raises
    ------
    KeyError
        If the table has none of that name: a bug of ours.

    """
    return float(table("measure")[name]["value"])
