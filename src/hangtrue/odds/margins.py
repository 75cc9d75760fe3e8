"""Whether the fitter finds a position: the margin of a draw by every dual solution there is.

Rows that say the same of the freedoms are one *group*, `L <= Y y <= H`, with L the largest of its
lower bounds and H the least of its upper ones. Such ranges can all be met exactly if no elementary
vector of the left null space of Y speaks against it (Rockafellar 1969); in a row of panes there are
a handful, so a million draws are decided by one matrix product. Where the elementary vectors are
too many, dual solutions of a few linear programs turn draws away, and what is left is solved one
draw at a time.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import combinations, pairwise

import numpy as np
from numpy.typing import NDArray

from hangtrue.fit.solve import Program, stretch
from hangtrue.measure.opening import Matrix, Vector
from hangtrue.odds.model import Model
from hangtrue.source import cites

Flags = NDArray[np.bool_]
Index = NDArray[np.intp]

ALIKE = 9
"""Decimals to which coefficients of the freedoms are compared."""

MOST_GROUPS = 14
"""Connected groups whose subsets are all looked at: 16,000 of them."""

FAR = 1000.0
"""Every range is narrowed by this for a linear program, so that its shortfall is never nought."""

NOUGHT = 1e-9

SHARED = 200_000
"""Multiplications that a product takes before a library thinks of sharing them."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class System:
    """The ranges of a model, row by row and group by group.

    Attributes
    ----------
    rows
        (r,) rows of the model that take part, group after group.
    sign
        (r,) -1 where a row says the opposite of its group.
    low, high
        (r,) least and most that a row lets its group be, at the planned gaps, mm.
    starts
        (g,) first row of each group.
    bounds
        (b,) how far a bounded freedom goes; these are further groups, each of one fixed row.
    circuits
        (c, g + b) elementary vectors: a draw fits if for each the bounds that pull against each
        other leave room. None where they are too many.
    weight
        (c,) number of gaps that share the room.

    """

    rows: Index
    sign: Vector
    low: Vector
    high: Vector
    starts: Index
    bounds: Vector
    circuits: Matrix | None
    weight: Vector

    @property
    def groups(self) -> int:
        """Number of groups of gaps."""
        return len(self.starts)

    @property
    def members(self) -> list[slice]:
        """Rows of each group."""
        ends = [*self.starts, len(self.rows)]
        return [slice(a, b) for a, b in pairwise(ends)]


def system(model: Model) -> System:
    """Group the rows of a model and list its elementary vectors."""
    numbers, signs, kinds = _alike(model.Y)
    order = np.argsort(numbers, kind="stable")
    starts = np.flatnonzero(np.diff(numbers[order], prepend=-1))
    sign, rows = signs[order], order
    low, high = model.low - model.planned, model.high - model.planned
    forward = sign > 0
    held = np.flatnonzero(np.isfinite(model.most))
    every = np.vstack([kinds, np.eye(len(model.freedoms))[held]])
    circuits = _with_pairs(every.tobytes(), every.shape, len(kinds))
    weight = np.ones(0)
    if circuits is not None:
        # A group that is pulled both ways by itself counts with both of its ends.
        weight = np.abs(circuits[:, : len(kinds)]).sum(axis=1)
    return System(
        rows=rows,
        sign=sign,
        low=np.where(forward, low[rows], -high[rows]),
        high=np.where(forward, high[rows], -low[rows]),
        starts=starts,
        bounds=model.most[held],
        circuits=circuits,
        weight=weight,
    )


def _alike(Y: Matrix) -> tuple[Index, Vector, Matrix]:
    """Group number (k,) and sign (k,) of every row, and the row (g, n) of every group."""
    known: dict[bytes, int] = {}
    numbers, signs = np.zeros(len(Y), dtype=np.intp), np.ones(len(Y))
    kinds: list[Vector] = []
    for k, row in enumerate(Y.round(ALIKE) + 0.0):
        first = row[np.flatnonzero(row)[:1]]
        signs[k] = -1.0 if first.size and first[0] < 0 else 1.0
        key = (signs[k] * row + 0.0).tobytes()
        if key not in known:
            known[key] = len(kinds)
            kinds.append(signs[k] * row)
        numbers[k] = known[key]
    return numbers, signs, np.array(kinds).reshape(len(kinds), Y.shape[1])


# ------------------------------------------------------------------------- elementary vectors


@lru_cache(maxsize=64)
def _with_pairs(rows: bytes, shape: tuple[int, int], gaps: int) -> Matrix | None:
    """All elementary vectors (c, g), both ways round; only those in which a gap takes part.

    Kept by what the rows are: most enclosures are one of a few rows of panes.
    """
    Y = np.frombuffer(rows).reshape(shape)
    found: list[Vector] = []
    for component in _components(Y):
        if len(component) > MOST_GROUPS:
            return None
        for some, vector in circuits(Y[component]):
            whole = np.zeros(len(Y))
            whole[np.array(component)[list(some)]] = vector
            found += [whole, -whole]
    kept = [v for v in found if np.abs(v[:gaps]).max() > NOUGHT]
    return np.array(kept).reshape(len(kept), len(Y))


def _components(Y: Matrix) -> list[list[int]]:
    """Groups that share a freedom, directly or over others."""
    parts: list[tuple[set[int], set[int]]] = []
    for g, row in enumerate(Y):
        touched, members = set(map(int, np.flatnonzero(row))), {g}
        for part in [p for p in parts if p[1] & touched]:
            parts.remove(part)
            members |= part[0]
            touched |= part[1]
        parts.append((members, touched))
    return [sorted(members) for members, _ in parts]


@cites("rockafellar-1969", "elementary vectors of a subspace")
def circuits(Y: Matrix) -> Iterator[tuple[tuple[int, ...], Vector]]:
    """Least sets of rows (g, n) that depend on each other, with the combination that is nought.

    The largest coefficient of each is 1.
    """
    known: list[set[int]] = []
    for size in range(1, int(np.linalg.matrix_rank(Y)) + 2 if Y.any() else 2):
        for some in combinations(range(len(Y)), size):
            if any(least <= set(some) for least in known):
                continue
            values, directions = np.linalg.svd(Y[list(some)].T)[1:]
            if len(values) == size and values[-1] > NOUGHT:
                continue
            known.append(set(some))
            vector = directions[-1]
            yield some, vector / vector[np.abs(vector).argmax()]


# ------------------------------------------------------------------------------ draws


def limits(system: System, noise: Matrix) -> tuple[Matrix, Matrix]:
    """Largest lower and least upper bound (g + b, N) of every group, for noise (r, N) of its rows.

    `noise` is already signed and in the order of the system's rows.
    """
    above, below = noise - system.low[:, None], noise - system.high[:, None]
    low, high = np.empty((2, system.groups, noise.shape[1]))
    for g, rows in enumerate(system.members):  # much faster than reduceat
        np.minimum.reduce(above[rows], axis=0, out=low[g])
        np.maximum.reduce(below[rows], axis=0, out=high[g])
    np.negative(low, out=low)
    np.negative(high, out=high)
    if not len(system.bounds):
        return low, high
    fixed = np.repeat(system.bounds[:, None], noise.shape[1], axis=1)
    return np.vstack([low, -fixed]), np.vstack([high, fixed])


def in_one_thread(a: Matrix, z: Matrix) -> Matrix:
    """Multiply (r, d) with (d, N) in pieces too small for a library to share among threads.

    For products of this size the sharing costs more than it saves, and where the processor is busy
    it costs a hundred times as much.
    """
    product = np.empty((len(a), z.shape[1]))
    step = max(SHARED // max(a.size, 1), 16)
    for start in range(0, z.shape[1], step):
        piece = slice(start, start + step)
        np.matmul(a, z[:, piece], out=product[:, piece])
    return product


def slacks(system: System, noise: Matrix) -> Matrix:
    """Room (c + g, N) by every elementary vector, then by every group against itself, mm a gap.

    Raises
    ------
    LookupError
        If the elementary vectors are too many; see `decided`.

    """
    if system.circuits is None:
        raise LookupError("more elementary vectors than are listed")
    low, high = limits(system, noise)
    up, down = np.maximum(system.circuits, 0.0), np.minimum(system.circuits, 0.0)
    both = np.hstack([up, down]) / system.weight[:, None]
    room = in_one_thread(both, np.vstack([high, low]))
    return np.vstack([room, (high - low)[: system.groups] / 2])


def margin(system: System, noise: Matrix) -> Vector:
    """Most of the least distance of any gap to its range's end (N,), mm; it fits from 0 on.

    Where nothing can fail there is room without end.
    """
    least: Vector = slacks(system, noise).min(axis=0, initial=np.inf)
    return least


def margins(model: Model, noise: Matrix) -> Vector:
    """Margins (N,) of draws with noise (k, N), mm: by elementary vectors, or one by one."""
    found = system(model)
    if found.circuits is not None:
        return margin(found, found.sign[:, None] * noise[found.rows])
    return np.array([by_program(model, u)[0] for u in noise.T])


def decided(model: Model, noise: Matrix) -> Flags:
    """Whether each draw with noise (k, N) goes in; the answer equals one linear program a draw."""
    found = system(model)
    if found.circuits is not None:
        every: Flags = margin(found, found.sign[:, None] * noise[found.rows]) >= 0.0
        return every
    goes = _goes_without(model, noise)
    open_, at = ~goes, 0
    while open_.any():
        at = int(np.argmax(open_))
        reached, price = by_program(model, noise[:, at])
        goes[at], open_[at] = reached >= 0.0, False
        if reached < 0.0:
            left = np.flatnonzero(open_)
            open_[left[reached + price @ (noise[:, left] - noise[:, [at]]) < 0.0]] = False
    return goes


def _goes_without(model: Model, noise: Matrix) -> Flags:
    """Whether each draw goes in without the freedoms that are bounded: then it does with them."""
    free = ~np.isfinite(model.most)
    names = tuple(name for name, f in zip(model.freedoms, free, strict=True) if f)
    less = replace(model, freedoms=names, Y=model.Y[:, free], most=model.most[free])
    found = system(less)
    if found.circuits is None or free.all():
        return np.zeros(noise.shape[1], dtype=np.bool_)
    goes: Flags = margin(found, found.sign[:, None] * noise[found.rows]) >= 0.0
    return goes


def by_program(model: Model, noise: Vector) -> tuple[float, Vector]:
    """Margin of one draw with noise (k,) by a linear program, mm, and what each mm does to it (k,).

    The prices are a dual solution: with other noise the margin is at most
    `margin + prices (other - noise)`.
    """
    gaps = model.planned + noise
    missing, price = stretch(
        Program(
            A=model.Y,
            low=model.low - gaps + FAR,
            high=model.high - gaps - FAR,
            least=-model.most,
            most=model.most,
        )
    )
    return FAR - missing, price
