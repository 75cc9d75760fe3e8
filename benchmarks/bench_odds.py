"""The odds alone: a million draws, draws beside linear programs, a plan with its odds, compare."""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import numpy as np
from scipy.optimize import linprog

from hangtrue.compare import compare
from hangtrue.fit import fit
from hangtrue.fit.enclosure import Enclosure
from hangtrue.job.brief import Brief
from hangtrue.job.document import WantedLite
from hangtrue.job.read import read_job
from hangtrue.measure import measure
from hangtrue.odds import odds
from hangtrue.odds.drawing import chance, factor
from hangtrue.odds.margins import decided, system
from hangtrue.odds.model import Model, model
from hangtrue.plan import plan

LODGE = Path(__file__).parents[1] / "examples" / "lodge"
MILLION = 1_000_000
CHECKED = 5_000


def median_s(call: Callable[[], object], repeats: int = 5) -> float:
    """Median time of a call in s, after one to warm up."""
    call()
    times = []
    for _ in range(repeats):
        start = time.perf_counter()
        call()
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def read_room(name: str) -> Brief:
    """Read a room of the lodge."""
    brief, _ = read_job(LODGE / f"{name}.yaml")
    if brief is None:
        raise SystemExit(f"{name} does not read")
    return brief


def of_brief(brief: Brief) -> Model:
    """Return the model of what would be built first."""
    opening = measure(brief)
    made = fit(brief, opening)[0].made
    if not isinstance(made, Enclosure):
        raise SystemExit(f"nothing fits in {brief.job.job.id}")
    return model(brief, opening, made)


def of_room(name: str) -> Model:
    """Return the model of what would be built first in a room of the lodge."""
    return of_brief(read_room(name))


def four_lites() -> Model:
    """Door and three fixed panes round a corner: the petrel room with one more on its return."""
    brief = read_room("petrel")
    lites = (*brief.job.wanted.lites, WantedLite(kind="fixed"))
    wanted = brief.job.wanted.model_copy(update={"lites": lites})
    return of_brief(replace(brief, job=brief.job.model_copy(update={"wanted": wanted})))


def run() -> Iterator[tuple[str, str]]:
    """Yield one row a figure."""
    for name, what in (("gull", "door and fixed pane"), ("curlew", "three panes, two corners")):
        of = of_room(name)
        listed = system(of)
        spent = median_s(lambda o=of, s=listed: chance(o, s, 1, MILLION))  # type: ignore[misc]
        yield f"a million draws, {name} room, {what}", f"{spent:.2f} s"
    corner = four_lites()
    listed = system(corner)
    spent = median_s(lambda: chance(corner, listed, 1, MILLION))
    yield "a million draws, four panes round a corner", f"{spent:.2f} s"
    yield from beside_programs(of_room("gull"))
    for name in ("gull", "curlew"):
        brief, _ = read_job(LODGE / f"{name}.yaml")
        spent = median_s(lambda b=brief: planned(b), 15)  # type: ignore[misc]
        yield f"plan() and odds with 20,000 draws, warm, {name} room", f"{1000 * spent:.0f} ms"
    brief, _ = read_job(LODGE / "gull.yaml")
    if brief is not None:
        spent = median_s(lambda: compare(brief), 1)
        yield "compare, 300 ways, 5,000 draws where they decide, gull room", f"{spent:.1f} s"


def planned(brief: Brief) -> None:
    """Plan a job and work out its odds."""
    found = plan(brief)
    made = found.best.alternative.made
    if isinstance(made, Enclosure):
        odds(brief, found.opening, made)


def beside_programs(of: Model) -> Iterator[tuple[str, str]]:
    """Decide the same draws here and by one linear program each: same answers, how fast."""
    root = factor(of.noise)
    noise = root @ np.random.default_rng(1).standard_normal((root.shape[1], CHECKED))
    rows = np.vstack([of.Y, -of.Y])
    free = [(None, None)] * of.Y.shape[1]

    def by_program(u: np.ndarray) -> bool:
        gaps = of.planned + u
        limits = np.concatenate([of.high - gaps, gaps - of.low])
        return bool(linprog(np.zeros(of.Y.shape[1]), rows, limits, bounds=free).status == 0)

    start = time.perf_counter()
    theirs = np.array([by_program(u) for u in noise.T])
    their_s = (time.perf_counter() - start) / CHECKED
    mine_s = median_s(lambda: decided(of, noise)) / CHECKED
    apart = int((decided(of, noise) != theirs).sum())
    yield (
        f"one draw; scipy.optimize.linprog; of {CHECKED:,} otherwise decided",
        f"{1e6 * mine_s:.2f} µs; {1e6 * their_s:.0f} µs ({their_s / mine_s:,.0f} times); {apart}",
    )


if __name__ == "__main__":
    for label, figures in run():
        print(f"{label:<64} {figures}")
