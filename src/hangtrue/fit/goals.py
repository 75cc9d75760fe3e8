"""What is wanted of the corners: every gap inside its range with the most margin, then looks."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from hangtrue.fit.gaps import Gaps
from hangtrue.fit.places import Places
from hangtrue.fit.solve import Program, least_costs, stretch
from hangtrue.measure.opening import Matrix, Vector
from hangtrue.tables import table

HAIR = 1e-6
"""Far below anything that can be cut or measured: what holds to this holds, mm."""

NO_RANGE = 1e-3
"""A range that leaves no choice counts as this wide where gaps are compared, mm."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Freedom:
    """The corners that can be reached: `corners = M v + fixed` for any v."""

    M: Matrix
    fixed: Vector


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Demand:
    """A bound on the corners that is no gap: `low <= a corners + constant <= high`.

    Attributes
    ----------
    least_words, most_words
        What it says, as a person reads it, where its lower or its upper end is in the way.
    joint
        Id of the pane or joint it is about.
    habit
        0: must hold. Otherwise it is dropped when nothing fits with it, the highest first.

    """

    a: Vector
    low: float
    high: float
    least_words: str
    most_words: str
    joint: str
    at: float = 0.0
    constant: float = 0.0
    habit: int = 0

    def holds(self, corners: Vector) -> bool:
        """Whether corners keep it, to a millionth of a millimetre."""
        value = float(self.a @ corners) + self.constant
        return self.low - HAIR <= value <= self.high + HAIR


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Wish:
    """What would be nice: `a corners` at `target`; `weight` is its cost for each mm away."""

    a: Vector
    target: float
    weight: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Task:
    """One problem to solve: where the corners may go, what must hold and what would be nice.

    Attributes
    ----------
    enough
        Margin in standard deviations from which on nobody complains.

    """

    gaps: Gaps
    freedom: Freedom
    demands: tuple[Demand, ...]
    wishes: tuple[Wish, ...]
    enough: float

    def must_keep(self, most: float) -> float:
        """Margin that looks must leave of the most there is: nearly all, and what is enough."""
        nearly = most - float(table("fit")["margin"]["looks_may_cost_sigmas"])
        return nearly if most < self.enough else max(nearly, self.enough)

    def without_habits(self, most: int) -> Task:
        """Return the same with no habit above `most`."""
        return replace(self, demands=tuple(d for d in self.demands if d.habit <= most))


def best_corners(task: Task) -> Vector | None:
    """Corners with the most margin, or nearly, that look best; None where nothing fits."""
    program, goals = _program(task)
    found = least_costs(program, goals, keep=task.must_keep)
    if found is None:
        return None
    corners: Vector = task.freedom.M @ found[: task.freedom.M.shape[1]] + task.freedom.fixed
    return corners


def best_margin(task: Task) -> float:
    """Return the most margin to be had, in standard deviations; minus infinity for no fit."""
    A, low, high = _ranges(task)
    columns = Columns(v=A.shape[1], joints=0, wishes=0)
    alike = _alike(A[: len(task.gaps.sigma)])
    program = _bounded(columns, _margin_rows(task, columns, alike, A, low, high))
    goal = np.zeros(columns.count)
    goal[columns.margin] = -1.0
    found = least_costs(program, [goal])
    return -np.inf if found is None else float(found[columns.margin])


def shortfall(task: Task) -> tuple[float, Vector]:
    """Missing millimetres, and the price of every gap and then of every demand (see `stretch`)."""
    A, low, high = _ranges(task)
    free = np.full(A.shape[1], np.inf)
    return stretch(Program(A=A, low=low, high=high, least=-free, most=free))


def margin_sigmas(gaps: Gaps, corners: Vector) -> float:
    """Least margin of all gaps in standard deviations, at most what still counts."""
    most = float(table("fit")["margin"]["most_sigmas"])
    margins = gaps.margins(corners)
    exact = gaps.sigma == 0
    if (margins[exact] < 0).any():
        return -np.inf
    return min(most, float((margins[~exact] / gaps.sigma[~exact]).min(initial=most)))


def _ranges(task: Task) -> tuple[Matrix, Vector, Vector]:
    """Gaps and demands as rows over v."""
    gaps, freedom = task.gaps, task.freedom
    A = np.concatenate([gaps.A, *(d.a[None] for d in task.demands)])
    constant = np.concatenate([gaps.constant, [d.constant for d in task.demands]])
    constant += A @ freedom.fixed
    low = np.concatenate([gaps.low, [d.low for d in task.demands]]) - constant
    high = np.concatenate([gaps.high, [d.high for d in task.demands]]) - constant
    return A @ freedom.M, low, high


# ------------------------------------------------------------------ as a linear program

Rows = tuple[Matrix, Vector, Vector]


@dataclass(frozen=True, slots=True, kw_only=True)
class Columns:
    """Where the unknowns stand: v, the margin, the worst gap, three for each joint, the wishes.

    Of each joint: its middle gap, how far that is from usual, and how much the gap tapers; the
    last two as a share of the working range.
    """

    v: int
    joints: int
    wishes: int

    @property
    def margin(self) -> int:
        """The margin."""
        return self.v

    @property
    def worst(self) -> int:
        """The worst gap of all."""
        return self.v + 1

    def middle(self, joint: int) -> int:
        """The middle gap of a joint."""
        return self.v + 2 + 3 * joint

    def off(self, joint: int) -> int:
        """How far that is from usual."""
        return self.v + 3 + 3 * joint

    def taper(self, joint: int) -> int:
        """How much the gap tapers."""
        return self.v + 4 + 3 * joint

    @property
    def missed(self) -> int:
        """The first of the wishes."""
        return self.v + 2 + 3 * self.joints

    @property
    def count(self) -> int:
        """How many columns there are."""
        return self.missed + self.wishes


def _program(task: Task) -> tuple[Program, tuple[Vector, Vector]]:
    A, low, high = _ranges(task)
    columns = Columns(v=A.shape[1], joints=len(task.gaps.places), wishes=len(task.wishes))
    alike = _alike(A[: len(task.gaps.sigma)])
    program = _bounded(
        columns,
        _margin_rows(task, columns, alike, A, low, high),
        _look_rows(task, columns, alike, A, low),
        _wish_rows(task, columns),
    )
    return program, _costs(task, columns)


def _bounded(columns: Columns, *blocks: Rows) -> Program:
    """All rows, and bounds of the columns: positions anywhere, the rest not below zero."""
    least, most = np.zeros(columns.count), np.full(columns.count, np.inf)
    least[: columns.v] = -np.inf
    least[[columns.middle(joint) for joint in range(columns.joints)]] = -np.inf
    most[columns.margin] = table("fit")["margin"]["most_sigmas"]
    return Program(
        A=np.concatenate([block[0] for block in blocks]),
        low=np.concatenate([block[1] for block in blocks]),
        high=np.concatenate([block[2] for block in blocks]),
        least=least,
        most=most,
    )


def _alike(A: Matrix) -> list[int]:
    """Number the rows so that those that say the same of v have the same number."""
    known: dict[bytes, int] = {}
    return [known.setdefault(row.tobytes(), len(known)) for row in A.round(12) + 0.0]


def _margin_rows(
    task: Task, columns: Columns, alike: list[int], A: Matrix, low: Vector, high: Vector
) -> Rows:
    """`low + sigma t <= A v <= high - sigma t` for gaps; demands as they are."""
    sigma, k = task.gaps.sigma, len(task.gaps.sigma)
    lower, upper = _tightest(alike, low[:k], sigma), _tightest(alike, -high[:k], sigma)
    n, m = len(lower), len(upper)
    rows = np.zeros((n + m + len(A) - k, columns.count))
    rows[:, : columns.v] = np.concatenate([A[lower], A[upper], A[k:]])
    rows[:n, columns.margin] = -sigma[lower]
    rows[n : n + m, columns.margin] = sigma[upper]
    open_end = np.full(max(n, m), np.inf)
    return (
        rows,
        np.concatenate([low[lower], -open_end[:m], low[k:]]),
        np.concatenate([open_end[:n], high[upper], high[k:]]),
    )


def _tightest(alike: list[int], bound: Vector, sigma: Vector) -> list[int]:
    """Rows that can be in the way: of rows alike, none beats them in bound and in sigma."""
    kept: list[int] = []
    highest: dict[int, float] = {}
    for row in np.lexsort((-sigma, -bound)):
        if sigma[row] > highest.get(alike[row], -1.0):
            highest[alike[row]] = sigma[row]
            kept.append(int(row))
    return kept


def _look_rows(task: Task, columns: Columns, alike: list[int], A: Matrix, low: Vector) -> Rows:
    """Say what off, taper and worst are.

    `|gap - middle| <= range * taper`, `|middle - usual| <= range * off`, `off + taper <= worst`.
    """
    rows: list[Vector] = []
    lower: list[float] = []
    constant = task.gaps.low - low[: len(alike)]

    def say(row: Vector, least: float) -> None:
        rows.append(row)
        lower.append(least)

    for joint, (places, section) in enumerate(task.gaps.sections):
        shown = _shown(places, section)
        width = max(places.ranges[shown[0] - section.start].width, NO_RANGE)
        usual = task.gaps.usual[shown[0]]
        for sign in (1.0, -1.0):
            for r in _outermost(shown, alike, sign * constant):
                row = np.zeros(columns.count)
                row[: columns.v] = sign * A[r]
                row[columns.middle(joint)], row[columns.taper(joint)] = -sign, width
                say(row, -sign * constant[r])
            row = np.zeros(columns.count)
            row[columns.middle(joint)], row[columns.off(joint)] = sign, width
            say(row, sign * usual)
        if places.joint.upright:
            row = np.zeros(columns.count)
            row[columns.worst] = 1.0
            row[columns.off(joint)] = row[columns.taper(joint)] = -1.0
            say(row, 0.0)
    return np.array(rows), np.array(lower), np.full(len(rows), np.inf)


def _shown(places: Places, rows: slice) -> list[int]:
    """Rows whose looks count: where there are hinges, theirs; else all."""
    hinged = places.joint.at_fitting is not None
    numbers = range(rows.start, rows.stop)
    return [r for r, fits in zip(numbers, places.fitting, strict=True) if fits or not hinged]


def _outermost(shown: list[int], alike: list[int], constant: Vector) -> list[int]:
    """Of rows alike, the one with the least constant."""
    least: dict[int, int] = {}
    for r in shown:
        if alike[r] not in least or constant[r] < constant[least[alike[r]]]:
            least[alike[r]] = r
    return list(least.values())


def _wish_rows(task: Task, columns: Columns) -> Rows:
    """`|a corners - target| <= miss`."""
    freedom, n = task.freedom, columns.wishes
    a = np.array([w.a for w in task.wishes]).reshape(n, len(freedom.fixed))
    target = np.array([w.target for w in task.wishes]) - a @ freedom.fixed
    rows = np.zeros((2 * n, columns.count))
    rows[:n, : columns.v] = a @ freedom.M
    rows[n:, : columns.v] = -rows[:n, : columns.v]
    for i in range(n):
        rows[i, columns.missed + i] = rows[n + i, columns.missed + i] = 1.0
    return rows, np.concatenate([target, -target]), np.full(2 * n, np.inf)


def _costs(task: Task, columns: Columns) -> tuple[Vector, Vector]:
    weights = table("fit")["weights"]
    margin, looks = np.zeros(columns.count), np.zeros(columns.count)
    margin[columns.margin] = -1.0
    looks[columns.worst] = weights["worst_gap"]
    for joint in range(columns.joints):
        looks[columns.off(joint)] = weights["off"]
        looks[columns.taper(joint)] = weights["taper"]
    looks[columns.missed :] = [w.weight for w in task.wishes]
    return margin, looks
