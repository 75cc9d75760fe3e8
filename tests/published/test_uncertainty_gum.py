"""Calibration line of a thermometer, with and without an error common to all readings.

Source: JCGM 100:2008, Evaluation of measurement data: Guide to the expression of uncertainty in
measurement (GUM), H.3. The case with a common standard uncertainty of 0.005 in all the readings
(the twin of a tape whose zero is bad) is the extension of that example in the documentation of
GTC, the GUM Tree Calculator, Measurement Standards Laboratory of New Zealand.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from hangtrue.measure.linear import Adjustment, Row, adjust, predict, whiten

T = (21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511)
B = (
    *(-0.171, -0.169, -0.166, -0.159, -0.164, -0.165),
    *(-0.156, -0.157, -0.159, -0.161, -0.160),
)
REFERENCE = 20.0
TERMS = tuple(((0, 1.0), (1, t - REFERENCE)) for t in T)
NAMES = tuple(f"{t} C" for t in T)


@pytest.fixture(scope="module")
def line() -> Adjustment:
    rows = [
        Row(name=name, terms=terms, observed=b, sigma=1.0)
        for name, terms, b in zip(NAMES, TERMS, B, strict=True)
    ]
    return adjust(rows, 2)


def test_h_3_intercept_and_slope(line: Adjustment) -> None:
    assert line.x[0] == pytest.approx(-0.1712, abs=0.5e-4)
    assert line.x[1] == pytest.approx(0.00218, abs=0.5e-5)


def test_h_3_standard_uncertainties_and_correlation(line: Adjustment) -> None:
    scaled = line.covariance * line.variance_factor
    u = np.sqrt(np.diag(scaled))
    assert u[0] == pytest.approx(0.0029, abs=0.5e-4)
    assert u[1] == pytest.approx(0.00067, abs=0.5e-5)
    assert scaled[0, 1] / (u[0] * u[1]) == pytest.approx(-0.930, abs=0.5e-3)


def test_h_3_scatter_about_the_line(line: Adjustment) -> None:
    assert math.sqrt(line.variance_factor) == pytest.approx(0.0035, abs=0.5e-4)
    assert line.chi_square == pytest.approx(0.000110096583, abs=0.5e-12)


def test_h_3_correction_predicted_at_30_degrees(line: Adjustment) -> None:
    at = predict(line, ((0, 1.0), (1, 30.0 - REFERENCE)))
    assert at.value == pytest.approx(-0.1494, abs=0.5e-4)
    assert at.sd * math.sqrt(line.variance_factor) == pytest.approx(0.0041, abs=0.5e-4)


def test_an_error_common_to_all_readings_widens_the_intercept_only(line: Adjustment) -> None:
    covariance = line.variance_factor * np.eye(len(T)) + 0.005**2
    common = adjust(whiten(NAMES, TERMS, B, covariance), 2)
    assert common.x == pytest.approx(line.x, rel=1e-9)
    u = np.sqrt(np.diag(common.covariance))
    assert u[0] == pytest.approx(0.00576893, abs=0.5e-8)
    assert u[1] == pytest.approx(0.000667939, abs=0.5e-9)
