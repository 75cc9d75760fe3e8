"""Dimensions, leaders and hatching drawn out into lines and text; rows and ladders of them."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate, pairwise
from typing import Literal

from shapely import LineString, Polygon, make_valid
from shapely.geometry.base import BaseGeometry

from hangtrue.geometry import Point
from hangtrue.paper import lettering
from hangtrue.paper.language import told
from hangtrue.paper.scene import (
    LETTER,
    Circle,
    Dimension,
    Drawn,
    Hatch,
    Layer,
    Leader,
    Line,
    Path,
    Primitive,
    Text,
    Tone,
)

Side = Literal["left", "right", "below", "above"]

ARROW = 2.2
"""Length of an arrow head, mm; a third as wide."""
CLEAR = 1.0
"""From the object to its extension line, and from a line to the words above it."""
PAST = 1.2
"""Extension line past the dimension line."""
FEED = 10.5
"""From one row of dimensions to the next: a figure above the line and one beneath."""
KNEE = 4.0
"""Length of the slanting end of a ladder's line, mm."""
LINE_FEED = 4.2
"""From one line of words to the next."""


def drawn(primitives: Iterable[Primitive]) -> tuple[Drawn, ...]:
    """Draw everything out into what every writer knows."""
    return tuple(part for p in primitives for part in _parts(p))


def _parts(primitive: Primitive) -> tuple[Drawn, ...]:
    match primitive:
        case Dimension():
            return _dimension(primitive)
        case Leader():
            return _leader(primitive)
        case Hatch():
            return _hatch(primitive)
        case _:
            return (primitive,)


def arrow(tip: Point, towards_deg: float, layer: Layer = "dimension", tone: Tone = "ink") -> Path:
    """Return a filled arrow head with its tip there, pointing along `towards_deg` (0 right)."""
    c, s = math.cos(math.radians(towards_deg)), math.sin(math.radians(towards_deg))
    back = (tip[0] - ARROW * c, tip[1] - ARROW * s)
    half = ARROW / 6
    points = (
        tip,
        (back[0] - half * s, back[1] + half * c),
        (back[0] + half * s, back[1] - half * c),
    )
    return Path(points=points, layer=layer, fill="solid", tone=tone)


def _dimension(d: Dimension) -> tuple[Drawn, ...]:
    """Work out a dimension as if it were level, and turn it where it is upright."""
    if d.upright:
        start, end = (d.start[1], -d.start[0]), (d.end[1], -d.end[0])
        line = -d.line
    else:
        start, end, line = d.start, d.end, d.line
    start, end = min(start, end), max(start, end)
    parts = [*_extensions(start, end, line, d.layer), *_measure(start[0], end[0], line, d)]
    return tuple(_turned(p) if d.upright else p for p in parts)


def _extensions(start: Point, end: Point, line: float, layer: Layer) -> Iterable[Line]:
    for x, y in (start, end):
        away = math.copysign(1.0, line - y)
        if abs(line - y) > CLEAR:
            yield Line(start=(x, y + away * CLEAR), end=(x, line + away * PAST), layer=layer)


def _measure(left: float, right: float, y: float, d: Dimension) -> Iterable[Drawn]:
    """Dimension line with arrows inside where they have room, words between or beside."""
    words_wide = max(lettering.width(t, LETTER) for t in (d.words, d.second))
    span = right - left
    inside = span >= 3 * ARROW
    centred = span >= words_wide + 1.0
    tail = 0.0 if inside else 1.8 * ARROW
    reach = 0.0 if centred else max(tail, CLEAR) + words_wide
    yield Line(start=(left - tail, y), end=(right + max(tail, reach), y), layer=d.layer)
    yield arrow((left, y), 180 if inside else 0, d.layer)
    yield arrow((right, y), 0 if inside else 180, d.layer)
    x = (left + right) / 2 if centred else right + reach - words_wide / 2
    if d.words:
        yield Text(at=(x, y + CLEAR), words=d.words, anchor="middle", layer=d.layer)
    if d.second:
        yield Text(at=(x, y - CLEAR - LETTER), words=d.second, anchor="middle", layer=d.layer)


def _turned(part: Drawn) -> Drawn:
    """Turn a quarter to the left: what was level is read from the right."""
    match part:
        case Line():
            return replace(part, start=_quarter(part.start), end=_quarter(part.end))
        case Path():
            return replace(part, points=tuple(_quarter(p) for p in part.points))
        case Text():
            return replace(part, at=_quarter(part.at), upward=True)
        case Circle():
            return replace(part, centre=_quarter(part.centre))


def _quarter(p: Point) -> Point:
    return (-p[1], p[0])


def _leader(leader: Leader) -> tuple[Drawn, ...]:
    """Line from the thing, with an arrow at it, to a shelf under the first line of the words."""
    tip, following = leader.points[0], leader.points[1]
    last, before = leader.points[-1], leader.points[-2]
    angle = math.degrees(math.atan2(tip[1] - following[1], tip[0] - following[0]))
    rightward = last[0] >= before[0]
    shelf = max((lettering.width(w, LETTER) for w in leader.words), default=0.0)
    end = (last[0] + (shelf if rightward else -shelf), last[1])
    left = min(last[0], end[0])
    lines = [
        Line(start=a, end=b, layer=leader.layer, tone=leader.tone)
        for a, b in pairwise((*leader.points, end))
    ]
    words = [
        Text(
            at=(left, last[1] + CLEAR - i * (LINE_FEED + (CLEAR if i else 0))),
            words=text,
            layer=leader.layer,
            tone=leader.tone,
        )
        for i, text in enumerate(leader.words)
    ]
    return (*lines, arrow(tip, angle, leader.layer, leader.tone), *words)


def _hatch(hatch: Hatch) -> tuple[Drawn, ...]:
    """Slanting lines over the area, on one grid for the whole sheet so that neighbours match."""
    area = make_valid(Polygon(hatch.outline))
    slant = math.radians(hatch.slant_deg)
    along, across = (math.cos(slant), math.sin(slant)), (-math.sin(slant), math.cos(slant))
    reaches = [x * across[0] + y * across[1] for x, y in hatch.outline]
    far = max(math.hypot(x, y) for x, y in hatch.outline) + 1.0
    rows = range(
        math.ceil(min(reaches) / hatch.spacing), math.floor(max(reaches) / hatch.spacing) + 1
    )
    lines: list[Line] = []
    for row in rows:
        foot = (across[0] * row * hatch.spacing, across[1] * row * hatch.spacing)
        ends = [
            (foot[0] + sign * far * along[0], foot[1] + sign * far * along[1]) for sign in (-1, 1)
        ]
        lines += _strokes(LineString(ends).intersection(area), hatch)
    return tuple(lines)


def _strokes(cut: BaseGeometry, hatch: Hatch) -> Iterable[Line]:
    """Lines of what a hatching line cuts out of its area, from left to right."""
    pieces = getattr(cut, "geoms", [cut])
    ends = sorted(p.bounds for p in pieces if isinstance(p, LineString) and not p.is_empty)
    falls = hatch.slant_deg % 180 > 90  # noqa: PLR2004 - upright
    for left, low, right, high in ends:
        a, b = ((left, high), (right, low)) if falls else ((left, low), (right, high))
        yield Line(start=a, end=b, layer=hatch.layer, stroke=hatch.stroke, tone=hatch.tone)


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """A length to be dimensioned: two points on paper and its figures."""

    start: Point
    end: Point
    words: str
    second: str = ""


def rows(
    spans: Iterable[Span], first: float, *, upright: bool, outward: float
) -> tuple[Dimension, ...]:
    """Set dimensions in rows outside an object, the shortest nearest, none over another.

    Parameters
    ----------
    first
        Where the nearest dimension line runs: y of level ones, x of upright ones.
    outward
        +1 where rows follow upward or rightward, -1 downward or leftward.

    """
    axis = 1 if upright else 0
    taken: list[list[tuple[float, float]]] = []
    out = []
    for span in sorted(spans, key=lambda s: abs(s.end[axis] - s.start[axis])):
        low, high = _room(span, axis)
        row = next((i for i, r in enumerate(taken) if _free(r, low, high)), len(taken))
        if row == len(taken):
            taken.append([])
        taken[row].append((low, high))
        out.append(
            Dimension(
                start=span.start,
                end=span.end,
                line=first + outward * row * FEED,
                words=span.words,
                second=span.second,
                upright=upright,
            )
        )
    return tuple(out)


def _room(span: Span, axis: int) -> tuple[float, float]:
    """Reach of a dimension along its line, words beside it included."""
    low, high = sorted((span.start[axis], span.end[axis]))
    words = max(lettering.width(t, LETTER) for t in (span.words, span.second))
    if high - low < words + CLEAR:
        high += words + 2 * ARROW
    return low, high


def _free(row: Sequence[tuple[float, float]], low: float, high: float) -> bool:
    return all(high <= a or low >= b for a, b in row)


@dataclass(frozen=True, slots=True, kw_only=True)
class Rung:
    """One figure of a ladder: a point of the object and its distance from the datum in words.

    Attributes
    ----------
    second, more
        Further lines under the first, if any.
    room
        Lines are no longer than this, mm.

    """

    at: Point
    words: str
    second: str = ""
    more: tuple[str, ...] = ()
    room: float = math.inf

    @property
    def lines(self) -> tuple[str, ...]:
        """Everything it says, line by line, in the language of the sheet."""
        second = (self.second,) if self.second else ()
        texts = map(told, (self.words, *second, *self.more))
        if math.isinf(self.room):
            return tuple(texts)
        return tuple(line for t in texts for line in lettering.wrapped(t, self.room, LETTER))


def ladder(
    rungs: Iterable[Rung], line: float, side: Side, least: float = -math.inf
) -> tuple[Primitive, ...]:
    """Give running dimensions from one datum: a figure for each point, not crowded.

    `side` is where the figures stand, `line` the x or y at which they begin; no figure stands
    below (or left of) `least`.
    """
    axis = 1 if side in ("left", "right") else 0
    ordered = sorted(rungs, key=lambda r: r.at[axis])
    sizes = [len(r.lines) * LINE_FEED for r in ordered]
    places = stacked([r.at[axis] for r in ordered], sizes)
    floors = accumulate((0.0, *((a + b) / 2 for a, b in pairwise(sizes))))
    places = tuple(max(p, least + floor) for p, floor in zip(places, floors, strict=False))
    return tuple(
        part
        for rung, place in zip(ordered, places, strict=True)
        for part in _rung(rung, place, line, side)
    )


def _rung(rung: Rung, place: float, line: float, side: Side) -> Iterable[Primitive]:
    """Extension line with one knee, and the figure at its end, the second beneath the first."""
    level = side in ("left", "right")
    away = 1.0 if side in ("right", "above") else -1.0
    axis = 1 if level else 0

    def point(along: float, out: float) -> Point:
        return (out, along) if level else (along, out)

    along, out = rung.at[axis], rung.at[1 - axis]
    course = (
        point(along, out + away * CLEAR),
        point(along, line - away * KNEE),
        point(place, line - away * CLEAR),
        point(place, line),
    )
    yield Path(points=course, closed=False, layer="dimension")
    words = rung.lines
    for i, text in enumerate(words):
        feed = LINE_FEED * ((len(words) - 1) / 2 - i) - LETTER / 2
        base = place + (feed if level else -feed)
        yield Text(
            at=point(base, line + away * CLEAR),
            words=text,
            anchor="start" if away > 0 else "end",
            upward=not level,
            layer="dimension",
        )


def spread(places: Sequence[float], apart: float) -> tuple[float, ...]:
    """Move places apart to at least `apart`, each crowd about its own middle; `places` rise.

    Examples
    --------
    >>> spread([0.0, 1.0, 10.0], 4.0)
    (-1.5, 2.5, 10.0)

    """
    return stacked(places, [apart] * len(places))


def stacked(places: Sequence[float], sizes: Sequence[float]) -> tuple[float, ...]:
    """Move things of different sizes apart, each crowd as little as can be; `places` rise.

    Returns
    -------
    The middle of each thing: least squares under the condition that none lies on another.

    Examples
    --------
    >>> stacked([0.0, 1.0, 20.0], [4.0, 8.0, 4.0])
    (-2.5, 3.5, 20.0)

    """
    crowds: list[tuple[float, list[float]]] = []
    for place, size in zip(places, sizes, strict=True):
        crowds.append((place - size / 2, [size]))
        while len(crowds) > 1 and crowds[-1][0] < crowds[-2][0] + math.fsum(crowds[-2][1]):
            (low, below), (start, above) = crowds[-2:]
            here = low * len(below) + (start - math.fsum(below)) * len(above)
            crowds[-2:] = [(here / (len(below) + len(above)), below + above)]
    return tuple(
        low + math.fsum(within[:i]) + within[i] / 2
        for low, within in crowds
        for i in range(len(within))
    )
