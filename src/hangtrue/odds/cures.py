"""What is still allowed on site when the glass does not go in, and the chance that is left then."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from hangtrue.estimate import Estimate
from hangtrue.fit.enclosure import Enclosure, Joint, Lite
from hangtrue.job.brief import Brief
from hangtrue.job.hardware import Channel, Seal
from hangtrue.measure.opening import Matrix, Opening, Vector
from hangtrue.odds.drawing import factor, noise
from hangtrue.odds.margins import Flags, Index, decided, slacks, system
from hangtrue.odds.model import UP, Model, model
from hangtrue.odds.odds import blocks, where_rare
from hangtrue.tables import table

LOOKED_AT = 200
"""Failed draws on which a cure is tried: its chance is known to a twenty-eighth of the risk."""

ALL = "do all of these"

LOOSE = {"channel", "silicone", "open", "strike"}
"""Joints that let a pane lean a little."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cure:
    """One thing that may be done on site, and the chance of a remake that is left then."""

    words: str
    remake: Estimate


def after_cures(
    brief: Brief, opening: Opening, made: Enclosure, without: Estimate
) -> tuple[Cure, ...]:
    """Chance of a remake after each cure that changes anything, and after all of them together.

    A cure only ever helps, so only draws that failed without it are tried again, each by what
    decides it exactly.

    Parameters
    ----------
    without
        The chance of a remake without any cure.

    """
    before, seed = model(brief, opening, made), brief.job.seed
    seen, weight = _failed(before, seed, int(table("odds")["draws"]["alternative"]))
    tried = seen[:, _some(weight, seed)]
    after = dict(_cured(brief, made, before))
    goes = {words: decided(cured, tried) for words, cured in after.items()}
    if len(after) > 1:
        both = before
        for change in _CHANGES.values():
            both = change(brief, made, both) or both
        goes[ALL] = _also(both, tried, np.logical_or.reduce(list(goes.values())))
    return tuple(Cure(words=words, remake=_left(those, without)) for words, those in goes.items())


def _also(cured: Model, seen: Matrix, goes: Flags) -> Flags:
    """Whether each draw (n,) goes in after all cures; what one of them cured stays cured."""
    every = goes.copy()
    every[~goes] = decided(cured, seen[:, ~goes])
    return every


def _failed(of: Model, seed: int, count: int) -> tuple[Matrix, Vector]:
    """Noise (k, n) of the draws that did not go in, and the weight (n,) of each."""
    found = system(of)
    if found.circuits is None:
        rng = np.random.Generator(np.random.SFC64((seed, 0)))
        root = factor(of.noise)
        every = root @ rng.standard_normal((root.shape[1], count))
        fails = ~decided(of, every)
        return every[:, fails], np.ones(int(fails.sum()))
    drawn, order = noise(of, found), np.argsort(found.rows)
    seen, weights = [np.zeros((len(of.places), 0))], [np.zeros(0)]
    for block in blocks(drawn, seed, count, where_rare(drawn)):
        every = drawn.of(block.normal, block.uniform)
        fails = slacks(found, every).min(axis=0) < 0.0
        seen.append((found.sign[:, None] * every[:, fails])[order])
        weights.append(block.weight[fails])
    return np.hstack(seen), np.concatenate(weights)


def _some(weight: Vector, seed: int) -> Index:
    """Numbers of some failed draws, each as often as it weighs; all of them once if there are few.

    Evenly spaced along the sum of weights from one drawn start, so that they spread well.
    """
    if not len(weight):
        return np.zeros(0, dtype=np.intp)
    start = np.random.Generator(np.random.SFC64((seed, 2**21))).uniform()
    at = (np.arange(LOOKED_AT) + start) / LOOKED_AT * weight.sum()
    some: Index = np.searchsorted(np.cumsum(weight), at)
    return some


def _left(goes: Flags, without: Estimate) -> Estimate:
    """Chance that is left: the share of the failed draws that fail again."""
    count = len(goes)
    left = 1.0 - float(goes.mean()) if count else 0.0
    spread = math.sqrt(left * (1.0 - left) / max(count, 1))
    return Estimate(without.value * left, math.hypot(without.sd * left, without.value * spread))


# ------------------------------------------------------------------------------ the cures


def _cured(brief: Brief, made: Enclosure, before: Model) -> Iterator[tuple[str, Model]]:
    for name, change in _CHANGES.items():
        cured = change(brief, made, before)
        if cured is not None:
            yield str(table("odds")["cures"][name]["words"]), cured


def tilted(_brief: Brief, made: Enclosure, before: Model) -> Model | None:
    """Let fixed panes lean that nothing holds upright: their foot goes with them."""
    panes = [lite for lite in made.lites if _may_lean(made, lite)]
    most = float(table("odds")["cures"]["tilt"]["most"])
    moves = np.zeros((len(before.places), len(panes)))
    for i, pane in enumerate(panes):
        for joint in made.joints:
            if pane.id in joint.between:
                rows = [k for k, p in enumerate(before.places) if p.joint == joint.id]
                moves[rows, i] = [_leaning(pane, joint, before.places[k].at) for k in rows]
    names = tuple(f"{pane.id} leans" for pane in panes)
    return before.freer(names, moves, np.full(len(panes), most)) if panes else None


def _may_lean(made: Enclosure, lite: Lite) -> bool:
    beside = [j for j in made.joints if lite.id in j.between and j.upright]
    held = any(j.kind not in LOOSE or j.corner for j in beside)
    return lite.kind == "fixed" and bool(beside) and not held


def _leaning(pane: Lite, joint: Joint, at: float) -> float:
    """Change of a gap for each mm that the pane's top goes to the right of its foot."""
    height = max(pane.height_left, pane.height_right)
    if not joint.upright:
        middle = pane.origin[0] + (pane.corners[0][0] + pane.corners[1][0]) / 2
        return -(at - middle) / height
    share = (at - pane.origin[1]) / height - 0.5
    return -share if joint.between[0] == pane.id else share


def lifted(_brief: Brief, made: Enclosure, before: Model) -> Model | None:
    """Let each pane have its own height."""
    if UP not in before.freedoms or len(made.lites) < 2:  # noqa: PLR2004 - one has no neighbour
        return None
    up = before.Y[:, before.freedoms.index(UP)]
    below = {j.id: j.between[0] for j in made.joints if not j.upright}
    panes = tuple(dict.fromkeys(below.values()))
    moves = np.zeros((len(before.places), len(panes)))
    for k, place in enumerate(before.places):
        if place.joint in below:
            moves[k, panes.index(below[place.joint])] = up[k]
    most = float(table("odds")["cures"]["heights"]["most"]) / 2
    names = tuple(f"{pane} up" for pane in panes)
    return before.freer(names, moves, np.full(len(panes), most))


def sealed(brief: Brief, made: Enclosure, before: Model) -> Model | None:
    """Take any strike seal or sweep that there is."""

    def ranges(joint: Joint) -> Iterator[tuple[float, float]]:
        if joint.kind in {"strike", "sweep"}:
            for item in brief.items.values():
                if isinstance(item, Seal) and item.use == joint.kind:
                    yield float(item.gap.least), float(item.gap.most)

    return _widened(made, before, {j.id: list(ranges(j)) for j in made.joints})


def channelled(brief: Brief, made: Enclosure, before: Model) -> Model | None:
    """Take any channel that there is, where a pane meets a wall in one."""

    def ranges(joint: Joint) -> Iterator[tuple[float, float]]:
        if joint.kind == "channel" and joint.upright:
            for item in brief.items.values():
                if isinstance(item, Channel):
                    floor = float(item.base)
                    yield (
                        floor + float(item.floor_gap_least),
                        floor + float(item.depth) - float(item.bite_least),
                    )

    return _widened(made, before, {j.id: list(ranges(j)) for j in made.joints})


def _widened(
    _made: Enclosure, before: Model, more: dict[str, list[tuple[float, float]]]
) -> Model | None:
    """Any of the ranges will do; the one that reaches furthest each way is never worse."""
    low, high = before.low.copy(), before.high.copy()
    for k, place in enumerate(before.places):
        for least, most in more.get(place.joint, ()):
            if least <= high[k] and most >= low[k]:
                low[k], high[k] = min(low[k], least), max(high[k], most)
    same = np.array_equal(low, before.low) and np.array_equal(high, before.high)
    return None if same else replace(before, low=low, high=high)


_CHANGES = {"tilt": tilted, "heights": lifted, "seal": sealed, "channel": channelled}
