"""The revised NIOSH lifting equation.

Sources: T. R. Waters, V. Putz-Anderson, A. Garg, Applications Manual for the Revised NIOSH Lifting
Equation, DHHS (NIOSH) Publication 94-110, revised 9/2021: table 5, examples 1, 2 and 4 (examples 1
and 2 from memory); an examination problem in kilograms; a demonstration of a lifting calculator.

The manual multiplies multipliers already rounded to two places; unrounded the limit differs by up
to 2.5 %. Both are compared.
"""

from __future__ import annotations

import math

import pytest

from hangtrue.mechanics.customary import INCH, POUND_MASS
from hangtrue.mechanics.lifting import (
    Lift,
    RecommendedWeight,
    frequency_multiplier,
    reach_of,
    recommended_weight,
    spread_frequency,
)
from hangtrue.mechanics.ranges import OutOfRange
from hangtrue.tables import table

FULL_PRECISION = 0.025


def us(
    reach: float,
    height: float,
    travel: float,
    coupling: str,
    per_minute: float = 0.2,
    twist: float = 0.0,
) -> RecommendedWeight:
    lift = Lift(
        reach=reach * INCH,
        height=height * INCH,
        travel=travel * INCH,
        per_minute=per_minute,
        twist_rad=math.radians(twist),
        coupling=coupling,  # type: ignore[arg-type]
    )
    return recommended_weight(lift, "us")


def worksheet_pounds(found: RecommendedWeight) -> float:
    """The limit as the manual's worksheet has it, from rounded multipliers."""
    rounded = (math.floor(100 * m + 0.5) / 100 for m in found.multipliers)
    return found.constant_kg / POUND_MASS * math.prod(rounded)


@pytest.mark.parametrize(
    ("found", "printed"),
    [
        (us(10, 22, 37, "fair", 3), 34.9),
        (us(20, 59, 37, "good", 3), 15.2),
        (us(15, 27, 17, "poor"), 28.0),
        (us(20, 6, 16, "fair"), 18.4),
    ],
    ids=["ex 4 origin", "ex 4 destination", "ex 2", "demo"],
)
def test_examples_of_the_manual(found: RecommendedWeight, printed: float) -> None:
    """H, D and A of example 4 read from its multipliers; the H of its destination inferred."""
    assert worksheet_pounds(found) == pytest.approx(printed, abs=0.1)
    assert found.limit_kg / POUND_MASS == pytest.approx(printed, rel=FULL_PRECISION)


def test_example_1_lifting_index() -> None:
    """44 lb: 16.3 lb and 2.7 at the origin, 14.5 lb and 3.0 at the destination (from memory).

    The worksheet has 0.44 for a reach of 23 in, where 10/23 rounds to 0.43.
    """
    for height, limit, index in ((15, 16.3, 2.7), (64, 14.5, 3.0)):
        found = us(23, height, 49, "fair")
        assert worksheet_pounds(found) * 0.44 / 0.43 == pytest.approx(limit, abs=0.05)
        assert found.limit_kg / POUND_MASS == pytest.approx(limit, rel=FULL_PRECISION)
        assert found.index(44 * POUND_MASS) == pytest.approx(index, rel=0.04)


def test_examination_problem_in_kilograms() -> None:
    """12 kg, H 25, V 55, D 95 cm, 3 a minute for 45 min, fair: 15.7 kg, 0.76."""
    lift = Lift(reach=250, height=550, travel=950, per_minute=3, hours=0.75, coupling="fair")
    found = recommended_weight(lift)
    assert found.limit_kg == pytest.approx(15.7, rel=FULL_PRECISION)
    assert found.index(12.0) == pytest.approx(0.76, abs=0.01)


def test_ten_lifts_a_minute_for_eight_of_fifteen_minutes() -> None:
    assert spread_frequency(10, 8) == pytest.approx(5.33, abs=0.005)


@pytest.mark.parametrize("row", table("mechanics/lifting")["niosh"]["frequency"]["rows"])
def test_table_5_at_its_own_rows(row: list[float]) -> None:
    for column, hours in enumerate((1.0, 2.0, 8.0)):
        for side, low in enumerate((True, False)):
            found = frequency_multiplier(row[0], hours, low=low)
            assert found == pytest.approx(row[1 + 2 * column + side])


def test_table_5_between_and_beyond() -> None:
    assert frequency_multiplier(1.5, 1.0, low=True) == pytest.approx((0.94 + 0.91) / 2)
    assert frequency_multiplier(0.0, 1.0, low=True) == 1.0
    assert frequency_multiplier(16, 1.0, low=False) == 0.0


def test_a_pane_beyond_reach_or_overhead_may_not_be_lifted_at_all() -> None:
    for change in ({"reach": 640.0}, {"height": 1760.0}, {"travel": 1760.0}, {"twist_rad": 2.4}):
        values = {"reach": 300.0, "height": 750.0, "travel": 300.0, **change}
        found = recommended_weight(Lift(**values))  # type: ignore[arg-type]
        assert found.limit_kg == 0
        assert found.index(10.0) == math.inf


def test_the_best_lift_is_the_load_constant() -> None:
    """23 kg, and 51 lb."""
    best = Lift(reach=250, height=750, travel=250, coupling="good")
    assert recommended_weight(best).limit_kg == pytest.approx(23.0)
    assert us(10, 30, 10, "good").limit_kg / POUND_MASS == pytest.approx(51.0)


def test_reach_estimated_from_the_load() -> None:
    """20 + W/2 cm, 25 + W/2 for hands below 25 cm."""
    assert reach_of(300.0, 800.0) == 350.0
    assert reach_of(300.0, 200.0) == 400.0


def test_what_the_method_does_not_know_is_refused() -> None:
    with pytest.raises(OutOfRange, match="hours"):
        recommended_weight(Lift(reach=300, height=700, travel=300, hours=9))
    with pytest.raises(OutOfRange, match="reach"):
        recommended_weight(Lift(reach=-1, height=700, travel=300))
