"""The cure for a step too deep: two panes with a joint above its riser, neither notched."""

from __future__ import annotations

from dataclasses import replace

from hangtrue.fit.enclosure import Enclosure, Lite
from hangtrue.fit.layout import Way, names
from hangtrue.fit.rows import Stop
from hangtrue.fit.steps import made_in_one
from hangtrue.fit.wording import riser_id
from hangtrue.job.brief import Brief
from hangtrue.job.document import WantedLite
from hangtrue.job.readings import Side


def split(brief: Brief, way: Way, made: Enclosure) -> Way | None:
    """Part every fixed pane that no plant makes in one; None where all of them can be made."""
    lites: list[WantedLite] = []
    asked: list[str] = []
    stops: list[Stop] = []
    for wish, name in zip(way.lites, names(way.order), strict=True):
        pane = made.lite(name)
        risers = () if made_in_one(pane, brief.profile) else _risers(pane, made)
        if wish.kind == "door" or not risers:
            lites.append(wish)
            asked.append(name)
            continue
        first = len(lites)
        lites += _parts(wish, len(risers) + 1)
        asked += [name] * (len(risers) + 1)
        stops += [_stop(first + k, step, riser) for k, (step, riser) in enumerate(risers)]
    if not stops:
        return None
    return replace(way, lites=tuple(lites), stops=tuple(stops), asked=tuple(asked))


def _risers(pane: Lite, made: Enclosure) -> tuple[tuple[str, Side], ...]:
    """Risers that a pane steps over, from left to right."""
    sides: tuple[Side, Side] = ("left", "right")
    known = {joint.id for joint in made.joints}
    return tuple(
        (notch.fitting, side)
        for notch in sorted(pane.steps, key=lambda n: n.corners[0][0])
        for side in sides
        if riser_id(pane.id, notch.fitting, side) in known
    )


def _parts(wish: WantedLite, count: int) -> list[WantedLite]:
    """Parts of a pane from left to right; the corner before it stays before the first."""
    bare = wish.model_copy(update={"width": None, "turn": None})
    return [wish.model_copy(update={"width": None}), *[bare] * (count - 1)]


def _stop(part: int, step: str, riser: Side) -> Stop:
    """The lower part ends beside the riser: left of a left riser, right of a right one."""
    if riser == "left":
        return Stop(pane=part, side="right", step=step, riser=riser)
    return Stop(pane=part + 1, side="left", step=step, riser=riser)
