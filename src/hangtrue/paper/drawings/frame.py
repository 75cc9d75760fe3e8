"""What all drawings share: the paper they stand on, the line under them, walls and small signs."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.geometry import Point
from hangtrue.paper import lettering
from hangtrue.paper.dimensions import LINE_FEED
from hangtrue.paper.language import told
from hangtrue.paper.lengths import Units
from hangtrue.paper.scene import (
    INCH_SCALES,
    LETTER,
    METRIC_SCALES,
    TITLE,
    Box,
    Circle,
    Hatch,
    Layer,
    Line,
    Path,
    Primitive,
    Text,
    View,
)
from hangtrue.paper.words import figure, units_line
from hangtrue.phrase import phrase

WIDTH = 180.0
"""Of every drawing, mm; fits between the margins of letter and A4."""
SEPARATORS = ("  ·  ", " · ", "; ")
"""Between the parts of the line under a drawing: the first with which it has room."""
CAPTION = 6.0
"""Room for the line under a drawing, mm."""


def scales(units: Units) -> tuple[float, ...]:
    """Usual scales of the people who will read it."""
    return INCH_SCALES if units.first == "in" else METRIC_SCALES


def caption(parts: Iterable[str]) -> tuple[Primitive, ...]:
    """Return the line under a drawing: view, scale, units."""
    said = [told(p) for p in parts if p]
    words = next(
        (w for w in (sep.join(said) for sep in SEPARATORS) if lettering.width(w, LETTER) <= WIDTH),
        SEPARATORS[-1].join(said),
    )
    rule = Line(start=(0.0, CAPTION - 0.5), end=(WIDTH, CAPTION - 0.5), layer="text")
    return (rule, Text(at=(0.0, 1.2), words=words))


def scale_words(scale: str) -> str:
    """Say the scale of a drawing under it: `scale 1:10`."""
    return phrase("scale {scale}", scale=scale)


def seen_from_above(view: View, units: Units, clear: float | None) -> tuple[Primitive, ...]:
    """Return the line under a plan; `clear` is the way past the open door, mm."""
    return caption(
        (
            "Seen from above, outside at the bottom",
            scale_words(view.words),
            units_line(units),
            phrase("clear past the open door: {clear}", clear=str(figure(units, clear)))
            if clear
            else "",
        )
    )


def paragraph(
    words: str, at: Point, room: float, *, height: float = LETTER, bold: bool = False
) -> tuple[Text, ...]:
    """Words in lines no wider than `room`, the first on the base line `at`."""
    feed = LINE_FEED * height / LETTER
    return tuple(
        Text(at=(at[0], at[1] - i * feed), words=line, height=height, bold=bold)
        for i, line in enumerate(lettering.wrapped(told(words), room, height, bold=bold))
    )


def heading(words: str, at: Point) -> Text:
    """Return a bold line a size larger."""
    return Text(at=at, words=told(words), height=TITLE, bold=True)


def datum_mark(at: Point, size: float = 3.0) -> tuple[Path, Path]:
    """Pair of filled triangles that meet in the datum corner, one on each axis."""
    x, y = at
    below = ((x, y), (x - size / 2, y - size * 0.8), (x + size / 2, y - size * 0.8))
    beside = ((x, y), (x - size * 0.8, y + size / 2), (x - size * 0.8, y - size / 2))
    return (
        Path(points=below, layer="dimension", fill="solid"),
        Path(points=beside, layer="dimension", fill="solid"),
    )


def cross(at: Point, reach: float, layer: Layer = "centre") -> tuple[Line, Line]:
    """Centre lines of a hole."""
    x, y = at
    return (
        Line(start=(x - reach, y), end=(x + reach, y), layer=layer),
        Line(start=(x, y - reach), end=(x, y + reach), layer=layer),
    )


def mass(box: Box, layer: Layer = "wall", spacing: float = 1.8) -> Hatch:
    """Hatch the cut through a wall or a curb."""
    left, low, right, high = box
    corners = ((left, low), (right, low), (right, high), (left, high))
    return Hatch(outline=corners, layer=layer, spacing=spacing)


def oblong(box: Box, layer: Layer, **looks: str) -> Path:
    """Return a rectangle."""
    left, low, right, high = box
    corners = ((left, low), (right, low), (right, high), (left, high))
    return Path(points=corners, layer=layer, **looks)  # type: ignore[arg-type]


def ring(at: Point, radius: float, layer: Layer) -> Circle:
    """Return a thin circle."""
    return Circle(centre=at, radius=radius, layer=layer)
