"""Odds of two rooms by hand: corners as drawn, errors as documented, plain draws, a chain of gaps.

Nothing of the stage of odds is used but its answer. Positions follow from the corners of the drawn
panes and the walls of the adjusted opening; whether panes can be shifted into their ranges is one
chain of intervals from the left wall to the right one; which joint is to blame, and by which error,
are the multipliers of a linear program (`scipy.optimize.linprog`).
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field
from functools import cache
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.optimize import linprog

from hangtrue.fit import fit
from hangtrue.fit.enclosure import Enclosure, Gap, Joint, Lite
from hangtrue.job.brief import Brief
from hangtrue.job.hardware import Clamp, Hinge
from hangtrue.job.read import read_job
from hangtrue.measure import measure
from hangtrue.measure.opening import Opening
from hangtrue.odds import odds
from hangtrue.odds.next_reading import advise
from hangtrue.odds.odds import Odds

LODGE = Path(__file__).parents[2] / "examples" / "lodge"
PLAY = 3.175
"""How far a cut-out may be off while its fitting sits, mm; common practice, no source."""

OUT_OF_SQUARE = 0.632
"""Share of the size tolerance that squareness gets where |w| + |s| stays within it in 95 %."""

SURVEY = "survey"
Draws = NDArray[np.float64]


@dataclass(slots=True, kw_only=True)
class Row:
    """One gap: as drawn, its range, what opening, errors and moves of panes do to it."""

    joint: str
    gap: float
    least: float
    most: float
    shape: Draws
    errors: dict[str, float] = field(default_factory=lambda: defaultdict(float))
    moves: dict[str, float] = field(default_factory=dict)


def edge_at(pane: Lite, side: str, height: float) -> float:
    lower, upper = (0, 3) if side == "left" else (1, 2)
    (x0, z0), (x1, z1) = pane.corners[lower], pane.corners[upper]
    return pane.origin[0] + x0 + (height - pane.origin[1] - z0) / (z1 - z0) * (x1 - x0)


def upright(opening: Opening, panes: dict[str, Lite], joint: Joint, gap: Gap) -> Row:
    row = Row(
        joint=joint.id, gap=0.0, least=gap.least, most=gap.most, shape=np.zeros(len(opening.shape))
    )
    for sign, name, side in zip((-1.0, 1.0), joint.between, ("right", "left"), strict=True):
        if name not in panes:
            face = opening.wall("left" if name == "left wall" else "right", gap.at)
            row.shape = row.shape + sign * face.coefficients
            row.gap += sign * opening.value(face)
            continue
        pane = panes[name]
        rise = max(pane.corners[3][1] - pane.corners[0][1], pane.corners[2][1] - pane.corners[1][1])
        row.gap += sign * edge_at(pane, side, gap.at)
        row.moves[name] = sign
        row.errors[f"width of {name}"] += sign * (0.5 if side == "right" else -0.5)
        row.errors[f"squareness of {name}"] += sign * ((gap.at - pane.origin[1]) / rise - 0.5)
    return row


def level(opening: Opening, panes: dict[str, Lite], joint: Joint, gap: Gap) -> Row:
    pane, curb = panes[joint.between[0]], opening.curb(gap.at)
    (x0, z0), (x1, z1) = pane.corners[0], pane.corners[1]
    foot = pane.origin[1] + z0 + (gap.at - pane.origin[0] - x0) / (x1 - x0) * (z1 - z0)
    row = Row(
        joint=joint.id,
        gap=foot - opening.value(curb),
        least=gap.least,
        most=gap.most,
        shape=-curb.coefficients,
        moves={"up": 1.0},
    )
    row.errors[f"height of {pane.id}"] = -1.0
    return row


def set_by_hand(row: Row, joint: Joint, at: float) -> None:
    """Half the variance the same along the joint, half each plate's own, straight in between."""
    plates = [gap.at for gap in joint.gaps if gap.at_fitting]
    row.errors[f"setting of {joint.id}"] += 0.5**0.5 if plates else 1.0
    for k, one in enumerate(np.eye(len(plates))):
        row.errors[f"seat {k + 1} of {joint.id}"] += 0.5**0.5 * float(np.interp(at, plates, one))


def rows_of(brief: Brief, opening: Opening, made: Enclosure) -> list[Row]:
    panes = {lite.id: lite for lite in made.lites}
    rows = []
    for joint in made.joints:
        item = brief.items.get(joint.hardware)
        for gap in joint.gaps:
            how = (upright if joint.upright else level)(opening, panes, joint, gap)
            set_by_hand(how, joint, gap.at)
            rows.append(how)
            if gap.at_fitting and isinstance(item, Hinge | Clamp) and item.cut_outs:
                other = Row(
                    joint=how.joint, gap=how.gap, least=how.least - PLAY, most=how.most + PLAY,
                    shape=how.shape, errors=defaultdict(float, how.errors), moves=how.moves,
                )  # fmt: skip
                other.errors[f"notch at {gap.at} of {joint.id}"] = 1.0
                rows.append(other)
    return rows


def sd_of(error: str, brief: Brief) -> float:
    plant = brief.profile.plant
    size = float(plant.size_tolerance) / 2
    return {
        "width": size,
        "height": size,
        "squareness": OUT_OF_SQUARE * size,
        "notch": float(plant.notch_tolerance) / 2,
    }.get(error.split(maxsplit=1)[0], float(brief.profile.setting_sd))


@dataclass(frozen=True, slots=True, kw_only=True)
class ByHand:
    """A room worked out by hand, and the odds that the product gives it."""

    chance: float
    sd: float
    joints: dict[str, float]
    drivers: dict[str, float]
    odds: Odds
    told: dict[str, float]


@cache
def worked(name: str, draws: int) -> ByHand:
    brief, _ = read_job(LODGE / f"{name}.yaml")
    assert brief is not None
    opening = measure(brief)
    made = fit(brief, opening)[0].made
    assert isinstance(made, Enclosure)
    rows = rows_of(brief, opening, made)
    errors = sorted({error for row in rows for error in row.errors})
    shape = np.array([row.shape for row in rows])
    own = np.array([[row.errors.get(e, 0.0) * sd_of(e, brief) for e in errors] for row in rows])
    values, vectors = np.linalg.eigh(opening.covariance)
    root = shape @ vectors * np.sqrt(np.maximum(values, 0.0))
    order = [lite.id for lite in made.lites]
    rng, failed = np.random.default_rng(17), []
    for _ in range(draws // 50_000):
        z = rng.standard_normal((root.shape[1] + len(errors), 50_000))
        gaps = np.array([row.gap for row in rows])[:, None] + np.hstack([root, own]) @ z
        failed.append(gaps[:, ~goes_in(rows, order, gaps)])
    bad = np.hstack(failed)
    chance = bad.shape[1] / draws
    blame = np.array([multipliers(rows, order, gaps) for gaps in bad[:, :250].T])
    found = odds(brief, opening, made)
    told: dict[str, float] = defaultdict(float)
    for driver in advise(brief, opening, made, found).drivers:
        told[SURVEY if driver.origin == "survey" else str(driver.name)] += driver.share
    return ByHand(
        chance=chance,
        sd=(chance * (1 - chance) / draws) ** 0.5,
        joints=shares_of_joints(rows, blame),
        drivers=shares_of_errors(errors, root, own, blame),
        odds=found,
        told=told,
    )


def goes_in(rows: list[Row], order: list[str], gaps: Draws) -> NDArray[np.bool_]:
    """Walk from the left wall to the right one: where each pane can stand, and then the next."""
    many = gaps.shape[1]
    ranges: dict[tuple[tuple[str, float], ...], tuple[Draws, Draws]] = {}
    for row, gap in zip(rows, gaps, strict=True):
        key = tuple(sorted(row.moves.items()))
        low, high = ranges.get(key, (np.full(many, -np.inf), np.full(many, np.inf)))
        ranges[key] = np.maximum(low, row.least - gap), np.minimum(high, row.most - gap)
    good = np.ones(many, dtype=np.bool_)
    for low, high in ranges.values():
        good &= low <= high
    low, high = ranges[((order[0], 1.0),)]
    for before, after in pairwise(order):
        less, more = ranges[tuple(sorted(((before, -1.0), (after, 1.0))))]
        low, high = low + less, high + more
    less, more = ranges[((order[-1], -1.0),)]
    last: NDArray[np.bool_] = good & (np.maximum(low, -more) <= np.minimum(high, -less))
    return last


def multipliers(rows: list[Row], order: list[str], gaps: Draws) -> Draws:
    """Multipliers (2, rows) of lower and upper bounds where the least room is made largest."""
    moves = np.array([[row.moves.get(name, 0.0) for name in (*order, "up")] for row in rows])
    one = np.ones((len(rows), 1))
    solved = linprog(
        [*np.zeros(moves.shape[1]), -1.0],
        A_ub=np.vstack([np.hstack([-moves, one]), np.hstack([moves, one])]),
        b_ub=np.concatenate(
            [gaps - [row.least for row in rows], np.array([row.most for row in rows]) - gaps]
        ),
        bounds=[(None, None)] * (moves.shape[1] + 1),
    )
    assert solved.x[-1] < 0.0  # it agrees that this one does not go in
    found: Draws = -solved.ineqlin.marginals.reshape(2, -1)
    return found


def shares_of_joints(rows: list[Row], blame: Draws) -> dict[str, float]:
    shares: dict[str, float] = defaultdict(float)
    for row, share in zip(rows, blame.sum(axis=1).mean(axis=0), strict=True):
        shares[row.joint] += float(share)
    return shares


def shares_of_errors(errors: list[str], root: Draws, own: Draws, blame: Draws) -> dict[str, float]:
    """What would be gone of the variance behind each failure if one source were left out."""
    pull = blame[:, 0] - blame[:, 1]
    read, other = ((pull @ root) ** 2).sum(axis=1), (pull @ own) ** 2
    whole = read + other.sum(axis=1)
    shares = dict(zip(errors, (other / whole[:, None]).mean(axis=0).tolist(), strict=True))
    return {SURVEY: float((read / whole).mean()), **shares}


ROOMS = pytest.mark.parametrize(("name", "draws"), [("heron", 100_000), ("gull", 1_500_000)])


@ROOMS
def test_the_chance_is_that_of_plain_draws(name: str, draws: int) -> None:
    """Four in five, and one in four thousand that the product reaches with 20,000 draws."""
    hand = worked(name, draws)
    apart = abs(hand.chance - hand.odds.remake.value)
    assert hand.chance > 0.0
    assert apart < 4 * (hand.sd**2 + hand.odds.remake.sd**2) ** 0.5


@ROOMS
def test_each_joint_has_its_part_of_the_blame(name: str, draws: int) -> None:
    hand = worked(name, draws)
    for joint in hand.odds.joints:
        told = joint.fails / hand.odds.remake.value
        assert told == pytest.approx(hand.joints[joint.joint], abs=0.08)


@ROOMS
def test_each_source_has_its_part_of_the_variance(name: str, draws: int) -> None:
    hand = worked(name, draws)
    for source in (SURVEY, "width of door", "squareness of door", "height of door"):
        assert hand.told.get(source, 0.0) == pytest.approx(hand.drivers[source], abs=0.04)
    assert sum(hand.told.values()) == pytest.approx(1.0)
