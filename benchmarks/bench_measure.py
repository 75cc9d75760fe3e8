"""The adjustment: how fast, and beside a general least-squares solver on the very same network."""

from __future__ import annotations

import statistics
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np
from scipy.optimize import least_squares

sys.path.insert(0, str(Path(__file__).parents[1]))

from hangtrue.job.brief import Brief
from hangtrue.job.readings import Diagonal, Reading
from hangtrue.measure import measure
from hangtrue.measure.adjusting import Fit, Network, fit, line_of, network, settle, start
from tests.made_up import (
    Vector,
    brief,
    diagonal,
    lean,
    offset,
    random_room,
    read,
    usual_readings,
    width,
)

READINGS = 30
REPEATS = 60
BUDGET_MS = 2.0
AGREE = 1e-8
"""Of the largest unknown, a width: what counts as the same answer."""


def thirty_readings() -> Brief:
    """Everything a careful person reads in one room: widths, leans, offsets, diagonals, curb."""
    rng = np.random.default_rng(3)
    room = random_room(rng)
    kinds: list[Reading] = [*usual_readings("in", diagonals=True)]
    kinds += [diagonal("low", 0, 38), diagonal("high", 38, 76)]
    kinds += [width(h) for h in (4, 20, 40, 54, 66)]
    for side in ("left", "right"):
        kinds += [lean(side, 76), lean(side, 72, "across"), lean(side, 38, "across")]
        kinds += [offset(side, h) for h in (4, 40, 76)]
    if len(kinds) != READINGS:
        message = f"{len(kinds)} readings, not {READINGS}"
        raise ValueError(message)
    return brief(read(room, kinds, rng, "in"))


def median_ms(call: Callable[[], object], repeats: int = REPEATS) -> float:
    """Median time of a call in ms, after three calls to warm up."""
    for _ in range(3):
        call()
    times = []
    for _ in range(repeats):
        begun = time.perf_counter()
        call()
        times.append(time.perf_counter() - begun)
    return 1000.0 * statistics.median(times)


class General:
    """The same network as a plain misfit with exact derivatives, as a general solver takes it.

    Made once and outside the clock: straight rows as one weighted matrix, diagonals as what they
    are, the root of a sum of squares.
    """

    def __init__(self, fitted: Fit) -> None:
        net = fitted.network
        size = len(net.layout.place)
        straight = [
            (e.terms, s.observed, s.sigma)
            for s, e in zip(fitted.seen, fitted.equations, strict=True)
            if e.straight
        ]
        straight += [(r.terms, r.observed, r.sigma) for r in (*net.shape_rows, *net.broad_rows)]
        self.design, self.aim = np.zeros((len(straight), size)), np.zeros(len(straight))
        for i, (terms, observed, sigma) in enumerate(straight):
            self.aim[i] = observed / sigma
            for j, a in terms:
                self.design[i, j] += a / sigma
        bent = [(s, r) for s in fitted.seen if isinstance(r := s.reading, Diagonal)]
        if len(straight) + len(bent) != len(fitted.adjustment.rows):
            message = "a row of the network was lost on the way to the general solver"
            raise ValueError(message)
        self.level, self.rise = np.zeros((len(bent), size)), np.zeros(len(bent))
        for i, (_, ends) in enumerate(bent):
            self.rise[i] = ends.right_at - ends.left_at
            wall = net.layout.wall
            for j, a in wall("right", ends.right_at) + wall("left", ends.left_at, -1.0):
                self.level[i, j] += a
        self.sigma = np.array([s.sigma for s, _ in bent])
        self.read = np.array([s.observed for s, _ in bent])

    def misfit(self, x: Vector) -> Vector:
        """Weighted misfit, shape (m,)."""
        length = np.hypot(self.level @ x, self.rise)
        return np.concatenate([self.design @ x - self.aim, (length - self.read) / self.sigma])

    def slopes(self, x: Vector) -> Vector:
        """Its derivatives, shape (m, n)."""
        across = self.level @ x
        share = across / np.hypot(across, self.rise) / self.sigma
        return np.concatenate([self.design, share[:, np.newaxis] * self.level])


def beside_a_general_solver(net: Network) -> Iterator[tuple[str, str]]:
    """Compare time and answer from the same start, with all that is straight made ready for both.

    Ours also gives covariance and redundancy; the general solver has none yet when the clock stops.
    It is run with its own derivatives, and once more with derivatives worked out for it by hand; it
    stops where the unknowns stand still.
    """
    fitted = fit(net)
    general = General(fitted)
    begin = start(net, net.brief.job.readings)
    lines = [line_of(seen, net, begin) for seen in fitted.seen]

    def solve(jac: object) -> Vector:
        found = least_squares(
            general.misfit, begin, jac=jac, x_scale="jac", xtol=1e-12, ftol=None, gtol=None
        )
        return np.asarray(found.x)

    ours = median_ms(lambda: settle(net, begin, lines))
    yield "  adjustment alone, from equations to covariance", f"{ours:8.2f} ms"
    for label, jac in (("own", "3-point"), ("exact", general.slopes)):
        x = fitted.adjustment.x
        apart = float(np.abs(solve(jac) - x).max() / np.abs(x).max())
        theirs = median_ms(lambda jac=jac: solve(jac), 20)  # type: ignore[misc]
        mark = "same answer" if apart <= AGREE else "ANOTHER ANSWER"
        yield (
            f"  scipy least_squares, {label} derivatives",
            f"{theirs:8.2f} ms   {theirs / ours:5.1f} x   {mark} to {apart:.0e}",
        )


def run() -> list[tuple[str, str]]:
    """Rows of label and figures."""
    job = thirty_readings()
    whole = median_ms(lambda: measure(job))
    verdict = "within" if whole <= BUDGET_MS else "OVER"
    rows = [("measure 30 readings", f"{whole:8.2f} ms   {verdict} {BUDGET_MS:.0f} ms")]
    return [*rows, *beside_a_general_solver(network(job))]


if __name__ == "__main__":
    for what, figures in run():
        print(f"{what:<58} {figures}")
