"""A key plan the size of a thumbnail: which pane a sheet is about, and from where it is seen."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from hangtrue.fit.enclosure import Enclosure, Lite
from hangtrue.geometry import Outline, Point
from hangtrue.paper.dimensions import arrow
from hangtrue.paper.drawings.folding import line, placed_corners
from hangtrue.paper.language import told
from hangtrue.paper.scene import Box, Hatch, Line, Path, Primitive, Text, View

WORDS = 5.0
"""Room for the line under it, mm."""
LOOK = 4.5
"""Length of the arrow that shows from where the pane is seen, mm."""
BESIDE = 1.2
"""From the glass line to the tip of that arrow, mm."""
END = 0.6
"""Panes end this much short of each other, mm."""


def key_plan(made: Enclosure, which: str, box: Box) -> tuple[Primitive, ...]:
    """Draw all panes into a small box, the pane of that id marked.

    One straight line of panes is drawn as seen from outside; a line that turns, from above, with
    an arrow from where the pane is seen.
    """
    if len(made.runs) > 1:
        words = told("from above; seen along the arrow")
        return (*_from_above(made, which, box), Text(at=(box[0], box[1]), words=words))
    words = told("seen from outside")
    return (*_from_outside(made, which, box), Text(at=(box[0], box[1]), words=words))


def _from_outside(made: Enclosure, which: str, box: Box) -> Iterator[Primitive]:
    outlines = [placed_corners(p) for p in made.lites]
    low = tuple(min(p[i] for o in outlines for p in o) for i in (0, 1))
    high = tuple(max(p[i] for o in outlines for p in o) for i in (0, 1))
    room = (box[2] - box[0], box[3] - box[1] - WORDS)
    one_to = max((high[0] - low[0]) / room[0], (high[1] - low[1]) / room[1])
    view = View(one_to=one_to, origin=(box[0] - low[0] / one_to, box[1] + WORDS - low[1] / one_to))
    for lite, outline in zip(made.lites, outlines, strict=True):
        yield from _pane(lite, view.all(outline), which)


def _pane(lite: Lite, corners: Outline, which: str) -> Iterable[Primitive]:
    shown = lite.id == which
    if shown:
        yield Hatch(outline=corners, layer="text", spacing=1.2)
    yield Path(points=corners, layer="outline", weight="middle" if shown else "thin")


def _from_above(made: Enclosure, which: str, box: Box) -> Iterator[Primitive]:
    """Panes as thick and thin lines along the folded glass line, and the arrow."""
    course = line(made.runs)
    low = tuple(min(p[i] for p in course) for i in (0, 1))
    high = tuple(max(p[i] for p in course) for i in (0, 1))
    room = (box[2] - box[0] - 2 * LOOK, box[3] - box[1] - WORDS - 2 * LOOK)
    one_to = max((high[0] - low[0]) / room[0], (high[1] - low[1]) / room[1])
    origin = (box[0] + LOOK - low[0] / one_to, box[1] + WORDS + LOOK - low[1] / one_to)
    view = View(one_to=one_to, origin=origin)
    for lite in made.lites:
        run = made.run(lite.run)
        left, right = (lite.origin[0] + lite.corners[i][0] for i in (0, 1))
        start, end = _shortened(view.at(run.plan(left)), view.at(run.plan(right)))
        shown = lite.id == which
        yield Line(start=start, end=end, layer="outline", weight="thick" if shown else "thin")
        if shown:
            middle = view.at(run.plan((left + right) / 2))
            yield from _look(middle, run.heading)


def _shortened(start: Point, end: Point) -> tuple[Point, Point]:
    """Both ends drawn in a little, so that panes are told apart."""
    share = END / max(math.dist(start, end), 4 * END)
    step = ((end[0] - start[0]) * share, (end[1] - start[1]) * share)
    return (start[0] + step[0], start[1] + step[1]), (end[0] - step[0], end[1] - step[1])


def _look(middle: Point, heading: float) -> Iterator[Primitive]:
    """Arrow from outside toward the middle of a pane."""
    out = (math.sin(heading), -math.cos(heading))
    tip = (middle[0] + BESIDE * out[0], middle[1] + BESIDE * out[1])
    tail = (middle[0] + LOOK * out[0], middle[1] + LOOK * out[1])
    yield Line(start=tail, end=tip, layer="dimension", weight="middle")
    yield arrow(tip, math.degrees(heading) + 90.0)
