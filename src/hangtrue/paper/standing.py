"""What of walls and curb is beside glass, and what a step under it hides."""

from __future__ import annotations

from hangtrue.job.readings import Side
from hangtrue.measure.opening import Opening


def foot_of(measured: Opening, side: Side) -> float:
    """Height from which a wall stands beside glass: the cap of a step there, else the datum."""
    last = measured.corners + 1
    here = [
        step.top_left if side == "left" else step.top_right
        for step in measured.standing
        if step.run == (1 if side == "left" else last)
        and not measured.knows(f"step {step.name} {side}")
    ]
    return max((measured.estimate(z).value for z in here), default=0.0)


def covered(measured: Opening, run: int) -> bool:
    """Whether a step stands on the curb from end to end of a run: nobody sees it there."""
    return any(
        step.run == run
        and not measured.knows(f"step {step.name} left")
        and not measured.knows(f"step {step.name} right")
        for step in measured.standing
    )
