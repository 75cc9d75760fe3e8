"""What is written on a plan and under it: names, lengths, angles; panes and gaps."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

from hangtrue.fit.enclosure import Enclosure, Joint, Lite, Run
from hangtrue.geometry import Outline, Point
from hangtrue.paper.dimensions import LINE_FEED
from hangtrue.paper.drawings import folding, frame
from hangtrue.paper.drawings.floor import Floor, across_side, beside
from hangtrue.paper.joint_words import bar_kind, joint_name, range_words
from hangtrue.paper.labels import Label
from hangtrue.paper.lengths import Units
from hangtrue.paper.scene import TITLE, Text
from hangtrue.paper.words import angle_words, figure
from hangtrue.phrase import as_typed, join, phrase

ARC = 7.0
"""Radius of the arc that marks a corner's angle, mm of paper."""
COLUMN = 87.0
"""Width of a list under the drawing."""


def _toward(floor: Floor, corner: int) -> Point:
    """Way from a corner into the angle that is written."""
    before, after = floor.runs[corner - 1], floor.runs[corner]
    turn = math.remainder(after.heading - before.heading, math.tau)
    half = before.heading + turn / 2 + math.copysign(math.pi / 2, turn)
    return math.cos(half), math.sin(half)


def labels(floor: Floor) -> Iterator[Label]:
    """All words of the drawing but the names of things, those with the least choice first."""
    for k in range(1, len(floor.runs)):
        yield _corner_label(floor, k)
    for run in floor.runs:
        yield _run_label(floor, run)
    for lite in floor.made.lites:
        if lite.kind != "transom":
            yield pane_label(floor, lite)
        yield from _leaf_labels(floor, lite)
    for name, outline in folding.footprints(floor.brief, floor.opening, floor.runs):
        yield Label(
            near=floor.view.at(_middle(outline)), lines=(as_typed(name),), toward=(1.0, -0.4)
        )
    for bar in floor.made.bars:
        x, y = ((a + b) / 2 for a, b in zip(bar.ends[0][:2], bar.ends[1][:2], strict=True))
        yield Label(
            near=floor.view.at((x, y)),
            lines=(phrase("{bar}, above", bar=bar.id),),
            toward=(1.0, 0.5),
        )
    yield from _sides(floor)


def _corner_label(floor: Floor, corner: int) -> Label:
    mark, toward = floor.view.at(floor.runs[corner].origin), _toward(floor, corner)
    near = (mark[0] + (ARC + 1.0) * toward[0], mark[1] + (ARC + 1.0) * toward[1])
    known = floor.opening.estimate(floor.opening.angle(corner))
    return Label(near=near, lines=(angle_words(known),), toward=toward)


def _run_label(floor: Floor, run: Run) -> Label:
    """Length of a run along the glass line at the curb, beside its dimension line."""
    a, b = beside(floor, run)
    length = floor.opening.estimate(
        floor.opening.stop(run.number) - floor.opening.start(run.number)
    )
    known = figure(floor.units, length.value)
    words = [w for w in (known.words, known.second) if w]
    long = join(" ", words)
    named = phrase("run {number}: {length}", number=run.number, length=long)
    across = run.heading + math.pi / 2 * across_side(floor, run)
    return Label(
        near=((a[0] + b[0]) / 2, (a[1] + b[1]) / 2),
        lines=(named if len(floor.runs) > 1 else long,),
        toward=(math.cos(across), math.sin(across)),
    )


def pane_label(floor: Floor, lite: Lite) -> Label:
    """Name of a pane, on the side of its run that carries no dimension."""
    run = floor.run(lite)
    middle = lite.origin[0] + (lite.corners[0][0] + lite.corners[1][0]) / 2
    doors = any(p.hinge_side for p in floor.made.lites if p.run == lite.run)
    side = -1.0 if doors else -across_side(floor, run)
    way = run.heading + side * math.pi / 2
    toward = (math.cos(way), math.sin(way))
    return Label(
        near=floor.view.at(run.plan(middle, side * floor.half)),
        lines=(lite.id,),
        toward=toward,
        bold=True,
    )


def _leaf_labels(floor: Floor, lite: Lite) -> Iterator[Label]:
    """Say at which opening a door is held by its stop, and where it would meet something."""
    for way in folding.ways(floor.brief) if lite.hinge_side else ():
        for angle, why in floor.leaves(lite, way):
            pivot, _, opened, _ = folding.swing(floor.run(lite), lite, way, angle)
            degrees = f"{math.degrees(angle):.0f}"
            words = {
                "open": "",
                "stop": phrase("stop at {angle}°", angle=degrees),
                "met": phrase("would meet at {angle}°", angle=degrees),
            }[why]
            if words:
                toward = (opened[0] - pivot[0], opened[1] - pivot[1])
                yield Label(near=floor.view.at(opened), lines=(words,), toward=toward)


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


def lists(made: Enclosure, units: Units) -> tuple[Text, ...]:
    """Panes at their foot and gaps of the upright joints, side by side, from 0 down."""
    panes = [_pane_words(lite, units) for lite in made.lites if lite.kind != "transom"]
    bars = [
        phrase(
            "{bar}, {kind}: {one} to {other}",
            bar=bar.id,
            kind=bar_kind(bar),
            one=bar.holds,
            other=bar.to,
        )
        for bar in made.bars
    ]
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
    wide = str(figure(units, lite.width_bottom))
    if not lite.hinge_side:
        return phrase("{pane}: {width}", pane=lite.id, width=wide)
    hinges = phrase("hinges {side} on {on}", side=lite.hinge_side, on=f"the {lite.hung_on}")
    return phrase("{pane}: {width}; {hinges}", pane=lite.id, width=wide, hinges=hinges)


def _gap_words(joint: Joint, units: Units) -> str:
    return phrase(
        "{joint}, {kind}: {range}",
        joint=joint_name(joint),
        kind=joint.kind,
        range=range_words(joint, units),
    )
