"""Three-way decisions: the one-sided normal quantiles of any table, and both ends of a magnitude.

JCGM 106:2012, The role of measurement uncertainty in conformity assessment: 7.3 gives the
conformance probability of a one-sided interval with a normal distribution as Phi of the distance to
the limit in standard uncertainties, 7.4 that of a two-sided one as
Phi((T_U - y)/u) - Phi((T_L - y)/u); 8.3 has the guard band w = U = 2 u, with about 97.7 % chance
of conformance on its edge. The values of z for 0.80, 0.90, 0.95, 0.99 and 0.999 are those of any
table of the standard normal distribution.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangtrue.check import decide
from hangtrue.check.decide import Missed
from hangtrue.check.finding import Level
from hangtrue.estimate import Estimate

TABLE = [(0.80, 0.8416), (0.90, 1.2816), (0.95, 1.6449), (0.99, 2.3263), (0.999, 3.0902)]
STEP = 1e-3


@pytest.mark.parametrize(("confidence", "z"), TABLE)
def test_a_limit_is_met_from_z_standard_deviations_on(confidence: float, z: float) -> None:
    """Guarded acceptance: the acceptance limit lies z standard uncertainties inside."""
    limit, sd = 6.35, 0.5
    inside = decide.at_most(Estimate(limit - (z + STEP) * sd, sd), limit, confidence)
    outside = decide.at_most(Estimate(limit - (z - STEP) * sd, sd), limit, confidence)
    assert inside.met
    assert outside.undecided
    beyond = decide.at_most(Estimate(limit + (z + STEP) * sd, sd), limit, confidence)
    assert beyond.missed


@pytest.mark.parametrize(("confidence", "z"), TABLE)
def test_a_lower_limit_is_the_mirror_image(confidence: float, z: float) -> None:
    limit, sd = 558.8, 2.0
    assert decide.at_least(Estimate(limit + (z + STEP) * sd, sd), limit, confidence).met
    assert decide.at_least(Estimate(limit + (z - STEP) * sd, sd), limit, confidence).undecided
    assert decide.at_least(Estimate(limit - (z + STEP) * sd, sd), limit, confidence).missed


def test_a_magnitude_has_two_ends() -> None:
    """A lean of 0 with u = limit / 1.96 keeps the limit 95 % of the time (two-sided)."""
    decided = decide.magnitude(Estimate(0.0, 6.35 / 1.959964), 6.35, 0.95)
    assert decided.probability == pytest.approx(0.95, abs=1e-6)


def test_a_guard_band_of_the_expanded_uncertainty_leaves_two_in_a_hundred() -> None:
    """On the edge of the band w = U = 2 u the limit is kept with 97.7 % (printed to one place)."""
    decided = decide.at_most(Estimate(10.0 - 2 * 0.3, 0.3), 10.0, 0.95)
    assert decided.probability == pytest.approx(0.977, abs=5e-4)


def test_next_to_nothing_known_decides_nothing() -> None:
    assert decide.magnitude(Estimate(0.0, 6.35), 6.35, 0.95).undecided


@given(st.floats(-20, 20), st.floats(0.01, 10), st.floats(0.5, 20))
def test_a_magnitude_does_not_know_left_from_right(value: float, sd: float, limit: float) -> None:
    one = decide.magnitude(Estimate(value, sd), limit, 0.95)
    other = decide.magnitude(Estimate(-value, sd), limit, 0.95)
    assert one.probability == pytest.approx(other.probability, abs=1e-12)


@given(st.floats(-20, 20), st.floats(0, 10), st.sampled_from([0.9, 0.95, 0.99]))
def test_one_and_only_one_of_three(value: float, sd: float, confidence: float) -> None:
    decided = decide.at_most(Estimate(value, sd), 3.0, confidence)
    assert decided.met + decided.missed + decided.undecided == 1


@pytest.mark.parametrize(
    ("value", "level", "do"),
    [(1.0, Level.PASS, ""), (3.0, Level.NOT_CHECKED, "Read."), (9.0, Level.WARN, "Mend.")],
)
def test_a_decision_is_said(value: float, level: Level, do: str) -> None:
    finding = decide.finding(
        decide.at_most(Estimate(value, 0.5), 3.0, 0.95),
        where="curb",
        found="Found.",
        missed=Missed(level=Level.WARN, means="Bad.", do="Mend."),
        ask="Read.",
    )
    assert (finding.level, finding.do) == (level, do)
    assert finding.margin == pytest.approx(3.0 - value)


def test_an_undecided_finding_says_the_chance() -> None:
    finding = decide.finding(
        decide.at_most(Estimate(3.0, 0.5), 3.0, 0.95),
        where="curb",
        found="Found.",
        missed=Missed(level=Level.FAIL, means="", do=""),
        ask="Read.",
    )
    assert "50 %" in finding.means
