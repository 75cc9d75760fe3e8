"""The discrete-Kirchhoff triangle: stiffness, curvature and deflection of one thin plate element.

Each corner carries (w, dw/dx, dw/dy). The slope along a side is that of the cubic through its ends,
the slope across it varies linearly, and the slope inside is the quadratic through the six.
"""

# ruff: noqa: N803 - units keep their capitals

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from hangtrue.source import cites

Array = NDArray[np.float64]

SIDES: Final = ((0, 1), (1, 2), (2, 0))
MID_SIDES: Final = np.array([[0.5, 0.5, 0.0], [0.0, 0.5, 0.5], [0.5, 0.0, 0.5]])
"""Barycentric places (3, 3) where a quadratic is integrated exactly with equal weights."""


def rigidity_matrix(youngs_modulus_MPa: float, poisson: float, thickness: float) -> Array:
    """Bending stiffness (3, 3) in N mm for the curvatures (w_xx, w_yy, 2 w_xy)."""
    flexural = youngs_modulus_MPa * thickness**3 / (12 * (1 - poisson**2))
    return flexural * np.array([[1, poisson, 0], [poisson, 1, 0], [0, 0, (1 - poisson) / 2]])


def areas(corners: Array) -> Array:
    """Areas (m,) in mm2 of triangles with `corners` (m, 3, 2), positive anticlockwise."""
    a, b = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    return np.asarray((a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]) / 2)


def barycentric_gradients(corners: Array) -> Array:
    """Gradients (m, 3, 2) in 1/mm of the three barycentric coordinates."""
    opposite = corners[:, [2, 0, 1]] - corners[:, [1, 2, 0]]
    turned = np.stack([-opposite[..., 1], opposite[..., 0]], axis=-1)
    return np.asarray(turned / (2 * areas(corners))[:, None, None])


@cites("dkt", "slopes of the sides")
def slope_map(corners: Array) -> Array:
    """Slopes at the three corners and three mid-sides from the nine freedoms.

    Parameters
    ----------
    corners
        (m, 3, 2), mm, anticlockwise.

    Returns
    -------
    Array
        (m, 6, 2, 9): node (corners, then mid-sides 0-1, 1-2, 2-0), component x or y, freedom.

    """
    slopes = np.zeros((len(corners), 6, 2, 9))
    for corner in range(3):
        slopes[:, corner, 0, 3 * corner + 1] = 1
        slopes[:, corner, 1, 3 * corner + 2] = 1
    for number, (i, j) in enumerate(SIDES):
        side = corners[:, j] - corners[:, i]
        length = np.hypot(side[:, 0], side[:, 1])
        along = side / length[:, None]
        mean = (slopes[:, i] + slopes[:, j]) / 2
        # along the side the cubic has 1.5 times the mean rise less half the mean of the ends
        rise = np.zeros((len(corners), 9))
        rise[:, 3 * i], rise[:, 3 * j] = -1.5 / length, 1.5 / length
        tangential = rise - 1.5 * np.einsum("mc,mcf->mf", along, mean)
        slopes[:, 3 + number] = mean + along[:, :, None] * tangential[:, None, :]
    return slopes


def curvature_maps(corners: Array, at: Array = MID_SIDES) -> Array:
    """Curvatures (w_xx, w_yy, 2 w_xy) from the freedoms at places `at` (q, 3): (q, m, 3, 9)."""
    slopes = slope_map(corners)
    gradients = barycentric_gradients(corners)
    return np.stack([_curvature(slopes, gradients, place) for place in at])


def _curvature(slopes: Array, gradients: Array, place: Array) -> Array:
    shape = np.empty((len(slopes), 6, 2))
    shape[:, :3] = gradients * (4 * place - 1)[None, :, None]
    for number, (i, j) in enumerate(SIDES):
        shape[:, 3 + number] = 4 * (place[i] * gradients[:, j] + place[j] * gradients[:, i])
    second = np.matmul(shape.transpose(0, 2, 1), slopes.reshape(len(slopes), 6, 18)).reshape(
        -1, 2, 2, 9
    )  # derivative, component, freedom
    return np.stack([second[:, 0, 0], second[:, 1, 1], second[:, 0, 1] + second[:, 1, 0]], axis=1)


def stiffness(corners: Array, rigidity: Array) -> Array:
    """Element stiffness matrices (m, 9, 9) of a plate with `rigidity` (3, 3)."""
    maps = curvature_maps(corners)
    weight = areas(corners) / 3
    scaled = np.matmul(rigidity, maps)
    products = np.matmul(maps.transpose(0, 1, 3, 2), scaled).sum(axis=0)
    return np.asarray(products * weight[:, None, None])


@cites("dkt", "deflection inside")
def deflection_map(corners: Array, places: Array) -> Array:
    """Deflection from the nine freedoms: a cubic that keeps rigid motion and the sides' cubics.

    Parameters
    ----------
    corners
        (p, 3, 2), mm: for each place the triangle that holds it.
    places
        (p, 3), barycentric.

    Returns
    -------
    Array
        (p, 9).

    """
    out = np.zeros((len(places), 9))
    bubble = places.prod(axis=1)
    for i, (j, k) in enumerate(((1, 2), (2, 0), (0, 1))):
        own, left, right = places[:, i], places[:, j], places[:, k]
        out[:, 3 * i] = own + own * own * (left + right) - own * (left * left + right * right)
        to_left = (own * own * left + bubble / 2)[:, None] * (corners[:, j] - corners[:, i])
        to_right = (own * own * right + bubble / 2)[:, None] * (corners[:, k] - corners[:, i])
        out[:, 3 * i + 1 : 3 * i + 3] = to_left + to_right
    return out
