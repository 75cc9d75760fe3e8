"""Made-up rooms, read, planned and then built: glass goes in as often as the odds said.

What is built is drawn here, from the true room and the tolerances of plant and setting; whether it
goes in is found by a linear program of a general library. Neither shares a line with the product.

Odds can be right only for the rooms that a shop expects: so walls lean, bow and are rough in
between as the profile of this shop says. Rooms that are tidier are looked at too; there the odds
may only be too dark.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache
from itertools import pairwise

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.optimize import linprog
from scipy.stats import binom

from hangtrue.fit import fit
from hangtrue.fit.enclosure import Enclosure, Joint
from hangtrue.job import library
from hangtrue.job.brief import Brief
from hangtrue.job.profile import Profile
from hangtrue.job.readings import Reading
from hangtrue.measure import measure
from hangtrue.odds.drawing import chance
from hangtrue.odds.margins import system
from hangtrue.odds.model import model
from hangtrue.units import Length
from tests.made_up import GLASS, INCH, Room, brief, changed, random_room, read, usual_readings

ROOMS = 700
TIDY = 400
SLIPS = 300
DRAWS = 2048
EDGES = (0.0, 0.05, 0.10, 0.20, 0.35, 0.60, 1.0)
SURE = 1e-3
"""Level of the test in each bin: a handful of bins, so that chance alone hardly ever fails it."""

LEAN, BOW, FALL = 0.003, 2.5, 0.002
"""How far walls lean (as a slope), bow (mm in the middle of 2 m) and curbs fall (as a slope)."""

HEIGHTS = INCH * np.arange(0.0, 85.0, 2.0)
"""A wall has a shape of its own every two inches, straight in between."""

PLAY = 3.175
SQUARE = 0.632
"""One tolerance for size and squareness: see tests/unit/test_odds_errors.py."""

SEAT = 0.5**0.5
"""Half the variance of setting is the same all along a joint that has fittings."""


@dataclass(frozen=True)
class Built:
    """One room: the risk that was said, and whether its glass then went in."""

    risk: float
    goes: bool
    alarm: bool = False
    named: bool = False


# ------------------------------------------------------------------------------ what is built

Found = Sequence[tuple[float, float, float, Joint]]
"""Gap, least, most, joint."""

Cut = dict[str, NDArray[np.float64]]
"""How each pane came: wider, taller, out of square; mm."""


def built_gaps(job: Brief, made: Enclosure, room: Room, rng: np.random.Generator) -> Found:
    """Every gap that is found with the panes where they were planned: (gap, least, most, joint)."""
    plant, sigma = job.profile.plant, float(job.profile.setting_sd)
    size = float(plant.size_tolerance) / 2
    cut = {p.id: rng.normal(0.0, (size, size, SQUARE * size)) for p in made.lites}
    found = []
    for joint in made.joints:
        at = [g.at for g in joint.gaps]
        fitted = [g.at for g in joint.gaps if g.at_fitting]
        off = np.full(len(at), rng.normal(0.0, sigma))
        if fitted:
            off = SEAT * off + np.interp(at, fitted, rng.normal(0.0, SEAT * sigma, len(fitted)))
        for gap, more in zip(joint.gaps, off, strict=True):
            value = _between(made, joint, gap.at, room, cut) + more
            found.append((value, gap.least, gap.most, joint))
            if gap.at_fitting:
                notch = rng.normal(0.0, float(plant.notch_tolerance) / 2)
                found.append((value + notch, gap.least - PLAY, gap.most + PLAY, joint))
    return found


def _between(made: Enclosure, joint: Joint, at: float, room: Room, cut: Cut) -> float:
    if joint.between[1] == "curb":
        pane = made.lite(joint.between[0])
        x = [pane.origin[0] + c[0] for c in pane.corners[:2]]
        z = [pane.origin[1] + c[1] for c in pane.corners[:2]]
        foot = np.interp(at, x, z) - cut[pane.id][1]
        span = room.x("right", 0.0) - room.x("left", 0.0)
        along = (at - room.x("left", 0.0)) / span
        return float(foot - (room.curb_left + along * (room.curb_right - room.curb_left)))
    return _edge(made, joint.between[1], "left", at, room, cut) - _edge(
        made, joint.between[0], "right", at, room, cut
    )


def _edge(made: Enclosure, name: str, side: str, at: float, room: Room, cut: Cut) -> float:
    """Where the left or the right edge of a pane, or the face of a wall, is at a height."""
    if name.endswith("wall"):
        return room.x("left" if name.startswith("left") else "right", at)
    pane, (wider, _, askew) = made.lite(name), cut[name]
    low, high = (pane.corners[0], pane.corners[3])
    if side == "right":
        low, high = pane.corners[1], pane.corners[2]
    z = [pane.origin[1] + low[1], pane.origin[1] + high[1]]
    x = [pane.origin[0] + low[0], pane.origin[0] + high[0]]
    planned = x[0] + (x[1] - x[0]) * (at - z[0]) / (z[1] - z[0])
    height = max(pane.height_left, pane.height_right)
    lean = askew * ((at - pane.origin[1]) / height - 0.5)
    return float(planned + lean + (wider / 2 if side == "right" else -wider / 2))


def goes_in(made: Enclosure, gaps: Found) -> bool:
    """Whether some shift of every pane, and one height of all, puts every gap into its range."""
    names = [p.id for p in made.lites]
    rows, limits = [], []
    for value, least, most, joint in gaps:
        row = np.zeros(len(names) + 1)
        if joint.between[1] == "curb":
            row[-1] = 1.0
        else:
            for name, sign in zip(joint.between, (-1.0, 1.0), strict=True):
                if name in names:
                    row[names.index(name)] = sign
        rows += [row, -row]
        limits += [most - value, value - least]
    free = [(None, None)] * (len(names) + 1)
    found = linprog(np.zeros(len(names) + 1), np.array(rows), limits, bounds=free)
    return bool(found.status == 0)


# ------------------------------------------------------------------------------ many rooms


@cache
def rough() -> NDArray[np.float64]:
    """Root of the covariance of a wall about its chord: an integrated Wiener process, pinned."""
    s, t = np.minimum.outer(HEIGHTS, HEIGHTS), np.maximum.outer(HEIGHTS, HEIGHTS)
    kernel = 48.0 / 2000.0**3 * s**2 * (3.0 * t - s) / 6.0
    pinned = np.eye(len(HEIGHTS))
    pinned[:, np.argmin(np.abs(HEIGHTS - GLASS))] -= HEIGHTS / GLASS
    values, vectors = np.linalg.eigh(pinned @ kernel @ pinned.T)
    root: NDArray[np.float64] = BOW * vectors * np.sqrt(np.maximum(values, 0.0))
    return root


def expected_room(rng: np.random.Generator) -> Room:
    """Draw a room of the kind that the shop's profile describes."""
    room = random_room(rng)
    lean = rng.normal(0.0, LEAN, 4) * HEIGHTS[:, None]
    walls = lean + rough() @ rng.standard_normal((len(HEIGHTS), 4))
    left, right, across_left, across_right = walls.T
    width = room.width(0.0)
    return replace(
        room, heights=HEIGHTS, left=left, right=width - right, across_left=across_left,
        across_right=across_right, curb_right=rng.normal(0.0, FALL * width),
    )  # fmt: skip


def shop(rng: np.random.Generator, *, expects: bool) -> Profile:
    """A shop with a plant of any sort, so that there are risks of every size."""
    own = library.shipped_profiles()["inch-shop"]
    plant = own.plant.model_copy(update={"size_tolerance": Length(rng.uniform(0.5, 3.0))})
    limits = dict(own.limits)
    if expects:
        for name, value in (("prior-lean-sd", LEAN), ("prior-curb-sd", FALL)):
            limits[name] = limits[name].model_copy(update={"value": value})
    return own.model_copy(update={"plant": plant, "limits": limits})


def one(
    number: int,
    rng: np.random.Generator,
    slip: tuple[str, float] | None = None,
    *,
    tidy: bool = False,
) -> Built | None:
    """Draw a room, read it, plan it, build it; None where nothing fits in the first place.

    Each room has a seed of its own for its odds, so that errors of drawing do not add up.
    """
    room = random_room(rng, bow_sd=BOW) if tidy else expected_room(rng)
    unread: tuple[Reading, ...] = usual_readings("in", diagonals=True)
    readings = read(room, unread, rng, "in", "normal")
    if slip:
        readings = changed(readings, *slip, "in")
    profile = shop(rng, expects=not tidy)
    wide = room.width(0.0) > 1250.0
    job = brief(readings, lites=("door", "fixed") if wide else ("door",), profile=profile)
    wanted = job.job.wanted.model_copy(
        update={"hinge_side": "left", "thickness": Length(0.375 * INCH)}
    )
    job = Brief(
        job=job.job.model_copy(update={"wanted": wanted}),
        profile=profile, items=job.items, instruments=job.instruments,
    )  # fmt: skip
    opening = measure(job)
    made = fit(job, opening)[0].made
    if not isinstance(made, Enclosure):
        return None
    of = model(job, opening, made)
    return Built(
        risk=chance(of, system(of), number, DRAWS),
        goes=goes_in(made, built_gaps(job, made, room, rng)),
        alarm=opening.agreement.alarm,
        named=bool(opening.set_aside),
    )


@cache
def honest_rooms() -> tuple[Built, ...]:
    rng = np.random.default_rng(20_260)
    return tuple(built for k in range(ROOMS) if (built := one(k, rng)))


@cache
def tidy_rooms() -> tuple[Built, ...]:
    """Walls and curbs straighter than the shop expects."""
    rng = np.random.default_rng(20_262)
    return tuple(built for k in range(TIDY) if (built := one(k, rng, tidy=True)))


@cache
def rooms_with_slips() -> tuple[Built, ...]:
    """One planted slip of an inch in ten rooms."""
    rng = np.random.default_rng(20_261)
    names = ("width 0", "width 38", "width 76", "lean left 72")
    found = []
    for k in range(SLIPS):
        slip = (names[(k // 10) % 4], INCH * (1 if k % 20 else -1)) if k % 10 == 0 else None
        built = one(k, rng, slip)
        if built:
            found.append(built)
    return tuple(found)


def table(rooms: Sequence[Built]) -> list[tuple[float, float, int, int, float]]:
    """Per bin of risk: its ends, how many rooms, how many remade, how many were foretold."""
    rows = []
    for low, high in pairwise(EDGES):
        mine = [r for r in rooms if low <= r.risk < high or (high == 1.0 == r.risk)]
        rows.append(
            (low, high, len(mine), sum(not r.goes for r in mine), sum(r.risk for r in mine))
        )
    return rows


@pytest.mark.parametrize("row", range(len(EDGES) - 1))
def test_bins_of_risk_fail_as_often_as_they_say(row: int) -> None:
    low, high, count, remade, foretold = table(honest_rooms())[row]
    if count < 10:
        pytest.skip(f"only {count} rooms between {low} and {high}")
    mean = foretold / count
    assert binom.ppf(SURE / 2, count, mean) <= remade <= binom.ppf(1 - SURE / 2, count, mean)


def test_in_rooms_tidier_than_expected_no_more_is_remade_than_foretold() -> None:
    for _low, _high, count, remade, foretold in table(tidy_rooms()):
        if count:
            assert remade <= binom.ppf(1 - SURE / 2, count, foretold / count)


def test_risks_of_every_size_occur() -> None:
    assert sum(count >= 20 for _, _, count, _, _ in table(honest_rooms())) >= 4


def test_with_one_slip_in_ten_rooms_what_is_ordered_is_remade_hardly_more_often_than_said() -> None:
    """Where readings contradict each other unexplained nothing is ordered: those are left."""
    rooms = [r for r in rooms_with_slips() if r.named or not r.alarm]
    foretold = sum(r.risk for r in rooms)
    remade = sum(not r.goes for r in rooms)
    spread = sum(r.risk * (1 - r.risk) for r in rooms) ** 0.5
    assert remade <= foretold + 4 * spread + 0.02 * len(rooms)
