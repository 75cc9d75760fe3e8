"""Withdrawal and pull-through of screws, lags and nails.

Source: ANSI/AWC NDS National Design Specification for Wood Construction, 2018, tables 12.2A, 12.2B,
12.2C, 12.2F; AWC connection example E2.1a. The tables are printed in whole pounds per inch, and
12.2B is cut rather than rounded: tolerance 1.
"""

from __future__ import annotations

import pytest

from hangtrue.mechanics.customary import INCH, POUND_FORCE
from hangtrue.mechanics.ranges import OutOfRange
from hangtrue.mechanics.wood import (
    head_pull_through,
    lag_screw_withdrawal,
    nail_withdrawal,
    screw,
    specific_gravity,
    thread_needed,
    withdrawal,
    wood_screw_withdrawal,
)

POUNDS_PER_INCH = POUND_FORCE / INCH


@pytest.mark.parametrize(
    ("number", "gravity", "printed"),
    [
        ("10", 0.50, 135),
        ("8", 0.42, 82),
        ("14", 0.55, 208),
        ("14", 0.50, 172),
        ("14", 0.42, 121),
    ],
)
def test_table_12_2b_wood_screws(number: str, gravity: float, printed: int) -> None:
    found = wood_screw_withdrawal(screw("wood-screw", number).diameter, gravity)
    assert found / POUNDS_PER_INCH == pytest.approx(printed, abs=1)


def test_a_handbook_value_for_canadian_spruce() -> None:
    """G 0.45, No. 10: 109 pounds per inch (the page cuts off decimals)."""
    found = wood_screw_withdrawal(screw("wood-screw", "10").diameter, 0.45)
    assert found / POUNDS_PER_INCH == pytest.approx(109, abs=1)


@pytest.mark.parametrize(
    ("gravity", "printed"),
    [
        (0.55, (260, 307, 352, 437)),
        (0.50, (225, 266, 305, 378)),
        (0.43, (179, 212, 243, 302)),
        (0.42, (173, 205, 235, 291)),
    ],
)
def test_table_12_2a_lag_screws(gravity: float, printed: tuple[int, ...]) -> None:
    """1/4, 5/16, 3/8, 1/2 in; the first cell of G 0.43 could not be read and is the formula's."""
    for size, value in zip(("1/4", "5/16", "3/8", "1/2"), printed, strict=True):
        found = lag_screw_withdrawal(screw("lag-screw", size).diameter, gravity)
        assert found / POUNDS_PER_INCH == pytest.approx(value, abs=0.6)


@pytest.mark.parametrize(("inches", "gravity", "printed"), [(0.131, 0.50, 32), (0.162, 0.42, 26)])
def test_table_12_2c_nails(inches: float, gravity: float, printed: int) -> None:
    found = nail_withdrawal(inches * INCH, gravity)
    assert found / POUNDS_PER_INCH == pytest.approx(printed, abs=0.6)


def test_example_e2_1a_plain_nail() -> None:
    """0.131 x 2.5 in in spruce-pine-fir behind a 0.105 in side: 20.667 lb/in, 49.50 lb."""
    rate = nail_withdrawal(0.131 * INCH, specific_gravity("spruce-pine-fir"))
    assert rate / POUNDS_PER_INCH == pytest.approx(20.667, abs=0.0005)
    assert rate * 2.395 * INCH / POUND_FORCE == pytest.approx(49.50, abs=0.005)


@pytest.mark.parametrize(
    ("gravity", "head", "thickness", "printed"),
    [(0.50, 0.234, 5 / 16, 40), (0.50, 0.312, 1.0, 132), (0.42, 0.500, 1.5, 239)],
)
def test_table_12_2f_head_pull_through(
    gravity: float, head: float, thickness: float, printed: int
) -> None:
    found = head_pull_through(head * INCH, thickness * INCH, gravity)
    assert found / POUND_FORCE == pytest.approx(printed, abs=0.6)


def test_thread_needed_is_the_inverse_of_withdrawal() -> None:
    number_10 = screw("wood-screw", "10")
    thread = thread_needed(number_10, 500.0, 0.42, 0.9, 0.7)
    assert withdrawal(number_10, thread, 0.42) * 0.9 * 0.7 == pytest.approx(500.0)


@pytest.mark.parametrize("gravity", [0.30, 0.74, float("nan")])
def test_no_value_for_wood_beyond_the_tables(gravity: float) -> None:
    with pytest.raises(OutOfRange, match="specific gravity"):
        wood_screw_withdrawal(4.8, gravity)


def test_no_value_for_a_screw_no_table_lists() -> None:
    with pytest.raises(OutOfRange, match="size of the screw is 11"):
        screw("wood-screw", "11")
    with pytest.raises(OutOfRange, match="diameter"):
        wood_screw_withdrawal(12.0, 0.5)
