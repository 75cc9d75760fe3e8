"""The enclosure from above with the room around it: runs, corners, steps, swings, obstacles."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from shapely import MultiPoint, box
from shapely import Point as Place

from hangtrue.fit.enclosure import Enclosure, Joint, Lite, Run
from hangtrue.geometry import Outline, Point
from hangtrue.job.brief import Brief
from hangtrue.job.room import Obstacle
from hangtrue.measure.opening import Opening
from hangtrue.paper.dimensions import LINE_FEED, arrow
from hangtrue.paper.drawings import around, folding, frame
from hangtrue.paper.joint_words import bar_kind, joint_name, range_words
from hangtrue.paper.labels import Label, labelled
from hangtrue.paper.lengths import Units, units_of
from hangtrue.paper.scene import (
    TITLE,
    Hatch,
    Line,
    Path,
    Primitive,
    Sheet,
    Text,
    View,
    scale_for,
)
from hangtrue.paper.words import angle_words, figure, hand_words, units_line

WALL = 6.0
"""Thickness of a wall's cut, mm of paper."""
TALLEST = 195.0
"""Leaves room on a page for cautions, mm."""
MARGIN = 9.0
"""Around everything drawn: the cut of the walls and some words, mm of paper."""
OFF = 7.0
"""From the curb to the dimension line of a run, mm of paper."""
ARC = 7.0
"""Radius of the arc that marks a corner's angle, mm of paper."""
SLANTS = (45.0, 0.0, 90.0, 22.5, 67.5, 112.5)
"""Ways in which walls may be hatched, degrees; the first that crosses all their faces is taken."""
CROSSES = 30.0
"""Hatching crosses a face at no less than this, degrees."""
NEAR = 300.0
"""What stands within this of the enclosure and its swing is drawn with it, mm of the object."""
SHRUNK = 0.5
"""Thick lines of panes end this much short of their edges, so that gaps are seen, mm of paper."""
COLUMN = 87.0
"""Width of a list under the drawing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Floor:
    """What is drawn: the room, the glass line folded, and how it is set on paper."""

    brief: Brief
    opening: Opening
    made: Enclosure
    runs: tuple[Run, ...]
    view: View
    units: Units
    around: tuple[Obstacle, ...]

    @property
    def deep(self) -> float:
        """How far walls reach into the shower where they meet nothing, mm of the object."""
        return _deep(self.around)

    @property
    def half(self) -> float:
        """Half the width of the curb, mm of the object."""
        return float(self.brief.job.threshold.width) / 2

    def run(self, lite: Lite) -> Run:
        """Run that a pane stands in."""
        return self.runs[lite.run - 1]


def room_plan(brief: Brief, opening: Opening, made: Enclosure, clear: float | None = None) -> Sheet:
    """Draw the enclosure and the room from above; `clear` is the way past the open door."""
    units = units_of(brief)
    lists = _lists(made, units)
    deep = max(-t.at[1] for t in lists) + LINE_FEED
    near = nearby(brief, opening, made)
    floor, height = placed(brief, opening, made, near, frame.CAPTION + deep + 2.0)
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
    words = labelled(_labels(floor), drawn, within)
    listed = (_moved(t, foot - LINE_FEED) for t in lists)
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
            *frame.caption(
                (
                    "Seen from above, outside at the bottom",
                    f"scale {floor.view.words}",
                    units_line(units),
                    f"clear past the open door: {figure(units, clear)}" if clear else "",
                )
            ),
        ),
        scale=floor.view.words,
    )


def _moved(text: Text, up: float) -> Text:
    x, y = text.at
    return Text(at=(x, y + up), words=text.words, bold=text.bold)


def _description(brief: Brief, made: Enclosure) -> str:
    swings = {"both": "both ways", "in": "into the shower", "out": "out of the shower"}
    doors = f"; doors swing {swings[brief.job.wanted.swing]}" if made.door else ""
    around_it = ", ".join(item.name for item in brief.job.obstacles)
    there = f" Around it: {around_it}." if around_it else ""
    return f"From above: {made.choice}{doors}.{there}"


def placed(
    brief: Brief,
    opening: Opening,
    made: Enclosure,
    near: tuple[Obstacle, ...],
    below: float,
) -> tuple[Floor, float]:
    """Set all onto the sheet with so much room below; return also the height of the sheet."""
    units = units_of(brief)
    folded = folding.runs(opening, made)
    points = (*_enclosed(brief, opening, made, folded, near), *around.extent(near))
    low = tuple(min(p[i] for p in points) for i in (0, 1))
    high = tuple(max(p[i] for p in points) for i in (0, 1))
    wide, deep = high[0] - low[0], high[1] - low[1]
    room = (frame.WIDTH - 2 * MARGIN, TALLEST - below - 2 * MARGIN)
    one_to = scale_for((wide, deep), room, frame.scales(units))
    x = (frame.WIDTH - wide / one_to) / 2 - low[0] / one_to
    view = View(one_to=one_to, origin=(x, below + MARGIN - low[1] / one_to))
    floor = Floor(
        brief=brief,
        opening=opening,
        made=made,
        runs=folded,
        view=view,
        units=units,
        around=near,
    )
    return floor, below + deep / one_to + 2 * MARGIN


def nearby(brief: Brief, opening: Opening, made: Enclosure) -> tuple[Obstacle, ...]:
    """What stands in the shower, beside it, or where its doors swing."""
    folded = folding.runs(opening, made)
    points = MultiPoint(list(_enclosed(brief, opening, made, folded, ())))
    reach = box(*points.bounds).buffer(NEAR)
    return tuple(
        o for o in brief.job.obstacles if o.y > 0 or reach.contains(Place(float(o.x), float(o.y)))
    )


def _enclosed(
    brief: Brief,
    opening: Opening,
    made: Enclosure,
    folded: tuple[Run, ...],
    near: Iterable[Obstacle],
) -> Iterator[Point]:
    """Points of the enclosure that must be on the sheet, mm of the object."""
    half = float(brief.job.threshold.width) / 2
    for side in folding.edges(folding.line(folded), half):
        yield from side
    for course in folding.walls(opening, folded, _deep(near)):
        yield from course
    for lite in made.lites:
        for way in folding.ways(brief) if lite.hinge_side else ():
            yield from folding.swing(folded[lite.run - 1], lite, way)[:3]


def _deep(near: Iterable[Obstacle]) -> float:
    return max((folding.DEEP, *(o.plan_box[3] for o in near if o.y > 0)))


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
    """Open door and the arc of its free edge; full toward the viewer, dashed into the shower."""
    pivot, shut, opened, bulge = folding.swing(floor.run(lite), lite, way)
    at = floor.view.at
    stroke = "continuous" if way < 0 else "dashed"
    yield folding.swung(at(shut), at(opened), bulge, stroke=stroke)
    yield Line(
        start=at(pivot),
        end=at(opened),
        layer="hidden",
        weight="middle",
        stroke=stroke,  # type: ignore[arg-type]
    )


def _bars(floor: Floor) -> Iterator[Primitive]:
    """Bars above the cut: a dashed line from end to end."""
    for bar in floor.made.bars:
        a, b = (floor.view.at((x, y)) for x, y, _ in bar.ends)
        if math.dist(a, b) > 1.0:
            yield Line(start=a, end=b, layer="hardware", weight="middle", stroke="dashed")


def _dimension(floor: Floor, run: Run) -> Iterator[Primitive]:
    """Dimension line of a run along the glass line, beside the curb."""
    a, b = _beside(floor, run)
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


def _beside(floor: Floor, run: Run) -> tuple[Point, Point]:
    """Ends of a run's dimension line on paper: inside, or outside where doors open inward."""
    off = (floor.half + OFF * floor.view.one_to) * _across(floor, run)
    return floor.view.at(run.plan(run.start, off)), floor.view.at(run.plan(run.end, off))


def _across(floor: Floor, run: Run) -> float:
    """Side of a run that its dimension stands on: +1 inside, -1 outside, where no door swings.

    A straight line has room inside; round a corner dimensions do not cross outside.
    """
    doors = any(lite.hinge_side for lite in floor.made.lites if lite.run == run.number)
    outside = floor.brief.job.wanted.swing == "in" if doors else len(floor.runs) > 1
    return -1.0 if outside else 1.0


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


def _toward(floor: Floor, corner: int) -> Point:
    """Way from a corner into the angle that is written."""
    before, after = floor.runs[corner - 1], floor.runs[corner]
    turn = math.remainder(after.heading - before.heading, math.tau)
    half = before.heading + turn / 2 + math.copysign(math.pi / 2, turn)
    return math.cos(half), math.sin(half)


def _labels(floor: Floor) -> Iterator[Label]:
    """All words of the drawing, the ones with the least choice first."""
    for k in range(1, len(floor.runs)):
        yield _corner_label(floor, k)
    for run in floor.runs:
        yield _run_label(floor, run)
    for lite in floor.made.lites:
        if lite.kind != "transom":
            yield pane_label(floor, lite)
    yield from around.names(floor.around, floor.view)
    for name, outline in folding.footprints(floor.brief, floor.opening, floor.runs):
        yield Label(near=floor.view.at(_middle(outline)), lines=(name,), toward=(1.0, -0.4))
    for bar in floor.made.bars:
        x, y = ((a + b) / 2 for a, b in zip(bar.ends[0][:2], bar.ends[1][:2], strict=True))
        yield Label(near=floor.view.at((x, y)), lines=(f"{bar.id}, above",), toward=(1.0, 0.5))
    yield from _sides(floor)


def _corner_label(floor: Floor, corner: int) -> Label:
    mark, toward = floor.view.at(floor.runs[corner].origin), _toward(floor, corner)
    near = (mark[0] + (ARC + 1.0) * toward[0], mark[1] + (ARC + 1.0) * toward[1])
    known = floor.opening.estimate(floor.opening.angle(corner))
    return Label(near=near, lines=(angle_words(known),), toward=toward)


def _run_label(floor: Floor, run: Run) -> Label:
    """Length of a run along the glass line at the curb, beside its dimension line."""
    a, b = _beside(floor, run)
    length = floor.opening.estimate(
        floor.opening.stop(run.number) - floor.opening.start(run.number)
    )
    known = figure(floor.units, length.value)
    words = [w for w in (known.words, known.second) if w]
    name = f"run {run.number}: " if len(floor.runs) > 1 else ""
    across = run.heading + math.pi / 2 * _across(floor, run)
    return Label(
        near=((a[0] + b[0]) / 2, (a[1] + b[1]) / 2),
        lines=(f"{name}{' '.join(words)}",),
        toward=(math.cos(across), math.sin(across)),
    )


def pane_label(floor: Floor, lite: Lite) -> Label:
    """Name of a pane, on the side of its run that carries no dimension."""
    run = floor.run(lite)
    middle = lite.origin[0] + (lite.corners[0][0] + lite.corners[1][0]) / 2
    doors = any(p.hinge_side for p in floor.made.lites if p.run == lite.run)
    side = -1.0 if doors else -_across(floor, run)
    way = run.heading + side * math.pi / 2
    toward = (math.cos(way), math.sin(way))
    return Label(
        near=floor.view.at(run.plan(middle, side * floor.half)),
        lines=(lite.id,),
        toward=toward,
        bold=True,
    )


def _sides(floor: Floor) -> Iterator[Label]:
    """Name the two sides of the glass."""
    front = max(floor.runs, key=lambda r: -abs(r.heading))
    middle, reach = (front.start + front.end) / 2, floor.half + 12.0 * floor.view.one_to
    for words, off in (("shower", reach), ("outside", -reach)):
        near = floor.view.at(front.plan(middle, off))
        toward = (0.0, math.copysign(1.0, off))
        yield Label(
            near=near,
            lines=(words,),
            toward=toward,
            height=TITLE,
            far=25.0,
            tied=False,
            needed=False,
        )


def _middle(outline: Outline) -> Point:
    xs, ys = zip(*outline, strict=True)
    return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2


def _lists(made: Enclosure, units: Units) -> tuple[Text, ...]:
    """Panes at their foot and gaps of the upright joints, side by side, from 0 down."""
    panes = [_pane_words(lite, units) for lite in made.lites if lite.kind != "transom"]
    bars = [f"{bar.id}, {bar_kind(bar)}: {bar.holds} to {bar.to}" for bar in made.bars]
    gaps = [_gap_words(j, units) for j in made.joints if j.upright and j.gaps]
    return (
        *_column("Panes, width at the foot", [*panes, *bars], 0.0),
        *_column("Gaps, least to greatest along the joint", gaps, frame.WIDTH - COLUMN),
    )


def _column(title: str, lines: Sequence[str], x: float) -> Iterable[Text]:
    y = 0.0
    for i, words in enumerate((title, *lines)):
        set_ = frame.paragraph(words, (x, y), COLUMN, bold=i == 0)
        yield from set_
        y -= LINE_FEED * len(set_)


def _pane_words(lite: Lite, units: Units) -> str:
    hand = f"; {hand_words(lite).split(', ')[1]}" if lite.hinge_side else ""
    return f"{lite.id}: {figure(units, lite.width_bottom)}{hand}"


def _gap_words(joint: Joint, units: Units) -> str:
    return f"{joint_name(joint)}, {joint.kind}: {range_words(joint, units)}"
