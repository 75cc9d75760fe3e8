"""Walls face on, as seen from the opening: the wood behind them, the holes in them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from hangtrue.fit.enclosure import Enclosure
from hangtrue.hang.before import BuilderSheet, WantedBlocking
from hangtrue.hang.records import DrillHole, DrillPlan
from hangtrue.hang.work import WALLS
from hangtrue.job.brief import Brief
from hangtrue.job.readings import Side
from hangtrue.measure.opening import Opening
from hangtrue.paper.dimensions import Rung, Span, ladder, rows
from hangtrue.paper.drawings import frame
from hangtrue.paper.drawings.elevation_room import ground
from hangtrue.paper.drawings.reach import reach
from hangtrue.paper.lengths import Units, units_of
from hangtrue.paper.scene import (
    Circle,
    Hatch,
    Line,
    Path,
    Primitive,
    Sheet,
    Text,
    View,
    scale_for,
)
from hangtrue.paper.words import figure, units_line

BESIDE = 300.0
"""How much of a wall is drawn each side of the glass line, mm of the object."""
OVER = 90.0
"""How far it is drawn past what is highest, mm of the object."""
LADDER = 10.0
WORDS = 15.0
"""Room each side of the glass line for which way is in, mm of paper."""
UNDER = 22.0
"""Below a wall: its width, which way is in, the line under the drawing; mm of paper."""
HEAD = 8.0
LEAST = 0.6
"""A hole is drawn no smaller than this, mm of paper."""
SAME = 1.0
"""Heights nearer than this share one figure, mm of the object."""

SIDES: tuple[Side, Side] = ("left", "right")
Content = Callable[["Face"], Iterable[Primitive]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Face:
    """One wall on the sheet.

    Attributes
    ----------
    view
        From (mm to the right of the glass line as seen, mm above the datum) to paper.
    low, high, foot
        Floor, upper end of what is drawn, and top of what the glass stands on here, mm.
    before
        What stands before the wall is hatched; else only its outline is drawn.

    """

    side: Side
    view: View
    low: float
    high: float
    foot: float
    units: Units
    before: bool

    def across(self, off: float) -> float:
        """Place to the right of the glass line of a distance into the shower."""
        return off if self.side == "left" else -off

    def at(self, off: float, z: float) -> tuple[float, float]:
        """Place on paper: distance into the shower, height above the datum; mm."""
        return self.view.at((self.across(off), z))

    def box(self, half: float, low: float, high: float) -> tuple[float, float, float, float]:
        """Upright strip about the glass line on paper."""
        a, b = self.view.at((-half, low)), self.view.at((half, high))
        return (*a, *b)


def blocking(
    brief: Brief, opening: Opening, made: Enclosure | None, asked: BuilderSheet, tall: float
) -> Sheet:
    """Draw the wood that is asked for behind each wall; `tall` is the room on paper, mm."""
    walls = [side for side in SIDES if any(b.wall == side for b in asked.blocking)]
    high = max([float(b.high) for b in asked.blocking] + [float(brief.job.wanted.height)])

    def content(face: Face) -> Iterator[Primitive]:
        wood = [b for b in asked.blocking if b.wall == face.side]
        yield from _wood(face, wood)

    return _sheet(
        brief,
        opening,
        made,
        walls,
        high,
        tall,
        content,
        name="blocking",
        title="Blocking behind the walls, each face on",
        description="Hatched: solid wood behind the finished wall, about the glass line.",
    )


def drilled_walls(
    brief: Brief, opening: Opening, made: Enclosure, drilling: DrillPlan, tall: float
) -> tuple[Sheet, ...]:
    """Draw every wall that is drilled, with its holes; nothing where none is."""
    walls = [WALLS[name] for name in drilling.surfaces if name in WALLS]
    if not walls:
        return ()

    def content(face: Face) -> Iterator[Primitive]:
        yield from _holes(face, drilling.on(f"{face.side} wall"))

    sheet = _sheet(
        brief,
        opening,
        made,
        sorted(walls),
        max(float(brief.job.wanted.height), *(h.above_datum for h in drilling.holes)),
        tall,
        content,
        name="drilling",
        title="Holes in the walls, each face on",
        description="Every hole by its number and its height above the datum.",
    )
    return (sheet,)


def _sheet(  # noqa: PLR0913 - one sheet, its extent and its words
    brief: Brief,
    opening: Opening,
    made: Enclosure | None,
    walls: Sequence[Side],
    high: float,
    tall: float,
    content: Content,
    *,
    name: str,
    title: str,
    description: str,
) -> Sheet:
    units = units_of(brief)
    low, high = -float(brief.job.threshold.height), high + OVER
    room = (frame.WIDTH / 2 - 50.0, tall - UNDER - HEAD)
    one_to = scale_for((2 * BESIDE, high - low), room, frame.scales(units))
    height = UNDER + HEAD + (high - low) / one_to
    parts: list[Primitive] = []
    for place, side in enumerate(walls):
        x = place * frame.WIDTH / 2 + 4.0 + max(BESIDE / one_to, WORDS)
        view = View(one_to=one_to, origin=(x, UNDER - low / one_to))
        foot = _foot(brief, opening, made, side)
        face = Face(
            side=side,
            view=view,
            low=low,
            high=high,
            foot=foot,
            units=units,
            before=name == "drilling",
        )
        parts += (*_wall(brief, face), *content(face))
    words = ("Each wall face on, from the opening", f"scale 1:{one_to:g}", units_line(units))
    return Sheet(
        name=name,
        width=frame.WIDTH,
        height=height,
        title=title,
        description=description,
        primitives=(*parts, *frame.caption((*words, "heights above the datum"))),
        scale=f"1:{one_to:g}",
    )


def _foot(brief: Brief, opening: Opening, made: Enclosure | None, side: Side) -> float:
    """Height of what the glass stands on at a wall, above the datum, mm."""
    if made is None:
        return 0.0
    tops = ground(opening, reach(brief, opening, made))
    return tops[0 if side == "left" else -1][1]


def _wall(brief: Brief, face: Face) -> Iterator[Primitive]:
    """Edges of the piece of wall, the curb against it, the glass line, which way is in."""
    wall = brief.job.wall(face.side)
    named = f" ({wall.name})" if wall and wall.name else ""
    left, low, right, high = face.box(BESIDE, face.low, face.high)
    yield frame.heading(f"{face.side.capitalize()} wall{named}", (left, high + 4.0))
    yield Line(start=(left, low), end=(right, low), layer="curb", weight="middle")
    for x in (left, right):
        yield Line(start=(x, low), end=(x, high), layer="wall", stroke="dashed")
    half = float(brief.job.threshold.width) / 2
    if face.foot > face.low:
        curb = face.box(half, face.low, face.foot)
        if face.before:
            yield frame.mass(curb, "curb")
        yield frame.oblong(curb, "curb", weight="middle")
    yield Line(
        start=face.at(0.0, face.foot),
        end=(face.at(0.0, 0.0)[0], high + 2.0),
        layer="centre",
        stroke="long-dash-dot",
    )
    x, base = face.at(0.0, 0.0)[0], low - 14.0
    before, after = ("outside", "shower") if face.side == "left" else ("shower", "outside")
    yield Text(at=(x - 2.0, base), words=before, anchor="end")
    yield Text(at=(x + 2.0, base), words=after)


def _wood(face: Face, wood: Sequence[WantedBlocking]) -> Iterator[Primitive]:
    """Wood of one wall, its width below and its heights beside it."""
    right = face.view.at((BESIDE, 0.0))[0]
    rungs = [_rung(face, face.low, "floor"), _rung(face, 0.0, "datum")]
    for piece in wood:
        box = face.box(piece.each_side, piece.low, piece.high)
        outline = ((box[0], box[1]), (box[2], box[1]), (box[2], box[3]), (box[0], box[3]))
        yield Hatch(outline=outline, layer="hardware", slant_deg=135.0, spacing=1.6)
        yield Path(points=outline, layer="hardware", weight="middle")
        rungs.append(_rung(face, piece.high, "wood to here"))
        if piece.low > SAME:
            rungs.append(_rung(face, piece.low, "wood from here"))
    if wood:
        widest = max(wood, key=lambda b: b.each_side)
        box = face.box(widest.each_side, face.low, face.high)
        f = figure(face.units, 2 * widest.each_side)
        span = Span(start=(box[0], box[1]), end=(box[2], box[1]), words=f.words, second=f.second)
        yield from rows([span], box[1] - 6.0, upright=False, outward=-1)
    yield from ladder(_apart(rungs), right + LADDER, "right")


def _rung(face: Face, z: float, words: str) -> Rung:
    said = figure(face.units, z) if abs(z) > SAME else "0"
    return Rung(at=face.view.at((BESIDE, z)), words=f"{said} {words}")


def _apart(rungs: Iterable[Rung]) -> tuple[Rung, ...]:
    """Each height with the same words once."""
    return tuple({(round(r.at[1], 1), r.words): r for r in rungs}.values())


def _holes(face: Face, holes: Sequence[DrillHole]) -> Iterator[Primitive]:
    """Holes of one wall; those at one height share a figure."""
    right = face.view.at((BESIDE, 0.0))[0]
    rungs = [Rung(at=(right, face.at(0.0, 0.0)[1]), words="0 datum")]
    levels: list[list[DrillHole]] = []
    for hole in sorted(holes, key=lambda h: (h.above_datum, face.across(h.off))):
        bit = max((b.diameter for b in hole.bits), default=0.0)
        at = face.at(hole.off, hole.above_datum)
        yield Circle(
            centre=at,
            radius=max(LEAST, face.view.length(bit / 2)),
            layer="holes",
            fill="solid",
        )
        if levels and hole.above_datum - levels[-1][-1].above_datum < SAME:
            levels[-1].append(hole)
        else:
            levels.append([hole])
    for level in levels:
        z = level[0].above_datum
        ids = " ".join(h.id for h in level)
        x = max(face.at(h.off, z)[0] for h in level) + LEAST
        rungs.append(Rung(at=(x, face.at(0.0, z)[1]), words=f"{ids}: {figure(face.units, z)}"))
    yield from ladder(rungs, right + LADDER, "right")
