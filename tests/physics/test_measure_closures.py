"""The two closures of a measured opening, which the trade uses to catch a wrong reading.

`W_top = W_bottom - lean_left - lean_right` and
`W_mid - (W_top + W_bottom) / 2 = -(bow_left + bow_right)`; geometry, with leans and bows positive
into the opening.
"""

from __future__ import annotations

import numpy as np
import pytest

from hangtrue.measure import measure
from hangtrue.measure.opening import Linear, Opening
from tests.made_up import GLASS, brief, random_room, read, usual_readings

ROOMS = range(20)


def opening(seed: int, scatter: str = "normal") -> Opening:
    rng = np.random.default_rng(seed)
    kinds = usual_readings("mm", diagonals=True)
    return measure(brief(read(random_room(rng), kinds, rng, "mm", scatter)))  # type: ignore[arg-type]


def width(made: Opening, height: float) -> Linear:
    return made.wall("right", height) - made.wall("left", height)


@pytest.mark.parametrize("seed", ROOMS)
def test_the_top_is_the_bottom_less_both_leans(seed: int) -> None:
    made = opening(seed)
    leans = made.lean("left", 0.0, GLASS) + made.lean("right", 0.0, GLASS)
    closure = width(made, GLASS) - width(made, 0.0) + leans
    assert made.estimate(closure).value == pytest.approx(0.0, abs=1e-9)
    assert made.estimate(closure).sd == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize("seed", ROOMS)
def test_the_middle_is_narrower_than_the_mean_of_the_ends_by_both_bows(seed: int) -> None:
    made = opening(seed)
    bows = made.bow("left", 0.0, GLASS / 2, GLASS) + made.bow("right", 0.0, GLASS / 2, GLASS)
    middle, ends = width(made, GLASS / 2), width(made, GLASS) + width(made, 0.0)
    mean = Linear(coefficients=ends.coefficients / 2)
    assert made.estimate(middle - mean + bows).value == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("seed", ROOMS)
def test_readings_without_scatter_close(seed: int) -> None:
    """Adjusted readings are those read, but for the little that the priors pull."""
    rng = np.random.default_rng(seed)
    room = random_room(rng, bow_sd=0.0)
    made = measure(brief(read(room, usual_readings("mm", diagonals=True), rng, "mm", "none")))
    assert not made.agreement.alarm
    for residual in made.residuals:
        assert residual.adjusted == pytest.approx(residual.observed, abs=0.05)
