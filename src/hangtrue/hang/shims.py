"""Packing behind plates and channels: the fewest pieces that bring a line straight."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from hangtrue.check.wording import the_wall
from hangtrue.fit.enclosure import Joint
from hangtrue.hang.pieces import placed
from hangtrue.hang.records import DrillPlan, Packing, Shim
from hangtrue.hang.snags import Snag
from hangtrue.hang.work import Work, between, edge_x
from hangtrue.job.hardware import Channel, Hinge
from hangtrue.phrase import phrase

Stacks = dict[float, tuple[float, ...]]
"""Thickness, mm: the pieces that make it."""
Pieces = tuple[tuple[float, ...], ...]
Allowed = tuple[float, float]

GRAIN = 1e-6
"""Thicknesses are one when they differ by less, mm."""
MOST_PIECES = 8
"""Packing of more pieces than this creeps; it is not considered."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CannotAddUp:
    """No packing brings a line straight enough.

    Attributes
    ----------
    uneven
        How straight the best packing comes, mm.
    thicknesses
        Those pieces by place, the best there is.

    """

    uneven: float
    thicknesses: tuple[tuple[float, ...], ...]


def stacks(sizes: Sequence[float], most: float) -> Stacks:
    """Every thickness up to the most, with the fewest pieces that make it, thickest first.

    Parameters
    ----------
    sizes
        Of the shims that the shop has, mm; as many of each as needed.

    Examples
    --------
    >>> stacks((1.0, 3.0), 4.0)[4.0]
    (3.0, 1.0)

    """
    found: dict[float, tuple[float, ...]] = {0.0: ()}
    newest = dict(found)
    for _ in range(MOST_PIECES):
        grown: dict[float, tuple[float, ...]] = {}
        for total, pieces in newest.items():
            for size in sizes:
                more = round(total + size, 6)
                if more <= most + GRAIN and more not in found:
                    grown.setdefault(more, tuple(sorted((*pieces, size), reverse=True)))
        if not grown:
            break
        found |= grown
        newest = grown
    return dict(sorted(found.items()))


def pack(
    distances: Sequence[float],
    sizes: Sequence[float],
    most: float,
    within: float,
    allowed: Sequence[Allowed] = (),
) -> Pieces | CannotAddUp:
    """Choose packing for each place so that what is left is alike to within a tolerance.

    The fewest pieces; among those the straightest line; among those the least packing. Exact: of
    the places, one has the least left over, and each of its stacks is tried as that.

    Parameters
    ----------
    distances
        (n,) from the face to the line that is to come straight, mm.
    sizes
        Shims at hand, mm.
    most
        Greatest packing at one place, mm.
    within
        Greatest spread of what is left, mm.
    allowed
        (n,) least and greatest packing at each place for the glass to stay within its fitting, mm;
        anything up to the most if not given.

    Returns
    -------
    The pieces at each place, or why it cannot be.

    """
    if not distances:
        return ()
    every = stacks(sizes, most)
    ways = [_between(every, *limits) for limits in allowed or [(0.0, most)] * len(distances)]
    if not all(ways):
        ways = [every] * len(distances)
    starts = sorted({d - t for d, own in zip(distances, ways, strict=True) for t in own})
    rows = [row for start in starts if (row := _row(distances, ways, start, within))]
    if rows:
        return min(rows, key=lambda row: _rank(distances, row))
    best = min((_nearest(distances, ways, s) for s in starts), key=lambda r: _spread(distances, r))
    return CannotAddUp(uneven=_spread(distances, best), thicknesses=best)


def _between(ways: Stacks, least: float, most: float) -> Stacks:
    """Stacks from a least to a greatest thickness."""
    return {t: pieces for t, pieces in ways.items() if least - GRAIN <= t <= most + GRAIN}


def _row(
    distances: Sequence[float], ways: Sequence[Stacks], start: float, within: float
) -> Pieces | None:
    """Fewest pieces at each place with what is left from `start` to `start + within`."""
    row = []
    for d, own in zip(distances, ways, strict=True):
        fits = [
            (len(pieces), d - t - start, pieces)
            for t, pieces in own.items()
            if start - GRAIN <= d - t <= start + within + GRAIN
        ]
        if not fits:
            return None
        row.append(min(fits)[2])
    return tuple(row)


def _nearest(distances: Sequence[float], ways: Sequence[Stacks], aim: float) -> Pieces:
    """Stack at each place that leaves the nearest to an aim."""
    return tuple(
        min((abs(d - t - aim), pieces) for t, pieces in own.items())[1]
        for d, own in zip(distances, ways, strict=True)
    )


def _spread(distances: Sequence[float], row: Pieces) -> float:
    left = [d - math.fsum(p) for d, p in zip(distances, row, strict=True)]
    return max(left) - min(left)


def _rank(distances: Sequence[float], row: Pieces) -> tuple[int, float, float]:
    thickness = math.fsum(math.fsum(p) for p in row)
    return sum(map(len, row)), round(_spread(distances, row), 6), round(thickness, 6)


# --------------------------------------------------------------------------------- on the wall


def packings(work: Work, drilling: DrillPlan) -> tuple[tuple[Packing, ...], tuple[Snag, ...]]:
    """Packing behind the plates of every wall hinge and the fixings of every wall channel."""
    made: list[Packing] = []
    snags: list[Snag] = []
    for joint in work.enclosure.joints:
        item = work.item(joint)
        if work.side(joint) is None:
            continue
        if isinstance(item, Hinge) and item.mount == "wall":
            packing, wrong = _hinges(work, joint, item, drilling)
        elif isinstance(item, Channel):
            packing, wrong = _channel(work, joint, drilling)
        else:
            continue
        made.append(packing)
        snags.extend(wrong)
    return tuple(made), tuple(snags)


def _hinges(
    work: Work, joint: Joint, hinge: Hinge, drilling: DrillPlan
) -> tuple[Packing, list[Snag]]:
    """Bring the axis plumb: distances of the faces behind the plates from a plumb line."""
    door, side = work.pane(joint), work.side(joint) or "left"
    planned = sorted(door.origin[1] + h for h in door.hinge_heights)
    parts = [phrase("hinge {n} of {pane}", n=i + 1, pane=door.id) for i in range(len(planned))]
    at = [placed(drilling, part, z) for part, z in zip(parts, planned, strict=True)]
    # The edge of the glass at the lowest plate stands for the axis: only differences matter here.
    line = edge_x(door, side, at[0])
    row = Line(
        name=phrase("hinges of {pane}", pane=door.id),
        surface=work.meets(joint),
        parts=tuple(parts),
        at=tuple(at),
        distances=tuple(work.into(side, line, z) for z in at),
        gaps=_gaps_at(joint, at),
        least=float(hinge.gap.least),
        most=float(hinge.gap.most),
        packed_most=float(hinge.shim_most),
        within=work.shop.mm["shims.axis_plumb_within"],
    )
    packing, uneven = row.packing(work.shop.shims)
    snags = list(_off_plate(work, row, packing))
    if uneven is not None:
        if hinge.shim_most > 0.0:
            wrong = phrase(
                "no packing up to {most} of the shims at hand brings the hinge axis plumb: it "
                "stays {out} out between its plates",
                most=hinge.shim_most.typed,
                out=work.say(uneven),
            )
        else:
            wrong = phrase(
                "this hinge takes no packing, and its axis stays {out} out between its plates",
                out=work.say(uneven),
            )
        do = "get thinner shims or a hinge that takes more packing, or have the wall put right"
        snags.append(Snag(where=row.name, wrong=wrong, do=do, stops=True))
    return packing, snags


def _channel(work: Work, joint: Joint, drilling: DrillPlan) -> tuple[Packing, list[Snag]]:
    """Bring a channel along the edge of its pane, so that the bite is even."""
    pane, side = work.pane(joint), work.side(joint) or "left"
    holes = [
        hole
        for hole in drilling.on(work.meets(joint))
        if hole.fitting == joint.hardware and hole.part.endswith(f" of {pane.id}")
    ]
    at = tuple(hole.above_datum for hole in holes)
    row = Line(
        name=phrase("channel of {pane} at {wall}", pane=pane.id, wall=the_wall(side)),
        surface=work.meets(joint),
        parts=tuple(hole.part for hole in holes),
        at=at,
        distances=tuple(work.into(side, edge_x(pane, side, z), z) for z in at),
        gaps=_gaps_at(joint, at),
        least=max(g.least for g in joint.gaps),
        most=min(g.most for g in joint.gaps),
        packed_most=work.shop.mm["shims.channel_packed_most"],
        within=work.shop.mm["shims.channel_even_within"],
    )
    packing, uneven = row.packing(work.shop.shims)
    if uneven is None:
        return packing, []
    wrong = phrase(
        "packed as straight as can be, the channel still bends by {length}",
        length=work.say(uneven),
    )
    do = "seal the wider places behind it, or have the wall put right"
    return packing, [Snag(where=row.name, wrong=wrong, do=do)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One line that is to come straight.

    Attributes
    ----------
    distances
        From the face to the line at each fitting, mm.
    gaps
        Predicted gap between the glass and the face there, mm.
    least, most
        What may be left of the gap in front of the packing, mm.

    """

    name: str
    surface: str
    parts: tuple[str, ...]
    at: tuple[float, ...]
    distances: tuple[float, ...]
    gaps: tuple[float, ...]
    least: float
    most: float
    packed_most: float
    within: float

    def packing(self, sizes: Sequence[float]) -> tuple[Packing, float | None]:
        """Pack it; how uneven it stays where it cannot come straight enough, else None."""
        allowed = [(max(g - self.most, 0.0), g - self.least) for g in self.gaps]
        answer = pack(self.distances, sizes, self.packed_most, self.within, allowed)
        uneven = answer.uneven if isinstance(answer, CannotAddUp) else None
        pieces = answer.thicknesses if isinstance(answer, CannotAddUp) else answer
        shims = tuple(
            Shim(part=part, surface=self.surface, at=z, distance=d, pieces=p)
            for part, z, d, p in zip(self.parts, self.at, self.distances, pieces, strict=True)
        )
        return Packing(id=self.name, shims=shims, within=self.within), uneven


def _gaps_at(joint: Joint, at: Sequence[float]) -> tuple[float, ...]:
    points = [(g.at, g.predicted.value) for g in joint.gaps]
    return tuple(between(points, z) for z in at)


def _off_plate(work: Work, row: Line, packing: Packing) -> Iterator[Snag]:
    """Say where packing leaves the glass too near to its plate, or too far."""
    for shim, gap in zip(packing.shims, row.gaps, strict=True):
        left = gap - shim.thickness
        if not row.least - GRAIN <= left <= row.most + GRAIN:
            wrong = phrase(
                "with {packing} of packing the glass stands {left} from the plate, which takes "
                "{least} to {most}",
                packing=work.say(shim.thickness),
                left=work.say(left),
                least=work.say(row.least),
                most=work.say(row.most),
            )
            do = "shift the door within its joints, or look at the wall there again"
            yield Snag(where=shim.part, wrong=wrong, do=do)
