"""What tempered glass allows of holes and cut-outs, and the distances that a pane really has."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import combinations
from typing import Literal

from shapely import LineString, Point, Polygon

from hangtrue.fit.enclosure import Lite, Notch
from hangtrue.phrase import phrase
from hangtrue.source import cites
from hangtrue.tables import table

Practice = Literal["us", "en"]
TOUCH = 1e-6
"""Distance in mm under which a cut-out counts as opening into an edge."""


@cites("c1048-practice", "holes, notches and cut-outs of tempered glass")
@cites("en-12150", "clause 7, holes and cut-outs")
def least(practice: Practice, what: str, thickness: float) -> float:
    """Return the least distance, diameter or radius that tempering allows, mm.

    Parameters
    ----------
    practice
        `us` or `en`.
    what
        Row of `data/glass/holes.toml`: `hole-diameter`, `hole-to-edge`, `inside-radius`, …
    thickness
        Nominal thickness of the glass, mm.

    Examples
    --------
    >>> least("us", "hole-to-corner", 9.525)
    61.9125

    """
    row = table("glass/holes")[practice][what]
    return max(float(row["least"]), float(row["times"]) * thickness + float(row["plus"]))


def share(practice: Practice, what: str) -> float:
    """Return the greatest part of a side that a hole or a cut-out may take."""
    return float(table("glass/holes")[practice][what]["share"])


def source_of(practice: Practice, what: str) -> str:
    """Return the source id of a row."""
    return str(table("glass/holes")[practice][what]["source"])


@dataclass(frozen=True, slots=True, order=True)
class Distance:
    """A distance that a row of the table limits, the shortest first: mm, row, whose holes."""

    mm: float
    what: str
    fitting: str


def distances(pane: Lite, word: Callable[[str], str]) -> Iterator[Distance]:
    """Measure every hole of a pane: its width, and the glass between rims, edges and corners."""
    edge = Polygon(pane.outline).exterior
    for hole in pane.holes:
        centre, radius, name = Point(hole.centre), hole.diameter / 2, word(hole.fitting)
        tip = min(float(centre.distance(Point(corner))) for corner in pane.corners)
        yield Distance(hole.diameter, "hole-diameter", name)
        yield Distance(float(edge.distance(centre)) - radius, "hole-to-edge", name)
        yield Distance(tip - radius, "hole-to-corner", name)
    for one, other in combinations(pane.holes, 2):
        between = float(Point(one.centre).distance(Point(other.centre)))
        rims = between - (one.diameter + other.diameter) / 2
        yield Distance(rims, "hole-to-hole", _both(word(one.fitting), word(other.fitting)))


def _both(one: str, other: str) -> str:
    return one if one == other else phrase("{one} and {other}", one=one, other=other)


def strips(pane: Lite, word: Callable[[str], str]) -> Iterator[tuple[str, float]]:
    """Measure the strips of glass left beside cut-outs: what lies on either side, and mm."""
    sides = [
        LineString([pane.corners[i], pane.corners[(i + 1) % 4]]) for i in range(len(pane.corners))
    ]
    for notch in pane.notches:
        figure = Polygon(notch.corners)
        away = [d for d in (float(figure.distance(s)) for s in sides) if d > TOUCH]
        cut = word(notch.fitting)
        yield phrase("the {fitting} cut-out and an edge", fitting=cut), min(away)
        for hole in pane.holes:
            gap = float(figure.distance(Point(hole.centre))) - hole.diameter / 2
            drilled = word(hole.fitting)
            yield phrase("the {cut} cut-out and the {drilled} hole", cut=cut, drilled=drilled), gap
    for one, other in combinations(pane.notches, 2):
        gap = float(Polygon(one.corners).distance(Polygon(other.corners)))
        names = _both(word(one.fitting), word(other.fitting))
        yield phrase("the {fittings} cut-outs", fittings=names), gap


def extent(notch: Notch) -> tuple[float, float]:
    """Width and height of a cut-out, mm."""
    x0, y0, x1, y1 = Polygon(notch.corners).bounds
    return float(x1 - x0), float(y1 - y0)
