"""Holes in what is level: in curb and caps as seen from above, in a ceiling from below."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from hangtrue.fit.enclosure import Enclosure
from hangtrue.hang.records import DrillHole, DrillPlan
from hangtrue.hang.work import is_upright
from hangtrue.job.brief import Brief
from hangtrue.measure.opening import Opening
from hangtrue.paper import lettering
from hangtrue.paper.dimensions import Rung, ladder
from hangtrue.paper.drawings import frame
from hangtrue.paper.drawings.reach import reach
from hangtrue.paper.language import told
from hangtrue.paper.lengths import Units, units_of
from hangtrue.paper.scene import LETTER, Circle, Line, Primitive, Sheet, Text, View, scale_for
from hangtrue.paper.tables import capital
from hangtrue.paper.words import figure, units_line
from hangtrue.phrase import many, phrase

HIGH = 62.0
"""Room that the surface is set into, mm of paper."""
FIGURES = 11.0
"""From the glass line to where the figures begin, mm of paper."""
MIDDLE = 17.0
"""Height on paper of the glass line, mm."""
HEAD = 6.0
"""For the name of the surface, mm of paper."""
LEAST = 0.6


def drilled_levels(
    brief: Brief, opening: Opening, made: Enclosure, drilling: DrillPlan
) -> tuple[Sheet, ...]:
    """Draw every level surface that is drilled, the glass line from left to right."""
    level = [name for name in drilling.surfaces if not is_upright(name)]
    return tuple(_sheet(brief, opening, made, name, drilling.on(name)) for name in level)


def _sheet(
    brief: Brief, opening: Opening, made: Enclosure, surface: str, holes: Sequence[DrillHole]
) -> Sheet:
    units = units_of(brief)
    part = reach(brief, opening, made)
    half = float(brief.job.threshold.width) / 2
    room = (frame.WIDTH - 12.0, HIGH - MIDDLE)
    one_to = scale_for((part.right - part.left, half), room, frame.scales(units))
    view = View(one_to=one_to, origin=(6.0 - part.left / one_to, MIDDLE))
    longest = max(lettering.width(_words(h, units), LETTER) for h in holes)
    below = surface == "ceiling"
    high = MIDDLE + FIGURES + longest + 3.0 + HEAD
    name = frame.heading(capital(surface), (view.at((part.left, 0.0))[0], high - 4.0))
    drawn = (
        *_surface(part.left, part.right, half, view, below=below),
        *_holes(holes, view, units, below=below),
    )
    seen = (
        "Seen from below, outside at the top" if below else "Seen from above, outside at the bottom"
    )
    words = (seen, frame.scale_words(view.words), units_line(units))
    return Sheet(
        name=f"drilling-{surface.replace(' ', '-')}",
        width=frame.WIDTH,
        height=high,
        title=phrase("Holes in the {surface}, from below", surface=surface)
        if below
        else phrase("Holes in the {surface}, from above", surface=surface),
        description=many(
            len(holes), "{n} hole along the glass line.", "{n} holes along the glass line."
        ),
        primitives=(name, *drawn, *frame.caption((*words, "from the left end of the glass line"))),
        scale=view.words,
    )


def _surface(
    left: float, right: float, half: float, view: View, *, below: bool
) -> Iterator[Primitive]:
    a, b = view.at((left, -half)), view.at((right, half))
    yield frame.oblong((*a, *b), "curb", weight="middle")
    yield Line(
        start=view.at((left, 0.0)),
        end=view.at((right, 0.0)),
        layer="centre",
        stroke="long-dash-dot",
    )
    yield Text(at=(a[0], a[1] - 4.0), words=told("shower" if below else "outside"))


def _holes(
    holes: Sequence[DrillHole], view: View, units: Units, *, below: bool
) -> Iterator[Primitive]:
    rungs = []
    for hole in holes:
        at = view.at((hole.along, -hole.off if below else hole.off))
        bit = max((b.diameter for b in hole.bits), default=0.0)
        radius = max(LEAST, view.length(bit / 2))
        yield Circle(centre=at, radius=radius, layer="holes", fill="solid")
        rungs.append(Rung(at=(at[0], at[1] + radius), words=_words(hole, units)))
    yield from ladder(rungs, view.at((0.0, 0.0))[1] + FIGURES, "above")


def _words(hole: DrillHole, units: Units) -> str:
    return f"{hole.id}: {figure(units, hole.along)}"
