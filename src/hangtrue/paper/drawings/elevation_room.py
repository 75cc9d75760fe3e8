"""What an elevation shows beside the glass: walls, steps, ceiling, corners, what is around."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial
from itertools import pairwise

from hangtrue.fit.enclosure import Enclosure, Lite, Run
from hangtrue.geometry import Point
from hangtrue.job.brief import Brief
from hangtrue.job.room import Obstacle
from hangtrue.measure.opening import Opening
from hangtrue.paper import lettering
from hangtrue.paper.drawings import frame
from hangtrue.paper.drawings.elevation_hardware import BAR
from hangtrue.paper.drawings.folding import face
from hangtrue.paper.drawings.reach import Reach, ceiling_at, meets_ceiling
from hangtrue.paper.joint_words import bar_kind
from hangtrue.paper.labels import Label
from hangtrue.paper.language import told
from hangtrue.paper.scene import LETTER, TITLE, Box, Hatch, Line, Path, Primitive, Text, View
from hangtrue.phrase import as_typed, phrase, reshaped

WALL = 7.0
"""Thickness of a wall's cut, mm of paper."""
NEAR = 900.0
"""What stands farther from the glass than this is left to the plan, mm of the object."""
UPWARD = 5.5
"""A pane at least this wide on paper has room for words that run upward, mm."""
SIGN = 1.2
"""Half the drawn size of what has none of its own, mm of paper."""


def walls(opening: Opening, part: Reach, view: View) -> Iterator[Primitive]:
    """Faces of the walls as they are, and their cut."""
    for side in part.walls:
        heights = (part.low, *(z for z in opening.heights if part.low < z < part.high), part.high)
        line = [view.at((face(opening, side, z), z)) for z in heights]
        back = line[0][0] + (-WALL if side == "left" else WALL)
        outline = (*line, (back, line[-1][1]), (back, line[0][1]))
        yield Hatch(outline=outline, layer="wall")
        yield Path(points=tuple(line), closed=False, layer="wall", weight="middle")


def below(brief: Brief, opening: Opening, part: Reach, view: View) -> Iterator[Primitive]:
    """Top of what the glass stands on with its steps, its front, and the floor before it."""
    tops = ground(opening, part)
    floor = -brief.job.threshold.height
    yield Path(points=view.all(tops), closed=False, layer="curb", weight="middle")
    yield Line(
        start=view.at((part.left, floor)),
        end=view.at((part.right, floor)),
        layer="curb",
        weight="middle",
    )
    for x, side, top in ((part.left, "left", tops[0][1]), (part.right, "right", tops[-1][1])):
        if side not in part.walls:
            yield Line(start=view.at((x, floor)), end=view.at((x, top)), layer="curb")


def ground(opening: Opening, part: Reach) -> tuple[Point, ...]:
    """Course of what the glass stands on, from left to right, risers upright."""
    value = opening.estimate
    places: list[Point] = []
    for segment in opening.base(part.left, part.right):
        places.append((value(segment.left).value, value(segment.left_height).value))
        places.append((value(segment.right).value, value(segment.right_height).value))
    places[0] = (part.left, places[0][1])
    places[-1] = (part.right, places[-1][1])
    return tuple(dict.fromkeys(places))


def above(brief: Brief, opening: Opening, part: Reach, view: View) -> Iterator[Primitive]:
    """Ceiling or soffit that the glass meets, with its slope, and its cut."""
    if not meets_ceiling(brief, opening):
        return
    places = (part.left, *(x for x, _ in part.marks if part.left < x < part.right), part.right)
    line = view.all((x, ceiling_at(opening, x)) for x in places)
    top = view.at((0.0, part.high))[1]
    yield Hatch(outline=(*line, (line[-1][0], top), (line[0][0], top)), layer="wall", spacing=1.8)
    yield Path(points=line, closed=False, layer="wall", weight="middle")


def corner_marks(part: Reach, view: View, height: float) -> Iterator[Primitive]:
    """Plumb line of each corner, with its number over it."""
    if len(part.runs) == 1:
        return
    room = min((b - a for (a, _), (b, _) in pairwise(part.marks)), default=math.inf)
    long = lettering.width(told(phrase("corner {number}", number=1)), LETTER) + 1.5
    for x, number in part.marks:
        foot, top = view.at((x, part.low)), view.at((x, part.high))
        yield Line(start=foot, end=top, layer="centre", stroke="long-dash-dot")
        y = min(top[1] + 1.5, height - 3.5)
        named = phrase("corner {number}", number=number)
        words = told(named) if view.length(room) > long else str(number)
        yield Text(at=(top[0], y), words=words, anchor="middle")


def behind(brief: Brief, part: Reach, view: View) -> Iterator[Primitive]:
    """Dashed outline of what stands close before the glass or behind it."""
    for _, _, box in shown(brief, part, view):
        yield frame.oblong(box, "hidden", stroke="dashed")


def named(
    brief: Brief, opening: Opening, made: Enclosure, part: Reach, view: View
) -> Iterator[Label]:
    """Names of panes, bars and steps, and of what is drawn dashed with the side it is on."""
    for lite in part.lites:
        tilts = lite.kind == "transom" and brief.job.wanted.transom == "tilting"
        if not narrow(lite, view):
            name = phrase("{pane}, tilting", pane=lite.id) if tilts else lite.id
            yield _pane(lite, name, view)
    for bar in made.bars:
        if bar.holds in {p.id for p in part.lites}:
            run = part.runs[made.lite(bar.holds).run - 1]
            x, y, z = bar.ends[0]
            near = view.at((run.across((x, y))[0], z - BAR))
            words = phrase("{bar}, {kind}", bar=bar.id, kind=bar_kind(bar))
            yield Label(near=near, lines=(words,), toward=(0.0, -1.0))
    for item, side, box in shown(brief, part, view):
        middle = ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)
        words = phrase("{name}, {side}", name=as_typed(item.name), side=side)
        around = ((box[2] - box[0]) / 2, (box[3] - box[1]) / 2)
        yield Label(near=middle, lines=(words,), inside=True, around=around)
    floor = -float(brief.job.threshold.height)
    for step in opening.standing:
        if part.number in (0, step.run):
            ends = [opening.estimate(x).value for x in (step.left, step.right)]
            low = max(min(ends), part.left), min(max(ends), part.right)
            high = opening.estimate(step.top_left).value
            near = view.at(((low[0] + low[1]) / 2, (floor + high) / 2))
            yield Label(
                near=near, lines=(as_typed(step.name),), inside=True, far=12.0, needed=False
            )


def narrow(lite: Lite, view: View) -> bool:
    """Whether a pane is too narrow on paper for the longest word of its name, but not upward."""
    words = told(lite.id).split(" ")
    longest = max(lettering.width(word, LETTER, bold=True) for word in words)
    wide = view.length(min(lite.width_bottom, lite.width_top))
    return UPWARD < wide < longest + 3.0


def upward_names(part: Reach, view: View) -> Iterator[Text]:
    """Names of narrow panes, turned upward in their middle."""
    for lite in part.lites:
        if narrow(lite, view):
            x, z = _middle(lite, view)
            yield Text(
                at=(x + LETTER / 2, z),
                words=told(lite.id),
                anchor="middle",
                bold=True,
                upward=True,
            )


def _middle(lite: Lite, view: View) -> Point:
    x, z = view.at(lite.origin)
    return (x + view.length(lite.centroid[0]), z + view.length(lite.corners[3][1] / 2))


def _pane(lite: Lite, name: str, view: View) -> Label:
    """Name of a pane about its middle, smaller where the pane is narrow."""
    middle, words = _middle(lite, view), told(name)
    room = view.length(min(lite.width_bottom, lite.width_top)) - 3.0
    height = TITLE if lettering.width(words, TITLE, bold=True) < room else LETTER
    tight = lettering.width(words, height, bold=True) > room
    near = (middle[0], middle[1] + height / 2)
    count = len(words.split(" "))
    lines = tuple(reshaped(name, partial(_word, n)) for n in range(count)) if tight else (name,)
    return Label(near=near, lines=lines, inside=True, bold=True, height=height)


def _word(number: int, words: str) -> str:
    """One of the words of a text."""
    return words.split(" ")[number]


def shown(brief: Brief, part: Reach, view: View) -> Iterator[tuple[Obstacle, str, Box]]:
    """What is near the glass of a run, which side of it, and its box on paper."""
    for run in part.shown if len(part.shown) == 1 else ():
        for item in brief.job.obstacles:
            found = _seen(brief, item, run, part)
            if found:
                side, (left, low, right, high) = found
                a, b = view.at((left, low)), view.at((right, high))
                yield item, side, _at_least((*a, *b))


def _at_least(box: Box) -> Box:
    """Box on paper that is large enough to be seen."""
    left, low, right, high = box
    x, y = (left + right) / 2, (low + high) / 2
    return (min(left, x - SIGN), min(low, y - SIGN), max(right, x + SIGN), max(high, y + SIGN))


def _seen(brief: Brief, item: Obstacle, run: Run, part: Reach) -> tuple[str, Box] | None:
    """Side and box of an obstacle as seen square to a run; None where it is far or beside it."""
    left, low, right, high = item.plan_box
    corners = [run.across((x, y)) for x in (left, right) for y in (low, high)]
    xs, offs = zip(*corners, strict=True)
    side = "behind" if sum(offs) > 0 else "before"
    near = min(abs(o) for o in offs) if min(offs) * max(offs) > 0 else 0.0
    start, end = max(min(xs), run.start, part.left), min(max(xs), run.end, part.right)
    if near > NEAR or end < start or (end == start and max(xs) > min(xs)):
        return None
    floor = -float(brief.job.threshold.height)
    bottom = floor if item.bottom is None else float(item.bottom)
    top = min(float(item.top), part.high)
    return (side, (start, bottom, end, top)) if top > bottom else None
