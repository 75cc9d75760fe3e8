"""The chance of a remake over the width of a pane: a point for every width that the plant cuts."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from hangtrue.geometry import Point
from hangtrue.odds.sizes import Curve
from hangtrue.odds.wording import RARE, said_chance
from hangtrue.paper.drawings import frame
from hangtrue.paper.lengths import Units
from hangtrue.paper.scene import Box, Circle, Line, Path, Primitive, Sheet, Text
from hangtrue.paper.words import units_line
from hangtrue.phrase import Phrase, join, phrase

HEIGHT = 90.0
ROOM: Box = (26.0, 15.0, 172.0, 74.5)
"""Of the curve on the paper, mm."""
SMALL = 2.2
DECADES = (2, 6)
"""Fewest and most powers of ten from top to bottom."""
DOT = {"width": 0.7, "marked": 1.3}
"""Radius of a point, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Scale:
    """Where a width and a chance stand on the paper: chances by their powers of ten."""

    widths: tuple[float, float]
    decades: int

    def at(self, width: float, chance: float) -> Point:
        """Place a width, mm, and a chance; one beyond the last power stands on it."""
        left, low, right, high = ROOM
        low_width, high_width = self.widths
        across = (width - low_width) / max(high_width - low_width, 1.0)
        up = 1.0 + math.log10(max(chance, 10.0**-self.decades)) / self.decades
        return left + across * (right - left), low + up * (high - low)


def odds_curve(curve: Curve, limit: float, units: Units, name: str) -> Sheet:
    """Draw the curve of one pane.

    Parameters
    ----------
    limit
        Chance of a remake that the shop can live with.
    name
        Of the sheet, for its file.

    """
    scale = _scale(curve)
    title = phrase("Chance of a remake over the width: {pane}", pane=curve.pane)
    caption = (
        "Each point a width that the plant cuts, the row set anew for it",
        units_line(units.alone),
    )
    return Sheet(
        name=name,
        width=frame.WIDTH,
        height=HEIGHT,
        title=title,
        description=join(" ", _sentences(curve, units)),
        primitives=(
            frame.heading(title, (0.0, HEIGHT - 5.0)),
            *_chances(scale),
            *_limit(scale, limit),
            *_widths(curve, scale, units.alone),
            *_points(curve, scale),
            *_marked(curve, scale, units),
            *frame.caption(caption),
        ),
    )


def _scale(curve: Curve) -> Scale:
    least = min(max(risk, RARE) for risk in curve.remake)
    fewest, most = DECADES
    decades = min(max(math.ceil(-math.log10(least) - 1e-9), fewest), most)
    return Scale(widths=(curve.widths[0], curve.widths[-1]), decades=decades)


def _chances(scale: Scale) -> Iterator[Primitive]:
    """Level lines at the powers of ten, with the chance before each."""
    left, _, right, _ = ROOM
    for k in range(scale.decades + 1):
        _, y = scale.at(scale.widths[0], 10.0**-k)
        yield Line(start=(left, y), end=(right, y), layer="dimension", stroke="dotted")
        words = said_chance(10.0**-k)
        at = (left - 2.5, y - SMALL / 2)
        yield Text(at=at, words=words, anchor="end", height=SMALL)


def _limit(scale: Scale, limit: float) -> Iterator[Primitive]:
    if not 10.0**-scale.decades < limit < 1.0:
        return
    left, _, right, _ = ROOM
    _, y = scale.at(scale.widths[0], limit)
    yield Line(
        start=(left, y), end=(right, y), layer="uncertainty", weight="middle", stroke="dashed"
    )
    words = phrase("the shop's limit: {chance}", chance=said_chance(limit))
    yield Text(at=((left + right) / 2 + 2.0, y + 0.8), words=words, height=SMALL)


def _widths(curve: Curve, scale: Scale, units: Units) -> Iterator[Primitive]:
    """Ticks at all widths; every other one is written, and the chosen one always."""
    _, low, _, _ = ROOM
    middle = curve.widths.index(curve.chosen)
    for k, width in enumerate(curve.widths):
        x, _ = scale.at(width, 1.0)
        yield Line(start=(x, low), end=(x, low - 1.2), layer="dimension")
        if (k - middle) % 2 == 0:
            words = units.figure(width)
            yield Text(
                at=(x, low - 4.8), words=words, anchor="middle", height=SMALL, bold=k == middle
            )


def _points(curve: Curve, scale: Scale) -> Iterator[Primitive]:
    """Points of all widths, joined; one that stands for less than can be told is hollow."""
    places = [scale.at(w, r) for w, r in zip(curve.widths, curve.remake, strict=True)]
    yield Path(points=tuple(places), layer="outline", closed=False, weight="middle")
    for place, risk in zip(places, curve.remake, strict=True):
        told = risk >= RARE
        yield Circle(
            centre=place, radius=DOT["width"], layer="outline", fill="solid" if told else "none"
        )


def _marked(curve: Curve, scale: Scale, units: Units) -> Iterator[Primitive]:
    """The chosen width and the best one stand out, with their chances over the curve."""
    _, low, _, high = ROOM
    marks = dict.fromkeys((curve.chosen, curve.best))
    for width in marks:
        x, y = scale.at(width, _risk(curve, width))
        yield Line(start=(x, low), end=(x, high), layer="centre", stroke="long-dash-dot")
        yield Circle(centre=(x, y), radius=DOT["marked"], layer="outline", weight="middle")
    for k, words in enumerate(_sentences(curve, units)):
        at = (0.0, HEIGHT - 9.2 - 3.2 * k)
        yield Text(at=at, words=words, height=SMALL)


def _sentences(curve: Curve, units: Units) -> Iterator[Phrase]:
    yield phrase(
        "Chosen: {width}, chance of a remake {chance}.",
        width=units.size(curve.chosen),
        chance=said_chance(_risk(curve, curve.chosen)),
    )
    if curve.best != curve.chosen:
        yield phrase(
            "Best odds: {width}, chance of a remake {chance}.",
            width=units.size(curve.best),
            chance=said_chance(_risk(curve, curve.best)),
        )


def _risk(curve: Curve, width: float) -> float:
    return curve.remake[curve.widths.index(width)]
