"""The enclosure from above: curb, walls, panes, swing of the door, gaps, and the way in."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from hangtrue.fit.enclosure import Enclosure, Joint, Lite, Run
from hangtrue.job.brief import Brief
from hangtrue.measure.opening import Opening
from hangtrue.paper import lettering
from hangtrue.paper.dimensions import FEED, Rung, Span, ladder, rows
from hangtrue.paper.drawings import folding, frame
from hangtrue.paper.drawings.folding import ends, placed_corners
from hangtrue.paper.joint_words import range_words
from hangtrue.paper.language import told
from hangtrue.paper.lengths import Units, units_of
from hangtrue.paper.scene import (
    LETTER,
    TITLE,
    Box,
    Hatch,
    Line,
    Path,
    Primitive,
    Sheet,
    Text,
    View,
    scale_for,
)
from hangtrue.paper.words import figure
from hangtrue.phrase import phrase

WALL = 7.0
"""Thickness of a wall's cut, mm of paper."""
BEYOND = 150.0
"""How far walls are drawn past the curb, mm of the object."""
LADDER = 10.0
TALLEST = 195.0
"""Leaves room on a page for cautions, mm."""
FIRST = 9.0


def plan_view(brief: Brief, opening: Opening, made: Enclosure, clear: float | None = None) -> Sheet:
    """Draw the enclosure from above; `clear` is the way past the open door as it was checked."""
    units = units_of(brief)
    view, height, bounds = _placed(brief, opening, made, units)
    first = folding.runs(opening, made)[0]
    run = replace(first, origin=(first.start, 0.0))  # in plan as along the line
    parts = (
        *_walls(opening, view, bounds),
        *_curb(brief, view, bounds),
        *(p for lite in made.lites for p in _lite(brief, run, lite, view)),
        *_sides(brief, made, view),
        *_gaps(made, view, bounds, units),
        *_widths(made, view, bounds, units),
    )
    return Sheet(
        name="plan",
        width=frame.WIDTH,
        height=height,
        title="Plan at the foot of the glass",
        description=_description(brief, made),
        primitives=(
            *parts,
            *frame.seen_from_above(view, units, clear),
        ),
        scale=view.words,
    )


def _description(brief: Brief, made: Enclosure) -> str:
    if made.door is None:
        return phrase("From above: {choice}.", choice=str(made.choice))
    swing = {"both": "both ways", "in": "into the shower", "out": "out of the shower"}
    return phrase(
        "From above: {choice}; the door swings {way}.",
        choice=str(made.choice),
        way=swing[brief.job.wanted.swing],
    )


def _placed(
    brief: Brief, opening: Opening, made: Enclosure, units: Units
) -> tuple[View, float, Box]:
    """View, height of the sheet, and what is drawn in mm of the object."""
    left, right = ends(opening, made)
    half = brief.job.threshold.width / 2
    reach = made.door.width_bottom if made.door else 0.0
    swing = brief.job.wanted.swing
    out = max(reach + 60.0 if swing != "in" else 0.0, half + BEYOND)
    into = max(reach + 60.0 if swing != "out" else 0.0, half + BEYOND)
    below, above = frame.CAPTION + FIRST + FEED + 6.0, LADDER + 3.0 + _figures(made, units)
    room = (frame.WIDTH - 2 * WALL - 12.0, TALLEST - below - above)
    one_to = scale_for((right - left, out + into), room, frame.scales(units))
    x = (frame.WIDTH - (right - left) / one_to) / 2
    view = View(one_to=one_to, origin=(x - left / one_to, below + out / one_to))
    return view, below + (out + into) / one_to + above, (left, -out, right, into)


def _figures(made: Enclosure, units: Units) -> float:
    """Room for the figures of the gaps, read from the right."""
    words = (w for j in made.joints if j.upright for w in (_words(j), range_words(j, units)))
    return max((lettering.width(told(w), LETTER) for w in words), default=0.0)


def _walls(opening: Opening, view: View, bounds: Box) -> Iterable[Primitive]:
    left, low, right, high = bounds
    for side in opening.walls:
        x = left if side == "left" else right
        foot, head = view.at((x, low)), view.at((x, high))
        back = foot[0] + (-WALL if side == "left" else WALL)
        yield Hatch(outline=(foot, head, (back, head[1]), (back, foot[1])), layer="wall")
        yield Line(start=foot, end=head, layer="wall", weight="middle")


def _curb(brief: Brief, view: View, bounds: Box) -> Iterable[Primitive]:
    """Edges of the curb, and the glass line along its middle."""
    half = brief.job.threshold.width / 2
    left, _, right, _ = bounds
    for y in (-half, half):
        yield Line(start=view.at((left, y)), end=view.at((right, y)), layer="curb", weight="middle")
    yield Line(
        start=view.at((left, 0.0)),
        end=view.at((right, 0.0)),
        layer="centre",
        stroke="long-dash-dot",
    )


def _lite(brief: Brief, run: Run, lite: Lite, view: View) -> Iterable[Primitive]:
    """Cut through a pane at its foot, and the swing of a door."""
    yield Path(points=view.all(folding.foot(run, lite)), layer="outline", fill="solid")
    for way in folding.ways(brief) if lite.hinge_side else ():
        yield from _swing(run, lite, way, view)


def _swing(run: Run, lite: Lite, way: int, view: View) -> Iterable[Primitive]:
    """Open door and the arc of its free edge; full toward the viewer, dashed into the shower."""
    pivot, shut, opened, bulge = folding.swing(run, lite, way)
    stroke = "continuous" if way < 0 else "dashed"
    yield folding.swung(view.at(shut), view.at(opened), bulge, stroke=stroke)
    yield Line(
        start=view.at(pivot),
        end=view.at(opened),
        layer="hidden",
        weight="middle",
        stroke=stroke,  # type: ignore[arg-type]
    )


def _sides(brief: Brief, made: Enclosure, view: View) -> Iterable[Primitive]:
    """Name the two sides of the glass before the widest pane, where no door's edge sweeps."""
    half = brief.job.threshold.width / 2
    (left, _), (right, _), *_ = placed_corners(max(made.lites, key=lambda p: p.width_bottom))
    x, high = view.at(((left + right) / 2, half))
    low = view.at((0.0, -half))[1]
    yield Text(at=(x, high + 3.5), words=told("shower"), anchor="middle", height=TITLE)
    yield Text(at=(x, low - 3.5 - TITLE), words=told("outside"), anchor="middle", height=TITLE)


def _gaps(made: Enclosure, view: View, bounds: Box, units: Units) -> Iterable[Primitive]:
    """Gap of every upright joint, at its foot, on a ladder above."""
    top = view.at((0.0, bounds[3]))[1]
    rungs = [
        Rung(at=(view.at((x, 0.0))[0], top), words=_words(joint), second=range_words(joint, units))
        for joint in made.joints
        if joint.upright and joint.gaps and (x := _between(made, joint)) is not None
    ]
    yield from ladder(rungs, top + LADDER, "above")


def _words(joint: Joint) -> str:
    return {"open": "open joint"}.get(joint.kind, joint.kind)


def _between(made: Enclosure, joint: Joint) -> float | None:
    """x of the middle of a joint at its foot."""
    gap = joint.gaps[0].predicted.value / 2
    for lite in made.lites:
        (left, _), (right, _), *_ = placed_corners(lite)
        if joint.between[1] == lite.id:
            return left - gap
        if joint.between[0] == lite.id:
            return right + gap
    return None


def _widths(made: Enclosure, view: View, bounds: Box, units: Units) -> Iterable[Primitive]:
    """Width of each pane at its foot, and of the opening."""
    left, low, right, _ = bounds
    foot = view.at((0.0, low))[1]

    def span(a: float, b: float) -> Span:
        f = figure(units, b - a)
        ends_at = ((view.at((a, 0.0))[0], foot), (view.at((b, 0.0))[0], foot))
        return Span(start=ends_at[0], end=ends_at[1], words=f.words, second=f.second)

    panes = [span(c[0][0], c[1][0]) for c in map(placed_corners, made.lites)]
    return rows([*panes, span(left, right)], foot - FIRST + 2.0, upright=False, outward=-1)
