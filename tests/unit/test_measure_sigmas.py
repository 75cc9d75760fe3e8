"""Standard uncertainties of readings, against the published limits of their instruments.

Directive 2014/32/EU, Annex X, MI-008: class II, a + b L = 0.3 + 0.2 L mm (L in m, rounded up), and
c = 0.2 mm more where an end is a surface. NIST Handbook 44, section 5.52: metal tapes 1/32 in to
6 ft, 1/16 in to 30 ft. Spirit level: 0.5 mm/m (common practice, no source).
"""

from __future__ import annotations

import math

import pytest

from hangtrue.job import library
from hangtrue.job.instruments import Instrument
from hangtrue.job.readings import CornerAngle, Reading
from hangtrue.measure.sigmas import standard_uncertainty, tilt_sd
from hangtrue.units import Angle
from tests.made_up import lean, offset, width, with_value

KNOWN = library.shipped_instruments()


def bare(instrument: str) -> Instrument:
    """Return an instrument with nothing but its class error."""
    return KNOWN[instrument].model_copy(update={"resolution": 0.0, "seating": 0.0})


@pytest.mark.parametrize(
    ("instrument", "reading", "over", "expected"),
    [
        ("tape", with_value(width(0), 900.0), 1.0, 0.404),  # 0.7 / sqrt 3
        ("tape", with_value(width(0), 1500.0), 1.0, 0.520),  # 0.9 / sqrt 3
        ("tape", with_value(width(0), 2400.0), 1.0, 0.635),  # 1.1 / sqrt 3
        ("tape-hb44", with_value(width(0), 1500.0), 1.0, 0.458),  # 1/32 in / sqrt 3
        ("tape-hb44", with_value(width(0), 2400.0), 1.0, 0.917),  # 1/16 in / sqrt 3
        ("level-72", lean("left", 72), 2000.0, 0.577),  # 0.5 mm/m over 2 m / sqrt 3
        ("laser-distance", with_value(width(0), 2400.0), 1.0, 0.765),  # 1.5 / 1.960
    ],
)
def test_class_error_as_published(
    instrument: str, reading: Reading, over: float, expected: float
) -> None:
    assert standard_uncertainty(reading, bare(instrument), over) == pytest.approx(
        expected, abs=5e-4
    )


def test_resolution_and_seating_add_in_root_sum_square() -> None:
    """Class 0.9, half a step 0.5, seating 0.5, each over the root of 3 (GUM 4.3.7, 5.1.2)."""
    expected = math.sqrt((0.9**2 + 0.5**2 + 0.5**2) / 3.0)
    reading = with_value(width(0), 1500.0)
    assert standard_uncertainty(reading, KNOWN["tape"], 1.0) == pytest.approx(expected)


def test_a_digital_level_is_worse_than_a_good_vial() -> None:
    """A tenth of a degree is 1.745 mm per m (trigonometry)."""
    spirit, digital = (
        standard_uncertainty(lean("left", 72), bare(name), 1000.0)
        for name in ("level-72", "digital-level")
    )
    assert digital == pytest.approx(1.745 / math.sqrt(3.0), abs=1e-3)
    assert digital > 3 * spirit


def test_a_lines_own_error_tilts_all_its_offsets_and_is_not_counted_twice() -> None:
    """A laser of 0.3 mm/m is 0.6 mm out over 2 m, 0.346 mm as a standard uncertainty."""
    assert tilt_sd(KNOWN["laser-line"]) * 2000.0 == pytest.approx(0.346, abs=5e-4)
    offsets = standard_uncertainty(with_value(offset("left", 76), 150.0), KNOWN["laser-line"], 1.0)
    assert offsets == pytest.approx(math.hypot(0.5, 0.5) / math.sqrt(3.0))


def test_no_instrument_is_perfect() -> None:
    perfect = Instrument(id="dream", title="dream", kind="tape")
    assert standard_uncertainty(with_value(width(0), 900.0), perfect, 1.0) > 0.0
    corner = CornerAngle(what="angle", wall="left", value=Angle(1.57))
    finder = perfect.model_copy(update={"kind": "angle finder"})
    assert standard_uncertainty(corner, finder, 1.0) > 0.0


def test_a_line_of_unknown_make_still_tilts() -> None:
    assert tilt_sd(KNOWN["tape"]) > 0.0
