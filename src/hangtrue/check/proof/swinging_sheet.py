"""The calculation sheet of a door that swings on a leaning axis."""

# ruff: noqa: N803 - units keep their capitals

from __future__ import annotations

import math
from collections.abc import Iterator

from hangtrue.check.proof.swinging import Swing
from hangtrue.check.sheet import CalculationSheet, Given, Step
from hangtrue.mechanics.hinge_axis import rise
from hangtrue.phrase import phrase

AXIS = (
    "The axis runs through the middles of the outer hinge plates, which follow the wall as read, "
    "with the packing that the gaps ask for. Friction is left out."
)


OPENINGS = (0.0, 30.0, 60.0, 90.0)


def sheet(
    door: Swing, called: str, limit_Nm: float, stop_rad: float | None = None
) -> CalculationSheet:
    """Write down the torque over the swing, the place of rest and the rise of the free corner."""
    axis, square = door.axis, math.pi / 2
    stop = (math.degrees(stop_rad),) if stop_rad else ()
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
        *(step for deg in dict.fromkeys((*OPENINGS, *stop)) for step in _at(door, deg)),
        Step(what="Free corner when open square, + higher", symbol="Δz",
             formula="w (λ_x − λ_y) (small lean)", value=rise(axis, door.width, square), unit="mm"),
        Step(what="Probability that the torque is within the limit", symbol="P",
             formula="normal a and b within a circle", value=door.below(limit_Nm)),
    )  # fmt: skip
    return CalculationSheet(
        title=phrase("Self-swing of {door}", door=called),
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
            Given(what="Handle from the axis", symbol="l", value=door.handle, unit="mm",
                  origin="the enclosure"),
        ),
        steps=steps,
        result=phrase(
            "The door pulls with {torque:.3f} N·m at most; the limit is {limit:g} N·m.",
            torque=door.torque.value, limit=limit_Nm,
        ),
    )  # fmt: skip


def _at(door: Swing, opening_deg: float) -> Iterator[Step]:
    """Torque at an opening, and the push across the handle that balances it."""
    pull = door.pull_Nm(opening_deg)
    yield Step(
        what=phrase("Torque at {angle:g}°, + opens", angle=opening_deg),
        symbol=f"τ_{opening_deg:g}",
        formula="M (λ_y cos φ − λ_x sin φ), small lean", value=pull, unit="N·m",
    )  # fmt: skip
    yield Step(
        what=phrase("Push at the handle against it at {angle:g}°", angle=opening_deg),
        symbol=f"F_{opening_deg:g}", formula="1000 |τ| / l", value=1000 * abs(pull) / door.handle,
        unit="N",
    )  # fmt: skip
