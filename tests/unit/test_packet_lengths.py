"""Lengths on paper: the profile's units, fractions in lowest terms."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangtrue.check.wording import percent
from hangtrue.paper.lengths import Units, units_of
from hangtrue.units import mixed
from tests.unit.packet_plans import brief

INCHES = Units(first="in", both=False)
MILLIMETRES = Units(first="mm", both=False)
BOTH = Units(first="in", both=True)


@pytest.mark.parametrize(
    ("mm", "written"),
    [(720.725, "28-3/8"), (4.7625, "3/16"), (25.4, "1"), (0.0, "0"), (-38.1, "-1-1/2")],
)
def test_inches_are_written_as_mixed_fractions_in_lowest_terms(mm: float, written: str) -> None:
    """25.4 mm to the inch, exactly (NIST SP 811, Guide for the Use of the SI, appendix B)."""
    assert INCHES.figure(mm) == written


@given(st.integers(min_value=0, max_value=4000))
def test_a_written_fraction_reads_back_as_what_was_meant(sixteenths: int) -> None:
    whole, _, part = mixed(sixteenths / 16, 16).rpartition("-")
    assert Fraction(whole or 0) + Fraction(part) == Fraction(sixteenths, 16)


def test_sizes_and_small_lengths_carry_their_unit() -> None:
    assert INCHES.size(720.725) == "28-3/8 in"
    assert MILLIMETRES.size(720.725) == "721 mm"
    assert MILLIMETRES.small(4.7625) == "4.8 mm"
    assert BOTH.size(720.725) == "28-3/8 in (721 mm)"


def test_plus_minus_is_two_standard_deviations() -> None:
    """GUM (JCGM 100:2008) 6.2: expanded uncertainty with k = 2, about 95 %."""
    assert MILLIMETRES.spread(0.4) == "0.8"
    assert INCHES.spread(0.508) == "0.04"


def test_a_plus_minus_of_nothing_has_no_minus_sign() -> None:
    assert MILLIMETRES.figure(-0.01, fine=True) == "0.0"


def test_pounds_come_first_where_inches_do() -> None:
    """1 lb = 0.45359237 kg, exactly (NIST SP 811, appendix B)."""
    assert INCHES.mass(45.359237) == "100 lb (45.4 kg)"
    assert MILLIMETRES.mass(45.359237) == "45.4 kg"


@pytest.mark.parametrize(("units", "head"), [("in", "in"), ("mm", "mm"), ("both", "in (mm)")])
def test_the_profile_names_the_units_and_the_job_the_first(units: str, head: str) -> None:
    assert units_of(brief(units)).head == head


def test_a_probability_never_claims_certainty() -> None:
    assert percent(1 - 1e-12) == "over 99 %"
    assert percent(1e-12) == "under 1 %"
    assert percent(0.5) == "50 %"
