"""The enclosure seen from outside: panes, hinges, channels, handle, and heights."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.fit.enclosure import Enclosure, Joint, Lite
from hangtrue.geometry import at_height
from hangtrue.job.brief import Brief
from hangtrue.job.hardware import Channel, Clamp, Hinge
from hangtrue.job.readings import Side
from hangtrue.measure.opening import Opening
from hangtrue.paper import lettering
from hangtrue.paper.cut import cut_path
from hangtrue.paper.dimensions import FEED, Rung, Span, ladder, rows
from hangtrue.paper.drawings import frame
from hangtrue.paper.drawings.key_plan import placed_corners
from hangtrue.paper.lengths import Units, units_of
from hangtrue.paper.scene import (
    LETTER,
    TITLE,
    Box,
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

WALL = 7.0
"""Thickness of a wall's cut, mm of paper."""
LADDER = 9.0
TALLEST = 195.0
"""Leaves room on a page for cautions, mm."""
FIRST = 9.0
ABOVE = 120.0
"""How far walls are drawn past the top of the glass, mm of the object."""


def elevation(brief: Brief, opening: Opening, made: Enclosure) -> Sheet:
    """Draw all panes where they stand, seen from outside."""
    units = units_of(brief)
    view, height, bounds = _placed(brief, opening, made, units)
    parts = (
        *_walls(opening, view, bounds),
        *_curb(brief, opening, view, bounds),
        *(p for lite in made.lites for p in _lite(brief, lite, view)),
        *(p for joint in made.joints for p in _hardware(brief, made, joint, view)),
        *_widths(made, view, bounds, units),
        *_heights(brief, opening, made, view, bounds, units),
    )
    return Sheet(
        name="elevation",
        width=frame.WIDTH,
        height=height,
        title="Elevation, seen from outside",
        description=f"{len(made.lites)} panes seen from outside: {made.choice}.",
        primitives=(
            *parts,
            *frame.caption(
                (
                    "Seen from outside",
                    f"scale {view.words}",
                    units_line(units),
                    _triangle_words(brief, made),
                )
            ),
        ),
        scale=view.words,
    )


def _triangle_words(brief: Brief, made: Enclosure) -> str:
    if made.door is None:
        return ""
    opens = {"out": "opens out (full line)", "in": "opens in (dashed)", "both": "opens both ways"}
    return f"door {opens[brief.job.wanted.swing]}"


def ends(opening: Opening, made: Enclosure) -> tuple[float, float]:
    """x of the two ends of the glass line at the datum: wall faces, or the glass at a free end."""
    corners = [p for lite in made.lites for p in placed_corners(lite)]
    glass = (min(p[0] for p in corners), max(p[0] for p in corners))
    return tuple(  # type: ignore[return-value]
        face(opening, side, 0.0) if side in opening.walls else glass[i]
        for i, side in enumerate(("left", "right"))
    )


def face(opening: Opening, side: Side, z: float) -> float:
    """x of a wall's face at a height."""
    return opening.estimate(opening.wall(side, z)).value


def curb_at(opening: Opening, share: float) -> float:
    """Height of the curb at a share of the way from its left end to its right end."""
    left, right = (
        opening.estimate(opening.entry(f"curb {side}")).value
        if opening.knows(f"curb {side}")
        else 0.0
        for side in ("left", "right")
    )
    return left + share * (right - left)


def _placed(
    brief: Brief, opening: Opening, made: Enclosure, units: Units
) -> tuple[View, float, Box]:
    """View, height of the sheet, and the box of walls and panes in mm of the object."""
    job = brief.job
    left, right = ends(opening, made)
    low = -job.threshold.height - 30.0
    high = job.wanted.height + ABOVE
    margin = (WALL + 3.0, WALL + LADDER + 3.0 + _ladder_width(units))
    below, above = FIRST + FEED * len(made.lites[:1]) + 8.0 + frame.CAPTION, 3.0
    room = (frame.WIDTH - margin[0] - margin[1], TALLEST - below - above)
    one_to = scale_for((right - left, high - low), room, frame.scales(units))
    spare = room[0] - (right - left) / one_to
    x = margin[0] + spare / 2
    view = View(one_to=one_to, origin=(x - left / one_to, below - low / one_to))
    return view, below + (high - low) / one_to + above, (left, low, right, high)


def _ladder_width(units: Units) -> float:
    longest = figure(units, 2032.0 - 3.2)
    return lettering.width(f"{longest} hinge centre", LETTER)


def _walls(opening: Opening, view: View, bounds: Box) -> Iterable[Primitive]:
    """Faces of the walls as they are, and their cut."""
    _, low, _, high = bounds
    for side in opening.walls:
        heights = (low, *(z for z in opening.heights if low < z < high), high)
        line = [view.at((face(opening, side, z), z)) for z in heights]
        back = line[0][0] + (-WALL if side == "left" else WALL)
        outline = (*line, (back, line[-1][1]), (back, line[0][1]))
        yield Hatch(outline=outline, layer="wall")
        yield Path(points=tuple(line), closed=False, layer="wall", weight="middle")


def _curb(brief: Brief, opening: Opening, view: View, bounds: Box) -> Iterable[Primitive]:
    """Top of the curb with its fall, its front, and the floor before it."""
    left, _, right, _ = bounds
    tops = ((left, curb_at(opening, 0.0)), (right, curb_at(opening, 1.0)))
    floor = -brief.job.threshold.height
    yield Path(points=view.all(tops), closed=False, layer="curb", weight="middle")
    yield Line(
        start=view.at((left, floor)), end=view.at((right, floor)), layer="curb", weight="middle"
    )
    for x in (left, right):
        side = "left" if x == left else "right"
        if side not in opening.walls:
            yield Line(
                start=view.at((x, floor)), end=view.at((x, tops[0][1])), layer="curb", weight="thin"
            )


def _lite(brief: Brief, lite: Lite, view: View) -> Iterable[Primitive]:
    """Outline, holes, name, and the triangle that shows hinges and swing of a door."""
    corners, bulges = cut_path(lite)
    set_in = View(one_to=view.one_to, origin=view.at(lite.origin))
    yield Path(points=set_in.all(corners), bulges=bulges, layer="outline", weight="thick")
    for hole in lite.holes:
        yield Circle(
            centre=set_in.at(hole.centre), radius=set_in.length(hole.diameter / 2), layer="holes"
        )
    yield from _handle(lite, set_in)
    yield from _triangle(brief, lite, set_in)
    middle = set_in.at((lite.centroid[0], lite.corners[3][1] / 2))
    yield Text(at=middle, words=lite.id, anchor="middle", height=TITLE, bold=True)


def _handle(lite: Lite, view: View) -> Iterable[Primitive]:
    """Bar from the lowest to the highest hole of a handle."""
    holes = sorted(
        (view.at(h.centre) for h in lite.holes if "handle" in h.fitting), key=lambda p: p[1]
    )
    if len(holes) > 1:
        (x, low), *_, (_, high) = holes
        yield frame.oblong((x - 0.7, low - 1.0, x + 0.7, high + 1.0), "hardware", weight="middle")


def _triangle(brief: Brief, lite: Lite, view: View) -> Iterable[Primitive]:
    """Lines that meet at the hinges: full where it opens toward the viewer, dashed where away."""
    if lite.hinge_side is None:
        return
    bl, br, tr, tl = (view.at(p) for p in lite.corners)
    far, near = ((br, tr), (bl, tl)) if lite.hinge_side == "left" else ((bl, tl), (br, tr))
    tip = ((near[0][0] + near[1][0]) / 2, (near[0][1] + near[1][1]) / 2)
    stroke = {"out": "continuous", "in": "dashed", "both": "long-dash-dot"}[brief.job.wanted.swing]
    for corner in far:
        yield Line(start=corner, end=tip, layer="hidden", stroke=stroke)  # type: ignore[arg-type]


def _hardware(brief: Brief, made: Enclosure, joint: Joint, view: View) -> Iterable[Primitive]:
    """Hinge plates, clamps and channels of a joint at their true size."""
    item = brief.items.get(joint.hardware)
    lite = next((p for p in made.lites if p.id in joint.between), None)
    if lite is None:
        return
    match item:
        case Hinge():
            door = made.door or lite
            for z in hinge_heights(joint, door):
                yield _hinge(door, item, z, view)
        case Clamp() if joint.upright:
            side = "left" if joint.between[1] == lite.id else "right"
            for z in (g.at for g in joint.gaps if g.at_fitting):
                yield _plate(lite, z, item.plate_height, item.plate_height, view, side)
        case Channel():
            yield _channel(lite, joint, item, view)


def _hinge(door: Lite, item: Hinge, z: float, view: View) -> Primitive:
    """Plates of one hinge: on the door, and where it hangs on glass on the other pane as well."""
    side = door.hinge_side or "left"
    x, inward = _edge(door, side, z), 1.0 if side == "left" else -1.0
    other = item.plate_width if item.mount == "glass" else 0.0
    half = item.plate_height / 2
    a, b = (
        view.at((x - inward * other, z - half)),
        view.at((x + inward * item.plate_width, z + half)),
    )
    box = (min(a[0], b[0]), a[1], max(a[0], b[0]), b[1])
    return frame.oblong(box, "hardware", weight="middle")


def hinge_heights(joint: Joint, door: Lite) -> tuple[float, ...]:
    """Heights above the datum of a door's hinge centres."""
    if door.hinge_heights:
        return tuple(door.origin[1] + y for y in door.hinge_heights)
    return tuple(sorted({g.at for g in joint.gaps if g.at_fitting}))


def _edge(lite: Lite, side: str, z: float) -> float:
    bl, br, tr, tl = placed_corners(lite)
    return at_height(bl, tl, z) if side == "left" else at_height(br, tr, z)


def _plate(lite: Lite, z: float, wide: float, tall: float, view: View, side: str) -> Primitive:
    """Plate of a hinge or a clamp over the edge of a pane."""
    x, inward = _edge(lite, side, z), 1.0 if side == "left" else -1.0
    a, b = view.at((x, z - tall / 2)), view.at((x + inward * wide, z + tall / 2))
    return frame.oblong((min(a[0], b[0]), a[1], max(a[0], b[0]), b[1]), "hardware", weight="middle")


def _channel(lite: Lite, joint: Joint, item: Channel, view: View) -> Primitive:
    """Front lip of a channel along the wall or the curb that the pane stands in."""
    bl, br, tr, tl = placed_corners(lite)
    reach = item.base + item.depth
    if not joint.upright:
        foot = min(bl[1], br[1]) - min(g.predicted.value for g in joint.gaps) - item.base
        a, b = view.at((bl[0], foot)), view.at((br[0], foot + reach))
        return frame.oblong((*a, *b), "hardware")
    left = joint.between[1] == lite.id
    low, high = (bl, tl) if left else (br, tr)
    away = -1.0 if left else 1.0
    gap_low, gap_high = joint.gaps[0].predicted.value, joint.gaps[-1].predicted.value
    outer = ((low[0] + away * gap_low, low[1]), (high[0] + away * gap_high, high[1]))
    inner = tuple((x - away * reach, z) for x, z in reversed(outer))
    return Path(points=view.all((*outer, *inner)), layer="hardware")


def _widths(made: Enclosure, view: View, bounds: Box, units: Units) -> Iterable[Primitive]:
    """Width of each pane at its bottom, and of the opening below them."""
    left, low, right, _ = bounds
    foot = view.at((0.0, low))[1]

    def span(a: float, b: float) -> Span:
        f = figure(units, b - a)
        return Span(
            start=(view.at((a, 0.0))[0], foot),
            end=(view.at((b, 0.0))[0], foot),
            words=f.words,
            second=f.second,
        )

    panes = [span(c[0][0], c[1][0]) for c in map(placed_corners, made.lites)]
    whole = [span(left, right)] if right - left > panes[-1].end[0] - panes[0].start[0] else []
    return rows([*panes, *whole], foot - FIRST + 3.0, upright=False, outward=-1)


def _heights(
    brief: Brief, opening: Opening, made: Enclosure, view: View, bounds: Box, units: Units
) -> Iterable[Primitive]:
    """Heights above the datum on a ladder, the level top line, and the datum's sign."""
    left, _, right, _ = bounds
    edge = view.at((right, 0.0))[0] + (WALL if "right" in opening.walls else 0.0)
    rungs = [
        Rung(at=(edge, view.at((0.0, z))[1]), words=f"{figure(units, z) if z else 0} {what}")
        for z, what in _named_heights(brief, made)
    ]
    yield from ladder(rungs, edge + LADDER, "right")
    top = view.at((left, brief.job.wanted.height))
    yield Line(
        start=(top[0] + 1.0, top[1]),
        end=(view.at((right, 0.0))[0], top[1]),
        layer="centre",
        stroke="long-dash-dot",
    )


def _named_heights(brief: Brief, made: Enclosure) -> Iterable[tuple[float, str]]:
    job = brief.job
    if job.threshold.height:
        yield -float(job.threshold.height), "floor"
    yield 0.0, "datum"
    yield float(job.wanted.height), "top line"
    door = made.door
    if door is None:
        return
    for joint in made.joints:
        if joint.kind == "hinge":
            yield from ((z, "hinge centre") for z in hinge_heights(joint, door))
    handles = [door.origin[1] + h.centre[1] for h in door.holes if "handle" in h.fitting]
    if handles:
        yield (min(handles) + max(handles)) / 2, "handle centre"
