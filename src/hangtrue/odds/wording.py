"""Chances and places as a person reads them."""

from __future__ import annotations

from hangtrue.phrase import phrase, reshaped
from hangtrue.units import Unit, inches, millimetres

PERCENT, TENTH, RARE = 0.0095, 0.00095, 5e-7
TEN = 9.995
FINEST = 5e-9
SQUARE_FOOT = 0.3048**2


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
        return phrase("less than 1 in a million")
    if chance < TENTH:
        size = 10 ** (len(str(int(1 / chance))) - 1)
        return phrase("1 in {many:,}", many=max(round(1 / chance / size), 1) * size)
    if chance < PERCENT:
        return f"{100 * chance:.1f} %"
    if 1.0 > chance > 1 - TENTH:
        return phrase("over 99.9 %")
    return f"{100 * chance:.0f} %"


def said_error(sd: float, chance: float = 1.0) -> str:
    """Write the error of a chance as the chance is written: `0.35 %`, or a share of `1 in 4,000`.

    Examples
    --------
    >>> said_error(0.00351, 0.2), said_error(4.4e-6, 2.8e-4), said_error(6e-16, 1e-9)
    ('0.35 %', '2 % of that', 'under 0.000001 %')

    """
    if RARE <= chance < TENTH:
        return phrase("{share:.0f} % of that", share=max(100 * sd / chance, 1.0))
    if sd < FINEST:
        return phrase("under 0.000001 %")
    return f"{format(float(f'{100 * sd:.2g}'), 'f').rstrip('0').rstrip('.')} %"


def written(length: float, unit: Unit) -> str:
    """Write a length (mm) in the unit of a job."""
    return inches(length) if unit == "in" else millimetres(length)


def said_amount(amount: float, money: str) -> str:
    """Write an amount in the shop's money, to the unit from ten on: `52 EUR`, `3.40 EUR`."""
    places = 0 if abs(amount) >= TEN or amount == 0.0 else 2
    return f"{amount:,.{places}f} {money}".rstrip()


def written_small(length: float, unit: Unit) -> str:
    """Write a small length (mm) in the unit of a job: to 1/32 in, or 0.1 mm."""
    return inches(length, 32) if unit == "in" else millimetres(length, 1)


def said_area(area: float, unit: Unit) -> str:
    """Write an area (m2) of glass as it is bought: `30.1 sq ft`, or `2.80 m²`.

    Examples
    --------
    >>> said_area(2.8, "in"), said_area(2.8, "mm")
    ('30.1 sq ft', '2.80 m²')

    """
    return f"{area / SQUARE_FOOT:.1f} sq ft" if unit == "in" else f"{area:.2f} m²"


def raised(words: str) -> str:
    """Begin with a capital, and leave every other letter as it is."""
    return reshaped(words, _raised)


def _raised(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}"
