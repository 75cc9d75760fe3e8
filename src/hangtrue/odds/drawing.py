"""Drawing errors: the same draws from the same seed on every machine, also where failing is rare.

Noise of the gaps is `factor z + uniform u` with z standard normal. A factor is found row by row in
a fixed order, never by eigenvectors, whose signs and turns differ from one library to the next.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from itertools import chain
from typing import TypeVar

import numpy as np
from scipy import special

from hangtrue.measure.opening import Matrix, Vector
from hangtrue.odds.margins import Flags, Index, System, in_one_thread, margin
from hangtrue.odds.model import Model, NotACovarianceError
from hangtrue.source import cites

BLOCK, STRETCH = 1024, 32 * 1024
"""Draws that are held at once: few enough to stay near the processor; and drawn in one go."""

FINEST = 1e-9
"""Variance that is left out when a covariance is factorised, mm2: a deviation of 0.00003 mm."""

NEGATIVE = 1e-6
"""Negative variance that cannot be rounding, as a share of the largest."""

SURE = 8.5
"""Standard deviations beyond which nothing is ever drawn."""

FACES = 12
"""Ways to fail toward which rare draws are shifted."""

NEAR = 3.0
"""Ways to fail that are further off than the likeliest by so many deviations are left alone."""

FAR = 30.0
"""Standard deviations from which on a failure is nought to the machine, so none is drawn."""

PLAIN = 0.1
"""Share of the rare draws that are not shifted, so that no draw weighs more than ten times."""

NEVER = 1e6
"""A bound that is never reached, mm."""

COMBINATIONS = 2_000
"""Rows that could fail together are looked at one by one up to so many combinations."""

TIGHTEST = 500
"""Combinations that are looked at for the likeliest ways to fail."""

ALIKE = 0.98
"""Correlation from which on two ways to fail count as one when draws are shifted."""

HALF = 0.5
Pull = tuple[tuple[int, float, bool], ...]
"""Group, weight, and whether its upper bound pulls, for each bound that takes part."""

Got = TypeVar("Got")


def factor(covariance: Matrix) -> Matrix:
    """Write a covariance (k, k) as `F F'` with F (k, r), largest remaining variance first.

    Variances count as alike to six digits, so that the order is the same everywhere.

    Raises
    ------
    NotACovarianceError
        If a direction has negative variance, or an entry is no number.

    """
    left = np.array(covariance, dtype=np.float64)
    if not np.isfinite(left).all() or not np.allclose(left, left.T, atol=1e-9):
        raise NotACovarianceError(np.nan)
    scale = float(np.abs(np.diag(left)).max(initial=0.0))
    columns: list[Vector] = []
    while (variance := np.diag(left)).max(initial=0.0) > FINEST:
        k = int(np.argmax(np.round(variance / scale, 6)))
        if variance[k] <= FINEST:
            k = int(np.argmax(variance))
        column = left[:, k] / np.sqrt(variance[k])
        columns.append(column)
        left = left - np.outer(column, column)
        left[k, :] = left[:, k] = 0.0
    least = min(float(np.diag(left).min(initial=0.0)), -float(np.abs(left).max(initial=0.0)))
    if least < -max(NEGATIVE * scale, 10 * FINEST):
        raise NotACovarianceError(least)
    return np.array(columns).reshape(len(columns), len(left)).T


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Noise:
    """What is needed to draw the signed noise of a system's rows.

    Attributes
    ----------
    system
        Its rows may be fewer than the model's: those that never decide are left out.
    normal, uniform
        (r, d) and (r, u): what standard normal and uniform variables of variance 1 do to them.

    """

    system: System
    normal: Matrix
    uniform: Matrix

    def of(self, z: Matrix, flat: Matrix) -> Matrix:
        """Noise (r, N) of the rows for variables (d, N) and (u, N)."""
        noise = in_one_thread(self.normal, z)
        return noise + in_one_thread(self.uniform, flat) if len(flat) else noise


def noise(model: Model, system: System) -> Noise:
    """Work out the noise of every row of the system."""
    turn = system.sign[:, None]
    return Noise(
        system=system,
        normal=turn * factor(model.noise)[system.rows],
        uniform=turn * model.uniform[system.rows],
    )


def deciding(every: Noise) -> Noise:
    """Leave out rows that take no part in any failure that will ever be drawn.

    Every combination of rows that could fail together is looked at; one that is further off than
    `SURE` standard deviations never does. Whether a draw goes in stays the same; how much room it
    has, where it has plenty, does not.
    """
    system = every.system
    if system.circuits is None:
        return every
    needed = np.zeros((2, len(system.rows)), dtype=np.bool_)
    alive = np.array([_mark(every, pull, needed) for pull in pulls(system)], dtype=np.bool_)
    keep = needed.any(axis=0)
    groups = np.repeat(np.arange(system.groups), np.diff([*system.starts, len(system.rows)]))
    kept = np.unique(groups[keep])
    columns = np.append(kept, np.arange(system.groups, system.circuits.shape[1]))
    circuits = system.circuits[alive[: len(system.circuits)]]
    small = replace(
        system,
        rows=system.rows[keep],
        sign=system.sign[keep],
        low=np.where(needed[0], system.low, -NEVER)[keep],
        high=np.where(needed[1], system.high, NEVER)[keep],
        starts=np.searchsorted(groups[keep], kept),
        circuits=circuits[:, columns],
        weight=system.weight[alive[: len(system.circuits)]],
    )
    both = every.normal[keep]
    return Noise(system=small, normal=factor(both @ both.T), uniform=every.uniform[keep])


def _mark(every: Noise, pull: Pull, needed: Flags) -> bool:
    """Mark the rows (lower bounds, upper bounds) that may fail together; say if any may."""
    sides = [(every.system.members[g], upper) for g, _, upper in pull if g < every.system.groups]
    if math.prod(rows.stop - rows.start for rows, _ in sides) > COMBINATIONS:
        for rows, upper in sides:
            needed[int(upper), rows] = True
        return True
    mean, slope, chosen = _together(every, pull, COMBINATIONS)
    fails = mean < SURE * np.sqrt((slope**2).sum(axis=1))
    which = np.unravel_index(np.flatnonzero(fails), [len(rows) for rows, _ in chosen])
    for (mine, upper), members in zip(chosen, which, strict=True):
        needed[int(upper), mine[np.unique(members)]] = True
    return bool(fails.any())


# ------------------------------------------------------------------------------------- draws


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Draws:
    """Some draws: normal (d, N) and uniform (u, N) variables, and the weight (N,) of each."""

    normal: Matrix
    uniform: Matrix
    weight: Vector


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Shifts:
    """Where draws are shifted to: m places (m, d), and the share (m,) of the draws of each."""

    places: Matrix
    share: Vector

    @cites("owen-zhou-2000", "importance sampling by a mixture, deterministic weights")
    def apply(self, z: Matrix) -> Vector:
        """Shift standard normal draws (d, N) in place, and return the weight (N,) of each.

        The density of a shifted draw over that of a plain one is `exp(s z - s s / 2)`.
        """
        count = z.shape[1]
        which = np.searchsorted(np.cumsum(self.share)[:-1], (np.arange(count) + HALF) / count)
        z += self.places[which].T
        half = (self.places**2).sum(axis=1)[:, None] / 2
        weight: Vector = 1.0 / (self.share @ np.exp(in_one_thread(self.places, z) - half))
        return weight


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Stretch:
    """Draws that come from one generator, a block at a time; plain ones where nothing is rare."""

    seed: int
    number: int
    count: int
    sizes: tuple[int, int]
    shifts: Shifts | None = None

    def __iter__(self) -> Iterator[Draws]:
        """Draw block after block."""
        rng = np.random.Generator(np.random.SFC64((self.seed, self.number)))
        d, u = self.sizes
        for start in range(0, self.count, BLOCK):
            n = min(BLOCK, self.count - start)
            z = rng.standard_normal((d, n))
            flat = rng.uniform(-(3**HALF), 3**HALF, (u, n))
            weight = self.shifts.apply(z) if self.shifts else np.ones(n)
            yield Draws(normal=z, uniform=flat, weight=weight)


def stretches(
    seed: int, count: int, sizes: tuple[int, int], shifts: Shifts | None = None
) -> list[Stretch]:
    """Draw in stretches; each has its own place in the stream, whoever draws it when."""
    return [
        Stretch(seed=seed, number=k, count=min(STRETCH, count - start), sizes=sizes, shifts=shifts)
        for k, start in enumerate(range(0, count, STRETCH))
    ]


def each(work: Callable[[Draws], Got], drawn: list[Stretch]) -> Iterator[Got]:
    """Do some work on every block, two stretches at a time, in order."""

    def done(stretch: Stretch) -> list[Got]:
        return [work(block) for block in stretch]

    if len(drawn) <= 2:  # noqa: PLR2004 - threads cost more than they save
        yield from chain.from_iterable(map(done, drawn))
        return
    with ThreadPoolExecutor(2) as pool:
        yield from chain.from_iterable(pool.map(done, drawn))


def chance(model: Model, system: System, seed: int, count: int) -> float:
    """Share of draws that do not go in: nothing else, as fast as may be."""
    small = deciding(noise(model, system))
    sizes = small.normal.shape[1], small.uniform.shape[1]

    def failed(draws: Draws) -> int:
        return int((margin(small.system, small.of(draws.normal, draws.uniform)) < 0.0).sum())

    return sum(each(failed, stretches(seed, count, sizes))) / count


# ------------------------------------------------------------------------------ rare failures


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Face:
    """One way to fail: `constant + slope z < 0`, z standard normal (d,)."""

    constant: float
    slope: Vector

    @property
    def beta(self) -> float:
        """How many standard deviations away it is."""
        return self.constant / float(np.linalg.norm(self.slope))

    @property
    def nearest(self) -> Vector:
        """The likeliest z that just fails."""
        nearest: Vector = -self.constant * self.slope / float(self.slope @ self.slope)
        return nearest


def faces(drawn: Noise) -> tuple[Face, ...]:
    """Find the likeliest ways to fail, the likeliest first; of those that go together, one."""
    found: list[Face] = []
    for pull in pulls(drawn.system):
        mean, slope, _ = _together(drawn, pull, TIGHTEST)
        slope = slope[:, : drawn.normal.shape[1]]
        size = np.sqrt((slope**2).sum(axis=1))
        beta = np.divide(mean, size, out=np.full(len(mean), np.inf), where=size > 0.0)
        found += [
            Face(constant=float(mean[i]), slope=slope[i])
            for i in np.argsort(beta, kind="stable")[:FACES]
            if np.isfinite(beta[i])
        ]
    return tuple(_apart(sorted(found, key=lambda f: f.beta)))


def _apart(ordered: list[Face]) -> Iterator[Face]:
    """Leave out what nearly always fails together with something likelier."""
    if not ordered:
        return
    ways = np.array([face.slope for face in ordered])
    ways /= np.linalg.norm(ways, axis=1)[:, None]
    left = np.ones(len(ordered), dtype=np.bool_)
    for k, face in enumerate(ordered):
        if left[k]:
            left &= ways @ ways[k] < ALIKE
            yield face


Together = tuple[Vector, Matrix, list[tuple[Index, bool]]]


def _together(every: Noise, pull: Pull, most: int) -> Together:
    """Room (n,) and its slope (n, d + u) for combinations of rows that pull; and their sides.

    All combinations, or where they are more than `most` those of the tightest rows of each side.
    """
    system = every.system
    sides = [(system.members[g], w, up) for g, w, up in pull if g < system.groups]
    whole = math.prod(rows.stop - rows.start for rows, _, _ in sides)
    few = None if whole <= most else int(most ** (1.0 / len(sides)))
    room = sum(
        w * float(system.bounds[g - system.groups]) for g, w, _ in pull if g >= system.groups
    )
    both = np.hstack([every.normal, every.uniform])
    mean, slope = np.full(1, room), np.zeros((1, both.shape[1]))
    chosen: list[tuple[Index, bool]] = []
    for rows, weight, upper in sides:
        sign = weight if upper else -weight
        bound = system.high if upper else system.low
        mine = np.arange(rows.start, rows.stop)
        mine = mine[np.argsort(sign * bound[mine], kind="stable")[:few]]
        mean = (mean[:, None] + sign * bound[mine]).ravel()
        slope = (slope[:, None] - sign * both[mine]).reshape(len(mean), both.shape[1])
        chosen.append((mine, upper))
    return mean, slope, chosen


def pulls(system: System) -> Iterator[Pull]:
    """Every way to fail, in the order of `slacks`: the bounds that pull against each other."""
    if system.circuits is None:
        raise LookupError("more elementary vectors than are listed")
    for vector, weight in zip(system.circuits, system.weight, strict=True):
        yield tuple(
            (int(g), float(abs(vector[g]) / weight), bool(vector[g] > 0))
            for g in np.flatnonzero(vector)
        )
    for g in range(system.groups):
        yield ((g, HALF, True), (g, HALF, False))


def toward(found: tuple[Face, ...]) -> Shifts | None:
    """Shift draws to the likeliest ways to fail, the likelier the more; None where none is far."""
    far = [f for f in found if 0.0 < f.beta < min(found[0].beta + NEAR, FAR)][:FACES]
    if not far:
        return None
    # Far out the chance of each is nought to the machine; what counts is how they compare.
    likely = special.log_ndtr(-np.array([f.beta for f in far]))
    share = np.exp(likely - likely.max())
    return Shifts(
        places=np.array([np.zeros(len(far[0].slope)), *(f.nearest for f in far)]),
        share=np.array([PLAIN, *((1 - PLAIN) * share / share.sum())]),
    )
