"""A door on its hinge screws: the worst screw of all, and the inverse.

The worst is looked for over every load, opening and share of the weight. The inverse: the shortest
screw, the least blocking, the heaviest and the widest door.
"""

# ruff: noqa: N803 - units keep their capitals

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import product

from hangtrue.check.proof.cases import CaseSet, LeafCase, case_set
from hangtrue.check.proof.fixing import (
    Capacity,
    Fixing,
    capacity,
    stock_lengths,
    stock_sizes,
    use,
)
from hangtrue.geometry import Point
from hangtrue.mechanics.door_statics import (
    Leaf,
    LeafLoad,
    PlateForce,
    ScrewForce,
    Share,
    hinge_forces,
    screw_forces,
)
from hangtrue.mechanics.ranges import OutOfRange

OPENINGS_DEG = (0.0, 30.0, 60.0, 90.0)
SHARES: tuple[Share, ...] = ("both", "upper", "lower")
FINEST = 0.005
"""Relative step at which a search for a size ends."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hanging:
    """A door and its hinge plates, as far as the screws feel them; mm.

    Attributes
    ----------
    width
        From the hinge axis to the free edge.
    handle
        From the hinge axis to the handle.
    floor
        Height of the floor above the leaf's datum, usually below it.
    screws
        Places on a plate (along the wall, up) from its middle.
    stand_off
        From the wall's face to the hinge axis.
    rules
        Name of the set of load cases.

    """

    leaf: Leaf
    width: float
    handle: float
    floor: float
    screws: tuple[Point, ...]
    stand_off: float
    rules: str

    @property
    def cases(self) -> CaseSet:
        """Load cases that it must bear or be asked about."""
        return case_set(self.rules)

    def load(self, case: LeafCase) -> LeafLoad:
        """Return a load case on this leaf: leaning at the free edge, pulling at the handle."""
        return LeafLoad(
            arm=self.width if case.across_N else self.handle,
            height=self.floor + case.height,
            across_N=case.across_N,
            down_N=case.down_N,
        )

    def scaled(self, mass: float, width: float) -> Hanging:
        """Return a door of so many times its mass and width."""
        leaf = replace(self.leaf, mass_kg=self.leaf.mass_kg * mass, centre=self.leaf.centre * width)
        return replace(self, leaf=leaf, width=self.width * width, handle=self.handle * width)


@dataclass(frozen=True, slots=True, kw_only=True)
class Use:
    """The worst screw: under which load, at which opening and share, and how much is used.

    Attributes
    ----------
    at
        Its place on the plate, along the wall and up from the plate's middle, mm.
    use
        Load over capacity; up to 1 it holds.

    """

    case: LeafCase
    opening_deg: float
    share: Share
    plate: str
    force: PlateForce
    at: Point
    screw: ScrewForce
    capacity: Capacity
    use: float


def demands(door: Hanging, case: LeafCase) -> Iterator[tuple[float, Share, str, PlateForce]]:
    """Forces on both plates under a load, at every opening and share; N, design values."""
    loads = (door.load(case),) if case.across_N or case.down_N else ()
    for opening, share in product(OPENINGS_DEG, SHARES):
        forces = hinge_forces(door.leaf, math.radians(opening), share, loads)
        yield opening, share, "upper", forces.upper
        yield opening, share, "lower", forces.lower


@lru_cache(maxsize=256)
def worst(door: Hanging, fixing: Fixing, *, told: bool = False) -> Use:
    """Return the worst screw under the loads that decide, or under those that are only told.

    Raises
    ------
    OutOfRange
        If a screw of that length has no value, or the plate's screws cannot take a moment.

    """
    factor = door.cases.factor
    found = (
        Use(
            case=case,
            opening_deg=opening,
            share=share,
            plate=plate,
            force=force,
            at=at,
            screw=screw,
            capacity=borne,
            use=use(fixing, borne, factor * screw.tension_N, factor * screw.shear_N),
        )
        for case in door.cases.leaves
        if case.decides is not told
        for borne in (capacity(fixing, case.duration),)
        for opening, share, plate, force in demands(door, case)
        for at, screw in zip(
            door.screws, screw_forces(force, door.screws, door.stand_off), strict=True
        )
    )
    return max(found, key=lambda one: one.use)


def use_with(fixing: Fixing, used: Use, lateral_N: float) -> float:
    """Use of the worst screw if it bore another load sideways; N."""
    weaker = replace(used.capacity, lateral_N=lateral_N)
    return use(fixing, weaker, used.screw.tension_N, used.screw.shear_N)


def holds(door: Hanging, fixing: Fixing) -> bool:
    """Whether every screw holds under every load that decides."""
    try:
        return worst(door, fixing).use <= 1.0
    except OutOfRange:
        return False


@lru_cache(maxsize=64)
def shortest(door: Hanging, fixing: Fixing) -> Fixing | None:
    """Return the thinnest and then shortest screw of the shops that holds and stays in the wood."""
    sizes = (fixing.size,) if fixing.kind == "lag-screw" else stock_sizes()
    first = sizes.index(fixing.size) if fixing.size in sizes else 0
    for size in (fixing.size, *sizes[first + 1 :]):
        for length in stock_lengths():
            tried = replace(fixing, size=size, length=length)
            if tried.sticks_out <= 0 and holds(door, tried):
                return tried
    return None


@lru_cache(maxsize=64)
def least_depth(door: Hanging, fixing: Fixing) -> float | None:
    """Least thickness of wood that will do if the screw goes right through it, mm; or None."""
    low, high = 0.0, 4 * fixing.depth

    def good(depth: float) -> bool:
        return holds(door, replace(fixing, depth=depth, length=fixing.over + depth))

    return _least(good, low, high)


@lru_cache(maxsize=64)
def heaviest(door: Hanging, fixing: Fixing) -> float:
    """Greatest mass of a door of the same width that this wall carries on these screws, kg."""
    return door.leaf.mass_kg * _most(lambda s: holds(door.scaled(s, 1.0), fixing))


@lru_cache(maxsize=64)
def widest(door: Hanging, fixing: Fixing) -> float:
    """Greatest width of a door of the same height and glass that this wall carries, mm."""
    return door.width * _most(lambda s: holds(door.scaled(s, s), fixing))


def _most(good: Callable[[float], bool]) -> float:
    """Greatest factor, up to 10, that is good; 0 where none is. Good ones lie below bad ones."""
    low, high = 0.0, 10.0
    while high - low > FINEST * max(high, 1.0):
        middle = (low + high) / 2
        low, high = (middle, high) if good(middle) else (low, middle)
    return low


def _least(good: Callable[[float], bool], low: float, high: float) -> float | None:
    if not good(high):
        return None
    while high - low > FINEST * high:
        middle = (low + high) / 2
        low, high = (low, middle) if good(middle) else (middle, high)
    return high
