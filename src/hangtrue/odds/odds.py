"""`odds`, the verb of the stage: the chance that an enclosure goes in on the day, and what fails.

A draw of everything that is not known goes in if its fitter finds any position in which every gap
is in its range.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
from scipy import special

from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Enclosure
from hangtrue.job.brief import Brief
from hangtrue.measure.opening import Matrix, Opening, Vector
from hangtrue.odds.drawing import (
    Draws,
    Noise,
    Pull,
    Shifts,
    each,
    faces,
    factor,
    noise,
    pulls,
    stretches,
    toward,
)
from hangtrue.odds.margins import Index, decided, in_one_thread, slacks, system
from hangtrue.odds.model import Model, Place, model
from hangtrue.tables import table

SHOWN = 2048
"""Plain draws from which the gaps are told that will be seen."""

BAND = (0.05, 0.95)


@dataclass(frozen=True, slots=True, kw_only=True)
class JointOdds:
    """What may become of one joint.

    Attributes
    ----------
    fails
        Chance that the glass does not go in and this joint is why; where several are, each counts
        by its part in it, so that the chances of all joints add up to the risk.
    at
        Where it fails most often, mm; its place of least margin where it never does.
    worst
        Expected gap where it will be furthest from usual, mm.
    band
        5 % of the least gap and 95 % of the greatest gap that will be seen, mm.

    """

    joint: str
    fails: float
    at: float
    worst: float
    band: tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Failure:
    """One way to fail: rows whose bounds pull against each other, and its chance.

    Attributes
    ----------
    pull
        (k,) what each mm of gap does to the room, as a share: lower bounds +, upper bounds -.

    """

    pull: Vector
    chance: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Odds:
    """The chance that glass goes in as ordered.

    Attributes
    ----------
    remake
        Chance that it does not, with its Monte Carlo error.
    draws, seed
        How many draws from where.
    weighted
        Whether they were drawn where failing is likely, because it is rare.
    joints
        In the order of the enclosure.
    failures
        Every way to fail that was drawn; likeliest first.
    cost
        Expected cost of a remake by the shop's prices; None where it states none.

    """

    remake: Estimate
    draws: int
    seed: int
    weighted: bool
    joints: tuple[JointOdds, ...]
    failures: tuple[Failure, ...]
    cost: float | None

    @property
    def goes(self) -> float:
        """Chance that it goes in."""
        return 1.0 - self.remake.value

    @property
    def weakest(self) -> JointOdds:
        """The joint that fails first."""
        return max(self.joints, key=lambda j: j.fails)


def odds(brief: Brief, opening: Opening, made: Enclosure, draws: int | None = None) -> Odds:
    """Work out the chance that an enclosure goes in on the day.

    Parameters
    ----------
    draws
        How many; as many as the table says for a plan if not given.

    Raises
    ------
    NotACovarianceError
        If what is not known of the opening is no covariance.

    """
    count = draws or int(table("odds")["draws"]["plan"])
    prices = brief.profile.prices
    found = odds_of(model(brief, opening, made), brief.job.seed, count)
    return found if prices is None else replace(found, cost=found.remake.value * prices.remake)


def odds_of(of: Model, seed: int, count: int) -> Odds:
    """Draw so many times and count."""
    found = system(of)
    if found.circuits is None:
        return _one_by_one(of, seed, count)
    drawn = noise(of, found)
    shifts = where_rare(drawn)
    ways = tuple(pulls(found))
    tallies = [_tallied(drawn, ways, block) for block in blocks(drawn, seed, count, shifts)]
    failures = _failures(of, drawn, ways, tallies, count)
    return Odds(
        remake=risk(np.concatenate([t.weight for t in tallies]), count),
        draws=count,
        seed=seed,
        weighted=shifts is not None,
        joints=_joints(of, failures, seed),
        failures=failures,
        cost=None,
    )


def blocks(drawn: Noise, seed: int, count: int, shifts: Shifts | None) -> Iterator[Draws]:
    """Draw for a system of rows."""
    sizes = drawn.normal.shape[1], drawn.uniform.shape[1]
    return each(lambda block: block, stretches(seed, count, sizes, shifts))


def where_rare(drawn: Noise) -> Shifts | None:
    """Where to draw if failing is rare; None where plain draws see enough of it."""
    ways = faces(drawn)
    at_most = float(special.ndtr(-np.array([face.beta for face in ways])).sum())
    return toward(ways) if at_most < float(table("odds")["draws"]["rare_below"]) else None


def risk(weight: Vector, count: int) -> Estimate:
    """Mean of the weights of failed draws (others weigh nought), and its standard error."""
    mean = float(weight.sum()) / count
    square = float((weight**2).sum()) / count
    return Estimate(min(mean, 1.0), math.sqrt(max(square - mean**2, 0.0) / max(count - 1, 1)))


# ---------------------------------------------------------------------------- what fails


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Tally:
    """Failed draws of a block: weight (n,), way to fail (n,), and its rows, one number (n,)."""

    weight: Vector
    way: Index
    code: Index


def _tallied(drawn: Noise, ways: tuple[Pull, ...], block: Draws) -> _Tally:
    seen = drawn.of(block.normal, block.uniform)
    room = slacks(drawn.system, seen)
    failed = np.flatnonzero(room.min(axis=0) < 0.0)
    way = room[:, failed].argmin(axis=0)
    code = np.zeros(len(failed), dtype=np.intp)
    for w in np.unique(way):
        mine = way == w
        code[mine] = _coded(drawn, seen[:, failed[mine]], ways[w])
    return _Tally(weight=block.weight[failed], way=way, code=code)


def _coded(drawn: Noise, seen: Matrix, pull: Pull) -> Index:
    """Rows that pull hardest in each draw, as digits of one number."""
    number = np.zeros(seen.shape[1], dtype=np.intp)
    for g, _, upper in pull:
        if g >= drawn.system.groups:
            continue
        rows = drawn.system.members[g]
        if upper:
            hardest = (drawn.system.high[rows, None] - seen[rows]).argmin(axis=0)
        else:
            hardest = (seen[rows] - drawn.system.low[rows, None]).argmin(axis=0)
        number = number * len(drawn.system.rows) + hardest + rows.start
    return number


def _failures(
    of: Model, drawn: Noise, ways: tuple[Pull, ...], tallies: list[_Tally], count: int
) -> tuple[Failure, ...]:
    """Put together what failed alike, likeliest first."""
    chances: dict[tuple[int, int], float] = defaultdict(float)
    for tally in tallies:
        for way, code, weight in zip(
            tally.way.tolist(), tally.code.tolist(), tally.weight.tolist(), strict=True
        ):
            chances[way, code] += weight / count
    ordered = sorted(chances.items(), key=lambda item: (-item[1], item[0]))
    return tuple(
        Failure(pull=_pull(of, drawn, ways[way], code), chance=chance)
        for (way, code), chance in ordered
    )


def _pull(of: Model, drawn: Noise, way: Pull, code: int) -> Vector:
    """Coefficients (k,) of the room on the gaps of the model."""
    pull, base = np.zeros(len(of.places)), len(drawn.system.rows)
    for g, weight, upper in reversed(way):
        if g >= drawn.system.groups:
            continue
        code, k = divmod(code, base)
        sign = drawn.system.sign[k]
        pull[drawn.system.rows[k]] += -weight * sign if upper else weight * sign
    return pull


# ---------------------------------------------------------------------------- joint by joint


def _joints(of: Model, failures: tuple[Failure, ...], seed: int) -> tuple[JointOdds, ...]:
    blame = np.zeros(len(of.places))
    for failure in failures:
        part = np.abs(failure.pull)
        blame += failure.chance * part / part.sum()
    gaps = shown(of, seed)
    return tuple(_joint(of, joint, blame, gaps) for joint in of.joints)


def _joint(of: Model, joint: str, blame: Vector, gaps: Matrix) -> JointOdds:
    every = [k for k, p in enumerate(of.places) if p.joint == joint]
    seen = of.rows_of(joint)
    tight = np.minimum(of.planned - of.low, of.high - of.planned)
    where = max(every, key=lambda k: (blame[k], -tight[k]))
    mine, usual = gaps[seen], of.usual[seen][:, None]
    worst = np.take_along_axis(mine, np.abs(mine - usual).argmax(axis=0)[None], axis=0)
    least, most = np.quantile(mine.min(axis=0), BAND[0]), np.quantile(mine.max(axis=0), BAND[1])
    return JointOdds(
        joint=joint,
        fails=float(blame[every].sum()),
        at=of.places[where].at,
        worst=float(worst.mean()),
        band=(float(least), float(most)),
    )


def shown(of: Model, seed: int, count: int = SHOWN) -> Matrix:
    """Gaps (k, N) as they will be seen, mm: the fitter shares out what is off.

    Each joint takes of it in proportion to what it can take up.
    """
    rng = np.random.Generator(np.random.SFC64((seed, 2**20)))
    left = sharing(of)
    root, flat = left @ factor(of.noise), left @ of.uniform
    seen = in_one_thread(root, rng.standard_normal((root.shape[1], count)))
    if flat.shape[1]:
        seen += in_one_thread(flat, rng.uniform(-(3**0.5), 3**0.5, (flat.shape[1], count)))
    gaps: Matrix = of.planned[:, None] + seen
    return gaps


def sharing(of: Model) -> Matrix:
    """What is left (k, k) of every gap's error when the fitter has shared it out.

    Least squares of the mean error of each joint, counted in the width of its range; what goes only
    so far counts in how far it goes.
    """
    joints = [of.rows_of(joint) for joint in of.joints]
    mean = np.zeros((len(joints), len(of.places)))
    width = np.empty(len(joints))
    for j, rows in enumerate(joints):
        mean[j, rows] = 1.0 / len(rows)
        width[j] = max(float((of.high - of.low)[rows].min()), 1e-3)
    weight = mean / np.sqrt(width)[:, None]
    held = np.flatnonzero(np.isfinite(of.most))
    stiff = np.eye(len(of.freedoms))[held] / np.sqrt(2.0 * of.most[held] + 1e-3)[:, None]
    answer = np.linalg.pinv(np.vstack([weight @ of.Y, stiff]))[:, : len(joints)]
    moved: Matrix = np.eye(len(of.places)) - of.Y @ answer @ weight
    return moved


# ---------------------------------------------------------------------------- without a list


def _one_by_one(of: Model, seed: int, count: int) -> Odds:
    """Where the ways to fail are too many to list: count only; no joint can be blamed."""
    root, flat = factor(of.noise), of.uniform
    sizes = root.shape[1], flat.shape[1]

    def failed(block: Draws) -> Vector:
        seen = in_one_thread(root, block.normal)
        if len(block.uniform):
            seen = seen + flat @ block.uniform
        return block.weight[~decided(of, seen)]

    weight = np.concatenate(list(each(failed, stretches(seed, count, sizes))))
    return Odds(
        remake=risk(weight, count),
        draws=count,
        seed=seed,
        weighted=False,
        joints=_joints(of, (), seed),
        failures=(),
        cost=None,
    )


def place_of(of: Model, failure: Failure) -> Place:
    """Return the place that has most to do with a failure."""
    return of.places[int(np.abs(failure.pull).argmax())]
