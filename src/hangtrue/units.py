"""Lengths, slopes and angles as people write them, in and out.

Inside the program a length is mm, a slope is a plain ratio (rise over run) and an angle is rad. A
quantity read from text is a float that remembers what was typed.
"""

from __future__ import annotations

import math
import re
from fractions import Fraction
from typing import Literal, Self

Unit = Literal["in", "mm", "cm"]
UNITS = ("in", "mm", "cm")

MM = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": Fraction(254, 10),
    "ft": Fraction(3048, 10),
}
"""One of each unit in mm, exactly (the inch of 1959)."""

SPELLINGS = {
    "inch": "in", "inches": "in", "in.": "in", '"': "in", "foot": "ft", "feet": "ft", "'": "ft",
}  # fmt: skip
TAPE_DENOMINATORS = (2, 4, 8, 16, 32, 64)

_LOOKALIKES = str.maketrans(
    {"″": '"', "”": '"', "“": '"', "′": "'", "’": "'", "⁄": "/", "−": "-", "–": "-", "\u00a0": " "}
)
_VULGAR = {
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip
_NUMBER = r"(?:\d+(?:[.,]\d+)?|[.,]\d+)"
_MIXED = rf"(?:(?P<whole>{_NUMBER})(?:[ -]+(?P<num>\d+)/(?P<den>\d+))?|(?P<num0>\d+)/(?P<den0>\d+))"
_UNIT = r"mm|cm|m|inches|inch|in\.?|ft|feet|foot|\"|'"
_FEET = rf"(?:(?P<feet>{_NUMBER}) ?(?:ft|feet|foot|'))"
_LENGTH = re.compile(rf"(?P<sign>[+-]?) ?(?:{_FEET}[ -]*)?(?:{_MIXED} ?(?P<unit>{_UNIT})?)?")
_BETWEEN = re.compile(r"\bin\b|\bover\b|\bper\b|/")
_RATIO = re.compile(rf"(?P<sign>[+-]?) ?(?P<rise>{_NUMBER}) ?: ?(?P<run>{_NUMBER})")
_PERCENT = re.compile(rf"(?P<value>[+-]?{_NUMBER}) ?%")
_DEGREES = re.compile(rf"(?P<value>[+-]? ?{_NUMBER}) ?(?:°|deg|degree|degrees)")
_BARE = re.compile(rf"[+-]? ?{_NUMBER}")
_LONGEST = 40  # characters; a longer text is no quantity, and a number of 400 digits is none either


class UnitsError(ValueError):
    """What was typed is not a quantity. The message says what to write instead."""


class Length(float):
    """A length in mm that remembers what was typed."""

    typed: str

    def __new__(cls, mm: float, typed: str = "") -> Self:
        """Make a length of `mm` millimetres, typed as `typed` (by default the number itself)."""
        self = super().__new__(cls, mm)
        self.typed = typed or f"{mm:g} mm"
        return self


class Slope(float):
    """A slope as rise over run (the tangent) that remembers what was typed."""

    typed: str

    def __new__(cls, ratio: float, typed: str = "") -> Self:
        """Make a slope of `ratio`, typed as `typed` (by default the ratio in mm/m)."""
        self = super().__new__(cls, ratio)
        self.typed = typed or f"{ratio * 1000:g} mm/m"
        return self


class Angle(float):
    """An angle in rad that remembers what was typed."""

    typed: str

    def __new__(cls, rad: float, typed: str = "") -> Self:
        """Make an angle of `rad` radians, typed as `typed` (by default the degrees)."""
        self = super().__new__(cls, rad)
        self.typed = typed or f"{math.degrees(rad):g}°"
        return self


def length(text: str, unit: Unit | None = None) -> Length:
    """Read a length: `58-1/2"`, `58 1/2 in`, `4' 10 1/2"`, `1486 mm`, `148.6 cm`.

    A bare number is in `unit`.

    Raises
    ------
    UnitsError
        With the remedy, for anything else: no unit, a fraction no tape shows, a comma before three
        digits, a number that is not finite.

    Examples
    --------
    >>> float(length('58-1/2"'))
    1485.9

    """
    found = _LENGTH.fullmatch(_plain(text))
    if not found or not any(found[k] for k in ("feet", "whole", "num0")):
        msg = f"{text!r} is not a length; write it like 58-1/2 in, 4' 10 1/2\" or 1486 mm"
        raise UnitsError(msg)
    amount = _amount(found)
    written = found["unit"]
    if found["feet"]:
        if written not in {None, "in", "in.", "inch", "inches", '"'}:
            msg = f"{text!r} mixes feet with {written}; write feet and inches, or one unit"
            raise UnitsError(msg)
        mm = _decimal(found["feet"]) * MM["ft"] + amount * MM["in"]
        return Length(float(-mm if found["sign"] == "-" else mm), text.strip())
    name = SPELLINGS.get(written or "", written or unit)
    if name is None:
        msg = f"{text!r} has no unit; write in, mm or cm after it"
        raise UnitsError(msg)
    if name not in {"in", "ft"} and (found["num"] or found["num0"]):
        msg = f"{text!r} has a fraction of a {name}; write decimals"
        raise UnitsError(msg)
    mm = amount * MM[name]
    return Length(float(-mm if found["sign"] == "-" else mm), text.strip())


def slope(text: str, unit: Unit | None = None) -> Slope:
    """Read a slope: `1/4 in in 72 in`, `1/4 in per ft`, `3 mm/m`, `2 %`, `1:50`, `0.4°`.

    Returns the tangent. Raises UnitsError with the remedy for anything else.

    Examples
    --------
    >>> round(float(slope("3 mm/m")), 6)
    0.003

    """
    plain = _plain(text)
    if found := _DEGREES.fullmatch(plain):
        return Slope(math.tan(math.radians(float(_decimal(found["value"])))), text.strip())
    if found := _PERCENT.fullmatch(plain):
        return Slope(float(_decimal(found["value"]) / 100), text.strip())
    if found := _RATIO.fullmatch(plain):
        rise = _decimal(found["rise"]) * (-1 if found["sign"] == "-" else 1)
        return Slope(_over(float(rise), float(_decimal(found["run"])), text), text.strip())
    if (result := _rise_and_run(plain, unit)) is not None:
        return Slope(_over(*result, text), text.strip())
    msg = f"{text!r} is not a slope; write it like 1/4 in in 72 in, 3 mm/m or 0.4°"
    raise UnitsError(msg)


def angle(text: str) -> Angle:
    """Read an angle in degrees: `90.4°` or `90.4 deg`.

    Raises UnitsError with the remedy for anything else.

    Examples
    --------
    >>> round(float(angle("90°")), 6)
    1.570796

    """
    if found := _DEGREES.fullmatch(_plain(text)):
        return Angle(math.radians(float(_decimal(found["value"]))), text.strip())
    msg = f"{text!r} is not an angle; write it like 90.4° or 90.4 deg"
    raise UnitsError(msg)


def _plain(text: str) -> str:
    """Replace look-alike marks and vulgar fractions by plain ones, and squeeze white space."""
    if len(text) > _LONGEST:
        msg = (
            f"{text[:_LONGEST]!r} … is too long for a quantity; write it like 58-1/2 in or 1486 mm"
        )
        raise UnitsError(msg)
    for mark, written in _VULGAR.items():
        text = text.replace(mark, f" {written}")
    return " ".join(text.translate(_LOOKALIKES).replace('""', '"').replace("''", '"').split())


def _decimal(text: str) -> Fraction:
    """Read a decimal number exactly; a comma before three digits could be either mark: refused."""
    if re.search(r",\d{3}(?!\d)", text):
        msg = f"{text!r}: is the comma a decimal mark or thousands? write a point, or no mark"
        raise UnitsError(msg)
    return Fraction(text.replace(",", ".").replace(" ", ""))


def _amount(found: re.Match[str]) -> Fraction:
    """Whole number plus tape fraction of a matched length."""
    whole = _decimal(found["whole"]) if found["whole"] else Fraction(0)
    num, den = found["num"] or found["num0"], found["den"] or found["den0"]
    if not num:
        return whole
    if int(den) not in TAPE_DENOMINATORS:
        msg = f"{num}/{den} is on no tape; use halves, quarters, 8ths, 16ths, 32nds or 64ths"
        raise UnitsError(msg)
    if int(num) >= int(den):
        msg = f"{num}/{den} is a whole or more; carry it into the inches"
        raise UnitsError(msg)
    if whole.denominator != 1:
        msg = f"{found[0]!r} has decimals and a fraction; write one or the other"
        raise UnitsError(msg)
    return whole + Fraction(int(num), int(den))


def _over(rise: float, run: float, text: str) -> float:
    if run == 0:
        msg = f"{text!r}: a slope over no length; write the length it was read over"
        raise UnitsError(msg)
    return rise / run


def _pair(rise: str, run: str, unit: Unit | None) -> tuple[float, float] | None:
    """Rise and run in mm; a bare unit as run means one of it (`3 mm/m`). None if either is none."""
    one = run if re.match(r"[+-]? ?\d", run) else f"1 {run}"
    try:
        return length(rise, unit), length(one, unit)
    except UnitsError:
        return None


def _rise_and_run(plain: str, unit: Unit | None) -> tuple[float, float] | None:
    """Rise and run in mm, at the first word or stroke that leaves a length on either side."""
    for mark in _BETWEEN.finditer(plain):
        rise, run = plain[: mark.start()].strip(), plain[mark.end() :].strip()
        if mark[0] == "/" and _BARE.fullmatch(rise) and _BARE.fullmatch(run):
            continue  # a fraction, not a slope: 3/17 stays a slip of the pen
        result = _pair(rise, run, unit)
        if result is not None:
            return result
    return None


def mixed(inch: float, parts: int) -> str:
    """Write inches as a whole number and a fraction in lowest terms, to the nearest 1/parts.

    Examples
    --------
    >>> mixed(28.375, 16), mixed(0.1875, 32), mixed(-1.5, 16), mixed(0.0, 16)
    ('28-3/8', '3/16', '-1-1/2', '0')

    """
    count = round(abs(inch) * parts)
    whole, rest = divmod(count, parts)
    sign = "-" if inch < 0 and count else ""
    if not rest:
        return f"{sign}{whole}"
    part = Fraction(rest, parts)
    written = f"{part.numerator}/{part.denominator}"
    return f"{sign}{whole}-{written}" if whole else f"{sign}{written}"


def inches(mm: float, denominator: int = 16) -> str:
    """Write a length in inches to the nearest 1/`denominator`: `28-3/8"`.

    Examples
    --------
    >>> inches(720.725)
    '28-3/8"'

    """
    return f'{mixed(mm / 25.4, denominator)}"'


def millimetres(mm: float, places: int = 0) -> str:
    """Write a length in mm with `places` decimals: `721 mm`."""
    return f"{round(mm, places) + 0.0:.{places}f} mm"
