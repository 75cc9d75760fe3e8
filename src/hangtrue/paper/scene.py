"""What a drawing is made of: a sheet of a few named primitives, in mm of paper from bottom left.

A drawing is built in the true mm of the object and set onto the sheet by a `View`, which holds
the scale.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal

from hangtrue.geometry import Outline, Point

Layer = Literal[
    "outline",
    "holes",
    "cutouts",
    "wall",
    "curb",
    "hardware",
    "dimension",
    "centre",
    "hidden",
    "uncertainty",
    "text",
]
Weight = Literal["thick", "middle", "thin"]
Stroke = Literal["continuous", "dashed", "long-dash-dot", "dotted"]
Tone = Literal["ink", "cool", "warm"]
Fill = Literal["none", "solid", "tint"]

PEN = {"thick": 0.7, "middle": 0.35, "thin": 0.175}
"""Line weights on paper, mm; each twice the next (ISO 128-2)."""

LETTER = 2.5
TITLE = 3.5
"""Heights of a capital on paper, mm (ISO 3098)."""

Box = tuple[float, float, float, float]
"""Left, bottom, right, top."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A straight line between two points."""

    start: Point
    end: Point
    layer: Layer
    weight: Weight = "thin"
    stroke: Stroke = "continuous"
    tone: Tone = "ink"


@dataclass(frozen=True, slots=True, kw_only=True)
class Path:
    """A run of straight lines and arcs, open or closed.

    Attributes
    ----------
    points
        Corners in order.
    bulges
        One for each point: tangent of a quarter of the angle of the arc to the next point, +
        turning left, 0 straight. Empty where all is straight.

    """

    points: Outline
    layer: Layer
    bulges: tuple[float, ...] = ()
    closed: bool = True
    fill: Fill = "none"
    weight: Weight = "thin"
    stroke: Stroke = "continuous"
    tone: Tone = "ink"


@dataclass(frozen=True, slots=True, kw_only=True)
class Circle:
    """A circle."""

    centre: Point
    radius: float
    layer: Layer
    fill: Fill = "none"
    weight: Weight = "thin"
    stroke: Stroke = "continuous"
    tone: Tone = "ink"


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """One line of text; `at` is on its base line, at the end that `anchor` names.

    Attributes
    ----------
    height
        Height of a capital, mm of paper.
    upward
        Turned to be read from the right.

    """

    at: Point
    words: str
    anchor: Literal["start", "middle", "end"] = "start"
    height: float = LETTER
    bold: bool = False
    upward: bool = False
    tone: Tone = "ink"
    layer: Layer = "text"


@dataclass(frozen=True, slots=True, kw_only=True)
class Dimension:
    """A linear dimension between two points, level or upright.

    Attributes
    ----------
    line
        y of a level dimension line, x of an upright one.
    words
        The figure in the first unit; empty where it is set by itself.
    second
        The figure in the other unit, beneath the line in brackets; empty for none.

    """

    start: Point
    end: Point
    line: float
    words: str
    second: str = ""
    upright: bool = False
    layer: Layer = "dimension"


@dataclass(frozen=True, slots=True, kw_only=True)
class Leader:
    """Words with a line over `points`, from the thing they are about to the words."""

    points: Outline
    words: tuple[str, ...]
    layer: Layer = "dimension"
    tone: Tone = "ink"


@dataclass(frozen=True, slots=True, kw_only=True)
class Hatch:
    """An area filled with slanting thin lines; `spacing` in mm of paper, `slant_deg` from level."""

    outline: Outline
    layer: Layer
    slant_deg: float = 45.0
    spacing: float = 2.0
    stroke: Stroke = "continuous"
    tone: Tone = "ink"


Drawn = Line | Path | Circle | Text
"""What every writer knows."""

Primitive = Drawn | Dimension | Leader | Hatch


def raised(part: Primitive, up: float) -> Primitive:
    """Return a part of a drawing set higher on the paper."""

    def lifted(point: Point) -> Point:
        return point[0], point[1] + up

    match part:
        case Line():
            return replace(part, start=lifted(part.start), end=lifted(part.end))
        case Path() | Leader():
            return replace(part, points=tuple(map(lifted, part.points)))
        case Circle():
            return replace(part, centre=lifted(part.centre))
        case Text():
            return replace(part, at=lifted(part.at))
        case Hatch():
            return replace(part, outline=tuple(map(lifted, part.outline)))
        case Dimension():
            line = part.line if part.upright else part.line + up
            return replace(part, start=lifted(part.start), end=lifted(part.end), line=line)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One drawing, ready for any writer.

    Attributes
    ----------
    name
        Short name for files and links: small letters, digits and hyphens.
    width, height
        Of the paper, mm (of the object, for a sheet at 1:1 that a machine cuts from).
    title, description
        For people who read, and for people who are read to.
    scale
        As printed: `1:10`; empty where the drawing is not to scale.

    """

    name: str
    width: float
    height: float
    title: str
    description: str
    primitives: tuple[Primitive, ...]
    scale: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """How true mm are set onto the sheet.

    Attributes
    ----------
    one_to
        Paper is 1 : this.
    origin
        Where the object's origin lands on the paper, mm.

    """

    one_to: float
    origin: Point = (0.0, 0.0)

    def at(self, point: Point) -> Point:
        """Place a point of the object on the paper."""
        return (
            self.origin[0] + point[0] / self.one_to,
            self.origin[1] + point[1] / self.one_to,
        )

    def all(self, points: Iterable[Point]) -> Outline:
        """Place several points."""
        return tuple(self.at(p) for p in points)

    def length(self, true: float) -> float:
        """Length on paper of a true length."""
        return true / self.one_to

    @property
    def words(self) -> str:
        """The scale as printed."""
        return f"1:{self.one_to:g}" if self.one_to >= 1 else f"{1 / self.one_to:g}:1"


METRIC_SCALES = (0.5, 1, 2, 5, 10, 15, 20, 25, 50, 100)
"""ISO 5455, with the in-between scales 1:15 and 1:25 that it allows where needed."""

INCH_SCALES = (0.5, 1, 2, 4, 8, 12, 16, 24, 32, 48, 96)
"""Scales of an architect's rule: full, half, 3, 1-1/2, 1, 3/4, 1/2 in ... to the foot."""


def scale_for(extent: Point, room: Point, scales: Iterable[float] = METRIC_SCALES) -> float:
    """Return the largest usual scale at which an object of that extent (width, height) has room.

    Beyond the smallest usual scale the drawing goes on in whole steps rather than off the paper.
    """
    need = max(extent[0] / room[0], extent[1] / room[1])
    return next((s for s in scales if s >= need), float(math.ceil(need)))


def view_into(box: Box, low: Point, high: Point, scales: Iterable[float]) -> View:
    """Set the object's extent from `low` to `high` into the middle of a box on the paper."""
    extent = (high[0] - low[0], high[1] - low[1])
    one_to = scale_for(extent, (box[2] - box[0], box[3] - box[1]), scales)
    centre = ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)
    middle = ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2)
    origin = (centre[0] - middle[0] / one_to, centre[1] - middle[1] / one_to)
    return View(one_to=one_to, origin=origin)
