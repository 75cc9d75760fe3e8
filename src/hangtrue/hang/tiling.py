"""Templates on sheets of paper: which part is on which, and where neighbours lie on each other."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from hangtrue.geometry import Point
from hangtrue.hang.template_records import Box, Template, TemplatePage

PAPER = {"letter": (215.9, 279.4), "a4": (210.0, 297.0)}
"""Width and height of a sheet, mm (ANSI/ASME Y14.1 size A, ISO 216)."""
MARGIN = 12.0
"""What a printer leaves white at each edge, mm; more than any common one does."""
OVERLAP = 15.0
"""What neighbouring sheets share, mm."""


def pages(
    template: Template, paper: str, *, margin: float = MARGIN, overlap: float = OVERLAP
) -> tuple[TemplatePage, ...]:
    """Tile a template onto sheets of paper, upright or lengthwise, whichever takes fewer.

    Of a strip only the sheets with a hole are kept; each tells where it begins.

    Parameters
    ----------
    paper
        `letter` or `a4`.
    margin
        White at each edge of a sheet, mm.
    overlap
        What neighbouring sheets share, mm.

    Raises
    ------
    KeyError
        For another paper.
    ValueError
        If margin and overlap leave nothing to print on.

    """
    wide, tall = PAPER[paper]
    if min(wide, tall) - 2 * margin <= overlap:
        msg = f"a margin of {margin} mm and an overlap of {overlap} mm leave no room on {paper}"
        raise ValueError(msg)
    upright = _wanted(template, _tiled(template, (wide, tall), margin, overlap))
    lengthwise = _wanted(template, _tiled(template, (tall, wide), margin, overlap))
    return lengthwise if len(lengthwise) < len(upright) else upright


def _tiled(
    template: Template, sheet: Point, margin: float, overlap: float
) -> tuple[TemplatePage, ...]:
    """Rows from the bottom, columns from the left."""
    columns = _windows(template.size[0], sheet[0] - 2 * margin, overlap)
    rows = _windows(template.size[1], sheet[1] - 2 * margin, overlap)
    seams_x = _seams(columns)
    seams_y = _seams(rows)
    made = []
    for r, (bottom, top) in enumerate(rows):
        for c, (left, right) in enumerate(columns):
            made.append(
                TemplatePage(
                    template=template.id,
                    number=r * len(columns) + c + 1,
                    of=len(rows) * len(columns),
                    row=r,
                    column=c,
                    sheet=sheet,
                    window=(left, bottom, right, top),
                    at=(margin, margin),
                    marks=tuple(_marks((left, bottom, right, top), seams_x, seams_y)),
                )
            )
    return tuple(made)


def _wanted(template: Template, sheets: tuple[TemplatePage, ...]) -> tuple[TemplatePage, ...]:
    """Sheets of a strip that have a hole on them, with marks only where the next one is there."""
    if not template.runs:
        return sheets
    kept = [s for s in sheets if any(_on(d.centre, s.window) for d in template.drills)]
    return tuple(
        replace(
            sheet,
            number=number,
            of=len(kept),
            marks=tuple(m for m in sheet.marks if sum(_on(m, s.window) for s in kept) > 1),
            begins=sheet.window[1 if template.runs == "up" else 0] - template.zero,
        )
        for number, sheet in enumerate(kept, 1)
    )


def _on(point: Point, window: Box) -> bool:
    left, bottom, right, top = window
    return left <= point[0] <= right and bottom <= point[1] <= top


def _windows(size: float, window: float, overlap: float) -> list[tuple[float, float]]:
    """Stretches that cover a size, neighbours sharing the overlap."""
    step = window - overlap
    count = max(1, math.ceil((size - overlap) / step - 1e-9))
    return [(k * step, min(k * step + window, size)) for k in range(count)]


def _seams(windows: Sequence[tuple[float, float]]) -> list[float]:
    """Middles of what neighbours share."""
    return [(after[0] + before[1]) / 2 for before, after in pairwise(windows)]


def _marks(
    window: tuple[float, float, float, float], seams_x: Sequence[float], seams_y: Sequence[float]
) -> Iterator[Point]:
    """Two crosses on every seam of a page, at the same places on the page next to it."""
    left, bottom, right, top = window
    for x in (s for s in seams_x if left < s < right):
        yield from ((x, bottom + (top - bottom) * share) for share in (0.25, 0.75))
    for y in (s for s in seams_y if bottom < s < top):
        yield from ((left + (right - left) * share, y) for share in (0.25, 0.75))
