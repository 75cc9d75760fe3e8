"""The calculation sheet of a door's lower edge over curb and floor, opening by opening."""

from __future__ import annotations

import math

from hangtrue.check.proof.swinging import Ground, Low, Swing
from hangtrue.check.sheet import CalculationSheet, Given, Step
from hangtrue.estimate import Estimate
from hangtrue.mechanics.hinge_axis import rise
from hangtrue.phrase import phrase

OPENINGS = (30.0, 60.0, 90.0)
FOLLOWED = (
    "The whole lower edge is followed degree by degree; x is the distance from the hinge edge, "
    "g(x) the gap under the shut door there. Over the curb its climb and its fall count, beyond "
    "its edge the level floor."
)


def sheet(
    called: str, door: Swing, under: tuple[Estimate, Estimate], ground: Ground, low: Low
) -> CalculationSheet:
    """Write down where the lower edge comes nearest, and how the free corner moves."""
    turn = math.radians(low.opening_deg)
    gap = under[0].value + (under[1].value - under[0].value) * low.across / door.width
    out = low.across * math.sin(turn)
    below = (
        ground.along.value * low.across * (1 - math.cos(turn)) - ground.climb.value * out
        if low.over_curb
        else ground.along.value * low.across + ground.drop
    )
    formula = "s x (1 − cos φ) − c x sin φ" if low.over_curb else "s x + h"
    return CalculationSheet(
        title=phrase("Foot of {door} as it swings", door=called),
        basis=(FOLLOWED,),
        given=_given(door, under, ground),
        steps=(
            Step(what="Opening at which it is nearest", symbol="φ", formula="", unit="°",
                 value=low.opening_deg),
            Step(what="Place on the edge, from the hinge edge", symbol="x", formula="",
                 value=low.across, unit="mm"),
            Step(what="Gap there when shut", symbol="g", formula="g_0 + (g_1 − g_0) x / w",
                 value=gap, unit="mm"),
            Step(what="Rise of that place as it opens", symbol="r",
                 formula="x (λ_x (1 − cos φ) − λ_y sin φ), small lean",
                 value=rise(door.axis, low.across, turn), unit="mm",
                 clause="rotation about a leaning axis"),
            Step(what="What is below lies lower by", symbol="d", formula=formula, value=below,
                 unit="mm"),
            Step(what="Clearance", symbol="k", formula="g + r + d", value=low.clearance.value,
                 unit="mm"),
            *(
                Step(what=phrase("Free corner at {angle:g}°, + higher", angle=deg),
                     symbol=f"r_{deg:g}", formula="w (λ_x (1 − cos φ) − λ_y sin φ), small lean",
                     value=rise(door.axis, door.width, math.radians(deg)), unit="mm")
                for deg in OPENINGS
            ),
        ),
        result=phrase("The least clearance is {clear:.1f} mm.", clear=low.clearance.value),
    )  # fmt: skip


def _given(door: Swing, under: tuple[Estimate, Estimate], ground: Ground) -> tuple[Given, ...]:
    rows = (
        ("Lean of the axis toward the free edge", "λ_x", door.axis.lean_x, "", "the opening"),
        ("Lean of the axis to the opening side", "λ_y", door.axis.lean_y, "", "the opening"),
        ("Width of the door", "w", door.width, "mm", "the enclosure"),
        ("Gap under its hinge edge", "g_0", under[0].value, "mm", "the enclosure"),
        ("Gap under its free edge", "g_1", under[1].value, "mm", "the enclosure"),
        ("From the glass line to the edge of the curb", "e", ground.half, "mm", "the job"),
        ("Climb of the curb to the opening side", "c", ground.climb.value, "", "the opening"),
        ("Rise of the curb to the free edge", "s", ground.along.value, "", "the opening"),
        ("Floor beyond it, below the curb at the hinge edge", "h", ground.drop, "mm", "the job"),
    )
    return tuple(
        Given(what=what, symbol=symbol, value=value, unit=unit, origin=origin)
        for what, symbol, value, unit, origin in rows
    )
