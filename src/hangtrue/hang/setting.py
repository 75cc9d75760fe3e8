"""What to set on the day: the gap of every joint, how deep glass sits in channels, the blocks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Gap, Joint, Lite
from hangtrue.hang.pieces import block_places
from hangtrue.hang.records import ChannelBite, Packing, Setting, Shim, Target
from hangtrue.hang.shims import CannotAddUp, pack
from hangtrue.hang.snags import Snag
from hangtrue.hang.work import Work, between
from hangtrue.job.hardware import Channel
from hangtrue.phrase import join, phrase

UPRIGHT = ("bottom", "middle", "top")
LEVEL = ("left", "middle", "right")


def settings(work: Work, packings: Sequence[Packing]) -> tuple[Setting, ...]:
    """Say how every joint is set, in the order of the joints."""
    return tuple(_setting(work, joint, packings) for joint in work.enclosure.joints)


def _setting(work: Work, joint: Joint, packings: Sequence[Packing]) -> Setting:
    targets = targets_of(joint)
    channel = work.item(joint)
    if not isinstance(channel, Channel):
        return Setting(joint=joint.id, kind=joint.kind, between=joint.between, targets=targets)
    bites = tuple(_bite(channel, t, _packed(work, joint, packings, t.at)) for t in targets)
    return Setting(
        joint=joint.id,
        kind=joint.kind,
        between=joint.between,
        targets=targets,
        bites=bites,
        mark=float(channel.bite_least),
        draw_out=min(b.bite for b in bites) - float(channel.bite_least),
    )


def targets_of(joint: Joint) -> tuple[Target, ...]:
    """Gap to set at both ends and in the middle of a joint, with what still closes or holds."""
    first, last = joint.gaps[0].at, joint.gaps[-1].at
    names = UPRIGHT if joint.upright else LEVEL
    places = (first, (first + last) / 2, last)
    return tuple(_target(joint.gaps, name, at) for name, at in zip(names, places, strict=True))


def _target(gaps: Sequence[Gap], name: str, at: float) -> Target:
    nearest = min(gaps, key=lambda g: abs(g.at - at))
    value = between([(g.at, g.predicted.value) for g in gaps], at)
    sd = between([(g.at, g.predicted.sd) for g in gaps], at)
    gap = Estimate(value, sd)
    return Target(place=name, at=at, gap=gap, least=nearest.least, most=nearest.most)


def _bite(channel: Channel, target: Target, packed: float) -> ChannelBite:
    """Glass in a channel that stands off its surface by some packing; mm."""
    lips, floor = float(channel.base + channel.depth), float(channel.base)
    left = target.gap.value - packed
    return ChannelBite(place=target.place, at=target.at, bite=lips - left, floor=left - floor)


def _packed(work: Work, joint: Joint, packings: Sequence[Packing], at: float) -> float:
    """Packing behind a wall's channel at a height, straight between its fixings; mm."""
    name = f"channel of {work.pane(joint).id} at the {work.side(joint)} wall"
    packing = next((p for p in packings if p.id == name and p.shims), None)
    return between([(s.at, s.thickness) for s in packing.shims], at) if packing else 0.0


# ------------------------------------------------------------------------------ setting blocks


def blocks(work: Work) -> tuple[tuple[Packing, ...], tuple[Snag, ...]]:
    """Setting blocks under every pane that stands, from the sizes at hand."""
    standing = [j for j in work.enclosure.joints if _stands(work, j)]
    panes = dict.fromkeys(work.pane(j).id for j in standing)
    made = [_under(work, [j for j in standing if work.pane(j).id == pane]) for pane in panes]
    return tuple(packing for packing, _ in made), tuple(s for _, found in made for s in found)


def _stands(work: Work, joint: Joint) -> bool:
    level = joint.level or "curb" in joint.between
    return level and work.pane(joint).kind == "fixed" and work.meets(joint) != "ceiling"


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where a setting block lies: on what, at which x, and how much room there is; mm."""

    surface: str
    x: float
    room: float


def _places(work: Work, joint: Joint) -> Iterator[Place]:
    """Blocks of one joint: the room is the gap there, less a channel's own base."""
    item = work.item(joint)
    base = float(item.base) if isinstance(item, Channel) else 0.0
    points = [(g.at, g.predicted.value) for g in joint.gaps]
    for x in block_places(work, work.pane(joint), joint)[0]:
        yield Place(surface=work.meets(joint), x=x, room=between(points, x) - base)


def _under(work: Work, joints: Sequence[Joint]) -> tuple[Packing, tuple[Snag, ...]]:
    """All blocks under one pane, on curb and steps together.

    Blocks that are uneven tilt the pane, and its top moves by as much as it is higher than the
    blocks are apart: evenness comes first, the exact height of the pane after it.
    """
    pane, mm = work.pane(joints[0]), work.shop.mm
    places = [place for joint in joints for place in _places(work, joint)]
    room = [place.room for place in places]
    off, within = mm["shims.block_off_most"], _even_within(work, pane, places)
    sizes = sorted({*work.shop.blocks, *work.shop.shims})
    allowed = [(max(r - off, 0.0), r + off) for r in room]
    answer = pack(room, sizes, max(room) + off, within, allowed)
    if isinstance(answer, CannotAddUp):
        within = mm["shims.block_even_within"]
        answer = pack(room, sizes, max(room) + off, within, allowed)
    stacks = answer.thicknesses if isinstance(answer, CannotAddUp) else answer
    shims = tuple(
        Shim(
            part=phrase("setting block {n} of {pane}", n=i, pane=pane.id),
            surface=place.surface,
            at=place.x,
            distance=place.room,
            pieces=pieces,
        )
        for i, (place, pieces) in enumerate(zip(places, stacks, strict=True), 1)
    )
    packing = Packing(
        id=phrase("setting blocks of {pane}", pane=pane.id), shims=shims, within=within
    )
    if not isinstance(answer, CannotAddUp) and min(room) > 0.0:
        return packing, ()
    wrong = phrase(
        "no blocks at hand fill {lengths} under the pane",
        lengths=join(", ", (work.say(r) for r in room)),
    )
    return packing, (Snag(where=packing.id, wrong=wrong, do="cut blocks of those thicknesses"),)


def _even_within(work: Work, pane: Lite, places: Sequence[Place]) -> float:
    """How even blocks must be for the top to stay where it was planned, mm."""
    mm = work.shop.mm
    apart = max(p.x for p in places) - min(p.x for p in places)
    tall = max(pane.height_left, pane.height_right)
    return min(mm["shims.block_even_within"], mm["shims.block_top_most"] * apart / tall)
