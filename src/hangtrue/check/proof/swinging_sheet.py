"""The calculation sheet of a door that swings on a leaning axis."""

# ruff: noqa: N803 - units keep their capitals

from __future__ import annotations

import math

from hangtrue.check.proof.swinging import Swing
from hangtrue.check.sheet import CalculationSheet, Given, Step
from hangtrue.mechanics.hinge_axis import rise, torque

AXIS = (
    "The axis runs through the middles of the outer hinge plates, which follow the wall as read, "
    "with the packing that the gaps ask for. Friction is left out."
)


def sheet(door: Swing, called: str, limit_Nm: float) -> CalculationSheet:
    """Write down the torque, the place of rest and the rise of the free corner."""
    axis, square = door.axis, math.pi / 2
    rest = door.rest_deg
    steps = (
        Step(what="Lean of the axis toward the free edge", symbol="λ_x", formula="a / h",
             value=axis.lean_x),
        Step(what="Lean of the axis to the opening side", symbol="λ_y", formula="b / h",
             value=axis.lean_y),
        Step(what="Angle of the axis to the plumb line", symbol="L",
             formula="atan √(λ_x² + λ_y²)", value=math.degrees(axis.lean_rad), unit="°"),
        Step(what="Weight times its arm", symbol="M", formula="m g c / 1000",
             value=door.moment_Nm, unit="N·m"),
        Step(what="Greatest torque at any opening", symbol="τ", formula="M sin L",
             value=door.torque.value, unit="N·m", clause="rotation about a leaning axis"),
        *((Step(what="Opening at rest", symbol="φ_0", formula="atan2(λ_y, λ_x)",
                value=rest, unit="°"),) if rest is not None else ()),
        Step(what="Torque when open square, + opens", symbol="τ_90", formula="−M λ_x (small lean)",
             value=torque(axis, door.mass_kg, door.centre, square) / 1000, unit="N·m"),
        Step(what="Free corner when open square, + higher", symbol="Δz",
             formula="w (λ_x − λ_y) (small lean)", value=rise(axis, door.width, square), unit="mm"),
        Step(what="Probability that the torque is within the limit", symbol="P",
             formula="normal a and b within a circle", value=door.below(limit_Nm)),
    )  # fmt: skip
    return CalculationSheet(
        title=f"Self-swing of {called}",
        basis=(
            AXIS,
        ),
        given=(
            Given(what="Upper hinge toward the free edge, from plumb", symbol="a",
                  value=door.lean_in.value, unit="mm", origin="the opening"),
            Given(what="Its standard deviation", symbol="σ_a", value=door.lean_in.sd, unit="mm",
                  origin="the opening"),
            Given(what="Of it packing", symbol="", value=door.packing, unit="mm",
                  origin="the enclosure"),
            Given(what="Upper hinge to the opening side, from plumb", symbol="b",
                  value=door.lean_out.value, unit="mm", origin="the opening"),
            Given(what="Its standard deviation", symbol="σ_b", value=door.lean_out.sd, unit="mm",
                  origin="the opening"),
            Given(what="Hinge spacing", symbol="h", value=door.spacing, unit="mm",
                  origin="the enclosure"),
            Given(what="Mass of the door", symbol="m", value=door.mass_kg, unit="kg",
                  origin="the enclosure"),
            Given(what="Centre of mass from the axis", symbol="c", value=door.centre, unit="mm",
                  origin="the enclosure"),
            Given(what="Width", symbol="w", value=door.width, unit="mm", origin="the enclosure"),
        ),
        steps=steps,
        result=f"The door pulls with {door.torque.value:.3f} N·m at most; the limit is "
        f"{limit_Nm:g} N·m.",
    )  # fmt: skip
