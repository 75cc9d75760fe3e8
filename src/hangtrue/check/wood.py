"""Solid wood behind a wall: where it is, what it lacks, what to ask for, what reaches it."""

from __future__ import annotations

import math

from hangtrue.check.case import Case
from hangtrue.check.hung import Hung
from hangtrue.check.wording import the_wall
from hangtrue.job.document import Blocking, Wall
from hangtrue.job.readings import Side
from hangtrue.phrase import phrase

STEP = {"in": 25.4, "mm": 50.0, "cm": 50.0}
"""Steps in mm that blocking is asked for in; figures on a builder's tape, not limits."""


def backing(wall: Wall, low: float, high: float) -> Blocking | None:
    """Return the piece of wood behind a stretch of the glass line, if one is behind all of it."""
    return next((b for b in wall.blocking if b.from_ <= low and b.to >= high), None)


def faults(case: Case, wood: Blocking | None) -> str:
    """Say what a piece of wood lacks for hinge screws; empty if nothing."""
    if wood is None:
        return "there is no solid wood over the whole plate"
    width = case.limit("blocking-width-least").value
    depth = max(case.limit(n).value for n in ("blocking-depth-least", "screw-in-wood-least"))
    wide = 2.0 * wood.each_side
    if wide < width:
        return phrase(
            "the wood is {wide} wide on the glass line; {least} is the least",
            wide=case.say(wide),
            least=case.say(width),
        )
    if wood.depth < depth:
        return phrase(
            "the wood is {thick} thick; {least} is the least",
            thick=case.say(wood.depth),
            least=case.say(depth),
        )
    return ""


def screw_from_face(case: Case, wall: Wall) -> float | None:
    """Least length of a screw under the plate, through the layers and into the wood, mm.

    None where nobody said what the wall is made of.
    """
    if not wall.layers:
        return None
    over = sum(float(layer.thickness) for layer in wall.layers)
    return over + case.limit("screw-in-wood-least").value


def wanted(case: Case, door: Hung, side: Side) -> str:
    """Blocking to ask the builder for, in figures: rounded outward over all the hinge plates."""
    plates, half = door.plates or (case.foot(side), case.top), door.hinge.plate_height / 2
    step = STEP[case.job.unit]
    low = math.floor(max(plates[0] - half, 0.0) / step) * step
    high = math.ceil((plates[-1] + half) / step) * step
    width, depth = case.limit("blocking-width-least"), case.limit("blocking-depth-least")
    return phrase(
        "solid wood blocking from {low} to {high} at {wall}, at least {wide} wide on the glass "
        "line and {thick} thick",
        low=case.say(low),
        high=case.say(high),
        wall=the_wall(side),
        wide=case.say(width.value),
        thick=case.say(depth.value),
    )
