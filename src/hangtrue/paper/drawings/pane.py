"""One pane as the plant cuts it: figures from one datum corner, and a file at 1:1."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from hangtrue.fit.enclosure import Enclosure, Lite, Notch
from hangtrue.geometry import Point
from hangtrue.job.brief import Brief
from hangtrue.paper import lettering
from hangtrue.paper.cut import cut_outs, cut_path, in_level_edge, step_corners
from hangtrue.paper.dimensions import FEED, Rung, Span, ladder, rows
from hangtrue.paper.drawings import frame
from hangtrue.paper.drawings.pane_details import details, notes, stamp_corner
from hangtrue.paper.labels import Label, labelled
from hangtrue.paper.language import told
from hangtrue.paper.lengths import Units, units_of
from hangtrue.paper.scene import (
    LETTER,
    Box,
    Circle,
    Line,
    Path,
    Primitive,
    Sheet,
    Text,
    View,
    scale_for,
)
from hangtrue.paper.tables import capital
from hangtrue.paper.words import SQUARE, exact, hand_words, rake_words, units_line
from hangtrue.phrase import join, phrase

NOTES = 58.0
"""Width of the column of notes, mm."""
LADDER = 8.0
"""From the glass to the figures of a ladder."""
FIRST = 9.0
"""From the glass to the nearest dimension line."""
WORDS = 5.5
"""Room for a line of words on either side of a dimension line."""
LABEL = 8.0
"""Height of the labels of cut-outs in a cut file, mm of glass."""
CORNER = 8.0
"""Kept free for the safety mark, mm of paper."""
CLEAR = 1.5
STAMP = 4.0
"""Drawn width of the safety mark, mm of paper."""
LEAST_HEIGHT = 190.0
TALLEST = 218.0
"""Leaves room on a page for a caution, mm."""
ZERO = 0.05
"""Offsets under this are not drawn, mm."""


Ends = tuple[Point, Point]


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A pane set on its sheet: the view, the glass's box on paper, and x of the left dimension."""

    view: View
    glass: Box
    left: float
    height: float


def pane(brief: Brief, made: Enclosure, lite: Lite) -> Sheet:
    """Draw one pane with everything a plant needs to cut it."""
    units = units_of(brief)
    placed, beside = _beside(brief, made, lite, _placed(lite, units))
    drawn = (
        *_glass(lite, placed.view),
        *_places(lite, placed, units),
        *_sizes(lite, placed, units),
        *_rakes(lite, placed, units),
        *_steps(lite, placed.view),
        *beside,
    )
    parts = (
        *drawn,
        *labelled(_radii(lite, placed.view, units), drawn, placed.glass),
        *frame.caption(
            (
                "Seen from outside",
                frame.scale_words(placed.view.words),
                units_line(units),
                "places are from the corner with the triangles",
            )
        ),
    )
    return Sheet(
        name=f"pane-{lite.id.replace(' ', '-')}",
        width=frame.WIDTH,
        height=placed.height,
        title=phrase(
            "{pane}, version {version}", pane=capital(lite.id), version=brief.job.job.version
        ),
        description=_description(lite, units),
        primitives=parts,
        scale=placed.view.words,
    )


def _beside(
    brief: Brief, made: Enclosure, lite: Lite, placed: Placed
) -> tuple[Placed, tuple[Primitive, ...]]:
    """Notes and details in the column; the sheet grows where they need more height."""
    left, low = frame.WIDTH - NOTES, frame.CAPTION + 2.0
    for _ in range(2):
        written, lowest = notes(brief, made, lite, (left, low, frame.WIDTH, placed.height))
        drawn, foot = details(brief, lite, (left, low, frame.WIDTH, lowest))
        if foot >= low - 0.1:
            break
        placed = _raised(placed, low - foot)
    return placed, (*written, *drawn)


def _raised(placed: Placed, by: float) -> Placed:
    """Make the sheet higher, the pane in the middle of it."""
    x, y = placed.view.origin
    left, low, right, high = placed.glass
    return replace(
        placed,
        view=replace(placed.view, origin=(x, y + by / 2)),
        glass=(left, low + by / 2, right, high + by / 2),
        height=placed.height + by,
    )


def cut_file(brief: Brief, lite: Lite) -> Sheet:
    """Return the pane at 1:1 for the plant's machine: edge, holes and a label, and no dimension."""
    head = brief.job.job
    corners, bulges = cut_path(lite)
    label = (
        f"{head.id}  {lite.id}  version {head.version}",
        f"{lite.thickness:g} mm  seen from outside",
        hand_words(lite),
        f"width {lite.width_bottom:.1f} bottom, {lite.width_top:.1f} top",
        f"height {lite.height_left:.1f} left, {lite.height_right:.1f} right",
        *(f"{e.where} edge mitred {math.degrees(e.bevel):.1f} deg" for e in lite.edges if e.bevel),
    )
    size = min(20.0, (lite.centroid[0]) / 12)
    middle = lite.centroid
    return Sheet(
        name=f"cut-{lite.id.replace(' ', '-')}",
        width=max(p[0] for p in lite.corners),
        height=max(p[1] for p in lite.corners),
        title=label[0],
        description=_description(lite, units_of(brief)),
        primitives=(
            Path(points=corners, bulges=bulges, layer="outline", weight="thick"),
            *(Circle(centre=h.centre, radius=h.diameter / 2, layer="holes") for h in lite.holes),
            *(_cut_label(lite, notch) for notch in cut_outs(lite)),
            *(
                Text(
                    at=(middle[0], middle[1] - 1.8 * i * size),
                    words=words,
                    anchor="middle",
                    height=size,
                )
                for i, words in enumerate(label)
            ),
        ),
        scale="1:1",
    )


def _cut_label(lite: Lite, notch: Notch) -> Text:
    """Name a cut-out inside the glass beside it, without a second line to cut along."""
    x, y = _middle(notch)
    right = x > lite.centroid[0]
    deep = max(abs(p[0] - x) for p in notch.corners) + LABEL
    return Text(
        at=(x - deep if right else x + deep, y - LABEL / 2),
        words=f"{notch.fitting} R {notch.radius:g}",
        anchor="end" if right else "start",
        height=LABEL,
        layer="cutouts",
    )


def _description(lite: Lite, units: Units) -> str:
    """Say the drawing to somebody who cannot see it."""
    return phrase(
        "{hand}: width {bottom} at the bottom and {top} at the top, height {left} at the left and "
        "{right} at the right; {rakes}.",
        hand=capital(hand_words(lite)),
        bottom=units.size(lite.width_bottom),
        top=units.size(lite.width_top),
        left=units.size(lite.height_left),
        right=units.size(lite.height_right),
        rakes=join(", ", (rake_words(edge, units) for edge in lite.edges)),
    )


def _placed(lite: Lite, units: Units) -> Placed:
    """Set the pane beside the column of notes, as large as the usual scales allow."""
    wide, tall = (max(p[i] for p in lite.corners) for i in (0, 1))
    sides = _sides(lite)
    left, right = _left(lite, units), FIRST + WORDS + 2.0 + _more(sides[1])
    beyond = _more(sides[0])
    below, above = (_deep_rows(len(spans)) for spans in (_low(lite), _high(lite)))
    room = (
        frame.WIDTH - NOTES - left - beyond - WORDS - right,
        TALLEST - frame.CAPTION - below - above,
    )
    one_to = scale_for((wide, tall), room, frame.scales(units))
    high = tall / one_to
    height = max(frame.CAPTION + below + high + above, LEAST_HEIGHT)
    x = left + beyond + WORDS + (room[0] - wide / one_to) / 2
    y = frame.CAPTION + below + (height - frame.CAPTION - below - above - high) / 2
    return Placed(
        view=View(one_to=one_to, origin=(x, y)),
        glass=(x, y, x + wide / one_to, y + high),
        left=x - left,
        height=height,
    )


def _left(lite: Lite, units: Units) -> float:
    """From the glass to the dimension of its left height, beyond the figures of the ladder."""
    figures = [lettering.width(str(exact(units, p[1])), LETTER) for p in _marks(lite)]
    return LADDER + 1.0 + max(figures) + WORDS if figures else FIRST


def _more(spans: Sequence[Ends]) -> float:
    """Room that dimensions of one side take beyond the first row, at most."""
    return (len(spans) - 1) * FEED


def _deep_rows(spans: int) -> float:
    """Room for that many rows of dimensions."""
    return FIRST + (spans - 1) * FEED + WORDS


def _glass(lite: Lite, view: View) -> Iterable[Primitive]:
    corners, bulges = cut_path(lite)
    yield Path(points=view.all(corners), bulges=bulges, layer="outline", weight="thick")
    for hole in lite.holes:
        yield Circle(
            centre=view.at(hole.centre),
            radius=view.length(hole.diameter / 2),
            layer="holes",
            weight="middle",
        )
        yield from frame.cross(view.at(hole.centre), view.length(hole.diameter / 2) + 1.2)
    yield from frame.datum_mark(view.at((0.0, 0.0)))
    yield _stamp(lite, view)


def _steps(lite: Lite, view: View) -> Iterable[Primitive]:
    """Dashed, what is taken out of the blank where the foot steps."""
    for step in lite.steps:
        yield Path(points=view.all(step.corners), layer="hidden", stroke="dashed")


def _radii(lite: Lite, view: View, units: Units) -> Iterable[Label]:
    """Radius of each inside corner of a step, in the glass beside it."""
    for (x, y), step in step_corners(lite):
        xs = [p[0] for p in step.corners]
        way = -1.0 if x < (min(xs) + max(xs)) / 2 else 1.0
        yield Label(
            near=view.at((x, y)), lines=(f"R {exact(units, step.radius)}",), toward=(way, 1.0)
        )


def _stamp(lite: Lite, view: View) -> Primitive:
    """Place of the safety mark, in the corner that the notes name."""
    corner = stamp_corner(lite)
    right, top = corner.endswith("right"), corner.startswith("top")
    x, y = view.at(lite.corners[(2 if top else 1) if right else (3 if top else 0)])
    left = x - STAMP - 2.0 if right else x + 2.0
    low = y - 4.0 if top else y + 2.0
    return frame.oblong((left, low, left + STAMP, low + 2.0), "hidden")


def _marks(lite: Lite) -> tuple[Point, ...]:
    """Places dimensioned upward from the datum: holes, and cut-outs in upright edges."""
    upright = (n for n in cut_outs(lite) if not in_level_edge(lite, n))
    return (*map(_middle, upright), *(h.centre for h in lite.holes))


def _middle(notch: Notch) -> Point:
    """Middle of a cut-out in the edge."""
    xs, ys = zip(*notch.corners, strict=True)
    return ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)


def _places(lite: Lite, placed: Placed, units: Units) -> Iterable[Primitive]:
    """Heights of all cut-outs and holes above the datum, on a ladder beside the left edge."""
    view, edge = placed.view, placed.glass[0]
    heights = {round(y, 6): view.at((x, y))[1] for x, y in _marks(lite)}
    rungs = [Rung(at=(edge, y), words=str(exact(units, true))) for true, y in heights.items()]
    yield from ladder(rungs, edge - LADDER, "left")
    nearest = [(h.centre[0] - h.diameter / 2, h.centre[1]) for h in lite.holes]
    upright = (n for n in cut_outs(lite) if not in_level_edge(lite, n))
    nearest += [(min(p[0] for p in n.corners), _middle(n)[1]) for n in upright]
    for x, y in map(view.at, nearest):
        if x > edge + FIRST:
            yield Line(start=(edge, y), end=(x - 1.5, y), layer="centre", stroke="long-dash-dot")


def _rakes(lite: Lite, placed: Placed, units: Units) -> Iterable[Primitive]:
    """Say along each raked upright edge how it leans, between the lines to holes and cut-outs."""
    glass, view = placed.glass, placed.view
    steps = sorted({view.at(p)[1] for p in _marks(lite)} | {glass[1] + CORNER, glass[3] - CLEAR})
    low, high = max(pairwise(steps), key=lambda gap: gap[1] - gap[0])
    for edge in lite.edges:
        side = edge.where
        by = str(exact(units, abs(edge.rake)))
        right = edge.rake > 0
        words = told(
            phrase("leans right {by}", by=by) if right else phrase("leans left {by}", by=by)
        )
        long = lettering.width(words, LETTER)
        if abs(edge.rake) < SQUARE or side not in ("left", "right") or long > high - low - 6.0:
            continue
        i = 0 if side == "left" else 1
        inner = (max if i == 0 else min)(lite.corners[i][0], lite.corners[3 - i][0])
        x = view.at((inner, 0.0))[0] + (LETTER + CLEAR if i == 0 else -CLEAR - 1.0)
        yield Text(at=(x, (low + high) / 2), words=words, anchor="middle", upward=True)


def _low(lite: Lite) -> tuple[Ends, ...]:
    """Level lengths below: holes, cut-outs and the left corner from the datum, the width."""
    bl, br, *_ = lite.corners
    level = (_middle(n) for n in cut_outs(lite) if in_level_edge(lite, n))
    steps = (p for p, _ in step_corners(lite))
    xs = sorted({round(x, 6) for x, _ in (*level, *steps, *(h.centre for h in lite.holes), bl)})
    return (*(((0.0, 0.0), (x, 0.0)) for x in xs if x > ZERO), ((bl[0], 0.0), (br[0], 0.0)))


def _high(lite: Lite) -> tuple[Ends, ...]:
    """Level lengths dimensioned above: the top left corner from the datum, the width."""
    *_, tr, tl = lite.corners
    offset = (((0.0, tl[1]), tl),) if tl[0] > ZERO else ()
    return (*offset, (tl, (tr[0], tl[1])))


def _sides(lite: Lite) -> tuple[tuple[Ends, ...], tuple[Ends, ...]]:
    """Upright lengths: each lower corner from the datum where it is not on it, and both heights."""
    bl, br, tr, tl = lite.corners
    left = (((0.0, 0.0), (0.0, bl[1])),) if bl[1] > ZERO else ()
    right = (((br[0], 0.0), br),) if br[1] > ZERO else ()
    for (_, y), step in step_corners(lite):
        if max(x for x, _ in step.corners) > br[0] - ZERO:
            right = (*right, ((br[0], 0.0), (br[0], y)))
        else:
            left = (*left, ((0.0, 0.0), (0.0, y)))
    return (
        (*left, ((0.0, bl[1]), (0.0, tl[1]))),
        (*right, (br, (br[0], tr[1]))),
    )


def _sizes(lite: Lite, placed: Placed, units: Units) -> tuple[Primitive, ...]:
    """Both widths and both heights, and how far each corner lies from the datum's axes."""
    glass = placed.glass

    def spans(ends: Iterable[Ends]) -> list[Span]:
        figures = ((a, b, exact(units, max(b[0] - a[0], b[1] - a[1]))) for a, b in ends)
        at = placed.view.at
        return [Span(start=at(a), end=at(b), words=f.words, second=f.second) for a, b, f in figures]

    left, right = _sides(lite)
    return (
        *rows(spans(_low(lite)), glass[1] - FIRST, upright=False, outward=-1),
        *rows(spans(_high(lite)), glass[3] + FIRST, upright=False, outward=1),
        *rows(spans(left), placed.left, upright=True, outward=-1),
        *rows(spans(right), glass[2] + FIRST, upright=True, outward=1),
    )
