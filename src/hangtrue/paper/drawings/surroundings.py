"""The room around the enclosure from above: what its doors and the room's own door may meet."""

from __future__ import annotations

from collections.abc import Iterator

from hangtrue.fit.enclosure import Enclosure
from hangtrue.job.brief import Brief
from hangtrue.measure.opening import Opening
from hangtrue.paper.drawings import around, frame
from hangtrue.paper.drawings.floor import Floor, nearby, placed
from hangtrue.paper.drawings.room_plan import curb, panes, steps, walls
from hangtrue.paper.drawings.room_words import pane_label
from hangtrue.paper.labels import Label, labelled
from hangtrue.paper.scene import Sheet
from hangtrue.phrase import join, phrase


def surroundings(brief: Brief, opening: Opening, made: Enclosure) -> tuple[Sheet, ...]:
    """Draw the whole room; nothing where all of it stands on the plan already."""
    if len(nearby(brief, opening, made)) == len(brief.job.obstacles):
        return ()
    below = frame.CAPTION + 1.0
    floor, height = placed(brief, opening, made, brief.job.obstacles, below)
    drawn = (
        *walls(floor),
        *curb(floor),
        *steps(floor),
        *panes(floor),
        *around.in_plan(floor.around, floor.view),
    )
    words = ("Seen from above, outside at the bottom", frame.scale_words(floor.view.words))
    names = join(", ", (item.name for item in brief.job.obstacles))
    sheet = Sheet(
        name="room",
        width=frame.WIDTH,
        height=height,
        title="The room around the glass",
        description=phrase(
            "From above: {choice}, and around it {names}.", choice=str(made.choice), names=names
        ),
        primitives=(
            *drawn,
            *labelled(_labels(floor), drawn, (0.0, below, frame.WIDTH, height)),
            *frame.caption((*words, "arcs: doors as they open")),
        ),
        scale=floor.view.words,
    )
    return (sheet,)


def _labels(floor: Floor) -> Iterator[Label]:
    yield from around.names(floor.around, floor.view)
    yield from (pane_label(floor, lite) for lite in floor.made.lites if lite.kind != "transom")
