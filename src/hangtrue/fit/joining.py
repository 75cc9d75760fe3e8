"""Joints with their predicted gaps, and the least margin of them all."""

from __future__ import annotations

import math

from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Corner, Gap, Joint, Margin
from hangtrue.fit.gaps import Gaps
from hangtrue.fit.places import Places
from hangtrue.fit.room import Room
from hangtrue.fit.rows import RowJoint
from hangtrue.measure.opening import Vector


def joints(gaps: Gaps, corners: Vector, room: Room) -> tuple[Joint, ...]:
    """Predict every gap of panes at given corners."""
    values = gaps.at(corners)
    out = {f.joint.id: float(f.set_a @ corners) + f.set_constant for f in gaps.flush}
    return tuple(
        _joint(places, values[rows], gaps.sigma[rows], _corner(places.joint, room, out))
        for places, rows in gaps.sections
    )


def _corner(joint: RowJoint, room: Room, out_of_flush: dict[str, float]) -> Corner | None:
    turn = joint.turn
    if turn is None:
        return None
    return Corner(
        number=turn.number,
        angle=room.angle(turn.number)[0],
        way=turn.way,
        joint=turn.joint,
        laps=turn.laps if turn.joint == "butt" else None,
        flush=out_of_flush[joint.id],
    )


def _joint(places: Places, values: Vector, sigma: Vector, corner: Corner | None) -> Joint:
    return Joint(
        id=places.joint.id,
        kind=places.joint.kind,
        between=places.joint.between,
        hardware=places.joint.hardware,
        gaps=tuple(
            Gap(
                at=float(places.at[k]),
                predicted=Estimate(float(values[k]), float(sigma[k])),
                least=places.ranges[k].least,
                usual=places.ranges[k].usual,
                most=places.ranges[k].most,
                at_fitting=places.fitting[k],
            )
            for k in range(len(values))
        ),
        corner=corner,
        level=places.joint.level,
    )


def least_margin(found: tuple[Joint, ...]) -> Margin:
    """Find the gap nearest to an end of its range, counted in its own standard deviations."""
    return min(
        (_margin(joint, gap) for joint in found for gap in joint.gaps),
        key=lambda m: (m.sigmas, m.mm, m.joint, m.at),
    )


def _margin(joint: Joint, gap: Gap) -> Margin:
    sd = gap.predicted.sd
    exact = math.inf if gap.margin >= 0 else -math.inf
    sigmas = gap.margin / sd if sd > 0 else exact
    return Margin(sigmas=sigmas, mm=gap.margin, joint=joint.id, at=gap.at)
