"""A key plan the size of a thumbnail: which pane a sheet is about, and from where it is seen."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.fit.enclosure import Enclosure, Lite
from hangtrue.geometry import Outline
from hangtrue.paper.drawings.folding import placed_corners
from hangtrue.paper.scene import Box, Hatch, Path, Primitive, Text, View


def key_plan(made: Enclosure, which: str, box: Box) -> tuple[Primitive, ...]:
    """Draw all panes into a small box, seen from outside, with the pane of that id hatched."""
    outlines = [placed_corners(p) for p in made.lites]
    low = tuple(min(p[i] for o in outlines for p in o) for i in (0, 1))
    high = tuple(max(p[i] for o in outlines for p in o) for i in (0, 1))
    room = (box[2] - box[0], box[3] - box[1] - 5.0)
    one_to = max((high[0] - low[0]) / room[0], (high[1] - low[1]) / room[1])
    view = View(one_to=one_to, origin=(box[0] - low[0] / one_to, box[1] + 5.0 - low[1] / one_to))
    marks = [
        m for p, o in zip(made.lites, outlines, strict=True) for m in _pane(p, view.all(o), which)
    ]
    words = Text(at=(box[0], box[1]), words="seen from outside")
    return (*marks, words)


def _pane(lite: Lite, corners: Outline, which: str) -> Iterable[Primitive]:
    shown = lite.id == which
    if shown:
        yield Hatch(outline=corners, layer="text", spacing=1.2)
    yield Path(points=corners, layer="outline", weight="middle" if shown else "thin")
