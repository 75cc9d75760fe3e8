"""Walls face on, as seen from the opening: the wood behind them, the holes in them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from hangtrue.check.wording import off_line
from hangtrue.fit.enclosure import Enclosure
from hangtrue.hang.before import BuilderSheet, WantedBlocking
from hangtrue.hang.records import DrillHole, DrillPlan
from hangtrue.hang.shop import shop_for
from hangtrue.hang.work import WALLS
from hangtrue.job.brief import Brief
from hangtrue.job.readings import Side
from hangtrue.job.room import Wall
from hangtrue.measure.opening import Opening
from hangtrue.paper import lettering
from hangtrue.paper.dimensions import Rung, Span, ladder, rows
from hangtrue.paper.drawings import frame, on_the_wall
from hangtrue.paper.drawings.elevation_room import ground
from hangtrue.paper.drawings.on_the_wall import Face
from hangtrue.paper.drawings.reach import reach
from hangtrue.paper.labels import bounds
from hangtrue.paper.language import told
from hangtrue.paper.lengths import units_of
from hangtrue.paper.scene import (
    LETTER,
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
from hangtrue.paper.tables import capital
from hangtrue.paper.words import figure, units_line
from hangtrue.phrase import as_typed, join, phrase

BESIDE = 300.0
"""How much of a wall is drawn each side of the glass line, mm of the object."""
OVER = 45.0
"""How far it is drawn past what is highest, mm of the object."""
LADDER = 10.0
WORDS = 15.0
"""Room each side of the glass line for which way is in, mm of paper."""
UNDER = 13.0
"""Below a wall: which way is in, the line under the drawing; mm of paper."""
WIDTHS = 9.0
"""Below a wall, for the width of what is drawn on it, mm of paper."""
HEAD = 8.0
LEAST_ROOM = 30.0
"""Words beside a wall are set in lines no shorter than this, mm of paper."""
LEAST = 0.6
"""A hole is drawn no smaller than this, mm of paper."""
SAME = 1.0
"""Heights nearer than this share one figure, mm of the object."""
RING = 1.7
"""Radius of the ring round a hole that must be looked at first, mm of paper."""

SIDES: tuple[Side, Side] = ("left", "right")
Content = Callable[["Face"], Iterable[Primitive]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Subject:
    """What a sheet of wall faces is about.

    Attributes
    ----------
    walls
        Which of them, from left to right.
    high
        What is highest, above the datum, mm.
    content
        What is drawn on a face.
    signs
        What the signs on it mean, for the line under the drawing.

    """

    name: str
    title: str
    description: str
    walls: tuple[Side, ...]
    high: float
    content: Content
    signs: tuple[str, ...] = ()
    before: bool = False


def blocking(
    brief: Brief,
    opening: Opening,
    made: Enclosure | None,
    asked: BuilderSheet,
    tall: float,
    holes: Sequence[DrillHole] = (),
) -> Sheet:
    """Draw the wood that is asked for behind each wall, the holes to come and what they must miss.

    Parameters
    ----------
    tall
        Room on paper, mm.
    holes
        That will be drilled, where that is known.

    """

    def content(face: Face) -> Iterator[Primitive]:
        wall = brief.job.wall(face.side) or Wall()
        yield from on_the_wall.zones(face, wall.keep_out)
        near = [b for b in asked.blocking if b.wall == face.side and not b.off]
        yield from _wood(face, near, wall)
        here = [h for h in holes if h.surface == f"{face.side} wall"]
        yield from (dot(face, hole) for hole in here if not _beside(face, hole))

    walls = tuple(side for side in SIDES if any(b.wall == side for b in asked.blocking))
    signs = ["dots: holes to come"] if holes else []
    subject = Subject(
        name="blocking",
        title="Blocking behind the walls, each face on",
        description="Hatched: solid wood behind the finished wall, about the glass line.",
        walls=walls,
        high=max([float(b.high) for b in asked.blocking] + [float(brief.job.wanted.height)]),
        content=content,
        signs=(*signs, *_zones_sign(brief, walls)),
    )
    return _sheet(brief, opening, made, tall, subject)


def drilled_walls(
    brief: Brief, opening: Opening, made: Enclosure, drilling: DrillPlan, tall: float
) -> tuple[Sheet, ...]:
    """Draw every wall that is drilled, with its holes; nothing where none is."""
    walls = sorted(WALLS[name] for name in drilling.surfaces if name in WALLS)
    if not walls:
        return ()
    usual = shop_for(brief.profile).mm["clearances.from_tile_edge"]

    def content(face: Face) -> Iterator[Primitive]:
        wall, holes = brief.job.wall(face.side) or Wall(), drilling.on(f"{face.side} wall")
        yield from on_the_wall.tile_joints(face, wall.tiles)
        yield from on_the_wall.zones(face, wall.keep_out)
        yield from on_the_wall.known_wood(face, brief)
        yield from on_the_wall.plates(face, brief, holes)
        yield from holes_at(face, holes, wall, usual)

    subject = Subject(
        name="drilling",
        title="Holes in the walls, each face on",
        description="Every hole by its number and its height above the datum.",
        walls=tuple(walls),
        high=max(float(brief.job.wanted.height), *(h.above_datum for h in drilling.holes)),
        content=content,
        signs=tuple(_drill_signs(brief, tuple(walls), drilling)),
        before=True,
    )
    return (_sheet(brief, opening, made, tall, subject),)


def _drill_signs(brief: Brief, walls: Sequence[Side], drilling: DrillPlan) -> Iterator[str]:
    """What the signs on the drilled walls mean; only those that are drawn."""
    named = [brief.job.wall(side) or Wall() for side in walls]
    yield "thin rectangles: plates" if _plated(brief, drilling) else ""
    yield "dashed in the middle: wood" if any(w.blocking for w in named) else ""
    yield "fine lines: joints of the tiles" if any(w.tiles for w in named) else ""
    flagged = any(_first_of_all(h) for h in drilling.holes if h.surface in WALLS)
    yield "ringed: too near to something, do not drill yet" if flagged else ""
    yield from _zones_sign(brief, walls)


def _plated(brief: Brief, drilling: DrillPlan) -> bool:
    fittings = {h.fitting for h in drilling.holes if h.surface in WALLS}
    return any(brief.items[name].kind in ("hinge", "clamp") for name in fittings)


def _zones_sign(brief: Brief, walls: Iterable[Side]) -> Iterator[str]:
    if any(wall.keep_out for side in walls if (wall := brief.job.wall(side))):
        yield "crossed: no hole here"


# --------------------------------------------------------------------------------------- the sheet


def _sheet(
    brief: Brief, opening: Opening, made: Enclosure | None, tall: float, subject: Subject
) -> Sheet:
    """Set the walls side by side at the largest usual scale at which their words have room."""
    units = units_of(brief)
    low, high = -float(brief.job.threshold.height), subject.high + OVER
    signed = join("  ·  ", (sign for sign in subject.signs if sign))
    signs = frame.paragraph(signed, (0.0, 0.0), frame.WIDTH) if signed else ()
    under = UNDER + 4.2 * len(signs) + (0.0 if subject.before else WIDTHS)
    column = frame.WIDTH / len(subject.walls)
    scales = frame.scales(units)
    one_to = scale_for((2 * BESIDE, high - low), (column, tall - under - HEAD), scales)
    while True:
        faces = [
            _face(brief, opening, made, side, (n * column, under), one_to, (low, high), subject)
            for n, side in enumerate(subject.walls)
        ]
        shown = [tuple(subject.content(face)) for face in faces]
        fits = all(bounds(p)[2] <= (n + 1) * column for n, p in enumerate(shown))
        coarser = [s for s in scales if s > one_to]
        if fits or not coarser:
            break
        one_to = coarser[0]
    words = (
        "Each wall face on, from the opening",
        frame.scale_words(f"1:{one_to:g}"),
        units_line(units),
        "heights above the datum",
    )
    return Sheet(
        name=subject.name,
        width=frame.WIDTH,
        height=under + HEAD + (high - low) / one_to,
        title=subject.title,
        description=subject.description,
        primitives=(
            *(p for face in faces for p in _wall(brief, face, column)),
            *(p for each in shown for p in each),
            *(_up(t, frame.CAPTION + 1.6 + 4.2 * (len(signs) - 1)) for t in signs),
            *frame.caption(words),
        ),
        scale=f"1:{one_to:g}",
    )


def _foot(brief: Brief, opening: Opening, made: Enclosure | None, side: Side) -> float:
    """Height of what the glass stands on at a wall, above the datum, mm."""
    if made is None:
        return 0.0
    tops = ground(opening, reach(brief, opening, made))
    return tops[0 if side == "left" else -1][1]


def _face(
    brief: Brief,
    opening: Opening,
    made: Enclosure | None,
    side: Side,
    corner: tuple[float, float],
    one_to: float,
    span: tuple[float, float],
    subject: Subject,
) -> Face:
    """Set one wall with its lower left corner there; `span` is what is drawn, above the datum."""
    low, high = span
    half = BESIDE / one_to
    x = corner[0] + 4.0 + max(half, WORDS)
    return Face(
        side=side,
        view=View(one_to=one_to, origin=(x, corner[1] - low / one_to)),
        low=low,
        high=high,
        foot=_foot(brief, opening, made, side),
        half=BESIDE,
        units=units_of(brief),
        before=subject.before,
        room=max(
            LEAST_ROOM, corner[0] + frame.WIDTH / len(subject.walls) - x - half - LADDER - 2.0
        ),
    )


def _up(text: Text, by: float) -> Text:
    return replace(text, at=(text.at[0], text.at[1] + by))


def _wall(brief: Brief, face: Face, column: float) -> Iterator[Primitive]:
    """Edges of the piece of wall, the curb against it, the glass line, which way is in."""
    wall = brief.job.wall(face.side)
    left, low, right, high = face.box(face.half, face.low, face.high)
    title = capital(f"{face.side} wall")
    if wall and wall.name:
        title = phrase("{wall} ({name})", wall=title, name=as_typed(wall.name))
    name = frame.heading(title, (left, high + 4.0))
    small = lettering.width(name.words, name.height, bold=True) > column - 6.0
    yield replace(name, height=LETTER) if small else name
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
    x, base = face.at(0.0, 0.0)[0], low - 5.0 - (0.0 if face.before else WIDTHS)
    before, after = ("outside", "shower") if face.side == "left" else ("shower", "outside")
    yield Text(at=(x - 2.0, base), words=told(before), anchor="end")
    yield Text(at=(x + 2.0, base), words=told(after))


# -------------------------------------------------------------------------------------------- wood


def _wood(face: Face, wood: Sequence[WantedBlocking], wall: Wall) -> Iterator[Primitive]:
    """Wood of one wall, its width below, its heights and thickness beside it."""
    rungs = [
        _rung(face, face.low, phrase("{height} floor", height=_said(face, face.low))),
        _rung(face, 0.0, phrase("{height} datum", height=_said(face, 0.0))),
    ]
    rungs += on_the_wall.zone_rungs(face, wall.keep_out)
    for piece in wood:
        box = face.box(piece.each_side, piece.low, piece.high)
        outline = ((box[0], box[1]), (box[2], box[1]), (box[2], box[3]), (box[0], box[3]))
        yield Hatch(outline=outline, layer="hardware", slant_deg=135.0, spacing=1.6)
        yield Path(points=outline, layer="hardware", weight="middle")
        rungs.append(
            _rung(face, piece.high, phrase("{height} wood to here", height=_said(face, piece.high)))
        )
        middle = face.view.at((piece.each_side, (piece.low + piece.high) / 2))
        thick = phrase("wood {thick} thick", thick=str(figure(face.units, piece.depth)))
        rungs.append(Rung(at=middle, words=thick, room=face.room))
        if piece.low > SAME:
            rungs.append(
                _rung(
                    face,
                    piece.low,
                    phrase("{height} wood from here", height=_said(face, piece.low)),
                )
            )
    if wood:
        widest = max(wood, key=lambda b: b.each_side)
        box = face.box(widest.each_side, face.low, face.high)
        f = figure(face.units, 2 * widest.each_side)
        span = Span(start=(box[0], box[1]), end=(box[2], box[1]), words=f.words, second=f.second)
        yield from rows([span], box[1] - 6.0, upright=False, outward=-1)
    yield from ladder(_apart(rungs), face.right + LADDER, "right")


def _rung(face: Face, z: float, words: str) -> Rung:
    return Rung(at=(face.right, face.view.at((0.0, z))[1]), words=words, room=face.room)


def _said(face: Face, z: float) -> str:
    """Height on the ladder of a face; the datum is nought."""
    return str(figure(face.units, z)) if abs(z) > SAME else "0"


def _apart(rungs: Iterable[Rung]) -> tuple[Rung, ...]:
    """Each height with the same words once."""
    return tuple({(round(r.at[1], 1), str(r.words)): r for r in rungs}.values())


# ------------------------------------------------------------------------------------------- holes


def dot(face: Face, hole: DrillHole) -> Circle:
    """A hole, as large as its widest bit but never too small to be seen."""
    bit = max((b.diameter for b in hole.bits), default=0.0)
    return Circle(
        centre=face.at(hole.off, hole.above_datum),
        radius=max(LEAST, face.view.length(bit / 2)),
        layer="holes",
        fill="solid",
    )


def holes_at(
    face: Face, holes: Sequence[DrillHole], wall: Wall, usual: float
) -> Iterator[Primitive]:
    """Holes of one wall; those at one height share a figure. `usual`: to a tile's edge, mm."""
    levels: list[list[DrillHole]] = []
    for hole in sorted(holes, key=lambda h: (h.above_datum, face.across(h.off))):
        spot = dot(face, hole)
        if not _beside(face, hole):
            yield spot
        if _first_of_all(hole) and not _beside(face, hole):
            yield Circle(centre=spot.centre, radius=RING, layer="holes", weight="middle")
        if levels and hole.above_datum - levels[-1][-1].above_datum < SAME:
            levels[-1].append(hole)
        else:
            levels.append([hole])
    rungs = [
        _rung(face, 0.0, phrase("{height} datum", height=_said(face, 0.0))),
        *on_the_wall.zone_rungs(face, wall.keep_out),
    ]
    for level in levels:
        z = level[0].above_datum
        x = max(face.across(h.off) for h in level) + RING * face.view.one_to
        height = on_the_wall.length(face, z)
        words = phrase("{holes}: {height}", holes=" ".join(h.id for h in level), height=height)
        words = join(", ", (words, *_far_words(face, level)))
        texts = (words, *_edge_words(face, level, wall, usual))
        x = min(x, face.half)
        rungs.append(on_the_wall.rung(face, (x, z), texts))
    yield from ladder(rungs, face.right + LADDER, "right")


def _beside(face: Face, hole: DrillHole) -> bool:
    """Whether a hole lies off the piece of wall that is drawn, as where a bar meets it."""
    return abs(hole.off) > face.half


def _far_words(face: Face, level: Sequence[DrillHole]) -> Iterator[str]:
    """How far off the glass line the holes are that have no place on the drawing."""
    far = max((h.off for h in level if _beside(face, h)), key=abs, default=None)
    if far is not None:
        yield off_line(on_the_wall.length(face, abs(far)), far)


def _first_of_all(hole: DrillHole) -> bool:
    """Whether a hole is too near to a zone that nobody drills into."""
    return any(flag.startswith("too near") for flag in hole.flags)


def _edge_words(face: Face, level: Sequence[DrillHole], wall: Wall, usual: float) -> Iterator[str]:
    """How near the holes of a level come to the edge of their tiles, where it matters."""
    found = [on_the_wall.to_edge(hole, wall.tiles, usual) for hole in level]
    near = [mm for mm in found if mm is not None]
    if near and min(near) < 0:
        yield "IN A JOINT"
    elif near:
        least = str(figure(face.units, min(near), fine=True)).replace(" ", "\u00a0")
        yield phrase("{least} to tile edge", least=least)
