"""Templates at true size: tiled onto sheets of paper as one PDF, and whole as DXF."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace

from shapely import LineString, box
from shapely.geometry.base import BaseGeometry

from hangtrue.geometry import Outline, Point
from hangtrue.hang.template_records import GuideLine, Ring, Template, TemplatePage
from hangtrue.hang.templates import ON_TOP, OVERHEAD
from hangtrue.hang.tiling import MARGIN, pages
from hangtrue.paper import lettering
from hangtrue.paper.dimensions import arrow
from hangtrue.paper.drawings import frame
from hangtrue.paper.labels import Label, labelled
from hangtrue.paper.language import told
from hangtrue.paper.lengths import INCH, Units
from hangtrue.paper.scene import (
    LETTER,
    Box,
    Circle,
    Layer,
    Line,
    Path,
    Primitive,
    Sheet,
    Stroke,
    Text,
    Weight,
)
from hangtrue.paper.words import unbroken
from hangtrue.phrase import join, phrase, reshaped

CHECK = 100.0
FOUR_INCHES = 4 * INCH
"""Lengths of the bar that is measured before a sheet is used, mm."""
LEGEND = 40.0
"""Least width or height of free paper for the words beside a template, mm."""
GAP = 4.0
COLUMN, BAND = (76.0, 250.0), (270.0, 62.0)
"""Width and height of the legend of a plotter's sheet: beside the template, or over it; mm."""
CROSS = 5.0
"""Half an overlap mark, mm."""
CENTRE = 6.0
"""Half the centre lines of a hole past its rim, mm."""
ARC_STEPS = 12
LOOKS: dict[str, tuple[Layer, Weight, Stroke]] = {
    "level": ("centre", "middle", "long-dash-dot"),
    "plumb": ("centre", "middle", "long-dash-dot"),
    "glass line": ("centre", "middle", "long-dash-dot"),
    "edge": ("outline", "thick", "continuous"),
    "check bar": ("dimension", "middle", "continuous"),
    "check diagonal": ("dimension", "thin", "dotted"),
}
AGAINST = {
    "wall": "BACK OF THIS SHEET TO THE WALL",
    "ceiling": "BACK OF THIS SHEET TO THE CEILING",
    "glass": "BACK OF THIS SHEET TO THE GLASS",
}
TAPE = "Lay the ringed crosses of neighbouring sheets on each other and tape."
BEFORE = "Print at 100 %, not fitted to the page. Measure the bar on every sheet before it is used."


# ----------------------------------------------------------------------------------- the whole one


def template_sheet(template: Template) -> Sheet:
    """Return a whole template at 1:1, as a plotter or a machine takes it; mm."""
    window = (0.0, 0.0, *template.size)
    shapes = tuple(_shapes(template, window, (0.0, 0.0)))
    words = _words(template, window, (0.0, 0.0))
    return Sheet(
        name=slug(template.id),
        width=template.size[0],
        height=template.size[1],
        title=template.title,
        description=template.faces,
        primitives=(*shapes, *labelled(words, shapes, window)),
        scale="1:1",
    )


def slug(name: str) -> str:
    """Name in letters that every disk takes."""
    kept = "".join(c if c.isascii() and c.isalnum() else "-" for c in name.lower())
    return "-".join(part for part in kept.split("-") if part)


# ---------------------------------------------------------------------------------------- on paper


def template_sheets(
    templates: Iterable[Template], paper: str, units: Units, whose: str
) -> tuple[Sheet, ...]:
    """Return every sheet of paper of every template, each as large as the paper.

    Parameters
    ----------
    paper
        `letter` or `a4`.
    whose
        Job and version in words, for every sheet.

    """
    return tuple(
        _on_paper(template, page, units, whose)
        for template in templates
        for page in pages(template, paper)
    )


def plotter_sheets(templates: Iterable[Template], units: Units, whose: str) -> tuple[Sheet, ...]:
    """Return one sheet for each template, as large as it needs with its margin and its legend."""
    return tuple(replace(_on_paper(t, _whole(t), units, whose), name=slug(t.id)) for t in templates)


def _whole(template: Template) -> TemplatePage:
    """One sheet that the whole template lies on, with room for the legend beside or over it."""
    wide, tall = template.size
    beside = tall + 2 * MARGIN >= COLUMN[1]
    extra = (GAP + COLUMN[0], 0.0) if beside else (0.0, GAP + BAND[1])
    sheet = (wide + 2 * MARGIN + extra[0], tall + 2 * MARGIN + extra[1])
    return TemplatePage(
        template=template.id,
        number=1,
        of=1,
        row=0,
        column=0,
        sheet=sheet if beside else (max(sheet[0], BAND[0]), sheet[1]),
        window=(0.0, 0.0, wide, tall),
        at=(MARGIN, MARGIN),
        marks=(),
    )


def _on_paper(template: Template, page: TemplatePage, units: Units, whose: str) -> Sheet:
    shift = (page.at[0] - page.window[0], page.at[1] - page.window[1])
    area = _moved_box(page.window, shift)
    shapes = (*_shapes(template, page.window, shift), *_frame(area), *_marks(page))
    words = _words(template, page.window, shift)
    legend = _legend(template, page, units, whose, area)
    return Sheet(
        name=f"{slug(template.id)}-{page.number}",
        width=page.sheet[0],
        height=page.sheet[1],
        title=phrase(
            "{title}, sheet {number} of {count}",
            title=template.title,
            number=page.number,
            count=page.of,
        ),
        description=template.faces,
        primitives=(*shapes, *labelled(words, shapes, area), *legend),
        scale="1:1",
    )


def _moved_box(window: Box, shift: Point) -> Box:
    left, low, right, high = window
    return (left + shift[0], low + shift[1], right + shift[0], high + shift[1])


def _frame(area: Box) -> Iterator[Primitive]:
    """Edge of what this sheet shows."""
    yield frame.oblong(area, "dimension")


def _marks(page: TemplatePage) -> Iterator[Primitive]:
    """Overlap marks: crosses that lie on each other when sheets are taped together."""
    for mark in page.marks:
        at = page.on_paper(mark)
        yield from frame.cross(at, CROSS, "dimension")
        yield Circle(centre=at, radius=CROSS / 2, layer="dimension")


# ------------------------------------------------------------------------------------------ shapes


def _shapes(template: Template, window: Box, shift: Point) -> Iterator[Primitive]:
    """Everything of a template that lies in a window, set where it belongs."""
    for ring in template.rings:
        yield from _ring(ring, window, shift)
    for drill in template.drills:
        yield from _hole(drill.centre, drill.diameter / 2, window, shift)
    for guide in template.lines:
        layer, weight, stroke = LOOKS[guide.role]
        if not _says(guide, window):
            continue
        for part in (p for drawn in guide.drawn for p in _cut(drawn, window)):
            a, b = (_at(p, shift) for p in (part[0], part[-1]))
            yield Line(start=a, end=b, layer=layer, weight=weight, stroke=stroke)
        if guide.role == "check bar":
            yield from _ends(guide, window, shift)


def _ends(guide: GuideLine, window: Box, shift: Point) -> Iterator[Primitive]:
    """Upright ticks at both ends of a bar."""
    for end in (guide.start, guide.end):
        for part in _cut(((end[0], end[1] - 2.0), (end[0], end[1] + 2.0)), window):
            a, b = (_at(p, shift) for p in part)
            yield Line(start=a, end=b, layer="dimension", weight="middle")


def _at(point: Point, shift: Point) -> Point:
    return point[0] + shift[0], point[1] + shift[1]


def _ring(ring: Ring, window: Box, shift: Point) -> Iterator[Primitive]:
    if all(_inside(p, window) for p in ring.points):
        points = tuple(_at(p, shift) for p in ring.points)
        yield Path(
            points=points,
            bulges=ring.bulges,
            closed=ring.closed,
            layer="cutouts",
            weight="thick",
        )
        return
    for part in _cut(_flat(ring), window):
        points = tuple(_at(p, shift) for p in part)
        yield Path(points=points, closed=False, layer="cutouts", weight="thick")


def _hole(centre: Point, radius: float, window: Box, shift: Point) -> Iterator[Primitive]:
    """Rim of a hole, and centre lines to set a punch by."""
    left, low, right, high = window
    x, y = centre
    room = min(x - left, right - x, y - low, high - y)
    if room >= radius > 0.0:
        yield Circle(centre=_at(centre, shift), radius=radius, layer="holes", weight="middle")
    elif radius > 0.0:
        turns = [2 * math.pi * k / 96 for k in range(97)]
        rim = tuple((x + radius * math.cos(t), y + radius * math.sin(t)) for t in turns)
        for part in _cut(rim, window):
            points = tuple(_at(p, shift) for p in part)
            yield Path(points=points, closed=False, layer="holes", weight="middle")
    reach = radius + CENTRE
    for line in (((x - reach, y), (x + reach, y)), ((x, y - reach), (x, y + reach))):
        for part in _cut(line, window):
            yield Line(start=_at(part[0], shift), end=_at(part[-1], shift), layer="holes")


def _inside(point: Point, window: Box) -> bool:
    return window[0] <= point[0] <= window[2] and window[1] <= point[1] <= window[3]


def _cut(points: Outline, window: Box) -> Iterator[Outline]:
    """Parts of a course that lie in a window, in order."""
    found = LineString(points).intersection(box(*window))
    parts: list[BaseGeometry] = list(getattr(found, "geoms", [found]))
    for part in parts:
        if isinstance(part, LineString) and part.length > 0.0:
            yield tuple((float(x), float(y)) for x, y in part.coords)


def _flat(ring: Ring) -> Outline:
    """Course of a ring with its arcs in short straight pieces."""
    bulges = ring.bulges or (0.0,) * len(ring.points)
    ends = (*ring.points[1:], ring.points[0]) if ring.closed else ring.points[1:]
    course: list[Point] = [ring.points[0]]
    for start, end, bulge in zip(ring.points, ends, bulges, strict=False):
        course += _arc(start, end, bulge) if bulge else [end]
    return tuple(course)


def _arc(start: Point, end: Point, bulge: float) -> list[Point]:
    """Points of an arc after its start; + turns left."""
    turn = 4 * math.atan(bulge)
    half = math.dist(start, end) / 2
    up = half * (1 - bulge**2) / (2 * bulge)
    along = math.atan2(end[1] - start[1], end[0] - start[0])
    middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
    centre = (middle[0] - up * math.sin(along), middle[1] + up * math.cos(along))
    first = math.atan2(start[1] - centre[1], start[0] - centre[0])
    radius = math.dist(centre, start)
    steps = [first + turn * k / ARC_STEPS for k in range(1, ARC_STEPS + 1)]
    return [(centre[0] + radius * math.cos(t), centre[1] + radius * math.sin(t)) for t in steps]


# ------------------------------------------------------------------------------------------- words


def _words(template: Template, window: Box, shift: Point) -> Iterator[Label]:
    """Words beside holes and lines, where they can be seen on this sheet."""
    for drill in template.drills:
        if _inside(drill.centre, window):
            near = _at((drill.centre[0] + drill.diameter / 2 + 2.0, drill.centre[1]), shift)
            yield Label(near=near, lines=(drill.words,), toward=(1.0, 0.4), bold=True)
    for guide in template.lines:
        parts = list(_cut((guide.start, guide.end), window))
        if parts and guide.words and _says(guide, window):
            (x0, y0), (x1, y1) = parts[0][0], parts[0][-1]
            share = 0.75 if guide.role in ("plumb", "check diagonal") else 0.2
            share = 1.0 - guide.stub / guide.length if guide.stub else share
            near = _at((x0 + (x1 - x0) * share, y0 + (y1 - y0) * share), shift)
            yield Label(near=near, lines=(_said(guide),), toward=(1.0, 1.0))


def _says(guide: GuideLine, window: Box) -> bool:
    """Whether words of a line stand on this sheet: lengths only where all of it is to be seen."""
    whole = _inside(guide.start, window) and _inside(guide.end, window)
    return whole or guide.role not in ("check bar", "check diagonal")


def _said(guide: GuideLine) -> str:
    if guide.role == "check diagonal":
        return phrase("diagonal {length}", length=guide.words)
    return guide.words


# ------------------------------------------------------------------------------------------ legend


def _legend(
    template: Template, page: TemplatePage, units: Units, whose: str, area: Box
) -> tuple[Primitive, ...]:
    """Words and check bar in the free part of the sheet: beside the template, else over it."""
    margin = page.at[0]
    beside = page.sheet[0] - margin - area[2] - GAP
    over = page.sheet[1] - margin - area[3] - GAP
    lengthwise = page.sheet[0] > page.sheet[1]
    if beside >= LEGEND and not (lengthwise and over >= LEGEND):
        room = (area[2] + GAP, margin, page.sheet[0] - margin, page.sheet[1] - margin)
        return tuple(_upright(template, page, units, whose, room))
    room = (margin, area[3] + GAP, page.sheet[0] - margin, page.sheet[1] - margin)
    return tuple(_level(template, page, units, whose, room))


def _upright(
    template: Template, page: TemplatePage, units: Units, whose: str, room: Box
) -> Iterator[Primitive]:
    """Legend in a column: words from the top, the bar upright at the foot."""
    left, low, right, high = room
    y = high
    for text in _paragraphs(template, page, units, whose, (left, high), right - left):
        yield text
        y = text.at[1]
    yield from _arrow((left + 5.0, y - 26.0), _way(template))
    yield from _bar((left + 6.0, low + 1.0), upright=True)


def _level(
    template: Template, page: TemplatePage, units: Units, whose: str, room: Box
) -> Iterator[Primitive]:
    """Legend in a band: words at the left, the bar and the arrow at the right."""
    left, low, right, high = room
    wide = right - left - FOUR_INCHES - 8.0
    yield from _paragraphs(template, page, units, whose, (left, high), wide)
    yield from _bar((right - FOUR_INCHES - 2.0, high - 8.0), upright=False)
    yield from _arrow((right - FOUR_INCHES - 2.0, max(low, high - 30.0)), _way(template))


def _paragraphs(
    template: Template,
    page: TemplatePage,
    units: Units,
    whose: str,
    at: Point,
    room: float,
) -> Iterator[Text]:
    """Lines of the legend from its upper left corner down."""
    y = at[1] - 4.0
    for words, height, bold in _sayings(template, page, units, whose):
        for line in lettering.wrapped(told(words), room, height, bold=bold):
            yield Text(at=(at[0], y), words=line, height=height, bold=bold)
            y -= height * 1.55
        y -= 1.6


def _sayings(
    template: Template, page: TemplatePage, units: Units, whose: str
) -> Iterator[tuple[str, float, bool]]:
    yield template.title, 3.0, True
    count = phrase("sheet {number} of {count}", number=page.number, count=page.of)
    yield join(" · ", (whose, count)), 2.3, False
    yield _face(template), 3.0, True
    yield template.faces, LETTER, False
    for note in template.notes:
        if note:
            yield note, 2.2, False
    yield BEFORE, 2.2, True
    wide, tall = page.window[2] - page.window[0], page.window[3] - page.window[1]
    sides = phrase("{wide} by {tall}", wide=units.small(wide), tall=units.small(tall))
    diagonal = units.small(math.hypot(wide, tall))
    framed = phrase(
        "Frame of this sheet: {sides}, both diagonals {diagonal}.", sides=sides, diagonal=diagonal
    )
    yield reshaped(framed, unbroken), 2.2, False
    if page.begins is not None:
        yield _begins(template, page.begins, units), 2.8, True
        if page.marks:
            yield TAPE, 2.2, False
    elif page.of > 1:
        place = phrase(
            "Row {row} from the foot, column {column} from the left.",
            row=page.row + 1,
            column=page.column + 1,
        )
        yield join(" ", (place, TAPE)), 2.2, False


def _begins(template: Template, begins: float, units: Units) -> str:
    """Where the frame of a sheet of a strip stands."""
    length, origin = units.small(abs(begins)), template.counted
    if template.runs == "along":
        if begins < 0.0:
            return phrase("Frame begins {length} left of {origin}.", length=length, origin=origin)
        return phrase("Frame begins {length} right of {origin}.", length=length, origin=origin)
    if begins < 0.0:
        return phrase("Foot of the frame {length} below {origin}.", length=length, origin=origin)
    return phrase("Foot of the frame {length} above {origin}.", length=length, origin=origin)


def _face(template: Template) -> str:
    """Which face goes where, in capitals."""
    for against, words in AGAINST.items():
        if f"the {against}" in template.faces:
            return words
    return "BACK OF THIS SHEET DOWN"


def _way(template: Template) -> str:
    """Where the upper edge of a sheet goes."""
    if template.faces == OVERHEAD:
        return "TOWARD YOU"
    return "AWAY FROM YOU" if template.faces == ON_TOP else "UP"


def _arrow(foot: Point, words: str) -> Iterator[Primitive]:
    """Arrow to the upper edge of the sheet, and where that goes."""
    tip = (foot[0], foot[1] + 14.0)
    yield Line(start=foot, end=tip, layer="dimension", weight="middle")
    head = arrow(tip, 90.0)
    twice = tuple((2 * x - tip[0], 2 * y - tip[1]) for x, y in head.points)
    yield replace(head, points=twice)
    yield Text(at=(foot[0] + 2.5, foot[1] + 4.0), words=told(words), height=3.0, bold=True)


def _bar(start: Point, *, upright: bool) -> Iterator[Primitive]:
    """Bar of four inches with a tick at 100 mm."""
    x, y = start

    def point(along: float, off: float) -> Point:
        return (x - off, y + along) if upright else (x + along, y + off)

    yield Line(start=point(0, 0), end=point(FOUR_INCHES, 0), layer="dimension", weight="middle")
    for along, off in ((0.0, 3.0), (CHECK, -3.0), (FOUR_INCHES, 3.0)):
        yield Line(
            start=point(along, 0.0), end=point(along, off), layer="dimension", weight="middle"
        )
    if upright:
        yield Text(
            at=(x + 4.0, y + CHECK / 2 - 4), words=told("to the tick on this side:"), height=2.2
        )
        yield Text(at=(x + 4.0, y + CHECK / 2 - 8), words="100 mm", height=2.5, bold=True)
        yield Text(at=(x + 4.0, y + CHECK / 2 + 4), words=told("whole bar:"), height=2.2)
        yield Text(at=(x + 4.0, y + CHECK / 2), words="4 in", height=2.5, bold=True)
    else:
        words = told("whole bar 4 in; to the lower tick 100 mm")
        yield Text(at=(x, y + 4.0), words=words, height=2.2, bold=True)
