"""What is cut to length for an enclosure: channels, strips, sweeps, bars, blocks, screw covers."""

from __future__ import annotations

import math
from collections.abc import Iterator

from hangtrue.check.wording import article, the_wall
from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Joint, Lite
from hangtrue.geometry import Point
from hangtrue.hang.cut_records import CutPiece, EndCut, PieceCut
from hangtrue.hang.mounting import level, riser_x
from hangtrue.hang.records import DrillPlan
from hangtrue.hang.work import Work, edge_ends, foot_ends, level_ends, the
from hangtrue.job.hardware import Channel, Hinge, Seal
from hangtrue.job.readings import Side
from hangtrue.phrase import phrase

RISER = "to the riser"
BUTT_TO = {"left": "butt to the left channel", "right": "butt to the right channel"}
TO_WALL = {"left": "to the left wall", "right": "to the right wall"}
BARS = {"header": "header bar", "support": "support bar"}
SAME_END = 1.0
"""mm; a joint that ends nearer to the end of the pane's foot ends with it."""
_OTHER: dict[Side, Side] = {"left": "right", "right": "left"}
SEEN = 0.25
"""mm over the width of a piece; an end less out of square is cut square."""


def cut_pieces(work: Work, drilling: DrillPlan) -> tuple[CutPiece, ...]:
    """List every length to cut, channels first."""
    joints = work.enclosure.joints
    by_joint = {joint.id: tuple(_of_joint(work, joint, drilling)) for joint in joints}
    room = {
        joint: piece.length.value
        for joint, cut in by_joint.items()
        for piece in cut
        if piece.sort == "channel"
    }
    every = [piece for cut in by_joint.values() for piece in cut]
    return (*every, *_bars(work), *_covers(work, drilling, room))


def _of_joint(work: Work, joint: Joint, drilling: DrillPlan) -> Iterator[CutPiece]:
    """Cut what belongs to one joint."""
    item = work.item(joint)
    if isinstance(item, Channel):
        yield _channel(work, joint, item)
    elif isinstance(item, Seal):
        yield (_sweep if item.use == "sweep" else _strike)(work, joint, item)
    elif isinstance(item, Hinge) and joint.upright:
        yield _hinge_strip(work, joint, item, drilling)
    if joint.level or "curb" in joint.between:
        yield from _blocks(work, joint)


# ----------------------------------------------------------------------------------- channels


def _channel(work: Work, joint: Joint, channel: Channel) -> CutPiece:
    """Cut the channel of a joint: at a wall, up the riser of a step, or along something level."""
    if not joint.upright:
        return _level_channel(work, joint, channel)
    return (_wall_channel if work.side(joint) else _riser_channel)(work, joint, channel)


def _riser_channel(work: Work, joint: Joint, channel: Channel) -> CutPiece:
    """From the curb up the riser of a step, under its cap."""
    pane = work.pane(joint)
    foot = level(work, "curb", riser_x(work, joint))
    return CutPiece(
        job=work.job,
        id=phrase("channel of {pane} at {riser}", pane=pane.id, riser=the(work.surface(joint))),
        sort="channel",
        item=channel.id,
        title=phrase("{channel}, from the curb up the riser", channel=channel.title),
        length=Estimate(joint.gaps[-1].at - foot, work.highest_curb.sd),
    )


def _wall_channel(work: Work, joint: Joint, channel: Channel) -> CutPiece:
    """From what the pane stands on, along the wall, to the top of the pane."""
    pane, side = work.pane(joint), work.side(joint) or "left"
    _, top = edge_ends(pane, side)
    below = _below(work, pane, side)
    name, foot, slope = "curb", work.highest_curb.value, 0.0
    if below is not None:
        name = work.meets(below)
        x = foot_ends(pane)[0 if side == "left" else 1]
        foot = level(work, name, x)
        slope = _slope(work, below)
    axis = (work.face(side, top) - work.face(side, foot), top - foot)
    wide = float(channel.base + channel.depth)
    ends = (
        _end(work, axis, (1.0, slope), wide, up=False),
        _end(work, axis, (1.0, _top_slope(pane)), wide),
    )
    return CutPiece(
        job=work.job,
        id=phrase("channel of {pane} at {wall}", pane=pane.id, wall=the_wall(side)),
        sort="channel",
        item=channel.id,
        title=phrase(
            "{channel}, from {foot} to the top of the glass",
            channel=channel.title,
            foot=article(name),
        ),
        length=Estimate(math.hypot(*axis) + _longer(ends, wide), work.highest_curb.sd),
        ends=ends,
    )


def _level_channel(work: Work, joint: Joint, channel: Channel) -> CutPiece:
    """Along what the pane stands on or meets above, between what stands at its two ends."""
    pane, where = work.pane(joint), work.meets(joint)
    low, high = level_ends(pane, joint)
    first, last = foot_ends(pane)
    at = level(work, where, (low + high) / 2)
    start, left, stop, right = low, RISER, high, RISER
    if low <= first + SAME_END:
        start, left = _channel_end(work, pane, "left", at, low)
    if high >= last - SAME_END:
        stop, right = _channel_end(work, pane, "right", at, high)
    slope = _slope(work, joint)
    length = (stop - start) * math.hypot(1.0, slope)
    wide = float(channel.base + channel.depth)
    ends = (_plumb_end(work, -slope, wide), _plumb_end(work, slope, wide))
    drains = () if where == "ceiling" else tuple(_drains(work, length))
    return CutPiece(
        job=work.job,
        id=phrase("channel of {pane} on {surface}", pane=pane.id, surface=article(where)),
        sort="channel",
        item=channel.id,
        title=phrase("{channel}, {left} to {right}", channel=channel.title, left=left, right=right),
        length=Estimate(length + _longer(ends, wide), _width_sd(work, pane)),
        ends=ends,
        cuts=drains,
        note="drain gaps in the lip toward the shower only" if drains else "",
    )


def _channel_end(work: Work, pane: Lite, side: Side, at: float, edge: float) -> tuple[float, str]:
    """Where a level channel ends: at the wall's channel, short of the wall, or with the glass."""
    wall = next((j for j in work.enclosure.joints if _at_wall(work, j, pane, side)), None)
    if wall is None:
        return edge, "with the edge of the glass"
    inward = 1.0 if side == "left" else -1.0
    item = work.item(wall)
    face = work.face(side, at)
    if isinstance(item, Channel):
        return face + inward * float(item.base + item.depth), BUTT_TO[side]
    return face + inward * work.shop.mm["pieces.strip_clear"], TO_WALL[side]


def _at_wall(work: Work, joint: Joint, pane: Lite, side: Side) -> bool:
    return pane.id in joint.between and work.side(joint) == side


def _drains(work: Work, length: float) -> Iterator[PieceCut]:
    """Gaps in the inner lip, evenly, the first and last this far from the ends."""
    mm = work.shop.mm
    wide, end = mm["pieces.drain_wide"], mm["pieces.drain_from_end"]
    span = length - 2 * end
    count = max(2, math.ceil(span / mm["pieces.drain_each"]) + 1) if span > wide else 1
    for k in range(count):
        middle = end + span * k / (count - 1) if count > 1 else length / 2
        yield PieceCut(start=middle - wide / 2, end=middle + wide / 2, why="drain")


def _end(work: Work, axis: Point, face: Point, wide: float, *, up: bool = True) -> EndCut:
    """Cut the end of an upright piece to a face that is not square to it.

    Parameters
    ----------
    axis, face
        Directions of the piece, upward, and of what it ends at, to the right.
    wide
        Width of the piece as seen from outside, mm.

    """
    along = axis[0] * face[0] + axis[1] * face[1]
    angle = math.asin(along / (math.hypot(*axis) * math.hypot(*face)))
    more = wide * math.tan(abs(angle))
    if more < SEEN:
        return EndCut()
    longer = "right" if (angle > 0) == up else "left"
    return EndCut(angle_rad=angle, words=_longer_on(longer, work.say(more)))


def _plumb_end(work: Work, slope: float, wide: float) -> EndCut:
    """Cut an end of a sloping piece plumb: what it butts to stands upright.

    Parameters
    ----------
    slope
        How much the piece rises toward this end, as a share of its run.
    wide
        Height of the piece as seen from outside, mm.

    """
    more = wide * abs(slope)
    if more < SEEN:
        return EndCut()
    length = work.say(more)
    if slope > 0:
        words = phrase("{length} longer at the top", length=length)
    else:
        words = phrase("{length} longer at the bottom", length=length)
    return EndCut(angle_rad=math.atan(slope), words=words)


def _top_slope(pane: Lite) -> float:
    """Rise over run, to the right, of the top edge of a pane: it follows a sloping ceiling."""
    _, _, right, left = pane.corners
    return (right[1] - left[1]) / (right[0] - left[0])


def _longer_on(side: str, by: str) -> str:
    if side == "left":
        return phrase("{length} longer on the left", length=by)
    return phrase("{length} longer on the right", length=by)


def _longer(ends: tuple[EndCut, EndCut], wide: float) -> float:
    """What the ends add to the longer side beyond the middle of the piece, mm."""
    return math.fsum(wide / 2 * math.tan(abs(e.angle_rad)) for e in ends)


def _below(work: Work, pane: Lite, side: Side) -> Joint | None:
    """Return the joint of a pane with what it stands on at one of its sides."""
    known = {"curb", *work.opening.steps}
    under = [
        j
        for j in work.enclosure.joints
        if pane.id in j.between and known & set(j.between) and not j.upright
    ]
    if side == "left":
        return min(under, key=lambda j: j.gaps[0].at, default=None)
    return max(under, key=lambda j: j.gaps[-1].at, default=None)


def _slope(work: Work, joint: Joint) -> float:
    """Rise over run, to the right, of what a level joint runs along."""
    low, high = joint.gaps[0].at, joint.gaps[-1].at
    where = work.meets(joint)
    return (
        (level(work, where, high) - level(work, where, low)) / (high - low) if high > low else 0.0
    )


def _width_sd(work: Work, pane: Lite) -> float:
    """How well the room for a pane's foot is known, mm: its upright joints take up the rest."""
    joints = [j for j in work.enclosure.joints if pane.id in j.between and j.upright]
    return max((j.gaps[0].predicted.sd for j in joints if j.gaps), default=0.0)


# ------------------------------------------------------------------------------------- strips


def _sweep(work: Work, joint: Joint, seal: Seal) -> CutPiece:
    """Under the door, ending just before the strips at its sides."""
    door = work.pane(joint)
    length = door.edge("bottom").length - 2 * work.shop.mm["pieces.strip_clear"]
    return CutPiece(
        job=work.job,
        id=phrase("sweep of {pane}", pane=door.id),
        sort="sweep",
        item=seal.id,
        title=seal.title,
        length=Estimate(length),
    )


def _strike(work: Work, joint: Joint, seal: Seal) -> CutPiece:
    """Along the strike edge of the door, notched where the next pane's channel stands up."""
    door = work.pane(joint)
    where = "right" if joint.between[0] == door.id else "left"
    return CutPiece(
        job=work.job,
        id=phrase("strike seal of {pane}", pane=door.id),
        sort="strike seal",
        item=seal.id,
        title=seal.title,
        length=Estimate(door.edge(where).length),  # type: ignore[arg-type]
        cuts=tuple(_over_channel(work, joint, door)),
    )


def _over_channel(work: Work, joint: Joint, door: Lite) -> Iterator[PieceCut]:
    """Notch at the foot of a strip where a channel stands higher than the door's foot."""
    other = work.meets(joint)
    beside = next((p for p in work.enclosure.lites if p.id == other), None)
    side: Side = "right" if joint.between[0] == door.id else "left"
    below = _below(work, beside, _OTHER[side]) if beside else None
    channel = work.item(below) if below else None
    if below is None or not isinstance(channel, Channel):
        return
    x = foot_ends(door)[1 if side == "right" else 0]
    lip = level(work, work.meets(below), x) + float(channel.base + channel.depth)
    over = lip - edge_ends(door, side)[0]
    if over > 0.0:
        clear = work.shop.mm["pieces.strip_clear"]
        yield PieceCut(start=0.0, end=over + clear, why=phrase("channel of {pane}", pane=other))


def _hinge_strip(work: Work, joint: Joint, hinge: Hinge, drilling: DrillPlan) -> CutPiece:
    """Along the hinge edge of the door, notched for every hinge where it will sit."""
    door = work.pane(joint)
    side: Side = "right" if joint.between[0] == door.id else "left"
    foot, _ = edge_ends(door, side)
    clear = work.shop.mm["pieces.hinge_notch_clear"]
    tall = max([float(hinge.plate_height), *(float(c.height or 0.0) for c in hinge.cut_outs)])
    cuts = []
    for i, z in enumerate(sorted(door.origin[1] + h for h in door.hinge_heights)):
        middle = placed(drilling, f"hinge {i + 1} of {door.id}", z) - foot
        start, end = middle - tall / 2 - clear, middle + tall / 2 + clear
        cuts.append(PieceCut(start=start, end=end, why=phrase("hinge {n}", n=i + 1)))
    return CutPiece(
        job=work.job,
        id=phrase("hinge strip of {pane}", pane=door.id),
        sort="hinge strip",
        item=hinge.id,
        title="Strip between the hinges, if the gap there is sealed",
        length=Estimate(door.edge(side).length),
        cuts=tuple(cuts),
    )


def placed(drilling: DrillPlan, part: str, planned: float) -> float:
    """Return where a fitting ends up: where it was moved to, or where it was planned."""
    return next((m.placed for m in drilling.moved if m.part == part), planned)


# --------------------------------------------------------------------------------- the others


def _bars(work: Work) -> Iterator[CutPiece]:
    for bar in work.enclosure.bars:
        yield CutPiece(
            job=work.job,
            id=bar.id,
            sort="bar",
            item=bar.hardware,
            title=phrase(
                "{bar}, from {pane} to {place}",
                bar=BARS[bar.kind],
                pane=bar.holds,
                place=article(bar.to),
            ),
            length=bar.length,
        )


def _blocks(work: Work, joint: Joint) -> Iterator[CutPiece]:
    """Setting blocks under a pane that stands."""
    pane = work.pane(joint)
    if pane.kind != "fixed" or work.meets(joint) == "ceiling":
        return
    places, length = block_places(work, pane, joint)
    for number in range(1, len(places) + 1):
        yield CutPiece(
            job=work.job,
            id=phrase(
                "setting block {n} of {pane} on {surface}",
                n=number,
                pane=pane.id,
                surface=article(work.meets(joint)),
            ),
            sort="block",
            item="setting block",
            title="Setting block under the glass",
            length=Estimate(length),
        )


def block_places(work: Work, pane: Lite, joint: Joint) -> tuple[tuple[float, ...], float]:
    """Middles of the blocks under a level joint and their length, mm; one where it is short."""
    low, high = level_ends(pane, joint)
    length, share = work.shop.mm["shims.block_length"], work.shop.shares["shims.block_share"]
    if (high - low) * (1.0 - 2.0 * share) < 2.0 * length:
        return ((low + high) / 2,), min(length, (high - low) / 2)
    return (low + share * (high - low), high - share * (high - low)), length


def _covers(work: Work, drilling: DrillPlan, room: dict[str, float]) -> Iterator[CutPiece]:
    """Pieces over the screw heads in a channel, so that the glass never meets metal.

    None is longer than its channel, by the joint in `room`, mm.
    """
    usual = work.shop.mm["pieces.screw_cover"]
    for hole in drilling.holes:
        if isinstance(work.brief.items.get(hole.fitting), Channel):
            yield CutPiece(
                job=work.job,
                id=phrase("cover of hole {hole}", hole=hole.id),
                sort="screw cover",
                item=hole.fitting,
                title=phrase(
                    "Over the screw head in the channel at {surface}",
                    surface=the(hole.surface),
                ),
                length=Estimate(min(usual, room.get(hole.joint, usual))),
            )
