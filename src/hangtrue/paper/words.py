"""Words on drawings: figures in both units, rakes and hands as people say them."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Edge, Lite
from hangtrue.paper.lengths import Units, number, tidy
from hangtrue.phrase import join, phrase

_UNIT = re.compile(r" (in|mm|kg|lb)\b")
_SIGN = re.compile("(±) ")
SQUARE = 0.05
"""An edge out of square by less than this is called square, mm."""


@dataclass(frozen=True, slots=True)
class Figure:
    """A dimension's figure: in the first unit, and in the other in brackets."""

    words: str
    second: str = ""

    def __str__(self) -> str:
        """Both on one line."""
        return f"{self.words} {self.second}".strip()


def figure(units: Units, mm: float, *, fine: bool = False) -> Figure:
    """Figure of a length without its unit, which the line under the drawing names."""
    parts = units.fraction * (2 if fine else 1)
    first = number(mm, units.first, parts, fine=fine)
    if not units.both:
        return Figure(_plain(first))
    return Figure(_plain(first), f"[{_plain(number(mm, units.second, parts, fine=fine))}]")


def exact(units: Units, mm: float) -> Figure:
    """Figure as the plant needs it: tenths of a mm where they are not nought."""
    first = number(mm, units.first, units.fraction, fine=units.first == "mm")
    if not units.both:
        return Figure(_plain(first))
    other = number(mm, units.second, units.fraction, fine=units.second == "mm")
    return Figure(_plain(first), f"[{_plain(other)}]")


def _plain(words: str) -> str:
    """Leave out a nought after the point."""
    return words.removesuffix(".0")


def units_line(units: Units) -> str:
    """Name the unit of all figures on a sheet."""
    name = {"in": "inches", "mm": "mm"}
    first, second = name[units.first], name[units.second]
    return join("", (first, " [", second, "]")) if units.both else first


def unbroken(words: str) -> str:
    """Keep figures together with their units and signs where lines are broken."""
    return _UNIT.sub("\u00a0\\1", _SIGN.sub("\\1\u00a0", words))


def rake_words(edge: Edge, units: Units) -> str:
    """Say how an edge is cut: `left edge leans right 3 mm over its height`."""
    name, by = f"{edge.where} edge", units.small(abs(edge.rake))
    if abs(edge.rake) < SQUARE:
        return phrase("{edge} square", edge=name)
    if edge.where in ("left", "right"):
        if edge.rake > 0:
            return phrase("{edge} leans right {by} over its height", edge=name, by=by)
        return phrase("{edge} leans left {by} over its height", edge=name, by=by)
    if edge.rake > 0:
        return phrase("{edge} rises to the right {by} over its width", edge=name, by=by)
    return phrase("{edge} falls to the right {by} over its width", edge=name, by=by)


def hand_words(lite: Lite) -> str:
    """Say which way round a pane is."""
    if lite.hinge_side is None:
        return "transom pane over the door" if lite.kind == "transom" else "fixed pane"
    return phrase(
        "door, hinges {side} on {on}, seen from outside",
        side=lite.hinge_side,
        on=f"the {lite.hung_on}",
    )


def angle_words(known: Estimate) -> str:
    """Angle in degrees with its plus-minus (two standard deviations)."""
    value, spread = math.degrees(known.value), math.degrees(2 * known.sd)
    return f"{tidy(value, 1)}°\u00a0±\u00a0{tidy(spread, 1)}°"
