"""Calibration of a vernier caliper: the published budget nearest to a tape read to the millimetre.

Source: EA-4/02, Expression of the uncertainty of measurement in calibration, European
co-operation for Accreditation, example S10 (values from memory, recomputed).
"""

from __future__ import annotations

import pytest

from hangtrue.measure.uncertainty_budget import rectangular_sd, resolution_sd, root_sum_square


def test_s10_standard_uncertainty_of_the_error_of_indication() -> None:
    """The source sums rounded contributions and prints 0.033; unrounded they give 0.0323."""
    parts = (
        resolution_sd(0.050),  # vernier reading, 0.05 mm steps
        rectangular_sd(0.050),  # mechanical effects
        rectangular_sd(0.0008),  # gauge block
        150.0 * 11.5e-6 * rectangular_sd(2.0),  # difference of temperature
    )
    assert root_sum_square(*parts) == pytest.approx(0.033, abs=0.001)
    assert root_sum_square(*parts) == pytest.approx(0.0323, abs=0.5e-4)


def test_a_reading_step_is_a_rectangle_of_half_the_step() -> None:
    assert resolution_sd(0.050) == pytest.approx(rectangular_sd(0.025))
