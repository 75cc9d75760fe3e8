"""Solid wood behind a wall: where it is, what it lacks, and the screws that reach into it."""

from __future__ import annotations

import math

from hangtrue.check.case import Case
from hangtrue.job.document import Blocking, Wall

STEP_MM, STEP_IN = 50.0, 25.4
"""Steps that blocking is asked for in, for jobs in mm and in inches; a builder's tape, not a limit."""


def backing(wall: Wall, low: float, high: float) -> Blocking | None:
    """Return the piece of wood behind a stretch of the glass line, if one is behind all of it."""
    return next((b for b in wall.blocking if b.from_ <= low and b.to >= high), None)


def faults(case: Case, wood: Blocking | None) -> str:
    """Say what a piece of wood lacks for hinge screws; empty if nothing."""
    if wood is None:
        return "there is no solid wood all over the plate"
    width, depth = case.limit("blocking-width-least"), case.limit("blocking-depth-least")
    least = max(depth.value, case.limit("screw-in-wood-least").value)
    if 2 * wood.each_side < width.value:
        return (
            f"the wood is {case.say(2 * wood.each_side)} wide on the glass line, "
            f"and {case.say(width.value)} is the least"
        )
    if wood.depth < least:
        return f"the wood is {case.say(wood.depth)} thick, and {case.say(least)} is the least"
    return ""


def reach_of_screw(case: Case, wall: Wall) -> tuple[str, bool]:
    """Length of a screw from the wall's face until it bites enough wood, and whether it is known.

    Without the layers of the wall it is only the bite that can be told.
    """
    bite = case.limit("screw-in-wood-least").value
    if not wall.layers:
        return case.say(bite), False
    return case.say(bite + sum(float(layer.thickness) for layer in wall.layers)), True


def outward(case: Case, low: float, high: float) -> tuple[float, float]:
    """Round a stretch outward to steps of the builder's tape."""
    step = STEP_IN if case.job.unit == "in" else STEP_MM
    return math.floor(low / step) * step, math.ceil(high / step) * step
