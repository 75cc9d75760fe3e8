"""The normal part of the risk without drawing anything: a box probability."""

from __future__ import annotations

import numpy as np
from scipy import special

from hangtrue.measure.opening import Matrix, Vector
from hangtrue.measure.probability import MOST, box_probability
from hangtrue.odds.drawing import faces, noise
from hangtrue.odds.margins import system
from hangtrue.odds.model import Model

OPPOSITE = -0.999999
"""Correlation at which two ways to fail are the two ends of one range."""


def bracket(of: Model) -> tuple[float, float]:
    """Two numbers between which the risk lies, as far as the errors are normal.

    The likeliest ways to fail, along at most four directions, make a box: failing them is part of
    the risk. The other ways, each on its own, are the rest at most. With no other way left the two
    numbers are one.

    Raises
    ------
    LookupError
        If the ways to fail are too many to list.

    """
    every = faces(noise(of, system(of)))
    ways = np.array([f.slope / np.linalg.norm(f.slope) for f in every])
    betas = np.array([f.beta for f in every])
    chosen = _directions(ways)
    low, high, inside = np.full(len(chosen), -np.inf), np.full(len(chosen), np.inf), set(chosen)
    for i, k in enumerate(chosen):
        low[i] = -betas[k]
        for j in np.flatnonzero(ways @ ways[k] < OPPOSITE):
            high[i] = min(high[i], betas[j])
            inside.add(int(j))
    box = ways[chosen] @ ways[chosen].T
    least = 1.0 - box_probability(np.zeros(len(chosen)), box, low, high)
    others = [k for k in range(len(every)) if k not in inside]
    return least, min(least + float(special.ndtr(-betas[others]).sum()), 1.0)


def _directions(ways: Matrix) -> list[int]:
    """Numbers of the first ways that point into directions of their own, four at most."""
    chosen: list[int] = []
    for k in range(len(ways)):
        if len(chosen) < MOST and _new(ways[chosen], ways[k]):
            chosen.append(k)
    return chosen


def _new(known: Matrix, way: Vector) -> bool:
    if not len(known):
        return True
    solved = np.linalg.lstsq(known.T, way, rcond=None)[0]
    return float(np.linalg.norm(way - known.T @ solved)) > 1e-3  # noqa: PLR2004 - of length one
