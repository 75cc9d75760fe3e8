"""Whether a drawing can be read: words apart, no line through them, nothing off the sheet."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import combinations, pairwise

from shapely import LineString, box

from hangtrue.paper import lettering
from hangtrue.paper.dimensions import drawn
from hangtrue.paper.labels import course
from hangtrue.paper.scene import Hatch, Line, Path, Primitive, Sheet, Text

EDGE = 0.01
"""Boxes may touch, mm."""
BLEED = 0.3
"""A letter may touch a line by this much before it is hard to read, mm."""


def texts(sheet: Sheet) -> list[Text]:
    return [p for p in drawn(sheet.primitives) if isinstance(p, Text)]


def strokes(primitives: Iterable[Primitive]) -> list[LineString]:
    """Lines that would strike a letter out; hatching lies behind the picture and is left aside."""
    plain = [p for p in primitives if not isinstance(p, Hatch)]
    lines: list[LineString] = []
    for p in drawn(plain):
        if isinstance(p, Line):
            lines.append(LineString((p.start, p.end)))
        elif isinstance(p, Path) and p.fill == "none":
            lines += [LineString(ends) for ends in pairwise(course(p))]
    return lines


def words_apart(sheet: Sheet) -> None:
    for a, b in combinations(texts(sheet), 2):
        one, other = box(*lettering.box(a)), box(*lettering.box(b))
        assert one.buffer(-EDGE).disjoint(other), (a.words, b.words)


def words_clear(sheet: Sheet) -> None:
    lines = strokes(sheet.primitives)
    for text in texts(sheet):
        area = box(*lettering.box(text)).buffer(-BLEED)
        struck = [line.wkt for line in lines if line.intersects(area)]
        assert not struck, (text.words, struck)


def all_on_paper(sheet: Sheet) -> None:
    paper = box(0, 0, sheet.width, sheet.height).buffer(EDGE)
    for text in texts(sheet):
        assert paper.contains(box(*lettering.box(text))), text.words
    assert all(paper.contains(line) for line in strokes(sheet.primitives))


def readable(sheet: Sheet) -> None:
    """All of it."""
    words_apart(sheet)
    words_clear(sheet)
    all_on_paper(sheet)
