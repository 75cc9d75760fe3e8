"""Linear programs: one goal after another; and where nothing fits, what clashes.

The only module that knows the solver.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from threading import get_ident

import highspy
import numpy as np

from hangtrue.measure.opening import Matrix, Vector

HELD = 1e-9
"""Room for rounding errors where one goal is held while the next is sought."""

NOTICED = 1e-7
"""Least shadow price that counts as one."""


class SolverError(RuntimeError):
    """The solver gave up on a program that has a solution: a bug of ours."""

    def __init__(self, status: object) -> None:
        super().__init__(f"the linear program ended with {status}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Program:
    """Rows `low <= A x <= high` over columns `least <= x <= most`."""

    A: Matrix
    low: Vector
    high: Vector
    least: Vector
    most: Vector


class _Engine(highspy.Highs):  # type: ignore[misc, unused-ignore]
    """A solver that is silent from the start: its greeting would land in the user's output."""

    def enableCallbacks(self) -> None:  # noqa: N802
        """Be silent before anything is logged."""
        self.silent()
        super().enableCallbacks()  # type: ignore[no-untyped-call, unused-ignore]


def _engine() -> highspy.Highs:
    """Return this thread's own solver: one at a time may work with it."""
    return _engine_of(get_ident())


@lru_cache(maxsize=16)
def _engine_of(_thread: int) -> highspy.Highs:
    engine = _Engine()  # type: ignore[no-untyped-call, unused-ignore]
    engine.silent()
    engine.setOptionValue("threads", 1)
    engine.setOptionValue("presolve", "off")
    engine.setOptionValue("solver", "simplex")
    return engine


def least_costs(
    program: Program, goals: Sequence[Vector], keep: Callable[[float], float] = float
) -> Vector | None:
    """Minimise the goals one after another.

    Parameters
    ----------
    program
        m rows over n columns.
    goals
        Costs, each (n,). All but the last have one entry that is not zero.
    keep
        What later goals must leave of the value that the column of an earlier one has reached.

    Returns
    -------
    (n,) solution, or None where the rows contradict each other.

    """
    engine = _loaded(program, goals[0])
    x = _run(engine)
    for before, goal in pairwise(goals):
        if x is None:
            return None
        _hold(engine, program, before, x, keep)
        engine.changeColsCost(len(goal), np.arange(len(goal), dtype=np.int32), goal)
        better = _run(engine)
        x = x if better is None else better
    return x


def stretch(program: Program) -> tuple[float, Vector]:
    """Least amount by which all rows must give way alike, and the shadow price of each row.

    Returns
    -------
    amount
        In the unit of the rows; zero where they agree.
    prices
        (m,), + where the lower end of a row is in the way, - where its upper end is; the rows that
        matter are a least set that contradicts itself.

    """
    rows, columns = program.A.shape
    give = np.ones((rows, 1))
    relaxed = Program(
        A=np.block([[program.A, give], [program.A, -give]]),
        low=np.concatenate([program.low, np.full(rows, -np.inf)]),
        high=np.concatenate([np.full(rows, np.inf), program.high]),
        least=np.append(program.least, 0.0),
        most=np.append(program.most, np.inf),
    )
    engine = _loaded(relaxed, np.append(np.zeros(columns), 1.0))
    x = _run(engine)
    if x is None:
        raise SolverError(engine.getModelStatus())
    duals = np.asarray(engine.getSolution().row_dual)
    duals[np.abs(duals) < NOTICED] = 0.0
    return float(x[-1]), duals[:rows] + duals[rows:]


def _loaded(program: Program, cost: Vector) -> highspy.Highs:
    rows, columns = np.nonzero(program.A)
    lp = highspy.HighsLp()
    lp.num_row_, lp.num_col_ = program.A.shape
    lp.col_cost_, lp.col_lower_, lp.col_upper_ = cost, program.least, program.most
    lp.row_lower_, lp.row_upper_ = program.low, program.high
    lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    starts = np.searchsorted(rows, np.arange(len(program.low) + 1))
    lp.a_matrix_.start_ = starts.astype(np.int32)
    lp.a_matrix_.index_ = columns.astype(np.int32)
    lp.a_matrix_.value_ = program.A[rows, columns]
    engine = _engine()
    engine.passModel(lp)
    return engine


def _run(engine: highspy.Highs) -> Vector | None:
    engine.run()
    status = engine.getModelStatus()
    if status == highspy.HighsModelStatus.kInfeasible:
        return None
    if status != highspy.HighsModelStatus.kOptimal:
        raise SolverError(status)
    return np.asarray(engine.getSolution().col_value)


def _hold(
    engine: highspy.Highs,
    program: Program,
    goal: Vector,
    x: Vector,
    keep: Callable[[float], float],
) -> None:
    """Keep the one column of a goal as good as it has to stay."""
    (column,) = np.nonzero(goal)[0]
    least, most = float(program.least[column]), float(program.most[column])
    kept = keep(float(x[column]))
    if goal[column] < 0:
        least = max(least, kept - HELD)
    else:
        most = min(most, kept + HELD)
    engine.changeColBounds(int(column), least, most)
