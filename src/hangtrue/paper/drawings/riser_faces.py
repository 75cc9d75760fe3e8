"""Risers that are drilled, each face on: the front of a step, its holes by their numbers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from hangtrue.hang.records import DrillHole, DrillPlan
from hangtrue.hang.work import RISER
from hangtrue.job.brief import Brief
from hangtrue.job.readings import Side
from hangtrue.job.room import Wall
from hangtrue.measure.below import StepShape
from hangtrue.measure.opening import Opening
from hangtrue.paper.drawings import frame
from hangtrue.paper.drawings.on_the_wall import Face
from hangtrue.paper.drawings.wall_faces import LADDER, LEAST_ROOM, WORDS, holes_at
from hangtrue.paper.language import told
from hangtrue.paper.lengths import Units, units_of
from hangtrue.paper.scene import Line, Primitive, Sheet, Text, View, scale_for
from hangtrue.paper.tables import capital
from hangtrue.paper.words import units_line

TALL = 50.0
"""Most that a riser takes up, mm of paper."""
LEAST_TALL = 12.0
UNDER, HEAD = 7.0, 8.0
"""Below a riser, and over it, mm of paper."""
OVER = 0.15
"""Drawn over the cap, as a share of its height."""


def drilled_risers(brief: Brief, opening: Opening, drilling: DrillPlan) -> tuple[Sheet, ...]:
    """Draw every riser that is drilled; nothing where none is."""
    names = [name for name in drilling.surfaces if name.startswith(RISER)]
    steps = {step.name: step for step in opening.standing}
    found = [(name, step) for name in names for step in steps.values() if name.endswith(step.name)]
    if not found:
        return ()
    units = units_of(brief)
    column = frame.WIDTH / max(len(found), 2)
    wide = {step.name: float(step.width) for step in brief.job.steps}
    widest = max(wide[step.name] for _, step in found)
    highest = max(_cap(opening, step) for _, step in found) * (1 + OVER)
    room = (column - LADDER - LEAST_ROOM - 6.0, TALL)
    one_to = scale_for((widest, highest), room, frame.scales(units))
    tall = max(highest / one_to, LEAST_TALL)
    parts: list[Primitive] = []
    for n, (name, step) in enumerate(found):
        holes = drilling.on(name)
        half = wide[step.name] / 2
        origin = (n * column + 4.0 + max(WORDS, half / one_to), frame.CAPTION + UNDER)
        face = _face(opening, step, holes, View(one_to=one_to, origin=origin), units, half)
        parts += _riser(face, name)
        parts += holes_at(face, holes, Wall(), 0.0)
    scale = face.view.words
    words = (
        "Each riser face on, from the glass before it",
        frame.scale_words(scale),
        units_line(units),
        "heights above the datum",
    )
    sheet = Sheet(
        name="drilling-risers",
        width=frame.WIDTH,
        height=frame.CAPTION + UNDER + tall + HEAD,
        title="Holes in the risers, each face on",
        description="Every hole by its number and its height above the datum.",
        primitives=(*parts, *frame.caption(words)),
        scale=scale,
    )
    return (sheet,)


def _cap(opening: Opening, step: StepShape) -> float:
    """Height of the cap of a step above the datum, mm."""
    return max(opening.estimate(top).value for top in (step.top_left, step.top_right))


def _face(
    opening: Opening,
    step: StepShape,
    holes: Sequence[DrillHole],
    view: View,
    units: Units,
    half: float,
) -> Face:
    """A riser as a wall that is seen from the glass before it: its left one like a right wall."""
    ends = [opening.estimate(x).value for x in (step.left, step.right)]
    far = [abs(holes[0].along - end) for end in ends]
    side: Side = "right" if far[0] < far[1] else "left"
    return Face(
        side=side,
        view=view,
        low=0.0,
        high=_cap(opening, step),
        foot=0.0,
        half=half,
        units=units,
        before=True,
        room=LEAST_ROOM,
    )


def _riser(face: Face, name: str) -> Iterator[Primitive]:
    """Edges of the riser, the glass line, its name, which way is in."""
    box = face.box(face.half, face.low, face.high)
    yield frame.mass(box, "curb", 3.0)
    yield frame.oblong(box, "curb", weight="middle")
    yield frame.heading(capital(name), (box[0], box[3] + 4.0))
    x = face.at(0.0, 0.0)[0]
    yield Line(start=(x, box[1]), end=(x, box[3] + 2.0), layer="centre", stroke="long-dash-dot")
    before, after = ("outside", "shower") if face.side == "left" else ("shower", "outside")
    yield Text(at=(x - 2.0, box[1] - 5.0), words=told(before), anchor="end")
    yield Text(at=(x + 2.0, box[1] - 5.0), words=told(after))
