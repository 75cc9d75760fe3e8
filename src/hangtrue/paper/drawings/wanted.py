"""What was asked for, where nothing of it goes in: the wished panes, and what clashes."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.fit.enclosure import NoFit
from hangtrue.job.brief import Brief
from hangtrue.measure.opening import Opening
from hangtrue.paper import lettering
from hangtrue.paper.dimensions import FEED, LINE_FEED, Span, rows
from hangtrue.paper.drawings import frame
from hangtrue.paper.language import told
from hangtrue.paper.lengths import Units, decimals, units_of
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
    view_into,
)
from hangtrue.paper.words import figure, unbroken, units_line
from hangtrue.phrase import phrase, reshaped

WALL = 7.0
HIGH = 110.0
"""Height of the sketch, mm of paper."""
FREE = 900.0
"""Width of a wished pane that nothing bounds, mm."""


def wanted(brief: Brief, opening: Opening, why: NoFit) -> Sheet:
    """Sketch what was asked for, with the requirements that cannot all be met."""
    units = units_of(brief)
    texts = _told(why, units)
    foot = frame.CAPTION + 3.0 - texts[-1].at[1] + LINE_FEED
    wide, high = _width(brief, opening), float(brief.job.wanted.height)
    box = (WALL, foot + FEED + 10.0, frame.WIDTH - WALL, foot + FEED + 10.0 + HIGH)
    view = view_into(box, (0.0, 0.0), (wide, high), frame.scales(units))
    low, top = view.at((0.0, 0.0)), view.at((wide, high))
    here = (low[0], low[1], top[0], top[1])
    parts = (
        *_walls(opening, here),
        *_panes(brief, here),
        *rows([_span(here, wide, units)], here[1] - 9.0, upright=False, outward=-1),
        *(Text(at=(t.at[0], foot - 2.0 + t.at[1]), words=t.words, bold=t.bold) for t in texts),
    )
    words = (
        "Seen from outside",
        frame.scale_words(view.words),
        units_line(units),
        "dashed: asked for, not fitted",
        "dash-dot: corners, laid flat" if brief.job.wanted.turns else "",
    )
    return Sheet(
        name="wanted",
        width=frame.WIDTH,
        height=here[3] + 6.0,
        title="What was asked for",
        description=phrase("{choice}. {why}", choice=str(why.choice), why=why.why),
        primitives=(*parts, *frame.caption(words)),
        scale=view.words,
    )


def _told(why: NoFit, units: Units) -> tuple[Text, ...]:
    """Why nothing fits, how much is missing, and the requirements that clash, from 0 down."""
    lines = [
        phrase("Nothing fits: {length} missing", length=_missing(why, units)),
        phrase("Asked for: {choice}", choice=str(why.choice)),
        why.why,
        *(
            phrase("Clashes: {requirement}", requirement=c.requirement)
            for c in why.clashes
            if c.requirement not in why.why
        ),
    ]
    texts: list[Text] = []
    y = 0.0
    for i, line in enumerate(lines):
        words = frame.paragraph(reshaped(line, unbroken), (0.0, y), frame.WIDTH, bold=i == 0)
        texts += words
        y -= LINE_FEED * len(words) + 0.8
    return tuple(texts)


def _missing(why: NoFit, units: Units) -> str:
    """Missing length in decimals, for a tenth of a mm decides and no fraction shows it."""
    first = f"{decimals(why.missing, units.first)} {units.first}"
    other = f" ({decimals(why.missing, units.second)} {units.second})" if units.both else ""
    return f"{first}{other}"


def _width(brief: Brief, opening: Opening) -> float:
    """Narrowest width between the walls at the nodes, or the wished width where an end is free."""
    if opening.walls == ("left", "right"):
        wide = (opening.wall("right", z) - opening.wall("left", z) for z in opening.heights)
        return min(opening.estimate(w).value for w in wide)
    return sum(float(w.width or FREE) for w in brief.job.wanted.lites)


def _span(here: Box, wide: float, units: Units) -> Span:
    f = figure(units, wide)
    return Span(start=(here[0], here[1]), end=(here[2], here[1]), words=f.words, second=f.second)


def _walls(opening: Opening, here: Box) -> Iterable[Primitive]:
    left, low, right, high = here
    yield Line(start=(left, low), end=(right, low), layer="curb", weight="middle")
    for side in opening.walls:
        x, away = (left, -WALL) if side == "left" else (right, WALL)
        outline = ((x, low), (x, high + 4.0), (x + away, high + 4.0), (x + away, low))
        yield Hatch(outline=outline, layer="wall")
        yield Line(start=(x, low), end=(x, high + 4.0), layer="wall", weight="middle")


def _panes(brief: Brief, here: Box) -> Iterable[Primitive]:
    """Wished panes side by side, in equal shares of the sketch, and where the line turns."""
    wished = brief.job.wanted
    share = (here[2] - here[0]) / len(wished.lites)
    for i, (lite, name) in enumerate(zip(wished.lites, wished.pane_ids, strict=True)):
        start = here[0] + i * share
        left, right = start + 1.0, start + share - 1.0
        corners = ((left, here[1] + 1.0), (right, here[1] + 1.0), (right, here[3]), (left, here[3]))
        yield Path(points=corners, layer="hidden", weight="middle", stroke="dashed")
        middle = ((left + right) / 2, (here[1] + here[3]) / 2)
        words = told(name)
        height = TITLE if lettering.width(words, TITLE, bold=True) < share - 4.0 else LETTER
        yield Text(at=middle, words=words, anchor="middle", height=height, bold=True)
        if lite.turn is not None and i:
            yield Line(
                start=(start, here[1]),
                end=(start, here[3] + 3.0),
                layer="centre",
                stroke="long-dash-dot",
            )
