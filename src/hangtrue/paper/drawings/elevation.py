"""The enclosure seen from outside: panes, what they stand on and meet, hardware, and heights."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from hangtrue.fit.enclosure import Enclosure, Lite
from hangtrue.job.brief import Brief
from hangtrue.measure.opening import Opening
from hangtrue.paper import lettering
from hangtrue.paper.cut import cut_path
from hangtrue.paper.dimensions import FEED, Rung, Span, ladder, rows
from hangtrue.paper.drawings import frame
from hangtrue.paper.drawings.elevation_hardware import hardware, hinge_heights
from hangtrue.paper.drawings.elevation_room import (
    WALL,
    above,
    behind,
    below,
    corner_marks,
    named,
    upward_names,
    walls,
)
from hangtrue.paper.drawings.folding import placed_corners
from hangtrue.paper.drawings.reach import Reach, ceiling_at, meets_ceiling, reach
from hangtrue.paper.labels import labelled
from hangtrue.paper.language import told
from hangtrue.paper.lengths import Units, units_of
from hangtrue.paper.scene import (
    LETTER,
    Box,
    Circle,
    Dimension,
    Line,
    Path,
    Primitive,
    Sheet,
    View,
    scale_for,
)
from hangtrue.paper.words import figure, units_line
from hangtrue.phrase import as_typed, many, phrase

LADDER = 9.0
TALLEST = 195.0
"""Leaves room on a page for cautions, mm."""
FIRST = 9.0
SAME = 0.5
"""Heights nearer than this are one, mm of the object."""


def elevations(brief: Brief, opening: Opening, made: Enclosure) -> tuple[Sheet, ...]:
    """Draw the whole line laid flat, and where it turns each run as it is seen from outside it."""
    each = [elevation(brief, opening, made, run.number) for run in made.runs]
    whole = elevation(brief, opening, made)
    return (whole, *each) if len(each) > 1 else (whole,)


def elevation(brief: Brief, opening: Opening, made: Enclosure, run: int = 0) -> Sheet:
    """Draw the panes of a run (from 1) where they stand, seen from outside; 0 draws all."""
    units = units_of(brief)
    part = reach(brief, opening, made, run)
    view, height = _placed(part, units, _widest(brief, opening, made, part, units))
    drawn = (
        *walls(opening, part, view),
        *below(brief, opening, part, view),
        *above(brief, opening, part, view),
        *(p for lite in part.lites for p in _lite(brief, lite, view)),
        *hardware(brief, made, part, view),
        *_widths(part, view, units),
        *_heights(brief, opening, made, part, view, units),
        *corner_marks(part, view, height),
        *upward_names(part, view),
        *behind(brief, part, view),
    )
    words = labelled(named(brief, opening, made, part, view), drawn, _free(part, view, height))
    return Sheet(
        name=f"elevation-run-{run}" if run else "elevation",
        width=frame.WIDTH,
        height=height,
        title=_title(part),
        description=many(
            len(part.lites),
            "{n} pane seen from outside: {choice}.",
            "{n} panes seen from outside: {choice}.",
            choice=str(made.choice),
        ),
        primitives=(*drawn, *words, *frame.caption(_caption(brief, part, view, units))),
        scale=view.words,
    )


def _title(part: Reach) -> str:
    if part.number:
        return phrase("Elevation of run {run}, seen from outside it", run=part.number)
    if len(part.runs) > 1:
        return "Elevation, all runs laid flat, seen from outside"
    return "Elevation, seen from outside"


def _caption(brief: Brief, part: Reach, view: View, units: Units) -> tuple[str, ...]:
    opens = {
        "out": "door opens out (full line)",
        "in": "door opens in (dashed)",
        "both": "door opens both ways",
    }
    doors = any(lite.hinge_side for lite in part.lites)
    laid = "All runs laid flat, each seen from outside"
    seen = (
        phrase("Run {run}, seen from outside it", run=part.number)
        if part.number
        else "Seen from outside"
    )
    return (
        laid if part.whole and len(part.runs) > 1 else seen,
        frame.scale_words(view.words),
        units_line(units),
        opens[brief.job.wanted.swing] if doors else "",
    )


def _free(part: Reach, view: View, height: float) -> Box:
    """Where names of what is around may stand: above the floor, beside the walls as well."""
    return (0.0, view.at((0.0, part.low))[1], frame.WIDTH, height)


def _placed(part: Reach, units: Units, widest: float) -> tuple[View, float]:
    """View and height of the sheet; `widest` are the longest words beside it, mm of paper."""
    wide, high = part.right - part.left, part.high - part.low
    beside = WALL + LADDER + 3.0
    margin = (WALL + 3.0, beside + min(widest, _ladder_width(units)))
    over = 3.0 if not part.marks else 8.0
    view, under, one_to = View(one_to=1.0), 0.0, 1.0
    for lines in (1, 1, 2, 2, 3, 3, 4, 4):
        under = FIRST + FEED * lines + 8.0 + frame.CAPTION
        room = (frame.WIDTH - margin[0] - margin[1], TALLEST - under - over)
        one_to = scale_for((wide, high), room, frame.scales(units))
        spare = room[0] - wide / one_to
        more = beside + widest - margin[1]
        if spare < more:
            margin = (margin[0], beside + widest)
            continue
        x = margin[0] + min(spare / 2, spare - more) - part.left / one_to
        view = View(one_to=one_to, origin=(x, under - part.low / one_to))
        if _rows(part, view, units) <= lines + 1:
            break
    return view, under + high / one_to + over


def _rows(part: Reach, view: View, units: Units) -> int:
    """Rows that the widths take."""
    return len({round(d.line, 3) for d in _widths(part, view, units)})


def _ladder_width(units: Units) -> float:
    longest = str(figure(units, 2032.0 - 3.2))
    words = told(phrase("{height} {what}", height=longest, what="hinge centre"))
    return lettering.width(words, LETTER)


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


def _widths(part: Reach, view: View, units: Units) -> tuple[Dimension, ...]:
    """Width of each pane at its bottom, and below them of each run or of the opening."""
    foot = view.at((0.0, part.low))[1]

    def span(a: float, b: float) -> Span:
        f = figure(units, b - a)
        return Span(
            start=(view.at((a, 0.0))[0], foot),
            end=(view.at((b, 0.0))[0], foot),
            words=f.words,
            second=f.second,
        )

    standing = [lite for lite in part.lites if lite.kind != "transom"]
    panes = [span(c[0][0], c[1][0]) for c in map(placed_corners, standing)]
    if len(part.runs) > 1:
        whole = [s for s in (span(run.start, run.end) for run in part.shown) if _centred(s)]
        panes = panes if all(map(_centred, panes)) else []
    else:
        beyond = part.right - part.left > view.one_to * (panes[-1].end[0] - panes[0].start[0])
        whole = [span(part.left, part.right)] if beyond else []
    return rows([*panes, *whole], foot - FIRST + 3.0, upright=False, outward=-1)


def _centred(span: Span) -> bool:
    """Whether the figure has room between the ends of its length."""
    wide = max(lettering.width(words, LETTER) for words in (span.words, span.second))
    return span.end[0] - span.start[0] > wide + 1.0


def _heights(
    brief: Brief,
    opening: Opening,
    made: Enclosure,
    part: Reach,
    view: View,
    units: Units,
) -> Iterable[Primitive]:
    """Heights above the datum on a ladder, the level top line, and the datum's sign."""
    edge = view.at((part.right, 0.0))[0] + (WALL if "right" in part.walls else 0.0)
    named = _distinct(_named_heights(brief, opening, made, part))
    rungs = [
        Rung(
            at=(edge, view.at((0.0, z))[1]),
            words=_height_words(z, what, units),
        )
        for z, what in named
    ]
    yield from ladder(rungs, edge + LADDER, "right")
    if not _level(brief):
        return
    top = view.at((part.left, brief.job.wanted.height))
    yield Line(
        start=(top[0] + 1.0, top[1]),
        end=(view.at((part.right, 0.0))[0] - 1.0, top[1]),
        layer="centre",
        stroke="long-dash-dot",
    )


def _height_words(z: float, what: str, units: Units) -> str:
    return phrase("{height} {what}", height=str(figure(units, z)) if z else "0", what=what)


def _widest(brief: Brief, opening: Opening, made: Enclosure, part: Reach, units: Units) -> float:
    """Width of the longest words on the ladder of heights, mm of paper."""
    named = _named_heights(brief, opening, made, part)
    words = (told(_height_words(z, what, units)) for z, what in named)
    return max(lettering.width(w, LETTER) for w in words)


def _level(brief: Brief) -> bool:
    """Whether any pane ends on the one level line."""
    return any(lite.head == "level" for lite in brief.job.wanted.lites)


def _distinct(named: Iterable[tuple[float, str]]) -> Iterator[tuple[float, str]]:
    """Each height of a kind once, however many panes have it."""
    seen: list[tuple[float, str]] = []
    for z, what in named:
        if not any(what == other and abs(z - at) < SAME for at, other in seen):
            seen.append((z, what))
            yield z, what


def _named_heights(
    brief: Brief, opening: Opening, made: Enclosure, part: Reach
) -> Iterator[tuple[float, str]]:
    job = brief.job
    if job.threshold.height:
        yield -float(job.threshold.height), "floor"
    yield 0.0, "datum"
    for step in opening.standing:
        if part.number in (0, step.run):
            yield opening.estimate(step.top_left).value, as_typed(step.name)
    if _level(brief):
        yield float(job.wanted.height), "top line"
    if job.wanted.transom_at and any(lite.kind == "transom" for lite in part.lites):
        yield float(job.wanted.transom_at), "door top"
    if meets_ceiling(brief, opening):
        left, right = (ceiling_at(opening, x) for x in (part.left, part.right))
        same = abs(left - right) < SAME
        yield left, job.above.kind if same else phrase("{what}, left", what=job.above.kind)
        if not same:
            yield right, phrase("{what}, right", what=job.above.kind)
    for door in (lite for lite in part.lites if lite.kind == "door"):
        yield from _door_heights(made, door)


def _door_heights(made: Enclosure, door: Lite) -> Iterator[tuple[float, str]]:
    for joint in made.joints:
        if joint.kind == "hinge" and door.id in joint.between:
            yield from ((z, "hinge centre") for z in hinge_heights(joint, door))
    handles = [door.origin[1] + h.centre[1] for h in door.holes if "handle" in h.fitting]
    if handles:
        yield (min(handles) + max(handles)) / 2, "handle centre"
