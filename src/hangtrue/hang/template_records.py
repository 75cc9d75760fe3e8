"""Templates at true size as plain geometry, and the sheets of paper that they are tiled onto."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from hangtrue.geometry import Outline, Point

Box = tuple[float, float, float, float]
"""Left, bottom, right and top, mm."""
LineRole = Literal["level", "plumb", "check bar", "check diagonal", "edge", "glass line"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Ring:
    """An outline at true size; `bulges` as in the drawings: 0 straight, + an arc turning left."""

    points: Outline
    bulges: tuple[float, ...] = ()
    closed: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Drill:
    """A hole on a template: centre and diameter, mm, and what it is."""

    centre: Point
    diameter: float
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class GuideLine:
    """A line to set the template by, or to measure it by.

    Attributes
    ----------
    stub
        Only this much is drawn at each end, mm, where the rest would cross what is drilled; 0: all.

    """

    start: Point
    end: Point
    role: LineRole
    words: str = ""
    stub: float = 0.0

    @property
    def length(self) -> float:
        """Length, mm."""
        return math.dist(self.start, self.end)

    @property
    def drawn(self) -> tuple[tuple[Point, Point], ...]:
        """What is drawn of it: all, or both ends."""
        if not 0.0 < self.stub < self.length / 2:
            return ((self.start, self.end),)
        share = self.stub / self.length
        return (self.start, self._at(share)), (self._at(1.0 - share), self.end)

    def _at(self, share: float) -> Point:
        (x0, y0), (x1, y1) = self.start, self.end
        return x0 + share * (x1 - x0), y0 + share * (y1 - y0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Template:
    """A sheet at 1:1 to hold against the wall or the glass.

    Attributes
    ----------
    size
        Width and height, mm; all geometry lies within (0, 0) and this.
    faces
        Which side goes where: `printed side to you, back to the wall`.
    runs
        A strip: `up` a wall or `along` a level; sheets of it without any hole are left out.
    zero, counted
        Where a strip is counted from: mm of the template along it, and in words.

    """

    id: str
    title: str
    size: Point
    rings: tuple[Ring, ...]
    drills: tuple[Drill, ...]
    lines: tuple[GuideLine, ...]
    faces: str
    notes: tuple[str, ...] = ()
    runs: Literal["", "up", "along"] = ""
    zero: float = 0.0
    counted: str = ""

    def line(self, role: LineRole) -> GuideLine:
        """Return the first line of a role."""
        return next(g for g in self.lines if g.role == role)


@dataclass(frozen=True, slots=True, kw_only=True)
class TemplatePage:
    """One sheet of paper of a tiled template.

    Attributes
    ----------
    number, of, row, column
        Pages from 1; rows from the bottom, columns from the left, from 0.
    sheet
        Width and height of the paper, mm; lengthwise where it is wider than high.
    window
        Part of the template on this page: left, bottom, right, top; mm of the template.
    at
        Where the lower left corner of the window lies on the paper, mm from its lower left.
    marks
        Overlap marks: crosses in template mm that two neighbouring pages share.
    begins
        Of a strip: its foot, or its left edge, from where the strip is counted, mm; else None.

    """

    template: str
    number: int
    of: int
    row: int
    column: int
    sheet: Point
    window: tuple[float, float, float, float]
    at: Point
    marks: tuple[Point, ...]
    begins: float | None = None

    def on_paper(self, point: Point) -> Point:
        """Where a point of the template lies on this sheet of paper, mm from its lower left."""
        return point[0] - self.window[0] + self.at[0], point[1] - self.window[1] + self.at[1]
