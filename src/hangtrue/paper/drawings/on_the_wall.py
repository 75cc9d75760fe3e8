"""What a wall face shows besides its holes: joints of the tiles, zones to keep out of, plates."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from hangtrue.hang.records import DrillHole
from hangtrue.hang.tile_grid import ROW, from_joints
from hangtrue.job.brief import Brief
from hangtrue.job.hardware import Clamp, Hinge
from hangtrue.job.readings import Side
from hangtrue.job.room import KeepOut, TileGrid
from hangtrue.paper.dimensions import Rung
from hangtrue.paper.drawings import frame
from hangtrue.paper.lengths import Units
from hangtrue.paper.scene import Box, Hatch, Line, Primitive, View
from hangtrue.paper.words import figure
from hangtrue.phrase import as_typed, phrase

FINEST = 1.4
"""Joints nearer to each other than this are not drawn, mm of paper."""
OPEN_JOINT = 0.5
"""A joint at least this wide on paper is drawn with both its edges, mm."""
NEAR = 2.0
"""The distance of a hole from its tile's edge is written where it is within so many times the
usual one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Face:
    """One wall on the sheet.

    Attributes
    ----------
    view
        From (mm to the right of the glass line as seen, mm above the datum) to paper.
    low, high, foot
        Floor, upper end of what is drawn, and top of what the glass stands on here, mm.
    half
        How far it is drawn each side of the glass line, mm.
    before
        What stands before the wall is hatched; else only its outline is drawn.
    room
        For words beside the wall, mm of paper.

    """

    side: Side
    view: View
    low: float
    high: float
    foot: float
    half: float
    units: Units
    before: bool
    room: float

    def across(self, off: float) -> float:
        """Place to the right of the glass line of a distance into the shower."""
        return off if self.side == "left" else -off

    def at(self, off: float, z: float) -> tuple[float, float]:
        """Place on paper: distance into the shower, height above the datum; mm."""
        return self.view.at((self.across(off), z))

    def box(self, half: float, low: float, high: float) -> Box:
        """Upright strip about the glass line on paper."""
        a, b = self.view.at((-half, low)), self.view.at((half, high))
        return (*a, *b)

    @property
    def right(self) -> float:
        """Right edge of what is drawn, mm of paper."""
        return self.view.at((self.half, 0.0))[0]


# --------------------------------------------------------------------------------------- tiles


def tile_joints(face: Face, tiles: TileGrid | None) -> Iterator[Primitive]:
    """Joints of the tiles as thin lines, from the floor to the upper end of the face."""
    if tiles is None or not drawable(face, tiles):
        return
    tall = float(tiles.height + tiles.joint)
    first = float(tiles.first_joint_up)
    rows = range(math.floor((face.low - first) / tall), math.ceil((face.high - first) / tall))
    for row in rows:
        low, high = first + row * tall, first + (row + 1) * tall
        if row > rows[0]:
            yield from _level(face, low, float(tiles.joint))
        half = float(tiles.joint) / 2
        span = (max(low + half, face.low), min(high - half, face.high))
        for off in _upright_joints(face, tiles, row):
            yield from _upright(face, off, span, half)


def drawable(face: Face, tiles: TileGrid) -> bool:
    """Whether the joints are far enough apart on paper to be told from each other."""
    return face.view.length(min(tiles.width, tiles.height) + tiles.joint) >= FINEST


def _upright_joints(face: Face, tiles: TileGrid, row: int) -> Iterator[float]:
    """Middles of the upright joints of a row, from the glass line, + into the shower."""
    wide = float(tiles.width + tiles.joint)
    first = float(tiles.first_joint_across)
    if tiles.bond == "half" and row % 2:
        first += ROW * wide
    from_, to = math.ceil((-face.half - first) / wide), math.floor((face.half - first) / wide)
    yield from (first + k * wide for k in range(from_, to + 1))


def _edges(face: Face, joint: float) -> tuple[float, ...]:
    """Where the lines of a joint are, from its middle: both edges if wide enough on paper."""
    wide = face.view.length(joint) >= OPEN_JOINT
    return (-joint / 2, joint / 2) if wide else (0.0,)


def _level(face: Face, z: float, joint: float) -> Iterator[Primitive]:
    for edge in _edges(face, joint):
        if face.low < z + edge < face.high:
            a, b = (face.view.at((x, z + edge)) for x in (-face.half, face.half))
            yield Line(start=a, end=b, layer="hidden")


def _upright(face: Face, off: float, span: tuple[float, float], half: float) -> Iterator[Primitive]:
    for edge in _edges(face, 2 * half):
        if span[0] < span[1] and abs(off + edge) < face.half:
            a, b = (face.at(off + edge, z) for z in span)
            yield Line(start=a, end=b, layer="hidden")


def to_edge(hole: DrillHole, tiles: TileGrid | None, usual: float) -> float | None:
    """From the rim of a hole to the edge of its tile, mm; None where it is far or not known."""
    if tiles is None:
        return None
    middle = float(from_joints(tiles, np.array([hole.above_datum]), np.array([hole.off]))[0])
    rim = middle - max((b.diameter for b in hole.bits), default=0.0) / 2
    return rim if rim < NEAR * usual else None


# ------------------------------------------------------------------------------ zones, wood, plates


def zones(face: Face, keep_out: Iterable[KeepOut]) -> Iterator[Primitive]:
    """Zones where nobody drills, hatched both ways."""
    for zone in keep_out:
        half = min(face.half, float(zone.each_side)) if zone.each_side is not None else face.half
        low, high = max(float(zone.from_), face.low), min(float(zone.to), face.high)
        if low >= high:
            continue
        box = face.box(half, low, high)
        left, foot, right, top = box
        outline = ((left, foot), (right, foot), (right, top), (left, top))
        for slant in (45.0, 135.0):
            yield Hatch(outline=outline, layer="wall", slant_deg=slant, spacing=1.6)
        yield frame.oblong(box, "wall", weight="middle")


def zone_rungs(face: Face, keep_out: Iterable[KeepOut]) -> Iterator[Rung]:
    """Name of each zone with its heights, for the ladder beside the wall."""
    for zone in keep_out:
        half = min(face.half, float(zone.each_side)) if zone.each_side is not None else face.half
        middle = (float(zone.from_) + float(zone.to)) / 2
        middle = min(max(middle, face.low), face.high)
        low, high = (length(face, float(z)) for z in (zone.from_, zone.to))
        heights = phrase("{low} to {high}", low=low, high=high)
        if zone.deeper_than > 0:
            deep = length(face, float(zone.deeper_than))
            heights = phrase("{low} to {high}, from {deep} deep", low=low, high=high, deep=deep)
        words = phrase("KEEP OUT: {name}", name=as_typed(zone.name))
        yield rung(face, (half, middle), (words, heights))


def rung(face: Face, at: tuple[float, float], texts: Iterable[str]) -> Rung:
    """Words beside the wall for a place on it (right of the glass line, above the datum)."""
    first, *more = texts
    return Rung(at=face.view.at(at), words=first, more=tuple(more), room=face.room)


def length(face: Face, mm: float) -> str:
    """Write a length so that no line breaks in it."""
    return str(figure(face.units, mm)).replace(" ", "\u00a0")


def known_wood(face: Face, brief: Brief) -> Iterator[Primitive]:
    """Outline of the wood that is known to be behind the wall."""
    wall = brief.job.wall(face.side)
    for piece in wall.blocking if wall else ():
        low, high = max(float(piece.from_), face.low), min(float(piece.to), face.high)
        half = min(float(piece.each_side), face.half)
        if low < high:
            yield frame.oblong(face.box(half, low, high), "hidden", stroke="dashed")


def plates(face: Face, brief: Brief, holes: Sequence[DrillHole]) -> Iterator[Primitive]:
    """Plate of each hinge and clamp about its holes."""
    parts: dict[str, list[DrillHole]] = {}
    for hole in holes:
        parts.setdefault(hole.part, []).append(hole)
    for of_part in parts.values():
        item = brief.items.get(of_part[0].fitting)
        if isinstance(item, Hinge | Clamp):
            tall = float(item.plate_height)
            wide = float(item.plate_width) if isinstance(item, Hinge) else tall
            off, z = _middle([h.off for h in of_part]), _middle([h.above_datum for h in of_part])
            x, y = face.at(off, z)
            across, up = face.view.length(wide / 2), face.view.length(tall / 2)
            yield frame.oblong((x - across, y - up, x + across, y + up), "hardware")


def _middle(places: Sequence[float]) -> float:
    return (min(places) + max(places)) / 2
