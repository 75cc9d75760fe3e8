"""A plan on its sheet: what is drawn of the room, and how it is set on paper."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from shapely import MultiPoint, box
from shapely import Point as Place

from hangtrue.fit.enclosure import Enclosure, Lite, Run
from hangtrue.geometry import Point
from hangtrue.job.brief import Brief
from hangtrue.job.room import Obstacle
from hangtrue.measure.opening import Opening
from hangtrue.paper.drawings import around, folding, frame
from hangtrue.paper.lengths import Units, units_of
from hangtrue.paper.scene import View, scale_for

MARGIN = 9.0
"""Around everything drawn: the cut of the walls and some words, mm of paper."""
NEAR = 300.0
"""What stands within this of the enclosure and its swing is drawn with it, mm of the object."""
OFF = 7.0
"""From the curb to the dimension line of a run, mm of paper."""
TALLEST = 195.0
"""Leaves room on a page for cautions, mm."""


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
    ends: folding.Ends

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

    def leaves(self, lite: Lite, way: int) -> Iterator[tuple[float, folding.Leaf]]:
        """Openings at which a door is drawn on one side of the glass, rad, and why there."""
        return folding.leaves(self.brief, self.made, lite, self.ends.get((lite.id, way)))


def placed(
    brief: Brief,
    opening: Opening,
    made: Enclosure,
    near: tuple[Obstacle, ...],
    below: float,
    ends: folding.Ends | None = None,
) -> tuple[Floor, float]:
    """Set all onto the sheet with so much room below; return also the height of the sheet.

    `ends` is where doors would meet something.
    """
    units = units_of(brief)
    folded = folding.runs(opening, made)
    points = (
        *_enclosed(brief, opening, made, folded, near),
        *_swept(brief, made, folded, ends or {}),
        *around.extent(near),
    )
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
        ends=ends or {},
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


def _swept(
    brief: Brief, made: Enclosure, folded: tuple[Run, ...], ends: folding.Ends
) -> Iterator[Point]:
    """Free edges of the doors wherever they are drawn."""
    for lite in made.lites:
        for way in folding.ways(brief) if lite.hinge_side else ():
            for angle, _ in folding.leaves(brief, made, lite, ends.get((lite.id, way))):
                yield folding.swing(folded[lite.run - 1], lite, way, angle)[2]


def _deep(near: Iterable[Obstacle]) -> float:
    return max((folding.DEEP, *(o.plan_box[3] for o in near if o.y > 0)))


def across_side(floor: Floor, run: Run) -> float:
    """Side of a run that its dimension stands on: +1 inside, -1 outside, where no door swings.

    A straight line has room inside; round a corner dimensions do not cross outside.
    """
    doors = any(lite.hinge_side for lite in floor.made.lites if lite.run == run.number)
    outside = floor.brief.job.wanted.swing == "in" if doors else len(floor.runs) > 1
    return -1.0 if outside else 1.0


def beside(floor: Floor, run: Run) -> tuple[Point, Point]:
    """Ends of a run's dimension line on paper: inside, or outside where doors open inward."""
    off = (floor.half + OFF * floor.view.one_to) * across_side(floor, run)
    return floor.view.at(run.plan(run.start, off)), floor.view.at(run.plan(run.end, off))
