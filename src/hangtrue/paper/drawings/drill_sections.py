"""Ways of drilling as sections: the layers from the face inward, the hole in them, the stop."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from hangtrue.hang.records import DrillHole, Pass
from hangtrue.paper.dimensions import Span, rows, stacked
from hangtrue.paper.drawings import frame
from hangtrue.paper.language import told
from hangtrue.paper.lengths import Units
from hangtrue.paper.scene import LETTER, Hatch, Line, Path, Primitive, Sheet, Text, View, scale_for
from hangtrue.paper.words import figure, units_line
from hangtrue.phrase import phrase

ROW = 34.0
"""Height of one row of sections, mm of paper."""
ABREAST = 3
LEFT = 8.0
"""From the left of its column to the face, mm of paper: the words for the way in."""
LAYERS = 14.0
"""Drawn height of the layers, mm of paper."""
FOOT = 10.8
"""From the foot of a row to the foot of its layers: the stop, mm of paper."""
SKIN = 0.8
"""A layer thinner than this is one thick line, mm of paper."""
LOOKS = ((45.0, 1.0), (135.0, 1.6), (45.0, 2.4), (135.0, 3.2))
"""Slant and spacing of the hatching of the layers, from the face inward."""
APART = 3.2
"""Numbers of layers stand at least this far apart, mm of paper."""


def drill_sections(ways: Sequence[tuple[str, DrillHole]], units: Units) -> tuple[Sheet, ...]:
    """Draw each way of drilling whose layers are known; nothing where none is.

    Parameters
    ----------
    ways
        Letter of each way, and a hole that is drilled so.

    """
    known = [(letter, hole) for letter, hole in ways if hole.passes]
    if not known:
        return ()
    column = frame.WIDTH / ABREAST
    deepest = max(_back(hole) for _, hole in known)
    scales = frame.scales(units)
    one_to = scale_for((deepest, 1.0), (column - LEFT - 6.0, LAYERS), scales)
    lines = -(-len(known) // ABREAST)
    drawn = [
        part
        for n, (letter, hole) in enumerate(known)
        for part in _section(
            letter,
            hole,
            View(
                one_to=one_to,
                origin=(
                    n % ABREAST * column + LEFT,
                    frame.CAPTION + (lines - 1 - n // ABREAST) * ROW + FOOT + LAYERS / 2,
                ),
            ),
            units,
        )
    ]
    scale = f"1:{one_to:g}" if one_to >= 1 else f"{1 / one_to:g}:1"
    words = (
        "Section through the middle of the hole, face at the left",
        frame.scale_words(scale),
        units_line(units),
        "numbers: layers as listed",
    )
    sheet = Sheet(
        name="drilling-sections",
        width=frame.WIDTH,
        height=frame.CAPTION + lines * ROW,
        title="Ways of drilling, cut through",
        description="Each way of drilling with its layers, and where the stop is set.",
        primitives=(*drawn, *frame.caption(words)),
        scale=scale,
    )
    return (sheet,)


def _back(hole: DrillHole) -> float:
    """How deep a section is drawn, mm: past the bottom of the hole, or the last layer."""
    return max(hole.depth, hole.passes[-1].end) * 1.12


def _section(letter: str, hole: DrillHole, view: View, units: Units) -> Iterator[Primitive]:
    """One way: its layers above and below the hole, the numbers over them, the stop beneath."""
    top, foot = view.origin[1] + LAYERS / 2, view.origin[1] - LAYERS / 2
    face = view.origin[0]
    words = told(phrase("Way {letter}", letter=letter))
    yield Text(at=(face - LEFT + 2.0, top + 5.8), words=words, bold=True)
    yield Line(start=(face, foot - 1.5), end=(face, top + 1.5), layer="wall", weight="thick")
    for n, layer in enumerate(hole.passes):
        yield from _layer(hole, layer, n, view)
    yield from _hole(hole, view)
    yield from _numbers(hole, view, top)
    f = figure(units, hole.depth, fine=True)
    end = view.at((hole.depth, 0.0))[0]
    span = Span(start=(face, foot), end=(end, foot), words=f.words, second=f.second)
    yield from rows([span], foot - 6.0, upright=False, outward=-1)


def _ends(hole: DrillHole, layer: Pass, view: View) -> tuple[float, float]:
    """From where to where a layer is drawn; the last one goes on past the hole."""
    last = layer is hole.passes[-1]
    return view.at((layer.start, 0.0))[0], view.at((_back(hole) if last else layer.end, 0.0))[0]


def _radius(layer: Pass, view: View) -> float:
    """Half the hole in a layer, mm of paper."""
    return view.length(layer.bit.diameter / 2) if layer.bit else 0.5


def _layer(hole: DrillHole, layer: Pass, number: int, view: View) -> Iterator[Primitive]:
    """Cut of a layer above and below the hole; a skin as one thick line each."""
    left, right = _ends(hole, layer, view)
    middle, half = view.origin[1], LAYERS / 2
    rim = _radius(layer, view)
    slant, spacing = LOOKS[number % len(LOOKS)]
    for low, high in ((middle - half, middle - rim), (middle + rim, middle + half)):
        if right - left < SKIN:
            yield Line(start=(left, low), end=(left, high), layer="wall", weight="thick")
            continue
        outline = ((left, low), (right, low), (right, high), (left, high))
        yield Hatch(outline=outline, layer="wall", slant_deg=slant, spacing=spacing)
        if layer is not hole.passes[-1]:
            yield Line(start=(right, low), end=(right, high), layer="wall", weight="middle")


def _hole(hole: DrillHole, view: View) -> Iterator[Primitive]:
    """Sides of the hole step by step, its bottom, and its middle line."""
    y = view.origin[1]
    for layer in hole.passes:
        a = view.at((layer.start, 0.0))[0]
        b = view.at((min(layer.end, hole.depth), 0.0))[0]
        rim = _radius(layer, view)
        for side in (-rim, rim):
            yield Line(start=(a, y + side), end=(b, y + side), layer="holes", weight="middle")
    bottom, rim = view.at((hole.depth, 0.0))[0], _radius(hole.passes[-1], view)
    ends = ((bottom, y - rim), (bottom, y + rim))
    yield Path(points=ends, closed=False, layer="holes", weight="middle")
    start = view.origin[0] - 5.0
    yield Line(start=(start, y), end=(bottom + 2.0, y), layer="centre", stroke="long-dash-dot")


def _numbers(hole: DrillHole, view: View, top: float) -> Iterator[Primitive]:
    """Numbers of the layers, as in the list, over them."""
    middles = [sum(_ends(hole, layer, view)) / 2 for layer in hole.passes]
    places = stacked(middles, [APART] * len(middles))
    for n, (x, middle) in enumerate(zip(places, middles, strict=True), 1):
        yield Line(start=(middle, top), end=(x, top + 1.4), layer="dimension")
        yield Text(at=(x, top + 2.0), words=str(n), anchor="middle", height=LETTER)
