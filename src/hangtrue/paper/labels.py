"""Words set beside the things of a crowded drawing: none on another, none on a line."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from shapely import LineString, Polygon, STRtree, box
from shapely.geometry.base import BaseGeometry

from hangtrue.geometry import Outline, Point
from hangtrue.paper import lettering
from hangtrue.paper.dimensions import LINE_FEED, drawn
from hangtrue.paper.language import told
from hangtrue.paper.scene import (
    LETTER,
    Box,
    Circle,
    Drawn,
    Hatch,
    Line,
    Path,
    Primitive,
    Text,
    Tone,
)

CLEAR = 0.6
"""Kept free around words, mm."""
RINGS = (0.0, 2.0, 4.0, 6.0, 8.5, 11.0, 14.0, 17.0, 21.0, 25.0, 30.0, 36.0, 43.0)
"""Distances from its thing at which a place is tried, mm."""
WAYS, FINER = 16, 48
"""Directions in which a place is tried round a thing; more where none was found."""
FAR = 7.0
"""Words farther from their thing than this get a line to it, mm."""
ARC_STEPS = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """Words that want to stand near a point.

    Attributes
    ----------
    near
        The point on paper.
    toward
        Way in which they would rather stand, any length.
    lines
        One under the other, centred.
    inside
        They would rather stand on the point itself.
    far
        Farther than this from the point they are left out, mm.
    around
        Half the width and half the height of the thing itself about the point, mm.
    tied
        Where they stand far off a thin line leads to the point.
    needed
        They are set over a line rather than left out.

    """

    near: Point
    lines: tuple[str, ...]
    toward: Point = (0.0, 1.0)
    inside: bool = False
    far: float = 50.0
    around: Point = (0.0, 0.0)
    tied: bool = True
    needed: bool = True
    bold: bool = False
    height: float = LETTER
    tone: Tone = "ink"


def labelled(
    labels: Iterable[Label], beside: Iterable[Primitive], within: Box
) -> tuple[Primitive, ...]:
    """Set each label at the nearest free place, in the order given.

    Parameters
    ----------
    beside
        What is drawn already: lines, fillings, words.
    within
        Where words may stand.

    """
    room = box(*within)
    lines = STRtree([shape for p in beside for shape in _shapes(p)])
    words: list[BaseGeometry] = []
    ties: list[BaseGeometry] = []
    out: list[Primitive] = []
    for label in (replace(each, lines=tuple(map(told, each.lines))) for each in labels):
        found = _found(label, lines, (*words, *ties), words, room)
        if found is None:
            continue
        shown, spot = found
        texts = _texts(shown, spot)
        words += (box(*lettering.box(t)) for t in texts)
        tie = _tie(shown, spot)
        if tie is not None:
            ties.append(tie)
            out += _line_to(tie, shown)
        out += texts
    return tuple(out)


def _found(
    label: Label,
    lines: STRtree,
    taken: Sequence[BaseGeometry],
    words: Sequence[BaseGeometry],
    room: BaseGeometry,
) -> tuple[Label, Point] | None:
    """Form of a label and its middle: as it is, smaller, or in two lines; else over a line."""
    for form, middle in _tried(label):
        if _free(form, middle, taken, words, room) and not len(
            lines.query(_area(form, middle), predicate="intersects")
        ):
            return form, middle
    if not label.needed:
        return None
    smallest = _forms(label)[-1]
    over = [m for m in _places(smallest) if _free(smallest, m, words, (), room)]
    apart = (m for m in over if _free(smallest, m, taken, words, room))
    return next(((smallest, middle) for middle in (*apart, *over)), None)


def _tried(label: Label) -> Iterator[tuple[Label, Point]]:
    """Forms and places in the order they are tried: beside the thing before far off with a line."""
    forms = _forms(label)
    rounds = ((False, FINER), (True, WAYS), (True, FINER))
    for far, ways in rounds if label.tied else ((False, WAYS), (False, FINER)):
        for form in forms:
            for middle in _places(form, ways):
                if (label.tied and _is_far(form, middle)) == far:
                    yield form, middle


def _forms(label: Label) -> tuple[Label, ...]:
    """The label, then smaller where it is large, then in two lines."""
    forms = [label]
    if label.height > LETTER:
        forms.append(replace(label, height=LETTER))
    if len(label.lines) == 1 and " " in label.lines[0]:
        wide = lettering.width(label.lines[0], LETTER, bold=label.bold)
        lines = lettering.wrapped(label.lines[0], 0.72 * wide, LETTER, bold=label.bold)
        forms.append(replace(forms[-1], lines=lines))
    return tuple(forms)


def _free(
    label: Label,
    middle: Point,
    taken: Sequence[BaseGeometry],
    words: Sequence[BaseGeometry],
    room: BaseGeometry,
) -> bool:
    """Whether a place is on the sheet and neither words nor a line to some are in the way."""
    area = _area(label, middle)
    if not room.contains(area) or any(area.intersects(shape) for shape in taken):
        return False
    tie = _tie(label, middle)
    return tie is None or not any(tie.intersects(shape) for shape in words)


def _is_far(label: Label, middle: Point) -> bool:
    """Whether words stand so far from their thing that a line must lead to it."""
    (wide, high), (across, up) = _half(label), label.around
    x = max(0.0, abs(middle[0] - label.near[0]) - wide - across)
    y = max(0.0, abs(middle[1] - label.near[1]) - high - up)
    return math.hypot(x, y) > FAR


def _tie(label: Label, middle: Point) -> LineString | None:
    """Line from words that stand far off to their point; None where they are near."""
    if not label.tied or not _is_far(label, middle):
        return None
    course = LineString((middle, label.near)).difference(_area(label, middle))
    return course if isinstance(course, LineString) and not course.is_empty else None


def _places(label: Label, ways: int = WAYS) -> Iterator[Point]:
    """Middles from near to far; on each ring first the way that is wanted."""
    wanted = math.atan2(label.toward[1], label.toward[0])
    half = _half(label)
    if label.inside:
        yield label.near
    for ring in (r for r in RINGS if r <= label.far):
        for step in range(ways):
            turn = wanted + (-1) ** step * ((step + 1) // 2) * math.tau / ways
            c, s = math.cos(turn), math.sin(turn)
            yield (
                label.near[0] + c * (ring + half[0] * abs(c)),
                label.near[1] + s * (ring + half[1]),
            )


def _half(label: Label) -> Point:
    """Half the width and half the height of a label."""
    wide = max(lettering.width(w, label.height, bold=label.bold) for w in label.lines)
    feed = LINE_FEED * label.height / LETTER
    return wide / 2 + CLEAR, (1.4 * label.height + feed * (len(label.lines) - 1)) / 2 + CLEAR


def _area(label: Label, middle: Point) -> BaseGeometry:
    wide, high = _half(label)
    return box(middle[0] - wide, middle[1] - high, middle[0] + wide, middle[1] + high)


def _texts(label: Label, middle: Point) -> list[Text]:
    feed = LINE_FEED * label.height / LETTER
    first = middle[1] + feed * (len(label.lines) - 1) / 2 - label.height / 2
    return [
        Text(
            at=(middle[0], first - i * feed),
            words=words,
            anchor="middle",
            height=label.height,
            bold=label.bold,
            tone=label.tone,
        )
        for i, words in enumerate(label.lines)
    ]


def _line_to(tie: LineString, label: Label) -> Iterator[Primitive]:
    """Thin line from a label that stands far off to its thing, with a dot at its end."""
    start, *_, end = tie.coords
    yield Line(start=(start[0], start[1]), end=(end[0], end[1]), layer="dimension")
    yield Circle(centre=label.near, radius=0.5, layer="dimension", fill="solid")


def _shapes(primitive: Primitive) -> Iterator[BaseGeometry]:
    """What words may not stand on; hatching counts as the area that it fills."""
    if isinstance(primitive, Hatch):
        yield Polygon(primitive.outline)
        return
    for part in drawn((primitive,)):
        yield _shape(part)


def _shape(part: Drawn) -> BaseGeometry:
    match part:
        case Line():
            return LineString((part.start, part.end))
        case Circle():
            x, y = part.centre
            r = part.radius
            return box(x - r, y - r, x + r, y + r)
        case Text():
            return box(*lettering.box(part))
        case Path():
            points = course(part)
            return Polygon(points) if part.fill != "none" else LineString(points)


def course(path: Path) -> Outline:
    """Points along a path, its arcs in short steps; closed where the path is."""
    ends = (*path.points[1:], path.points[0]) if path.closed else path.points[1:]
    bulges = path.bulges or (0.0,) * len(path.points)
    points: list[Point] = [path.points[0]]
    for start, end, bulge in zip(path.points, ends, bulges, strict=False):
        points += [*_arc(start, end, bulge), end] if bulge else [end]
    return tuple(points)


def _arc(start: Point, end: Point, bulge: float) -> Iterator[Point]:
    """Points between the ends of an arc, at equal turns."""
    angle = 4 * math.atan(bulge)
    radius = math.dist(start, end) / (2 * math.sin(angle / 2))
    chord = math.atan2(end[1] - start[1], end[0] - start[0])
    heading = chord - angle / 2
    cx, cy = start[0] - radius * math.sin(heading), start[1] + radius * math.cos(heading)
    for k in range(1, ARC_STEPS):
        here = heading + angle * k / ARC_STEPS
        yield cx + radius * math.sin(here), cy - radius * math.cos(here)


def bounds(primitives: Iterable[Primitive]) -> Box:
    """Box of everything drawn."""
    boxes = [shape.bounds for p in primitives for shape in _shapes(p)]
    lefts, lows, rights, highs = zip(*boxes, strict=True)
    return min(lefts), min(lows), max(rights), max(highs)
