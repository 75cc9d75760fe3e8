"""Chances and places as a person reads them."""

from __future__ import annotations

from hangtrue.units import Unit, inches, millimetres

PERCENT, TENTH, RARE = 0.0095, 0.00095, 5e-7


def said_chance(chance: float) -> str:
    """Write a chance: `12 %`, `0.5 %`, `1 in 20,000`.

    Examples
    --------
    >>> said_chance(0.1249), said_chance(0.0048), said_chance(0.00005)
    ('12 %', '0.5 %', '1 in 20,000')
    >>> said_chance(0.0), said_chance(1.0), said_chance(0.9996)
    ('less than 1 in a million', '100 %', 'over 99.9 %')

    """
    if chance < RARE:
        return "less than 1 in a million"
    if chance < TENTH:
        size = 10 ** (len(str(int(1 / chance))) - 1)
        return f"1 in {max(round(1 / chance / size), 1) * size:,}"
    if chance < PERCENT:
        return f"{100 * chance:.1f} %"
    if 1.0 > chance > 1 - TENTH:
        return "over 99.9 %"
    return f"{100 * chance:.0f} %"


def written(length: float, unit: Unit) -> str:
    """Write a length (mm) in the unit of a job."""
    return inches(length) if unit == "in" else millimetres(length)
