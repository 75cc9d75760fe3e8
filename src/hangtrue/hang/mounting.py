"""What is fixed where: hinges, clamps, channels and bars as rows of mounts on their surfaces."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from hangtrue.fit.enclosure import Bar, Joint, Lite
from hangtrue.geometry import evenly
from hangtrue.hang.bars import along_the_line, off_the_line
from hangtrue.hang.tile_grid import Mount
from hangtrue.hang.work import RISER, WALLS, Work, edge_ends, level_ends
from hangtrue.job.hardware import Channel, Clamp, CutOut, HeadBar, Hinge, Item
from hangtrue.phrase import phrase


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitted:
    """What is fixed along one line of one surface, before it is placed.

    Attributes
    ----------
    joint
        Id of the joint or the bar that they hold.
    holds, on
        As in the rules: `hinge` on a `wall`, `channel` on a `base`.
    mounts
        In order along the surface.
    fixed_at
        Height above the datum of a level line, mm; x of a riser; 0 on walls, where the face is
        found by height.
    in_glass
        The pane's cut-outs move with a mount.
    reach
        How far its cut-outs lie from its centre at most, mm.
    guessed
        No maker says where its screws are: the shop's usual share stands in.

    """

    joint: str
    holds: str
    on: str
    item: str
    surface: str
    mounts: tuple[Mount, ...]
    fixed_at: float
    apart_least: float
    apart_most: float
    in_glass: bool
    reach: float = 0.0
    guessed: bool = False

    @property
    def of(self) -> str:
        """Id of the pane or the bar that they hold."""
        return self.mounts[0].part.rpartition(" of ")[2]

    @property
    def name(self) -> str:
        """What is fixed, in words: `hinge of door`."""
        return phrase("{fitting} of {pane}", fitting=self.holds, pane=self.of)


def everything(work: Work) -> Iterator[Fitted]:
    """Hinges, clamps and channels by their joints, then bars."""
    for joint in work.enclosure.joints:
        item = work.item(joint)
        if isinstance(item, Hinge) and item.mount == "wall" and work.side(joint):
            yield _hinges(work, joint, item)
        elif work.meets(joint) in _panes(work):
            continue
        elif isinstance(item, Clamp):
            yield _clamps(work, joint, item)
        elif isinstance(item, Channel):
            yield _channel(work, joint)
    for bar in work.enclosure.bars:
        yield from _bar(work, bar)


def _panes(work: Work) -> set[str]:
    return {pane.id for pane in work.enclosure.lites}


def _hinges(work: Work, joint: Joint, hinge: Hinge) -> Fitted:
    """Plates on their heights; each may slide within the habit, unless the glass is ready made."""
    door, side = work.pane(joint), work.side(joint)
    spacing = work.shop.pairs["spacing.hinge_from_end"]
    low, high = edge_ends(door, side or "left")
    free = work.shop.mm["spacing.middle_hinge_free"]
    heights = sorted(door.origin[1] + h for h in door.hinge_heights)
    pattern = plate_screws(hinge, work.shop.shares["plate.column_share"])
    mounts = []
    for i, z in enumerate(heights):
        reach = (z - free, z + free)
        if i == 0:
            reach = (low + spacing[0], low + spacing[1])
        elif i == len(heights) - 1:
            reach = (high - spacing[1], high - spacing[0])
        if not _may_move(work, door):
            reach = (z, z)
        mounts.append(
            _mount(
                phrase("hinge {n} of {pane}", n=i + 1, pane=door.id),
                z,
                min(z, reach[0]),
                max(z, reach[1]),
                pattern,
            )
        )
    return _fitted(
        "hinge",
        joint,
        work,
        mounts,
        apart_least=work.shop.mm["spacing.hinge_apart_least"],
        in_glass=True,
        guessed=is_guessed(hinge),
    )


def plate_screws(hinge: Hinge, column_share: float) -> tuple[tuple[float, float], ...]:
    """Screws of a plate: up from its middle, and from the glass line into the shower; mm.

    Two rows, the odd screw in the lower one. Columns as the maker says, else the share of the
    plate.
    """
    upper, half = hinge.screws // 2, float(hinge.screw_rows) / 2
    wide = float(hinge.plate_width) * column_share
    if hinge.screw_columns is not None:
        wide = float(hinge.screw_columns)
    rows = ((hinge.screws - upper, -half), (upper, half))
    off = float(hinge.plate_offset or 0.0)
    return tuple((up, off + across) for count, up in rows for across in _spread(count, wide))


def _may_move(work: Work, pane: Lite) -> bool:
    """Whether cut-outs may still move: not in ready-made glass, nor beside a scribed edge."""
    return work.brief.boxed_set is None and not any(edge.points for edge in pane.edges)


def is_guessed(item: Hinge | Clamp) -> bool:
    """Whether more than one screw stands beside the other and no maker says how far apart."""
    in_a_row = item.screws > (2 if isinstance(item, Hinge) else 1)
    return in_a_row and item.screw_columns is None


def _spread(count: int, wide: float) -> tuple[float, ...]:
    """Places of so many screws across a width, even about the middle."""
    if count == 1:
        return (0.0,)
    return tuple(wide * (k / (count - 1) - 0.5) for k in range(count))


def _clamps(work: Work, joint: Joint, clamp: Clamp) -> Fitted:
    pane = work.pane(joint)
    free = work.shop.mm["spacing.clamp_free"] if _may_move(work, pane) else 0.0
    places = [g.at for g in joint.gaps if g.at_fitting]
    wide, off = float(clamp.plate_height) / 2, float(clamp.plate_offset or 0.0)
    if clamp.screw_columns is not None:
        wide = float(clamp.screw_columns)
    pattern = tuple((0.0, off + across) for across in _spread(clamp.screws, wide))
    mounts = [
        _mount(phrase("clamp {n} of {pane}", n=i + 1, pane=pane.id), z, z - free, z + free, pattern)
        for i, z in enumerate(places)
    ]
    return _fitted(
        "clamp", joint, work, mounts, apart_least=free, in_glass=True, guessed=is_guessed(clamp)
    )


def _channel(work: Work, joint: Joint) -> Fitted:
    """Fixings of a channel: evenly between its ends, each free within the greatest spacing."""
    shop, pane = work.shop, work.pane(joint)
    least, most = shop.pairs["spacing.channel_from_end"]
    if work.at_riser(joint):
        low, high = joint.gaps[0].at, joint.gaps[-1].at
    elif joint.upright:
        low, high = edge_ends(pane, work.side(joint) or "left")
    else:
        low, high = level_ends(pane, joint)
    places = evenly(low + least, high - least, shop.mm["spacing.channel_apart_most"])
    if places[-1] - places[0] < shop.mm["spacing.channel_apart_least"]:
        places = ((low + high) / 2,)
    free = most - least
    mounts = [
        _mount(
            phrase("channel fixing {n} of {pane}", n=i + 1, pane=pane.id),
            z,
            max(z - free, low + least) if i else z,
            min(z + free, high - least) if i < len(places) - 1 else z,
            ((0.0, 0.0),),
        )
        for i, z in enumerate(places)
    ]
    if len(mounts) > 1:
        mounts[0] = replace(mounts[0], high=low + most)
        mounts[-1] = replace(mounts[-1], low=high - most)
    return _fitted(
        "channel",
        joint,
        work,
        mounts,
        apart_least=shop.mm["spacing.channel_apart_least"],
        apart_most=shop.mm["spacing.channel_apart_most"],
    )


def _bar(work: Work, bar: Bar) -> Iterator[Fitted]:
    """Flanges of a bar where it meets a wall or the ceiling; a header may meet two walls."""
    shop, item = work.shop, work.brief.items.get(bar.hardware)
    count, rows = (
        (item.flange_screws, item.flange_rows) if isinstance(item, HeadBar) else (None,) * 2
    )
    guessed = count is None or (count > 1 and rows is None)
    tall = shop.mm["plate.bar_flange_rows"] if rows is None else float(rows)
    count = count or int(shop.shares["plate.bar_flange_screws"])
    for end, surface in zip(bar.ends, _bar_ends(work, bar), strict=True):
        if surface is None:
            continue
        overhead = surface == "ceiling"
        if overhead:
            place, off = along_the_line(work.enclosure, bar, end)
        else:
            place, off = end[2], off_the_line(work.enclosure, end, WALLS[surface])
        pattern = tuple((up, off) for up in _spread(count, tall))
        yield Fitted(
            joint=bar.id,
            holds="bar",
            on="wall",
            item=bar.hardware,
            surface=surface,
            mounts=(_mount(phrase("flange of {bar}", bar=bar.id), place, place, place, pattern),),
            fixed_at=end[2] if overhead else 0.0,
            apart_least=0.0,
            apart_most=float("inf"),
            in_glass=False,
            guessed=guessed,
        )


def _bar_ends(work: Work, bar: Bar) -> tuple[str | None, str | None]:
    """Surfaces that the two ends of a bar meet; None where an end meets glass."""
    other = bar.to if bar.to in {*WALLS, "ceiling"} else None
    if bar.kind == "support":
        return None, other
    opposite = {"left wall": "right wall", "right wall": "left wall"}.get(bar.to)
    there = opposite if opposite and WALLS[opposite] in work.opening.walls else None
    return there, other


def _mount(
    part: str, at: float, low: float, high: float, holes: tuple[tuple[float, float], ...]
) -> Mount:
    return Mount(part=part, planned=at, low=low, high=high, holes=holes, diameter=0.0, depth=0.0)


def _fitted(
    holds: str,
    joint: Joint,
    work: Work,
    mounts: Sequence[Mount],
    *,
    apart_least: float,
    apart_most: float = float("inf"),
    in_glass: bool = False,
    guessed: bool = False,
) -> Fitted:
    """Say on what surface a joint's mounts sit."""
    surface = work.surface(joint)
    at = 0.0
    if work.at_riser(joint):
        at = riser_x(work, joint)
    elif surface not in WALLS:
        gaps = joint.gaps
        at = level(work, surface, sum(g.at for g in gaps) / len(gaps))
    return Fitted(
        joint=joint.id,
        holds=holds,
        on=_on(work, surface),
        item=joint.hardware,
        surface=surface,
        mounts=tuple(mounts),
        fixed_at=at,
        apart_least=apart_least,
        apart_most=apart_most,
        in_glass=in_glass,
        guessed=guessed,
        reach=max((abs(float(c.along)) for c in _cut_outs(work.item(joint))), default=0.0) + NEAR,
    )


def _on(work: Work, surface: str) -> str:
    """Say which rules hold: a riser with something known behind it is drilled like a wall."""
    if surface in WALLS or surface == "ceiling":
        return "wall"
    step = work.step(surface)
    if not surface.startswith(RISER) or step is None:
        return "base"
    return "riser" if step.behind == "unknown" else "wall"


def riser_x(work: Work, joint: Joint) -> float:
    """x of the riser that a joint runs up, mm: the left one where the pane stands left of it."""
    step = work.meets(joint)
    shape = work.opening.step(step)
    return work.opening.estimate(shape.left if joint.between[1] == step else shape.right).value


GUESSED = "screw places are the usual share, not the maker's: check against the plate"
"""Said of every hole and template whose place no maker's drawing gives."""
NEAR = 1.0
"""mm; a cut-out nearer than this to where it should be is that one."""


def _cut_outs(item: Item | None) -> tuple[CutOut, ...]:
    return item.cut_outs if isinstance(item, Hinge | Clamp) else ()


def level(work: Work, surface: str, x: float) -> float:
    """Height of what the glass stands on or meets above, at x; mm above the datum."""
    opening = work.opening
    if surface == "ceiling":
        return opening.estimate(opening.ceiling(x)).value
    if surface in opening.steps:
        top = opening.step(surface).top(x, lambda length: opening.estimate(length).value)
        return opening.estimate(top).value
    return opening.estimate(opening.curb(x)).value
