"""Drawing errors: the same draws from the same seed on every machine, also where failing is rare.

Noise of the gaps is `factor z + uniform u` with z standard normal. A factor is found row by row in
a fixed order, never by eigenvectors, whose signs and turns differ from one library to the next.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from itertools import product
from typing import TypeVar

import numpy as np
from scipy import special

from hangtrue.measure.opening import Matrix, Vector
from hangtrue.odds.margins import Flags, System, margin, slacks
from hangtrue.odds.model import Model, NotACovarianceError
from hangtrue.source import cites

CHUNK = 8192
"""Draws that are held at once."""

FINEST = 1e-9
"""Variance that is left out when a covariance is factorised, mm2: a deviation of 0.00003 mm."""

NEGATIVE = 1e-6
"""Negative variance that cannot be rounding, as a share of the largest."""

SURE = 8.5
"""Standard deviations beyond which nothing is ever drawn."""

FACES = 12
"""Ways to fail toward which rare draws are shifted."""

PLAIN = 0.1
"""Share of the rare draws that are not shifted, so that no draw weighs more than ten times."""

NEVER = 1e6
"""A bound that is never reached, mm."""

COMBINATIONS = 20_000
"""Rows that could fail together are looked at one by one up to so many combinations."""

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
        noise: Matrix = self.normal @ z
        return noise + self.uniform @ flat if len(flat) else noise


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
    pulls = list(_pulls(system))
    alive = np.array([_mark(every, pull, needed) for pull in pulls], dtype=np.bool_)
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
    system = every.system
    sides = [(system.members[g], w, up) for g, w, up in pull if g < system.groups]
    if np.prod([rows.stop - rows.start for rows, _, _ in sides], dtype=np.float64) > COMBINATIONS:
        for rows, _, upper in sides:
            needed[int(upper), rows] = True
        return True
    room = sum(w * float(system.bounds[g - system.groups]) for g, w, _ in pull if g >= system.groups)
    mean, slope = np.full(1, room), np.zeros((1, every.normal.shape[1] + every.uniform.shape[1]))
    both = np.hstack([every.normal, every.uniform])
    for rows, weight, upper in sides:
        sign = weight if upper else -weight
        bound = system.high[rows] if upper else system.low[rows]
        mean = (mean[:, None] + sign * bound).ravel()
        slope = (slope[:, None] - sign * both[rows]).reshape(-1, slope.shape[1])
    fails = mean < SURE * np.sqrt((slope**2).sum(axis=1))
    which = np.unravel_index(np.flatnonzero(fails), [r.stop - r.start for r, _, _ in sides])
    for (rows, _, upper), members in zip(sides, which, strict=True):
        needed[int(upper), rows.start + np.unique(members)] = True
    return bool(fails.any())


# ------------------------------------------------------------------------------------- draws


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Draws:
    """Some draws: normal (d, N) and uniform (u, N) variables, and the weight (N,) of each."""

    normal: Matrix
    uniform: Matrix
    weight: Vector


def plain(seed: int, count: int, sizes: tuple[int, int]) -> Iterator[Callable[[], Draws]]:
    """Draw in chunks; each chunk has its own place in the stream, whoever draws it when."""
    for number, start in enumerate(range(0, count, CHUNK)):
        yield _Chunk(seed=seed, number=number, count=min(CHUNK, count - start), sizes=sizes)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Chunk:
    seed: int
    number: int
    count: int
    sizes: tuple[int, int]

    def __call__(self) -> Draws:
        rng = np.random.Generator(np.random.SFC64((self.seed, self.number)))
        d, u = self.sizes
        return Draws(
            normal=rng.standard_normal((d, self.count)),
            uniform=rng.uniform(-(3**HALF), 3**HALF, (u, self.count)),
            weight=np.ones(self.count),
        )


def each(work: Callable[[Draws], Got], chunks: Iterator[Callable[[], Draws]]) -> Iterator[Got]:
    """Do some work on every chunk, two at a time, in order."""

    def done(chunk: Callable[[], Draws]) -> Got:
        return work(chunk())

    waiting = list(chunks)
    if len(waiting) <= 2:  # noqa: PLR2004 - threads cost more than they save
        yield from map(done, waiting)
        return
    with ThreadPoolExecutor(2) as pool:
        yield from pool.map(done, waiting)


def chance(model: Model, system: System, seed: int, count: int) -> float:
    """Share of draws that do not go in: nothing else, as fast as may be."""
    small = deciding(noise(model, system))
    sizes = small.normal.shape[1], small.uniform.shape[1]

    def failed(draws: Draws) -> int:
        return int((margin(small.system, small.of(draws.normal, draws.uniform)) < 0.0).sum())

    return sum(each(failed, plain(seed, count, sizes))) / count


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
    """Find the likeliest ways to fail, the likeliest first.

    For each elementary vector the rows that pull hardest are found where it just fails, again and
    again until they stay the same; starting from every row of each group that takes part.
    """
    found: dict[bytes, Face] = {}
    for combination in _pulls(drawn.system):
        for start in _starts(drawn, combination):
            face = _settled(drawn, combination, start)
            if face.slope.any():
                key = np.append(face.slope, face.constant).round(6).tobytes()
                found.setdefault(key, face)
    return tuple(sorted(found.values(), key=lambda f: f.beta))


def _pulls(system: System) -> Iterator[Pull]:
    if system.circuits is None:
        raise LookupError("more elementary vectors than are listed")
    for vector, weight in zip(system.circuits, system.weight, strict=True):
        yield tuple(
            (int(g), float(abs(vector[g]) / weight), bool(vector[g] > 0))
            for g in np.flatnonzero(vector)
        )
    for g in range(system.groups):
        yield ((g, HALF, True), (g, HALF, False))


def _starts(drawn: Noise, pull: Pull) -> Iterator[dict[tuple[int, bool], int]]:
    """Rows to start from: of two bounds every pair of outer rows, else the tightest."""
    members = drawn.system.members
    ends = []
    for g, _, upper in pull:
        if g >= drawn.system.groups:
            continue
        rows = range(members[g].start, members[g].stop)
        bound = drawn.system.high if upper else -drawn.system.low
        tight = min(rows, key=lambda k: bound[k])
        ends.append([((g, upper), k) for k in dict.fromkeys((tight, rows[0], rows[-1]))])
    for some in product(*ends[:3]):
        rest = [options[0] for options in ends[3:]]
        yield dict([*some, *rest])


def _settled(drawn: Noise, pull: Pull, rows: dict[tuple[int, bool], int]) -> Face:
    """Follow the rows that pull hardest at the nearest failure."""
    face = _face(drawn, pull, rows)
    for _ in range(10):
        if not face.slope.any():
            break
        noise = drawn.normal @ face.nearest
        now = {key: _hardest(drawn, noise, key) for key in rows}
        if now == rows:
            break
        rows, face = now, _face(drawn, pull, now)
    return face


def _hardest(drawn: Noise, noise: Vector, key: tuple[int, bool]) -> int:
    g, upper = key
    rows = drawn.system.members[g]
    if upper:
        return rows.start + int(np.argmin(drawn.system.high[rows] - noise[rows]))
    return rows.start + int(np.argmax(drawn.system.low[rows] - noise[rows]))


def _face(drawn: Noise, pull: Pull, rows: dict[tuple[int, bool], int]) -> Face:
    constant, slope = 0.0, np.zeros(drawn.normal.shape[1])
    for g, weight, upper in pull:
        if g >= drawn.system.groups:
            constant += weight * float(drawn.system.bounds[g - drawn.system.groups])
            continue
        k, sign = rows[g, upper], 1.0 if upper else -1.0
        bound = drawn.system.high[k] if upper else drawn.system.low[k]
        constant += sign * weight * float(bound)
        slope -= sign * weight * drawn.normal[k]
    return Face(constant=constant, slope=slope)


@cites("owen-zhou-2000", "importance sampling by a mixture, deterministic weights")
def shifted(seed: int, count: int, found: tuple[Face, ...], uniform: int) -> Draws:
    """Draw mostly near the likeliest ways to fail, and weigh every draw by how likely it was.

    Parameters
    ----------
    found
        At least one way to fail.

    """
    near = [f for f in found if f.beta < found[0].beta + 3.0][:FACES]
    shifts = np.array([np.zeros(len(near[0].slope)), *(f.nearest for f in near if f.beta > 0.0)])
    likely = special.ndtr(-np.array([f.beta for f in near if f.beta > 0.0]))
    share = np.array([PLAIN if likely.size else 1.0, *((1 - PLAIN) * likely / likely.sum())])
    rng = np.random.Generator(np.random.SFC64((seed, 2**31)))
    which = np.searchsorted(np.cumsum(share)[:-1], (np.arange(count) + HALF) / count)
    z = rng.standard_normal((shifts.shape[1], count)) + shifts[which].T
    # Density of a shifted draw over that of a plain one is exp(shift z - shift shift / 2).
    ratio = np.exp(shifts @ z - (shifts**2).sum(axis=1)[:, None] / 2)
    flat = rng.uniform(-(3**HALF), 3**HALF, (uniform, count))
    return Draws(normal=z, uniform=flat, weight=1.0 / (share @ ratio))


def failing(drawn: Noise, draws: Draws) -> Matrix:
    """Room (c + g, N) by every way to fail, of some draws; see `slacks`."""
    return slacks(drawn.system, drawn.of(draws.normal, draws.uniform))
