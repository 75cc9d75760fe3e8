"""The fit alone: the rooms of the lodge as they are, and one linear program."""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np
from scipy.optimize import linprog

from hangtrue.fit import fit
from hangtrue.fit.solve import Program, least_costs
from hangtrue.job.read import read_job
from hangtrue.measure import measure

LODGE = Path(__file__).parents[1] / "examples" / "lodge"
ROOMS = ("skua", "gull", "wren", "tern", "plover")


def median_ms(call: Callable[[], object], repeats: int = 50) -> float:
    """Median time of a call in ms, after three calls to warm up."""
    for _ in range(3):
        call()
    times = []
    for _ in range(repeats):
        start = time.perf_counter()
        call()
        times.append(time.perf_counter() - start)
    return 1000 * statistics.median(times)


def run() -> Iterator[tuple[str, str]]:
    """Yield one row a figure."""
    for name in ROOMS:
        brief, _ = read_job(LODGE / f"{name}.yaml")
        if brief is None:
            raise SystemExit(f"{name} does not read")
        opening = measure(brief)
        ways = len(fit(brief, opening))
        spent = median_ms(lambda b=brief, o=opening: fit(b, o))  # type: ignore[misc]
        yield f"fit(), warm, {name} room, {ways} to compare", f"{spent:.1f} ms"
    yield from solvers()


def solvers() -> Iterator[tuple[str, str]]:
    """Compare one program of the usual size here and in scipy: same answer, how fast."""
    rng = np.random.default_rng(1)
    rows = rng.normal(size=(90, 26)) * (rng.random((90, 26)) < 0.15)
    inside, cost = rng.normal(size=26), rng.normal(size=26)
    low, high = rows @ inside - 1.0, rows @ inside + 1.0
    program = Program(A=rows, low=low, high=high, least=inside - 5, most=inside + 5)
    both = (
        np.vstack([rows, -rows]),
        np.concatenate([high, -low]),
        np.column_stack([inside - 5, inside + 5]),
    )
    mine = least_costs(program, [cost])
    theirs = linprog(cost, A_ub=both[0], b_ub=both[1], bounds=both[2])
    apart = abs(float(cost @ mine) - theirs.fun) if mine is not None else float("nan")
    ours_ms = median_ms(lambda: least_costs(program, [cost]))
    their_ms = median_ms(lambda: linprog(cost, A_ub=both[0], b_ub=both[1], bounds=both[2]))
    yield (
        "one linear program, 90 rows, 26 columns; scipy.optimize.linprog",
        f"{ours_ms:.2f} ms; {their_ms:.2f} ms; {apart:.0e} apart",
    )


if __name__ == "__main__":
    for label, figures in run():
        print(f"{label:<64} {figures}")
