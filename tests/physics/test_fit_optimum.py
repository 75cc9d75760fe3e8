"""The most margin against a linear program written down a second time, by another road and solver.

Door and fixed pane between two leaning walls on a falling curb. Unknowns, gaps and bounds are
spelled out here one by one from the geometry; only the standard deviations are taken over.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import linprog

from hangtrue.fit.demands import Edge
from hangtrue.fit.gaps import gaps
from hangtrue.fit.goals import best_margin
from hangtrue.fit.layout import Way, row
from hangtrue.fit.room import room
from hangtrue.fit.rows import Row
from hangtrue.fit.sizes import Setting, first_corners, raking_edges, size, sizing_task
from hangtrue.job.brief import Brief
from hangtrue.measure.opening import Opening
from tests.openings import TOP, brief, opening

UNKNOWNS = (
    "door left", "door right", "door foot",
    "fixed left", "fixed right at foot", "fixed right at top", "fixed foot left",
    "fixed foot right", "margin",
)  # fmt: skip


def unit(**shares: float) -> np.ndarray:
    row = np.zeros(len(UNKNOWNS))
    for name, share in shares.items():
        row[UNKNOWNS.index(name.replace("_", " "))] += share
    return row


def most_margin(job: Brief, shape: Opening, laid: Row, *, raked: bool) -> float:
    seen = room(shape, 0.0, mirrored=False)
    near = first_corners(job, laid, seen)
    found = gaps(laid, seen, near, job.profile)
    foot = {"door": near[4], "fixed": near[10]}
    span = shape.shape[shape.unknowns.index("right 0.0")]
    low, high = (shape.shape[shape.unknowns.index(f"curb {s}")] for s in ("left", "right"))
    slope = (high - low) / span
    rows, limits = [], []

    def at_least(row: np.ndarray, limit: float) -> None:
        rows.append(-row)
        limits.append(-limit)

    def face(side: str, z: float) -> float:
        first = shape.unknowns.index(f"{side} {shape.heights[0]:.1f}")
        return float(np.interp(z, shape.heights, shape.shape[first : first + len(shape.heights)]))

    for places, section in found.sections:
        for k, at in enumerate(places.at):
            up = (at - foot["fixed"]) / (TOP - foot["fixed"])
            along = k / (len(places.at) - 1)
            gap, constant = {
                "door to left wall": (unit(door_left=1.0), -face("left", at)),
                "door to fixed 1": (unit(fixed_left=1.0, door_right=-1.0), 0.0),
                "fixed 1 to right wall": (
                    unit(fixed_right_at_foot=up - 1.0, fixed_right_at_top=-up),
                    face("right", at),
                ),
                "door to curb": (
                    unit(
                        door_foot=1.0,
                        door_left=-slope * (1.0 - along),
                        door_right=-slope * along,
                    ),
                    -low,
                ),
                "fixed 1 to curb": (
                    unit(
                        fixed_foot_left=1.0 - along,
                        fixed_foot_right=along,
                        fixed_left=-slope * (1.0 - along),
                        fixed_right_at_foot=-slope * along,
                    ),
                    -low,
                ),
            }[places.joint.id]
            sigma = unit(margin=float(found.sigma[section][k]))
            at_least(gap - sigma, places.ranges[k].least - constant)
            at_least(-gap - sigma, constant - places.ranges[k].most)
    limit = job.profile.limit
    door = unit(door_right=1.0, door_left=-1.0)
    at_least(door, 700.0)  # the usual door, where the fixed pane takes the rest
    at_least(-door, -700.0)
    at_least(unit(fixed_right_at_foot=1.0, fixed_left=-1.0), limit("fixed-width-least").value)
    at_least(unit(fixed_right_at_top=1.0, fixed_left=-1.0), limit("fixed-width-least").value)
    most = float(job.profile.plant.rake_most) if raked else 0.0
    for rake in (
        unit(fixed_right_at_top=1.0, fixed_right_at_foot=-1.0),
        unit(fixed_foot_right=1.0, fixed_foot_left=-1.0),
    ):
        at_least(rake, -most)
        at_least(-rake, -most)
    bounds = [(None, None)] * (len(UNKNOWNS) - 1) + [(0.0, 4.0)]
    answer = linprog(-unit(margin=1.0), A_ub=rows, b_ub=limits, bounds=bounds, method="highs-ipm")
    assert answer.status == 0
    return float(-answer.fun)


@pytest.mark.parametrize("raked", [False, True])
@pytest.mark.parametrize("seed", range(8))
def test_no_sizes_have_more_margin(seed: int, *, raked: bool) -> None:
    rng = np.random.default_rng(seed)
    lean_left, lean_right = rng.uniform(-3, 3), rng.uniform(-6, 6)
    shape = opening(
        width=float(rng.uniform(1100, 1700)),
        lean_left=lean_left,
        lean_right=lean_right,
        bow_right=float(rng.uniform(-2, 2)),
        curb=(0.0, float(rng.uniform(-3, 3))),
        sd=float(rng.uniform(0.1, 1.0)),
    )
    job = brief("door", "fixed")
    way = Way(lites=job.job.wanted.lites, mirrored=False, hinge_side="left", hung_on="wall")
    laid = row(job, way, 2)
    seen = room(shape, 0.0, mirrored=False)
    near = gaps(laid, seen, first_corners(job, laid, seen), job.profile)
    edges: tuple[Edge, ...] = raking_edges(laid) if raked else ()
    found = size(job, laid, seen, edges, near)
    assert isinstance(found, Setting)
    expected = most_margin(job, shape, laid, raked=raked)
    assert best_margin(sizing_task(job, laid, edges, near)) == pytest.approx(expected, abs=1e-5)
    assert expected - 0.1 - 1e-5 <= found.sized_sigmas <= expected + 1e-5
