"""Each corner of the glass line from above, close up: which pane laps, mitres, gap and angle."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from shapely import Polygon, box

from hangtrue.fit.enclosure import Corner, Enclosure, Joint, Lite, Run
from hangtrue.geometry import Outline, Point
from hangtrue.job.brief import Brief
from hangtrue.measure.opening import Opening
from hangtrue.paper.dimensions import LINE_FEED
from hangtrue.paper.drawings import folding, frame
from hangtrue.paper.joint_words import range_words
from hangtrue.paper.labels import Label, labelled
from hangtrue.paper.lengths import Units, units_of
from hangtrue.paper.scene import Box, Hatch, Line, Path, Primitive, Sheet, Text, View
from hangtrue.paper.tables import capital
from hangtrue.paper.words import angle_words, unbroken, units_line
from hangtrue.phrase import join, phrase, reshaped

AROUND = 56.0
"""Half the side of what is shown around a corner, mm of the object."""
ONE_TO = 2.0
CELL = 87.0
"""Width of one corner's words and drawing, mm."""
SEEN = 0.3
"""A pane that stands off its line by less than this is not said to, mm."""
MARK = 2.0


def corners(brief: Brief, opening: Opening, made: Enclosure) -> tuple[Sheet, ...]:
    """Draw every corner on one sheet; nothing where the line is straight."""
    joints = [joint for joint in made.corners if joint.corner]
    if not joints:
        return ()
    units = units_of(brief)
    side = 2 * AROUND / ONE_TO
    words = [_words(opening, made, joint, units) for joint in joints]
    rows = [tuple(zip(joints, words, strict=True))[i : i + 2] for i in range(0, len(joints), 2)]
    deep = [max(LINE_FEED - said[-1].at[1] for _, said in row) + 2.0 for row in rows]
    height = frame.CAPTION + 3.0 + sum(deep) + len(rows) * (side + 5.0)
    parts: list[Primitive] = []
    top = height - 3.5
    for row, high in zip(rows, deep, strict=True):
        for column, (joint, said) in enumerate(row):
            x = column * (frame.WIDTH - CELL)
            parts += (replace(t, at=(x + t.at[0], top + t.at[1])) for t in said)
            low = top - high - side
            parts += _close(made, joint, (x, low, x + CELL, low + side))
        top -= high + side + 5.0
    sheet = Sheet(
        name="corners",
        width=frame.WIDTH,
        height=height,
        title="Corners from above",
        description=join(" ", (_told(opening, made, joint, units)[0] for joint in joints)),
        primitives=(
            *parts,
            *frame.caption(
                (
                    "Seen from above, at the foot of the glass; dash-dot: the middle of the glass",
                    frame.scale_words("1:2"),
                    units_line(units),
                )
            ),
        ),
        scale="1:2",
    )
    return (sheet,)


def _told(opening: Opening, made: Enclosure, joint: Joint, units: Units) -> tuple[str, ...]:
    """Name and angle of a corner, how the panes meet, the gap, and what stands off its line."""
    corner = joint.corner
    if corner is None:
        return ()
    angle = angle_words(opening.estimate(opening.angle(corner.number)))
    one, other = joint.between
    off = [
        phrase("{pane} stands {by} into the shower off its line here", pane=lite.id, by=far)
        if by > 0
        else phrase("{pane} stands {by} out of the shower off its line here", pane=lite.id, by=far)
        for lite, by in (
            (made.lite(one), made.lite(one).shifts[1]),
            (made.lite(other), made.lite(other).shifts[0]),
        )
        if abs(by) >= SEEN
        for far in (units.small(abs(by)),)
    ]
    return (
        phrase("Corner {number}: {angle} inside.", number=corner.number, angle=angle)
        if corner.way == "in"
        else phrase(
            "Corner {number}: {angle} inside, turns outward.", number=corner.number, angle=angle
        ),
        _meeting(corner, one, other),
        phrase(
            "{kind}, gap {range} along the joint",
            kind=capital(joint.kind),
            range=range_words(joint, units),
        ),
        *off,
    )


def _meeting(corner: Corner, one: str, other: str) -> str:
    """Say how two panes meet."""
    match corner.joint:
        case "butt":
            covered = other if corner.laps == one else one
            return phrase(
                "Butt: {pane} runs past and covers the edge of {other}",
                pane=corner.laps,
                other=covered,
            )
        case "mitre":
            half = math.degrees(abs(corner.turn)) / 2
            return phrase(
                "Mitre: {one} and {other} each ground {angle:.1f}° from square",
                one=one,
                other=other,
                angle=half,
            )
        case "clamp":
            return phrase("Clamped: {one} and {other}, edges square", one=one, other=other)
        case "hinge":
            return phrase("Hinged: {one} and {other}, edges square", one=one, other=other)


def _words(opening: Opening, made: Enclosure, joint: Joint, units: Units) -> tuple[Text, ...]:
    """What is said of a corner, in lines from 0 down."""
    told: list[Text] = []
    for i, words in enumerate(_told(opening, made, joint, units)):
        foot = -LINE_FEED * len(told)
        told += frame.paragraph(reshaped(words, unbroken), (0.0, foot), CELL, bold=i == 0)
    return tuple(told)


def _close(made: Enclosure, joint: Joint, cell: Box) -> Iterator[Primitive]:
    """Draw both panes around the corner with their lines and names."""
    corner = joint.corner
    if corner is None:
        return
    before, after = made.runs[corner.number - 1], made.runs[corner.number]
    mark = after.origin
    middle = ((cell[0] + cell[2]) / 2, (cell[1] + cell[3]) / 2)
    view = View(one_to=ONE_TO, origin=(middle[0] - mark[0] / ONE_TO, middle[1] - mark[1] / ONE_TO))
    one, other = made.lite(joint.between[0]), made.lite(joint.between[1])
    panes = ((one, before), (other, after))
    drawn: list[Primitive] = [
        *(p for lite, run in panes for p in _pane(lite, run, mark, view)),
        *_lines(before, after, mark, view),
    ]
    side = (middle[0] - AROUND / ONE_TO, middle[1] - AROUND / ONE_TO)
    within = (cell[0], side[1], cell[2], middle[1] + AROUND / ONE_TO)
    yield from drawn
    yield from labelled(_names(panes, mark, view), drawn, within)


def _pane(lite: Lite, run: Run, mark: Point, view: View) -> Iterator[Primitive]:
    """Cut through a pane near the corner, hatched; the far end is left open."""
    window = box(mark[0] - AROUND, mark[1] - AROUND, mark[0] + AROUND, mark[1] + AROUND)
    shape = Polygon(folding.foot(run, lite)).intersection(window)
    if not isinstance(shape, Polygon) or shape.is_empty:
        return
    points: Outline = tuple(view.at((x, y)) for x, y in shape.exterior.coords[:-1])
    yield Hatch(outline=points, layer="outline", spacing=1.2, slant_deg=_slant(run))
    yield Path(points=points, layer="outline", weight="middle")


def _slant(run: Run) -> float:
    """Hatching slants with its run, so that two panes are told apart."""
    return (math.degrees(run.heading) + 45.0) % 180.0


def _lines(before: Run, after: Run, mark: Point, view: View) -> Iterator[Primitive]:
    """Middle of the glass of both runs, meeting in the plumb mark."""
    for run, way in ((before, math.pi), (after, 0.0)):
        angle = run.heading + way
        reach = 0.96 * AROUND / max(abs(math.cos(angle)), abs(math.sin(angle)))
        end = (mark[0] + reach * math.cos(angle), mark[1] + reach * math.sin(angle))
        yield Line(start=view.at(mark), end=view.at(end), layer="centre", stroke="long-dash-dot")
    yield frame.ring(view.at(mark), MARK / 2, "dimension")


def _names(panes: Sequence[tuple[Lite, Run]], mark: Point, view: View) -> Iterator[Label]:
    """Name of each pane beside it, outside; inside and outside of the shower."""
    for (lite, run), way in zip(panes, (math.pi, 0.0), strict=True):
        angle = run.heading + way
        near = (
            mark[0] + 0.7 * AROUND * math.cos(angle) + lite.thickness * math.sin(run.heading),
            mark[1] + 0.7 * AROUND * math.sin(angle) - lite.thickness * math.cos(run.heading),
        )
        toward = (math.sin(run.heading), -math.cos(run.heading))
        yield Label(near=view.at(near), lines=(lite.id,), toward=toward, bold=True)
    half = (panes[0][1].heading + panes[1][1].heading) / 2 + math.pi / 2
    for words, sign in (("shower", 1.0), ("outside", -1.0)):
        way_out = (sign * math.cos(half), sign * math.sin(half))
        near = (mark[0] + 0.5 * AROUND * way_out[0], mark[1] + 0.5 * AROUND * way_out[1])
        yield Label(
            near=view.at(near), lines=(words,), toward=way_out, tied=False, needed=False, far=14.0
        )
