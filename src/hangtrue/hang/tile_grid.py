"""Where the tiles of a wall end, and how to move all plates of a door together clear of them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hangtrue.job.room import KeepOut, TileGrid

Array = NDArray[np.float64]

SHORT = 1000.0
"""What a mm too near costs in mm of moving: clear first, then near to the plan."""
ROW = 0.5
"""Share of a tile by which every second row of a half bond is offset."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Mount:
    """A fitting with its holes, that may slide along its surface.

    Attributes
    ----------
    planned
        Its centre along the surface: height above the datum, or x along the curb; mm.
    low, high
        Where its centre may be.
    holes
        (along, across) of each hole from its centre, mm; across is + into the shower.
    diameter
        Of the hole in the face, mm.
    depth
        Of the holes from the face, mm.

    """

    part: str
    planned: float
    low: float
    high: float
    holes: tuple[tuple[float, float], ...]
    diameter: float
    depth: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Obstructions:
    """What holes of one surface keep away from, and how far."""

    tiles: TileGrid | None
    keep_outs: tuple[KeepOut, ...]
    from_tile_edge: float
    keep_out_margin: float


def from_joints(tiles: TileGrid, up: Array, across: Array) -> Array:
    """Distance of points from the nearest edge of the tile they are in, mm; negative in a joint.

    Parameters
    ----------
    up, across
        Heights above the datum, and distances from the glass line, + into the shower; same shape.

    """
    pitch_up, pitch_across = tiles.height + tiles.joint, tiles.width + tiles.joint
    half = tiles.joint / 2
    rows = np.floor((up - tiles.first_joint_up) / pitch_up)
    level = _to_nearest(up - tiles.first_joint_up, pitch_up) - half
    bond = ROW * pitch_across * np.mod(rows, 2) if tiles.bond == "half" else 0.0
    upright = _to_nearest(across - tiles.first_joint_across - bond, pitch_across) - half
    nearest: Array = np.minimum(level, upright)
    return nearest


def _to_nearest(place: Array, pitch: float) -> Array:
    """Distance to the nearest of the lines at 0, pitch, 2 pitch and so on."""
    off = np.mod(place, pitch)
    distance: Array = np.minimum(off, pitch - off)
    return distance


def outside(zone: KeepOut, up: Array, across: Array) -> Array:
    """How far points are outside a zone, mm; negative within it, by how far to get out."""
    level = np.maximum(zone.from_ - up, up - zone.to)
    if zone.each_side is None:
        return np.asarray(level)
    upright = np.abs(across) - zone.each_side
    both_out = (level > 0) & (upright > 0)
    out: Array = np.where(both_out, np.hypot(level, upright), np.maximum(level, upright))
    return out


def short_by(mount: Mount, centres: Array, near: Obstructions) -> Array:
    """mm by which the worst hole of a mount is too near to something; 0 where all are clear.

    Parameters
    ----------
    centres
        (k,) places of its centre; the answer has the same shape.

    """
    rim = mount.diameter / 2
    short = np.zeros(centres.shape)
    for along, across in mount.holes:
        up, off = centres + along, np.full(centres.shape, across)
        if near.tiles is not None:
            clear = from_joints(near.tiles, up, off) - rim
            short = np.maximum(short, near.from_tile_edge - clear)
        for zone in near.keep_outs:
            if mount.depth > zone.deeper_than:
                clear = outside(zone, up, off) - rim
                short = np.maximum(short, near.keep_out_margin - clear)
    return short


def jointly(
    mounts: Sequence[Mount],
    near: Obstructions,
    *,
    apart_least: float,
    apart_most: float = math.inf,
    step: float,
) -> tuple[float, ...]:
    """Place all mounts of one line together: clear first, then as little moved as can be.

    Exact on its steps: the cost is a sum over mounts, and only neighbours bind each other, so the
    best row is found from one mount to the next.

    Parameters
    ----------
    mounts
        In order along the line.
    apart_least, apart_most
        Distance of the centres of neighbours, mm.
    step
        Places tried are this far apart, mm, counted from where each was planned.

    Returns
    -------
    The place of each mount; where it was planned if no row keeps the distances.

    """
    places = [_places(m, step) for m in mounts]
    costs = [
        SHORT * short_by(m, x, near) + np.abs(x - m.planned)
        for m, x in zip(mounts, places, strict=True)
    ]
    total, back = costs[0], []
    for k in range(1, len(mounts)):
        apart = places[k][None, :] - places[k - 1][:, None]
        allowed = (apart >= apart_least - step / 2) & (apart <= apart_most + step / 2)
        ways = np.where(allowed, total[:, None], np.inf)
        back.append(np.argmin(ways, axis=0))
        total = np.min(ways, axis=0) + costs[k]
    if not np.isfinite(total).any():
        return tuple(m.planned for m in mounts)
    at = int(np.argmin(total))
    chosen = [at]
    for step_back in reversed(back):
        chosen.append(int(step_back[chosen[-1]]))
    return tuple(float(x[i]) for x, i in zip(places, reversed(chosen), strict=True))


def _places(mount: Mount, step: float) -> Array:
    """Places to try from low to high, the planned one among them."""
    down = math.floor(max(mount.planned - mount.low, 0.0) / step + 1e-9)
    up = math.floor(max(mount.high - mount.planned, 0.0) / step + 1e-9)
    return np.asarray(mount.planned + step * np.arange(-down, up + 1), dtype=np.float64)
