"""The linear algebra of the stage: weighted least squares and what follows from it.

Nothing else in `measure` factorises a matrix, so this module alone would be rewritten for a phone.
Signs are the geodetic ones: `observed + v = A x`, so a residual is what has to be added to a
reading to make it agree.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hangtrue.estimate import Estimate
from hangtrue.source import cites

Array = NDArray[np.float64]
Terms = tuple[tuple[int, float], ...]

RANK_TOLERANCE = 1e-13
"""Singular value, relative to the largest, below which a direction counts as not determined."""

CHECKED = 1e-9
"""Redundancy below which nothing checks a row: what is left there is rounding."""


class Underdetermined(ArithmeticError):  # noqa: N818 - the state of the readings, not a mishap
    """The rows leave some unknowns free.

    Attributes
    ----------
    unknowns
        Indices of the unknowns that are not determined, ascending.
    directions
        Orthogonal changes of the unknowns that no row notices, shape (k, n), each of largest
        component 1 in the unit of the unknowns.

    """

    def __init__(self, unknowns: tuple[int, ...], directions: Array) -> None:
        self.unknowns = unknowns
        self.directions = directions
        listed = ", ".join(map(str, unknowns))
        super().__init__(f"{len(directions)} more rows needed: unknowns {listed} are free")


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One observation equation, `observed + v = sum(coefficient * x[unknown])`.

    Attributes
    ----------
    name
        What was read, as the user would know it.
    terms
        (index of unknown, coefficient), indices may repeat and then add up.
    observed
        Value read, in its own unit.
    sigma
        A-priori standard deviation of `observed`, same unit, > 0.

    """

    name: str
    terms: Terms
    observed: float
    sigma: float

    def __post_init__(self) -> None:
        """Refuse a row that carries no information or infinite weight."""
        if not (0.0 < self.sigma < math.inf and math.isfinite(self.observed)):
            message = f"row {self.name!r}: observed {self.observed}, sigma {self.sigma}"
            raise ValueError(message)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Adjustment:
    """Unknowns fitted to m rows, n unknowns, with the a-priori sigmas taken as known.

    Attributes
    ----------
    rows
        The m rows that were adjusted.
    x
        Estimated unknowns, shape (n,).
    covariance
        Of `x`, shape (n, n); not scaled by the fit.
    residuals
        v, what each reading needs added to agree, shape (m,), in the unit of the row.
    redundancy
        Share of an error in each row that shows in its own residual, 0..1, shape (m,); its sum is
        `degrees_of_freedom`. Zero means that nothing checks the row.
    chi_square
        Weighted sum of squared residuals.
    basis
        Orthonormal basis Q of what the weighted rows can express, shape (m, n): the covariance of
        the weighted residuals is I - Q Q'.

    """

    rows: tuple[Row, ...]
    x: Array
    covariance: Array
    residuals: Array
    redundancy: Array
    chi_square: float
    basis: Array

    @property
    def degrees_of_freedom(self) -> int:
        """Rows beyond what the unknowns need."""
        return len(self.rows) - len(self.x)

    @property
    def variance_factor(self) -> float:
        """A-posteriori variance of unit weight, near 1 when the sigmas are honest; nan if f = 0."""
        freedom = self.degrees_of_freedom
        return self.chi_square / freedom if freedom else math.nan

    @property
    def sigma(self) -> Array:
        """A-priori standard deviation of each row, shape (m,)."""
        return np.array([row.sigma for row in self.rows])

    @property
    def observed(self) -> Array:
        """Value read of each row, shape (m,)."""
        return np.array([row.observed for row in self.rows])


@cites("koch-1999", "Gauss-Markoff model, best linear unbiased estimate")
def adjust(rows: Sequence[Row], unknowns: int) -> Adjustment:
    """Fit the unknowns to the rows by weighted least squares.

    Parameters
    ----------
    rows
        Uncorrelated rows; see `whiten` for a block with a full covariance. Priors are rows too.
    unknowns
        Number n of unknowns; every index in the rows is below it.

    Raises
    ------
    Underdetermined
        If the rows leave unknowns free; it says which.

    """
    rows = tuple(rows)
    design, values = _weighted(rows, unknowns)
    scale = _column_scale(design)
    design *= scale
    basis, inverse = _factorised(design, scale)
    x, misfit = _solved(design, values, basis, inverse)
    root = scale[:, np.newaxis] * inverse
    sigma = np.array([row.sigma for row in rows])
    return Adjustment(
        rows=rows,
        x=_frozen(scale * x),
        covariance=_frozen(root @ root.T),
        residuals=_frozen(-sigma * misfit),
        # Rounding may leave 1 - |q|^2 a hair outside its range.
        redundancy=_frozen(np.clip(1.0 - np.einsum("ij,ij->i", basis, basis), 0.0, 1.0)),
        chi_square=float(misfit @ misfit),
        basis=_frozen(basis),
    )


def approximate(rows: Sequence[Row], unknowns: int) -> Array:
    """Return the unknowns (n,) alone and quickly, by normal equations: where to linearise next.

    These square the condition number, so nothing but a place to start `adjust` from comes of them.

    Raises
    ------
    numpy.linalg.LinAlgError
        If the rows leave unknowns free.

    """
    design, values = _weighted(tuple(rows), unknowns)
    return np.asarray(np.linalg.solve(design.T @ design, design.T @ values))


def whiten(
    names: Sequence[str], terms: Sequence[Terms], observed: Sequence[float], covariance: Array
) -> tuple[Row, ...]:
    """Turn k correlated rows into k uncorrelated ones of sigma 1 with the same information.

    Parameters
    ----------
    names, terms, observed
        As in `Row`, k of each.
    covariance
        Of `observed`, shape (k, k), positive definite.

    Raises
    ------
    numpy.linalg.LinAlgError
        If `covariance` is not positive definite.

    """
    columns = sorted({index for row in terms for index, _ in row})
    mixed = np.zeros((len(terms), len(columns) + 1))
    place = {index: k for k, index in enumerate(columns)}
    for i, row in enumerate(terms):
        for index, coefficient in row:
            mixed[i, place[index]] += coefficient
    mixed[:, -1] = observed
    mixed = np.linalg.solve(np.linalg.cholesky(covariance), mixed)
    return tuple(
        Row(
            name=name,
            terms=tuple((j, float(a)) for j, a in zip(columns, row, strict=False) if a),
            observed=float(row[-1]),
            sigma=1.0,
        )
        for name, row in zip(names, mixed, strict=True)
    )


def predict(adjustment: Adjustment, terms: Terms) -> Estimate:
    """Value and standard deviation of `sum(coefficient * x[unknown])` after the adjustment."""
    index, weight = _split(terms)
    spread = float(weight @ adjustment.covariance[np.ix_(index, index)] @ weight)
    return Estimate(float(weight @ adjustment.x[index]), math.sqrt(max(spread, 0.0)))


@cites("cook-weisberg-1982", "deletion of one case without refitting")
def loo_prediction(adjustment: Adjustment) -> tuple[Array, Array]:
    """Tell for each row what all the others say it should read, without refitting.

    Returns
    -------
    means, sds
        Predicted reading and its standard deviation (of the prediction alone, without the error
        of the reading), shapes (m,). A row that nothing checks has mean nan and sd inf.

    """
    share = adjustment.redundancy
    checked = share > CHECKED
    safe = np.where(checked, share, 1.0)
    means = np.where(checked, adjustment.observed + adjustment.residuals / safe, np.nan)
    sds = np.where(checked, adjustment.sigma * np.sqrt((1.0 - share) / safe), np.inf)
    return _frozen(means), _frozen(sds)


@cites("sherman-morrison-1950", "rank-one change of an inverse")
def covariance_after(covariance: Array, terms: Terms, sigma: float) -> Array:
    """Covariance of the unknowns once a further row has been read, whatever it reads.

    Parameters
    ----------
    covariance
        Of the unknowns before, shape (n, n).
    terms, sigma
        Of the candidate row.

    Returns
    -------
    Array
        Shape (n, n), no larger in any direction.

    """
    index, weight = _split(terms)
    gain = covariance[:, index] @ weight
    return _frozen(covariance - np.outer(gain, gain) / (weight @ gain[index] + sigma**2))


def log_determinant(covariance: Array) -> float:
    """Natural logarithm of the determinant of a positive definite matrix (n, n)."""
    return float(np.linalg.slogdet(covariance)[1])


def _weighted(rows: tuple[Row, ...], unknowns: int) -> tuple[Array, Array]:
    """Design (m, n) and values (m,), each row divided by its sigma."""
    columns = np.array([j for row in rows for j, _ in row.terms], dtype=np.intp)
    if columns.size and not 0 <= columns.min() <= columns.max() < unknowns:
        message = f"a row names an unknown outside 0..{unknowns - 1}"
        raise ValueError(message)
    weights = np.array([a / row.sigma for row in rows for _, a in row.terms], dtype=np.float64)
    starts = np.repeat(np.arange(len(rows)) * unknowns, [len(row.terms) for row in rows])
    places = starts + columns
    design = np.bincount(places, weights, minlength=len(rows) * unknowns).astype(np.float64)
    values = np.array([row.observed / row.sigma for row in rows])
    return design.reshape(-1, unknowns), values


def _column_scale(design: Array) -> Array:
    """Factors (n,) that bring each column near length 1: powers of two, so that none is rounded."""
    lengths = np.sqrt(np.einsum("ij,ij->j", design, design))
    scale: Array = np.ldexp(1.0, -np.frexp(lengths)[1])
    return scale


def _factorised(design: Array, scale: Array) -> tuple[Array, Array]:
    """Q (m, n) and the inverse of R (n, n) of the scaled design.

    Householder QR and not the normal equations, which would square the condition number.
    """
    unknowns = design.shape[1]
    if len(design) < unknowns:
        raise _free(design, scale)
    basis, triangle = np.linalg.qr(design)
    try:
        inverse = np.linalg.inv(triangle)
    except np.linalg.LinAlgError:
        raise _free(triangle, scale) from None
    condition = np.linalg.norm(triangle) * np.linalg.norm(inverse)
    if not condition * RANK_TOLERANCE < 1.0:
        raise _free(triangle, scale)
    return basis, inverse


def _free(matrix: Array, scale: Array) -> Underdetermined:
    """Say which unknowns a rank-deficient scaled matrix (k, n) leaves free."""
    _, values, directions = np.linalg.svd(matrix, full_matrices=True)
    unknowns = matrix.shape[1]
    values = np.pad(values, (0, unknowns - len(values)))
    lost = values <= values[0] * unknowns * RANK_TOLERANCE
    lost[-1] = True  # the caller found the matrix deficient, by a slightly different measure
    null = directions[lost]
    free = np.flatnonzero(np.abs(null).max(axis=0) > math.sqrt(RANK_TOLERANCE))
    null = null * scale
    return Underdetermined(
        tuple(int(j) for j in free), _frozen(null / np.abs(null).max(axis=1, keepdims=True))
    )


def _solved(design: Array, values: Array, basis: Array, inverse: Array) -> tuple[Array, Array]:
    """Scaled unknowns (n,) and misfit `values - design x` (m,), with one step of refinement.

    The step solves the augmented system [I A; A' 0] for its own remainder, which is formed in
    extended precision where the machine has it (Bjorck 1967); it costs little and wins about six
    digits on badly conditioned readings.
    """
    x = inverse @ (basis.T @ values)
    misfit = values - design @ x
    wide = design.astype(np.longdouble)
    remainder = (values - misfit - wide @ x).astype(np.float64)
    slant = inverse.T @ -(wide.T @ misfit).astype(np.float64)
    change = basis.T @ remainder - slant
    return x + inverse @ change, misfit + remainder - basis @ change


def _split(terms: Terms) -> tuple[NDArray[np.intp], Array]:
    """Give indices and coefficients as arrays; repeated indices add up in the products."""
    index = np.array([j for j, _ in terms], dtype=np.intp)
    return index, np.array([a for _, a in terms], dtype=np.float64)


def _frozen(array: Array) -> Array:
    array.flags.writeable = False
    return array
