"""Beside the drawing of a pane: what must be known in words, and cut-outs drawn larger."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby

from hangtrue.check.wording import listed
from hangtrue.fit.enclosure import Corner, Edge, Enclosure, Hole, Lite, Notch
from hangtrue.geometry import Point
from hangtrue.job.brief import Brief
from hangtrue.paper.cut import cut_outs, in_level_edge, inside, kept, outside, rounded
from hangtrue.paper.dimensions import LINE_FEED, Span, rows
from hangtrue.paper.drawings import frame
from hangtrue.paper.drawings.key_plan import key_plan
from hangtrue.paper.language import told
from hangtrue.paper.lengths import Units, tidy, units_of
from hangtrue.paper.scene import Box, Hatch, Leader, Line, Path, Primitive, Text, view_into
from hangtrue.paper.tables import capital
from hangtrue.paper.words import SQUARE, exact, hand_words, rake_words, unbroken
from hangtrue.phrase import as_typed, join, many, phrase, reshaped

KEY = 26.0
"""Height of the key plan, mm."""
DETAIL = 56.0
"""Height of one enlarged cut-out, mm."""
SECTION = 42.0
"""Height of the section through a mitred edge, mm."""
AROUND = 22.0
"""Glass shown around a cut-out, mm of the object."""


def notes(
    brief: Brief, made: Enclosure, lite: Lite, column: Box
) -> tuple[tuple[Primitive, ...], float]:
    """Heading, key plan and facts from the top of a column; also how far down they came."""
    left, _, right, top = column
    parts: list[Primitive] = [frame.heading(capital(lite.id), (left, top - 4.0))]
    low = top - 8.0 - KEY
    parts += key_plan(made, lite.id, (left, low, right, top - 8.0))
    y = low - 1.6 * LINE_FEED
    for fact in facts(brief, made, lite):
        lines = frame.paragraph(reshaped(fact, unbroken), (left, y), right - left)
        parts += lines
        y -= LINE_FEED * len(lines) + 1.0
    return tuple(parts), y


def _glass(brief: Brief, lite: Lite) -> str:
    units = units_of(brief)
    words = {"thick": units.size(lite.thickness), "mass": units.mass(lite.mass_kg)}
    if brief.job.wanted.texture == "textured":
        return phrase("Tempered textured glass, {thick} thick, {mass}", **words)
    return phrase("Tempered glass, {thick} thick, {mass}", **words)


def facts(brief: Brief, made: Enclosure, lite: Lite) -> tuple[str, ...]:
    """Everything that is not a line on the drawing."""
    units, head, plant = units_of(brief), brief.job.job, brief.profile.plant
    wished = brief.job.wanted.safety_mark
    mark = "standard not stated, ask" if wished == "unknown" else wished
    issued = phrase("{job}, version {version}", job=head.id, version=head.version)
    return (
        join(", ", (issued, head.date)) if head.date else issued,
        capital(hand_words(lite)),
        _glass(brief, lite),
        *_edges(lite.edges),
        *_rakes(lite, units),
        *_mitres(lite, units),
        *_at_corners(made, lite),
        *_steps(lite),
        phrase(
            "Safety mark at the {corner} corner (small box): {mark}",
            corner=stamp_corner(lite),
            mark=mark,
        ),
        phrase("Size ± {most}", most=units.small(plant.size_tolerance)),
        phrase("Holes ± {most}", most=units.small(plant.hole_tolerance)),
        phrase("Cut-outs ± {most}", most=units.small(plant.notch_tolerance)),
    )


def _rakes(lite: Lite, units: Units) -> tuple[str, ...]:
    """Say every edge that is out of square, and the others in one line."""
    raked = [edge for edge in lite.edges if abs(edge.rake) >= SQUARE]
    if not raked:
        return ("All corners square",)
    others = () if len(raked) == len(lite.edges) else ("Other edges level or plumb",)
    return (*(capital(rake_words(edge, units)) for edge in raked), *others)


def _edges(edges: Sequence[Edge]) -> tuple[str, ...]:
    """Edge work, in one line where it is the same all round."""
    if len({edge.finish for edge in edges}) == 1:
        return (phrase("All edges {finish}", finish=edges[0].finish),)
    return tuple(
        phrase("{edge} {finish}", edge=capital(f"{edge.where} edge"), finish=edge.finish)
        for edge in edges
    )


def _mitres(lite: Lite, units: Units) -> tuple[str, ...]:
    """Say both faces of a pane whose edge is bevelled: they differ in width."""
    if not lite.bevelled:
        return ()
    bl, br, tr, tl = lite.inside_corners
    low, high = (str(exact(units, w)) for w in (br[0] - bl[0], tr[0] - tl[0]))
    edges = [e for e in lite.edges if e.bevel]
    inside_face = (
        phrase("Drawn is the outside face; inside face {wide} wide", wide=low)
        if low == high
        else phrase(
            "Drawn is the outside face; inside face {low} wide at the bottom, {high} at the top",
            low=low,
            high=high,
        )
    )
    return (*map(_mitre, edges), inside_face)


def _mitre(edge: Edge) -> str:
    """Say how an edge is ground."""
    parts = {
        "edge": capital(f"{edge.where} edge"),
        "angle": tidy(abs(math.degrees(edge.bevel)), 1),
    }
    if edge.bevel > 0:
        return phrase("{edge} mitred {angle}° from square, outside face the longer", **parts)
    return phrase("{edge} mitred {angle}° from square, inside face the longer", **parts)


def _at_corners(made: Enclosure, lite: Lite) -> tuple[str, ...]:
    """Say how the pane meets its neighbour at each corner that it stands at."""
    found = []
    for joint in made.corners:
        if lite.id in joint.between and joint.corner:
            where = "right" if joint.between[0] == lite.id else "left"
            other = joint.between[1 if where == "right" else 0]
            edge = capital(f"{where} edge")
            how = corner_words(joint.corner, lite.id, other)
            found.append(phrase("{edge}: {how}", edge=edge, how=how))
    return tuple(found)


def corner_words(corner: Corner, mine: str, other: str) -> str:
    """Say how a pane meets the other at a corner."""
    angle = tidy(math.degrees(corner.angle), 1)
    at = phrase("at corner {number}, {angle}°", number=corner.number, angle=angle)
    match corner.joint:
        case "butt" if corner.laps == mine:
            return phrase("runs past and covers the edge of {other} {at}", other=other, at=at)
        case "butt":
            return phrase("stops short behind {other}, which covers it, {at}", other=other, at=at)
        case "mitre":
            return phrase("meets {other} on the mitre {at}", other=other, at=at)
        case "clamp":
            return phrase("clamped to {other} {at}", other=other, at=at)
        case "hinge":
            return phrase("hinged to {other} {at}", other=other, at=at)


def _steps(lite: Lite) -> tuple[str, ...]:
    """Say what the foot steps over."""
    stepped = dict.fromkeys(step.fitting for step in lite.steps)
    names = listed(tuple(as_typed(name) for name in stepped))
    if not names:
        return ()
    return (phrase("Foot steps over {names}; inside corners rounded as drawn", names=names),)


def stamp_corner(lite: Lite) -> str:
    """Corner of the safety mark: at the bottom, hinge side (common practice, no source).

    Where a step takes that corner away it is the next one that is there.
    """
    bl, br, tr, tl = lite.corners
    corners = {"bottom left": bl, "bottom right": br, "top left": tl, "top right": tr}
    side = lite.hinge_side or "left"
    other = "right" if side == "left" else "left"
    wanted = (f"bottom {side}", f"bottom {other}", f"top {side}")
    return next((name for name in wanted if kept(lite, corners[name])), wanted[0])


def details(brief: Brief, lite: Lite, room: Box) -> tuple[tuple[Primitive, ...], float]:
    """Draw each kind of cut-out once, larger, with how many there are; name each kind of hole.

    Return also how far down they came.
    """
    units = units_of(brief)
    left, low, right, y = room
    parts: list[Primitive] = []
    for edge in lite.edges:
        if edge.bevel:
            parts += _section(lite, edge, (left, y - SECTION, right, y))
            y -= SECTION
        if edge.points:
            rows_told, y = _offsets(edge, (left, low, right, y), units)
            parts += rows_told
    for (diameter, fitting), holes in groupby(sorted(lite.holes, key=_hole_kind), key=_hole_kind):
        words = phrase(
            "{count} × Ø {diameter} for {fitting}",
            count=len(list(holes)),
            diameter=str(exact(units, diameter)),
            fitting=_title(brief, fitting),
        )
        lines = frame.paragraph(reshaped(words, unbroken), (left, y), right - left)
        parts += lines
        y -= LINE_FEED * len(lines) + 1.0
    for _, notches in groupby(sorted(cut_outs(lite), key=_notch_kind), key=_notch_kind):
        drawn, y = _cut_outs(brief, lite, tuple(notches), (left, low, right, y))
        parts += drawn
    return tuple(parts), y


def _section(lite: Lite, edge: Edge, box: Box) -> Iterable[Primitive]:
    """Section through a mitred edge as seen from above: both faces, and the angle of the grind."""
    left, low, right, high = box
    words = phrase(
        "{edge} from above, {scale}",
        edge=capital(f"{edge.where} edge"),
        scale=reshaped(frame.scale_words("2:1"), _hard),
    )
    yield from frame.paragraph(words, (left, high), right - left)
    thick = 2.0 * lite.thickness
    over = thick * math.tan(edge.bevel)
    way = 1.0 if edge.where == "right" else -1.0
    tip = (left + right) / 2 + way * (8.0 - max(0.0, -over))
    foot = low + LINE_FEED + 4.5
    outer, inner = (tip, foot), (tip - way * over, foot + thick)
    back = tip - way * 26.0
    outline = (outer, inner, (back, foot + thick), (back, foot))
    yield Hatch(outline=outline, layer="outline", spacing=1.6)
    yield Path(
        points=((back, foot), outer, inner, (back, foot + thick)),
        closed=False,
        layer="outline",
        weight="middle",
    )
    yield Line(start=outer, end=(tip, foot + thick + 2.0), layer="centre", stroke="long-dash-dot")
    middle = tip - way * 14.0
    yield Text(at=(middle, foot - LINE_FEED), words=told("outside face"), anchor="middle")
    yield Text(at=(middle, foot + thick + 1.2), words=told("inside face"), anchor="middle")
    yield Text(
        at=(tip + way * (max(0.0, -over) + 2.0), foot + thick / 2),
        words=f"{tidy(abs(math.degrees(edge.bevel)), 1)}°",
        anchor="start" if way > 0 else "end",
    )


def _offsets(edge: Edge, box: Box, units: Units) -> tuple[list[Primitive], float]:
    """List the points of a scribed edge from the datum corner; return also how far down it came."""
    left, low, right, y = box
    title = phrase(
        "{edge} scribed: height, then distance from the datum’s upright",
        edge=capital(f"{edge.where} edge"),
    )
    head = frame.paragraph(title, (left, y), right - left)
    parts: list[Primitive] = list(head)
    y -= LINE_FEED * len(head)
    fit = max(1, int((y - low) / LINE_FEED))
    columns = 1 if len(edge.points) <= fit else 2
    count = -(-len(edge.points) // columns)
    for i, (x, z) in enumerate(edge.points):
        column, row = divmod(i, count)
        words = f"{exact(units, z).words}: {exact(units, x).words}"
        at = (left + column * (right - left) / columns, y - row * LINE_FEED)
        parts.append(Text(at=at, words=words))
    return parts, y - count * LINE_FEED - 1.0


def _cut_outs(
    brief: Brief, lite: Lite, alike: tuple[Notch, ...], room: Box
) -> tuple[tuple[Primitive, ...], float]:
    """Draw a kind of cut-out and say how many there are; return also where the next may begin."""
    left, low, right, y = room
    fitting = _title(brief, alike[0].fitting)
    words = many(
        len(alike), "{n} cut-out for {fitting}", "{n} cut-outs for {fitting}", fitting=fitting
    )
    seat = Seat.of(lite, alike[0])
    if seat is None or y - DETAIL < low:
        named = phrase("{words}, as drawn", words=words)
        lines = frame.paragraph(named, (left, y), right - left)
        return lines, y - LINE_FEED * len(lines) - 1.0
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
    return reshaped(brief.items[fitting].title, _first) if fitting in brief.items else fitting


def _first(words: str) -> str:
    """Words before the first comma, in small letters."""
    return words.split(",", maxsplit=1)[0].lower()


def _hard(words: str) -> str:
    """Words that no line breaks in."""
    return words.replace(" ", "\u00a0")


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
    scale = reshaped(frame.scale_words(view.words), _hard)
    title = (
        phrase("{words}, turned upright, {scale}", words=words, scale=scale)
        if seat.turned
        else phrase("{words}, {scale}", words=words, scale=scale)
    )
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
