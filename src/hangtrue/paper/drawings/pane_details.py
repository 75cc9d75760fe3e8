"""Beside the drawing of a pane: what must be known in words, and cut-outs drawn larger."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby

from hangtrue.fit.enclosure import Edge, Enclosure, Hole, Lite, Notch
from hangtrue.geometry import Point
from hangtrue.job.brief import Brief
from hangtrue.paper.cut import in_level_edge, inside, outside, rounded
from hangtrue.paper.dimensions import LINE_FEED, Span, rows
from hangtrue.paper.drawings import frame
from hangtrue.paper.drawings.key_plan import key_plan
from hangtrue.paper.lengths import Units, units_of
from hangtrue.paper.scene import Box, Leader, Path, Primitive, view_into
from hangtrue.paper.words import SQUARE, exact, hand_words, rake_words, unbroken

KEY = 26.0
"""Height of the key plan, mm."""
DETAIL = 56.0
"""Height of one enlarged cut-out, mm."""
AROUND = 22.0
"""Glass shown around a cut-out, mm of the object."""


def notes(
    brief: Brief, made: Enclosure, lite: Lite, column: Box
) -> tuple[tuple[Primitive, ...], float]:
    """Heading, key plan and facts from the top of a column; also how far down they came."""
    left, _, right, top = column
    parts: list[Primitive] = [frame.heading(lite.id.capitalize(), (left, top - 4.0))]
    low = top - 8.0 - KEY
    parts += key_plan(made, lite.id, (left, low, right, top - 8.0))
    y = low - 1.6 * LINE_FEED
    for fact in facts(brief, lite):
        lines = frame.paragraph(unbroken(fact), (left, y), right - left)
        parts += lines
        y -= LINE_FEED * len(lines) + 1.0
    return tuple(parts), y


def facts(brief: Brief, lite: Lite) -> tuple[str, ...]:
    """Everything that is not a line on the drawing."""
    units, head, plant = units_of(brief), brief.job.job, brief.profile.plant
    mark = brief.job.wanted.safety_mark.replace("unknown", "standard not stated, ask")
    dated = f", {head.date}" if head.date else ""
    return (
        f"{head.id}, version {head.version}{dated}",
        hand_words(lite).capitalize(),
        f"Tempered glass, {units.size(lite.thickness)} thick, {units.mass(lite.mass_kg)}",
        *_edges(lite.edges),
        *_rakes(lite, units),
        f"Safety mark at the {stamp_corner(lite)} corner (small box): {mark}",
        f"Size ± {units.small(plant.size_tolerance)}",
        f"Holes ± {units.small(plant.hole_tolerance)}",
        f"Cut-outs ± {units.small(plant.notch_tolerance)}",
    )


def _rakes(lite: Lite, units: Units) -> tuple[str, ...]:
    """Say every edge that is out of square, and the others in one line."""
    raked = [edge for edge in lite.edges if abs(edge.rake) >= SQUARE]
    if not raked:
        return ("All corners square",)
    others = () if len(raked) == len(lite.edges) else ("Other edges level or plumb",)
    return (*(rake_words(edge, units).capitalize() for edge in raked), *others)


def _edges(edges: Sequence[Edge]) -> tuple[str, ...]:
    """Edge work, in one line where it is the same all round."""
    if len({edge.finish for edge in edges}) == 1:
        return (f"All edges {edges[0].finish}",)
    return tuple(f"{edge.where.capitalize()} edge {edge.finish}" for edge in edges)


def stamp_corner(lite: Lite) -> str:
    """Corner of the safety mark: at the bottom, hinge side (common practice, no source)."""
    return f"bottom {lite.hinge_side or 'left'}"


def details(brief: Brief, lite: Lite, room: Box) -> tuple[Primitive, ...]:
    """Draw each kind of cut-out once, larger, with how many there are; name each kind of hole."""
    units = units_of(brief)
    left, low, right, y = room
    parts: list[Primitive] = []
    for (diameter, fitting), holes in groupby(sorted(lite.holes, key=_hole_kind), key=_hole_kind):
        told = f"{len(list(holes))} × Ø {exact(units, diameter)} for {_title(brief, fitting)}"
        lines = frame.paragraph(unbroken(told), (left, y), right - left)
        parts += lines
        y -= LINE_FEED * len(lines) + 1.0
    for _, notches in groupby(sorted(lite.notches, key=_notch_kind), key=_notch_kind):
        drawn, y = _cut_outs(brief, lite, tuple(notches), (left, low, right, y))
        parts += drawn
    return tuple(parts)


def _cut_outs(
    brief: Brief, lite: Lite, alike: tuple[Notch, ...], room: Box
) -> tuple[tuple[Primitive, ...], float]:
    """Draw a kind of cut-out and say how many there are; return also where the next may begin."""
    left, low, right, y = room
    name = "cut-out" if len(alike) == 1 else "cut-outs"
    words = f"{len(alike)} {name} for {_title(brief, alike[0].fitting)}"
    seat = Seat.of(lite, alike[0])
    if seat is None or y - DETAIL < low:
        told = frame.paragraph(f"{words}, as drawn", (left, y), right - left)
        return told, y - LINE_FEED * len(told) - 1.0
    drawn = tuple(_detail(seat, words, (left, y - DETAIL, right, y), units_of(brief)))
    return drawn, y - DETAIL


def _hole_kind(hole: Hole) -> tuple[float, str]:
    return (round(hole.diameter, 3), hole.fitting)


def _notch_kind(notch: Notch) -> tuple[str, float, tuple[float, ...]]:
    """Fitting, radius and sides: what makes two cut-outs the same."""
    ends = (*notch.corners[1:], notch.corners[0])
    sides = sorted(round(math.dist(a, b), 1) for a, b in zip(notch.corners, ends, strict=True))
    return (notch.fitting, notch.radius, tuple(sides))


def _title(brief: Brief, fitting: str) -> str:
    """Name of a fitting as the shop calls it."""
    return brief.items[fitting].title.split(",")[0].lower() if fitting in brief.items else fitting


@dataclass(frozen=True, slots=True, kw_only=True)
class Seat:
    """A four-cornered cut-out in an edge, the edge turned upright, from its lower end to its upper.

    Attributes
    ----------
    corners
        On the edge, inside, inside, on the edge.
    turned
        The edge is level on the pane.

    """

    corners: tuple[Point, Point, Point, Point]
    radius: float
    turned: bool

    @classmethod
    def of(cls, lite: Lite, notch: Notch) -> Seat | None:
        """Return the seat of a cut-out; None where it is no plain notch in one edge."""
        outer, inner = outside(lite, notch), inside(lite, notch)
        if len(outer) != len(inner) or len(outer) != 2:  # noqa: PLR2004 - two ends of a notch
            return None
        turned = in_level_edge(lite, notch)
        turn = (lambda p: (p[1], p[0])) if turned else (lambda p: p)
        low, high = sorted(map(turn, outer), key=lambda p: p[1])
        deep_low, deep_high = sorted(map(turn, inner), key=lambda p: p[1])
        return cls(corners=(low, deep_low, deep_high, high), radius=notch.radius, turned=turned)

    @property
    def course(self) -> tuple[Point, ...]:
        """The cut-out with some of the edge before and after it."""
        low, _, _, high = self.corners
        return (
            (low[0], low[1] - AROUND),
            *self.corners,
            (high[0], high[1] + AROUND),
        )


def _detail(seat: Seat, words: str, box: Box, units: Units) -> Iterable[Primitive]:
    """Draw one cut-out larger, with its size and its inside radius."""
    left, low, right, high = box
    outer, inner, top_inner, top_outer = seat.corners
    into = 1.0 if inner[0] > outer[0] else -1.0
    xs = sorted(p[0] for p in seat.course)
    window = (left + 16.0, low + 11.0, right - 16.0, high - 2 * LINE_FEED - 6.0)
    ends = (xs[0], seat.course[0][1]), (xs[-1], seat.course[-1][1])
    view = view_into(window, *ends, frame.scales(units))
    turned = ", turned upright" if seat.turned else ""
    title = f"{words}{turned}, scale\u00a0{view.words}"
    yield from frame.paragraph(title, (left, high), right - left)
    points, bulges = rounded(
        seat.course, {inner: seat.radius, top_inner: seat.radius}, closed=False
    )
    yield Path(
        points=view.all(points), bulges=bulges, closed=False, layer="cutouts", weight="thick"
    )
    deep, tall = (exact(units, math.dist(*ends)) for ends in ((outer, inner), (outer, top_outer)))
    across = Span(start=view.at(outer), end=view.at(inner), words=deep.words, second=deep.second)
    yield from rows([across], view.at(seat.course[0])[1] - 2.0, upright=False, outward=-1)
    up = Span(start=view.at(outer), end=view.at(top_outer), words=tall.words, second=tall.second)
    yield from rows([up], view.at(outer)[0] - into * 9.0, upright=True, outward=-into)
    yield from _radius(view.at(top_inner), into, exact(units, seat.radius).words)


def _radius(corner: Point, into: float, words: str) -> Iterable[Primitive]:
    x, y = corner
    points = ((x - into * 0.6, y - 0.6), (x + into * 4.0, y + 4.0), (x + into * 6.0, y + 4.0))
    yield Leader(points=points, words=(f"R {words}",))
