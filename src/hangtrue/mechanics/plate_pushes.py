"""What a bent pane does to each of its supports, and how fixings in a row share it."""

# ruff: noqa: N815 - units keep their capitals

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from hangtrue.geometry import Point
from hangtrue.mechanics.plate import Bending
from hangtrue.mechanics.plate_model import EdgeSupport, PatchSupport, Support
from hangtrue.source import cites

NOTHING = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Push:
    """Force and couples of the pane on a support at one place; + along positive deflection.

    Attributes
    ----------
    couple_x_Nmm, couple_y_Nmm
        First moments about the place itself: what tilts along x, and along y. An upright channel
        is turned about its length by the first.

    """

    at: Point
    force_N: float
    couple_x_Nmm: float
    couple_y_Nmm: float


@cites("own", "forces of the springs that a pane rests on")
def pushes(bending: Bending) -> tuple[tuple[Push, ...], ...]:
    """Forces of the pane on each support, in the order of the plate's supports.

    Along an edge one for each node of the mesh; a patch and a point have one, at the middle.
    """
    solver, motion = bending.solver, bending.motion.ravel()
    found = []
    for support, spring, seat in zip(
        solver.plate.supports, solver.springs, solver.seats, strict=True
    ):
        nodal = np.asarray(spring @ (motion - seat)).reshape(-1, 3)
        near = np.flatnonzero(np.abs(nodal).max(axis=1) > NOTHING)
        rows = zip(solver.mesh.nodes[near], nodal[near], strict=True)
        each = tuple(
            Push(
                at=(float(x), float(y)), force_N=float(f), couple_x_Nmm=float(c),
                couple_y_Nmm=float(d),
            )
            for (x, y), (f, c, d) in rows
        )  # fmt: skip
        found.append(each if isinstance(support, EdgeSupport) else (_gathered(each, support),))
    return tuple(found)


def _gathered(each: Sequence[Push], support: Support) -> Push:
    """One force at the middle of a support for many around it, with the same first moments."""
    at = _middle(support)
    return Push(
        at=at,
        force_N=sum(p.force_N for p in each),
        couple_x_Nmm=sum(p.couple_x_Nmm + p.force_N * (p.at[0] - at[0]) for p in each),
        couple_y_Nmm=sum(p.couple_y_Nmm + p.force_N * (p.at[1] - at[1]) for p in each),
    )


def _middle(support: Support) -> Point:
    if isinstance(support, PatchSupport):
        xs, ys = zip(*support.outline, strict=True)
        return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2
    if isinstance(support, EdgeSupport):
        return (support.start[0] + support.end[0]) / 2, (support.start[1] + support.end[1]) / 2
    return support.at


@cites("own", "straight beams from fixing to fixing")
def shared(places: Sequence[float], each: Iterable[Push]) -> tuple[tuple[float, float], ...]:
    """Force and turning couple (N, N mm) of each fixing of an upright channel.

    The channel carries what lies between two fixings to both, as a beam on two supports does; what
    lies beyond the last one goes to that. Force and first moment between the fixings are kept.

    Parameters
    ----------
    places
        Heights of the fixings in the pane's own frame, rising, mm.
    each
        Forces of the pane on the channel.

    """
    force, couple = np.zeros(len(places)), np.zeros(len(places))
    eye = np.eye(len(places))
    for push in each:
        share = np.array([np.interp(push.at[1], places, row) for row in eye])
        force += share * push.force_N
        couple += share * push.couple_x_Nmm
    return tuple((float(f), float(c)) for f, c in zip(force, couple, strict=True))
