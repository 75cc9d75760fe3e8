"""Chance that several correlated quantities all lie within their limits at once."""

from __future__ import annotations

import numpy as np
from scipy import special

from hangtrue.measure.linear import Array
from hangtrue.source import cites

FAR = 8.5
"""Standard deviations beyond which a normal distribution holds less than 2e-17."""

MOST = 4
"""Quantities at once: each further one costs 64 times the work."""

PANELS, ORDER = 4, 16
"""Gauss-Legendre panels for each dimension, and points in a panel."""


@cites("genz-1992", "Cholesky factor: a chain of conditional ranges")
def box_probability(mean: Array, covariance: Array, low: Array, high: Array) -> float:
    """Probability that `low <= X <= high` in every component of a normal X.

    All but the last dimension are integrated by Gauss-Legendre panels, the last in closed form:
    about ten digits, the same ones every time.

    Parameters
    ----------
    mean, low, high
        Shape (d,), 1 <= d <= 4; limits may be infinite.
    covariance
        Shape (d, d), positive definite.

    Raises
    ------
    ValueError
        If d is not 1 to 4.
    numpy.linalg.LinAlgError
        If the covariance is not positive definite.

    """
    dimensions = len(mean)
    if not 1 <= dimensions <= MOST:
        message = f"box probability of {dimensions} quantities, 1 to {MOST} are possible"
        raise ValueError(message)
    root = np.linalg.cholesky(np.asarray(covariance, dtype=np.float64))
    below, above = np.asarray(low) - mean, np.asarray(high) - mean
    points, weights = _panel_rule()
    path = np.zeros((1, 0))
    density = np.ones(1)
    for _ in range(dimensions - 1):
        start, width = _range(root, below, above, path)
        z = start[:, np.newaxis] + width[:, np.newaxis] * points
        step = width[:, np.newaxis] * weights * np.exp(-z * z / 2) / np.sqrt(2 * np.pi)
        density = (density[:, np.newaxis] * step).ravel()
        path = np.column_stack([np.repeat(path, len(points), axis=0), z.ravel()])
    shift = path @ root[-1, :-1]
    last = special.ndtr((above[-1] - shift) / root[-1, -1])
    last -= special.ndtr((below[-1] - shift) / root[-1, -1])
    return float(np.clip(density @ np.maximum(last, 0.0), 0.0, 1.0))


def _range(root: Array, below: Array, above: Array, path: Array) -> tuple[Array, Array]:
    """Start and width of the next standard normal variable, given those before it, shape (p,)."""
    k = path.shape[1]
    shift = path @ root[k, :k]
    start = np.clip((below[k] - shift) / root[k, k], -FAR, FAR)
    end = np.clip((above[k] - shift) / root[k, k], -FAR, FAR)
    return start, np.maximum(end - start, 0.0)


def _panel_rule() -> tuple[Array, Array]:
    """Points and weights of the composite rule on 0..1."""
    points, weights = np.polynomial.legendre.leggauss(ORDER)
    starts = np.arange(PANELS)[:, np.newaxis]
    return ((starts + (points + 1) / 2) / PANELS).ravel(), np.tile(weights / 2 / PANELS, PANELS)
