"""The enclosure from above with the room around it: runs, corners, steps, swings, obstacles."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

from hangtrue.fit.enclosure import Enclosure, Lite, Run
from hangtrue.geometry import Outline, Point
from hangtrue.job.brief import Brief
from hangtrue.measure.opening import Opening
from hangtrue.paper.dimensions import LINE_FEED, arrow
from hangtrue.paper.drawings import around, folding, frame
from hangtrue.paper.drawings.floor import Floor, beside, nearby, placed
from hangtrue.paper.drawings.room_words import ARC, labels, lists
from hangtrue.paper.labels import labelled
from hangtrue.paper.lengths import units_of
from hangtrue.paper.scene import (
    Hatch,
    Line,
    Path,
    Primitive,
    Sheet,
    Text,
)
from hangtrue.phrase import join, phrase

WALL = 6.0
"""Thickness of a wall's cut, mm of paper."""
SLANTS = (45.0, 0.0, 90.0, 22.5, 67.5, 112.5)
"""Ways in which walls may be hatched, degrees; the first that crosses all their faces is taken."""
CROSSES = 30.0
"""Hatching crosses a face at no less than this, degrees."""
SHRUNK = 0.5
"""Thick lines of panes end this much short of their edges, so that gaps are seen, mm of paper."""


def room_plan(
    brief: Brief,
    opening: Opening,
    made: Enclosure,
    clear: float | None = None,
    ends: folding.Ends | None = None,
) -> Sheet:
    """Draw the enclosure and the room from above.

    Parameters
    ----------
    clear
        The way past the open door, mm.
    ends
        Where doors would meet something.

    """
    units = units_of(brief)
    listed_words = lists(made, units)
    deep = max(-t.at[1] for t in listed_words) + LINE_FEED
    near = nearby(brief, opening, made)
    floor, height = placed(brief, opening, made, near, frame.CAPTION + deep + 2.0, ends)
    drawn = (
        *walls(floor),
        *curb(floor),
        *steps(floor),
        *panes(floor),
        *_bars(floor),
        *around.in_plan(floor.around, floor.view),
        *(p for run in floor.runs for p in _dimension(floor, run)),
        *(p for k in range(1, len(floor.runs)) for p in _angle(floor, k)),
    )
    foot = frame.CAPTION + deep + 1.6
    within = (0.0, foot, frame.WIDTH, height)
    things = labelled(around.names(floor.around, floor.view), drawn, within)
    taken = (*drawn, *things, *around.covered(floor.around, floor.view))
    words = (*things, *labelled(labels(floor), taken, within))
    listed = (_moved(t, foot - LINE_FEED) for t in listed_words)
    return Sheet(
        name="plan",
        width=frame.WIDTH,
        height=height,
        title="Plan at the foot of the glass",
        description=_description(brief, made),
        primitives=(
            *drawn,
            *words,
            *listed,
            *frame.seen_from_above(floor.view, units, clear),
        ),
        scale=floor.view.words,
    )


def _moved(text: Text, up: float) -> Text:
    x, y = text.at
    return Text(at=(x, y + up), words=text.words, bold=text.bold)


def _description(brief: Brief, made: Enclosure) -> str:
    swings = {"both": "both ways", "in": "into the shower", "out": "out of the shower"}
    choice = str(made.choice)
    seen = phrase("From above: {choice}.", choice=choice)
    if made.door:
        way = swings[brief.job.wanted.swing]
        seen = phrase("From above: {choice}; doors swing {way}.", choice=choice, way=way)
    names = join(", ", (item.name for item in brief.job.obstacles))
    return join(" ", (seen, phrase("Around it: {names}.", names=names))) if names else seen


def walls(floor: Floor) -> Iterator[Primitive]:
    """Face of each wall and its cut, hatched."""
    for course in folding.walls(floor.opening, floor.runs, floor.deep):
        face = floor.view.all(course)
        back = folding.edges(face, WALL)[0]
        outline = (*face, *reversed(back))
        yield Hatch(outline=outline, layer="wall", spacing=1.8, slant_deg=_slant(face))
        yield Path(points=face, closed=False, layer="wall", weight="middle")


def _slant(course: Outline) -> float:
    """Way of the hatching that crosses every face of a wall."""
    ways = [math.degrees(math.atan2(b[1] - a[1], b[0] - a[0])) for a, b in pairwise(course)]

    def off(slant: float) -> float:
        return min(abs((slant - way + 90.0) % 180.0 - 90.0) for way in ways)

    return next((s for s in SLANTS if off(s) >= CROSSES), max(SLANTS, key=off))


def curb(floor: Floor) -> Iterator[Primitive]:
    """Both edges of the curb round its corners, and the glass line along its middle."""
    course = folding.line(floor.runs)
    sides = folding.edges(course, floor.half)
    for side in sides:
        points = floor.view.all(side)
        yield Path(points=points, closed=False, layer="curb", weight="middle")
    for end, name in ((0, "left"), (-1, "right")):
        if name not in floor.opening.walls:
            a, b = (floor.view.at(side[end]) for side in sides)
            yield Line(start=a, end=b, layer="curb", weight="middle")
    yield Path(points=floor.view.all(course), closed=False, layer="centre", stroke="long-dash-dot")


def steps(floor: Floor) -> Iterator[Primitive]:
    """Footprint of each step, hatched."""
    for _, outline in folding.footprints(floor.brief, floor.opening, floor.runs):
        points = floor.view.all(outline)
        yield Hatch(outline=points, layer="curb", slant_deg=135.0, spacing=1.4)
        yield Path(points=points, layer="curb", weight="middle")


def panes(floor: Floor) -> Iterator[Primitive]:
    """Cut through each pane at its foot, and the swing of each door."""
    for lite in floor.made.lites:
        if lite.kind == "transom":
            continue
        outline = floor.view.all(folding.foot(floor.run(lite), lite))
        yield Path(points=outline, layer="outline", fill="solid")
        yield from _thick(outline)
        for way in folding.ways(floor.brief) if lite.hinge_side else ():
            yield from _swing(floor, lite, way)


def _thick(outline: Outline) -> Iterator[Primitive]:
    """Thick line along the middle of a pane, a little short of its edges."""
    a, b, c, d = outline
    start, end = ((a[0] + d[0]) / 2, (a[1] + d[1]) / 2), ((b[0] + c[0]) / 2, (b[1] + c[1]) / 2)
    share = SHRUNK / max(math.dist(start, end), 4 * SHRUNK)
    step = (end[0] - start[0]) * share, (end[1] - start[1]) * share
    yield Line(
        start=(start[0] + step[0], start[1] + step[1]),
        end=(end[0] - step[0], end[1] - step[1]),
        layer="outline",
        weight="thick",
    )


def _swing(floor: Floor, lite: Lite, way: int) -> Iterator[Primitive]:
    """Open door and the arc of its free edge; full toward the viewer, dashed into the shower.

    Dotted, the leaf where it would meet something, and its arc up to there.
    """
    at = floor.view.at
    stroke = "continuous" if way < 0 else "dashed"
    for angle, why in floor.leaves(lite, way):
        pivot, shut, opened, bulge = folding.swing(floor.run(lite), lite, way, angle)
        looks = "dotted" if why == "met" else stroke
        yield folding.swung(at(shut), at(opened), bulge, stroke=looks)
        yield Line(
            start=at(pivot),
            end=at(opened),
            layer="hidden",
            weight="middle",
            stroke=looks,  # type: ignore[arg-type]
        )


def _bars(floor: Floor) -> Iterator[Primitive]:
    """Bars above the cut: a dashed line from end to end."""
    for bar in floor.made.bars:
        a, b = (floor.view.at((x, y)) for x, y, _ in bar.ends)
        if math.dist(a, b) > 1.0:
            yield Line(start=a, end=b, layer="hardware", weight="middle", stroke="dashed")


def _dimension(floor: Floor, run: Run) -> Iterator[Primitive]:
    """Dimension line of a run along the glass line, beside the curb."""
    a, b = beside(floor, run)
    for mark, end in ((run.start, a), (run.end, b)):
        foot = floor.view.at(run.plan(mark))
        yield Line(start=foot, end=_past(foot, end, 1.2), layer="dimension")
    yield Line(start=a, end=b, layer="dimension")
    heading = math.degrees(run.heading)
    yield arrow(a, heading + 180.0)
    yield arrow(b, heading)


def _past(start: Point, end: Point, by: float) -> Point:
    """Point a little past the end of a line."""
    long = math.dist(start, end)
    return tuple(e + (e - s) / long * by for s, e in zip(start, end, strict=True))  # type: ignore[return-value]


def _angle(floor: Floor, corner: int) -> Iterator[Primitive]:
    """Arc between the two runs of a corner, on the side of the angle that is written."""
    before, after = floor.runs[corner - 1], floor.runs[corner]
    mark = floor.view.at(after.origin)
    turn = math.remainder(after.heading - before.heading, math.tau)
    first, last = (after.heading, before.heading + math.pi)
    if turn < 0:
        first, last = last, first
    sweep = (last - first) % math.tau
    ends = tuple((mark[0] + ARC * math.cos(a), mark[1] + ARC * math.sin(a)) for a in (first, last))
    yield Path(points=ends, bulges=(math.tan(sweep / 4), 0.0), closed=False, layer="dimension")
