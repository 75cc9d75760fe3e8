"""A gap in an assembly of seven parts, at worst and by root sum of squares.

Source: P. Drake (editor), Dimensioning and Tolerancing Handbook, McGraw-Hill, 1999, chapters 9 and
11, motor assembly, as worked in the documentation of dimstack 0.9.0.
"""

from __future__ import annotations

import pytest

from hangtrue.measure.uncertainty_budget import root_sum_square, worst_case

MOTOR_ASSEMBLY = (
    # sign, nominal, plus, minus (on the size of the part)
    (+1, 208.0, 0.036, 0.036),
    (-1, 1.75, 0.06, 0.0),
    (-1, 23.0, 0.12, 0.0),
    (+1, 20.0, 0.026, 0.026),
    (-1, 200.0, 0.145, 0.145),
    (+1, 20.0, 0.026, 0.026),
    (-1, 23.0, 0.12, 0.0),
)
HALF_WIDTHS = [(plus + minus) / 2 for _, _, plus, minus in MOTOR_ASSEMBLY]


def test_motor_assembly_middle_of_the_gap() -> None:
    middle = sum(sign * (size + (plus - minus) / 2) for sign, size, plus, minus in MOTOR_ASSEMBLY)
    assert middle == pytest.approx(0.1, abs=1e-9)


def test_motor_assembly_worst_case() -> None:
    assert worst_case(*HALF_WIDTHS) == pytest.approx(0.383, abs=0.5e-3)


def test_motor_assembly_root_sum_of_squares() -> None:
    assert root_sum_square(*HALF_WIDTHS) == pytest.approx(0.17825, abs=0.5e-5)
