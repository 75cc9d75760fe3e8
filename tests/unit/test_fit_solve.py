"""The solver's answers against another solver, and against arithmetic."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor

import numpy as np
import pytest
from scipy.optimize import linprog

from hangtrue.fit.solve import Program, _engine_of, least_costs, stretch


def random_program(seed: int) -> tuple[Program, np.ndarray]:
    """Make a program around a point that satisfies it."""
    rng = np.random.default_rng(seed)
    m, n = int(rng.integers(3, 25)), int(rng.integers(2, 10))
    A = rng.normal(size=(m, n)) * (rng.random((m, n)) < 0.6)
    inside = rng.normal(size=n)
    low, high = A @ inside - rng.random(m), A @ inside + rng.random(m)
    return Program(A=A, low=low, high=high, least=inside - 5, most=inside + 5), rng.normal(size=n)


def reference(program: Program, cost: np.ndarray) -> float:
    found = linprog(
        cost,
        A_ub=np.vstack([program.A, -program.A]),
        b_ub=np.concatenate([program.high, -program.low]),
        bounds=np.column_stack([program.least, program.most]),
        method="highs-ipm",
    )
    assert found.status == 0
    return float(found.fun)


@pytest.mark.parametrize("seed", range(20))
def test_least_cost_is_what_scipy_finds(seed: int) -> None:
    program, cost = random_program(seed)
    x = least_costs(program, [cost])
    assert x is not None
    assert cost @ x == pytest.approx(reference(program, cost), abs=1e-6)
    assert (program.A @ x >= program.low - 1e-6).all()
    assert (program.A @ x <= program.high + 1e-6).all()


def test_a_second_goal_gives_nothing_of_the_first_back() -> None:
    """Most of x, then least of y: x + y <= 4 and y >= 0 leave x = 3, y = 0."""
    program = Program(
        A=np.array([[1.0, 1.0]]),
        low=np.array([-np.inf]),
        high=np.array([4.0]),
        least=np.array([0.0, 0.0]),
        most=np.array([3.0, 9.0]),
    )
    x = least_costs(program, [np.array([-1.0, 0.0]), np.array([0.5, 1.0])])
    assert x == pytest.approx([3.0, 0.0], abs=1e-6)


def test_rows_that_contradict_each_other_have_no_answer() -> None:
    contrary = Program(
        A=np.array([[1.0], [1.0]]),
        low=np.array([5.0, -np.inf]),
        high=np.array([np.inf, 2.0]),
        least=np.array([-np.inf]),
        most=np.array([np.inf]),
    )
    assert least_costs(contrary, [np.array([1.0])]) is None
    amount, prices = stretch(contrary)
    assert amount == pytest.approx(1.5)
    assert prices == pytest.approx([0.5, -0.5])


def test_rows_that_agree_need_no_stretch() -> None:
    program, _ = random_program(1)
    assert stretch(program)[0] == 0.0


def test_the_solver_says_nothing(capfd: pytest.CaptureFixture[str]) -> None:
    program, cost = random_program(2)
    _engine_of.cache_clear()
    least_costs(program, [cost])
    assert capfd.readouterr() == ("", "")


def test_threads_do_not_disturb_each_other() -> None:
    programs = [random_program(seed) for seed in range(12)]
    alone = [least_costs(program, [cost]) for program, cost in programs]
    with ThreadPoolExecutor(4) as pool:
        together = list(pool.map(lambda pc: least_costs(pc[0], [pc[1]]), programs))
    for a, b in zip(alone, together, strict=True):
        assert a is not None
        assert b == pytest.approx(a, abs=1e-9)
