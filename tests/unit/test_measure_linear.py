"""The linear algebra of the stage against plain textbook formulas, refits and scipy.stats."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from hangtrue.measure.linear import (
    Adjustment,
    Row,
    Underdetermined,
    adjust,
    covariance_after,
    loo_prediction,
    predict,
    whiten,
)
from hangtrue.measure.probability import box_probability
from hangtrue.measure.reliability import (
    bias_to_noise,
    chi_square_if_shifted,
    effect_of_slips,
    estimated_slips,
    global_test,
    normalised_residuals,
    separability,
    smallest_detectable,
    tau,
)
from hangtrue.measure.uncertainty_budget import (
    arcsine_sd,
    rectangular_sd,
    resolution_sd,
    root_sum_square,
    triangular_sd,
    worst_case,
)


def made_up(seed: int, rows: int = 12, unknowns: int = 4) -> tuple[Row, ...]:
    rng = np.random.default_rng(seed)
    return tuple(
        Row(
            name=f"reading {i + 1}",
            terms=tuple(enumerate(map(float, rng.normal(size=unknowns)))),
            observed=float(rng.normal(scale=5.0)),
            sigma=float(rng.uniform(0.3, 3.0)),
        )
        for i in range(rows)
    )


def dense(rows: tuple[Row, ...], unknowns: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    design = np.zeros((len(rows), unknowns))
    for i, row in enumerate(rows):
        for j, coefficient in row.terms:
            design[i, j] += coefficient
    observed = np.array([row.observed for row in rows])
    return design, observed, np.diag([row.sigma**-2 for row in rows])


def shifted(rows: tuple[Row, ...], shifts: np.ndarray) -> tuple[Row, ...]:
    return tuple(
        Row(name=row.name, terms=row.terms, observed=row.observed + shift, sigma=row.sigma)
        for row, shift in zip(rows, map(float, shifts), strict=True)
    )


@pytest.fixture(scope="module")
def rows() -> tuple[Row, ...]:
    return made_up(7)


@pytest.fixture(scope="module")
def fitted(rows: tuple[Row, ...]) -> Adjustment:
    return adjust(rows, 4)


class TestAdjust:
    def test_equals_the_normal_equations(self, rows: tuple[Row, ...], fitted: Adjustment) -> None:
        A, observed, P = dense(rows, 4)
        covariance = np.linalg.inv(A.T @ P @ A)
        x = covariance @ A.T @ P @ observed
        v = A @ x - observed
        Qv = np.linalg.inv(P) - A @ covariance @ A.T
        assert fitted.x == pytest.approx(x)
        assert fitted.covariance == pytest.approx(covariance)
        assert fitted.residuals == pytest.approx(v)
        assert fitted.redundancy == pytest.approx(np.diag(Qv @ P))
        assert fitted.chi_square == pytest.approx(v @ P @ v)

    def test_redundancies_sum_to_the_degrees_of_freedom(self, fitted: Adjustment) -> None:
        assert fitted.degrees_of_freedom == 8
        assert fitted.redundancy.sum() == pytest.approx(8)

    def test_a_residual_is_what_the_reading_needs_added(self) -> None:
        twice = [
            Row(name=name, terms=((0, 1.0),), observed=value, sigma=1.0)
            for name, value in (("first", 900.0), ("second", 902.0))
        ]
        assert adjust(twice, 1).residuals == pytest.approx([1.0, -1.0])

    def test_repeated_terms_add_up(self) -> None:
        row = Row(name="both edges", terms=((0, 1.0), (0, 1.0)), observed=6.0, sigma=0.5)
        found = adjust([row], 1)
        assert found.x == pytest.approx([3.0])
        assert predict(found, ((0, 1.0), (0, 1.0))).sd == pytest.approx(0.5)

    def test_no_row_to_spare_fits_exactly_and_checks_nothing(self) -> None:
        found = adjust(made_up(3, rows=4), 4)
        assert found.residuals == pytest.approx(np.zeros(4), abs=1e-12)
        assert math.isnan(found.variance_factor)
        assert np.isnan(normalised_residuals(found)).all()
        assert np.isnan(estimated_slips(found)).all()
        assert np.isinf(smallest_detectable(found)).all()
        assert np.isinf(bias_to_noise(found)).all()
        with pytest.raises(ValueError, match="no degrees of freedom"):
            global_test(found)

    def test_arrays_are_read_only(self, fitted: Adjustment) -> None:
        for array in (fitted.x, fitted.covariance, fitted.residuals, fitted.redundancy):
            with pytest.raises(ValueError, match="read-only"):
                array[0] = 0.0

    @given(exponent=st.floats(-6.0, 6.0))
    def test_the_unit_of_an_unknown_changes_only_that_unknown(self, exponent: float) -> None:
        rows = made_up(11)
        unit = 10.0**exponent
        other = [
            Row(
                name=row.name,
                terms=tuple((j, a * unit if j == 2 else a) for j, a in row.terms),
                observed=row.observed,
                sigma=row.sigma,
            )
            for row in rows
        ]
        before, after = adjust(rows, 4), adjust(other, 4)
        assert after.x * [1.0, 1.0, unit, 1.0] == pytest.approx(before.x, rel=1e-9)
        assert after.residuals == pytest.approx(before.residuals, rel=1e-9, abs=1e-12)

    @pytest.mark.parametrize("index", [-1, 4])
    def test_an_unknown_that_does_not_exist_is_an_error(self, index: int) -> None:
        row = Row(name="stray", terms=((index, 1.0),), observed=0.0, sigma=1.0)
        with pytest.raises(ValueError, match=r"outside 0\.\.3"):
            adjust([*made_up(1), row], 4)

    @pytest.mark.parametrize(
        ("observed", "sigma"), [(1.0, 0.0), (1.0, -1.0), (1.0, math.inf), (math.nan, 1.0)]
    )
    def test_a_row_needs_a_value_and_a_positive_sigma(self, observed: float, sigma: float) -> None:
        with pytest.raises(ValueError, match="head width"):
            Row(name="head width", terms=((0, 1.0),), observed=observed, sigma=sigma)


class TestUnderdetermined:
    def test_an_unknown_no_row_touches_is_named(self) -> None:
        rows = [*made_up(5, unknowns=3)]
        with pytest.raises(Underdetermined, match="unknowns 3 are free") as refused:
            adjust(rows, 4)
        assert refused.value.unknowns == (3,)

    def test_two_unknowns_seen_only_as_a_sum_are_both_named(self) -> None:
        rows = [
            Row(name=f"{i}", terms=((0, 1.0 + i), (1, 1.0), (2, 1.0)), observed=1.0 * i, sigma=0.7)
            for i in range(5)
        ]
        with pytest.raises(Underdetermined) as refused:
            adjust(rows, 3)
        assert refused.value.unknowns == (1, 2)
        assert np.abs(refused.value.directions) == pytest.approx(np.array([[0.0, 1.0, 1.0]]))
        assert refused.value.directions[0, 1] == pytest.approx(-refused.value.directions[0, 2])

    def test_fewer_rows_than_unknowns_leave_that_many_directions(self) -> None:
        with pytest.raises(Underdetermined) as refused:
            adjust(made_up(2, rows=2), 4)
        assert refused.value.directions.shape == (2, 4)

    def test_no_rows_at_all_leave_everything_free(self) -> None:
        with pytest.raises(Underdetermined) as refused:
            adjust([], 3)
        assert refused.value.unknowns == (0, 1, 2)

    def test_a_wide_prior_is_enough_to_determine(self) -> None:
        prior = Row(name="prior", terms=((3, 1.0),), observed=0.0, sigma=1e4)
        found = adjust([*made_up(5, unknowns=3), prior], 4)
        assert predict(found, ((3, 1.0),)).sd == pytest.approx(1e4)


class TestWhiten:
    def test_correlated_rows_equal_generalised_least_squares(self) -> None:
        rng = np.random.default_rng(4)
        A, observed = rng.normal(size=(6, 3)), rng.normal(size=6)
        root = rng.normal(size=(6, 6))
        covariance = root @ root.T + np.eye(6)
        terms = tuple(tuple(enumerate(map(float, line))) for line in A)
        found = adjust(whiten([f"{i}" for i in range(6)], terms, list(observed), covariance), 3)
        P = np.linalg.inv(covariance)
        assert found.covariance == pytest.approx(np.linalg.inv(A.T @ P @ A))
        assert found.x == pytest.approx(np.linalg.solve(A.T @ P @ A, A.T @ P @ observed))

    def test_terms_that_vanish_are_dropped(self) -> None:
        both = whiten(["a", "b"], [((5, 1.0),), ((7, 1.0),)], [1.0, 2.0], np.diag([4.0, 9.0]))
        assert [row.terms for row in both] == [((5, 0.5),), ((7, pytest.approx(1 / 3)),)]

    def test_an_impossible_covariance_is_an_error(self) -> None:
        impossible = np.array([[1.0, 2.0], [2.0, 1.0]])
        with pytest.raises(np.linalg.LinAlgError):
            whiten(["a", "b"], [((0, 1.0),), ((1, 1.0),)], [0.0, 0.0], impossible)


class TestWithoutRefitting:
    @pytest.mark.parametrize("left_out", range(12))
    def test_leaving_one_out_equals_a_refit(
        self, rows: tuple[Row, ...], fitted: Adjustment, left_out: int
    ) -> None:
        means, sds = loo_prediction(fitted)
        others = adjust(rows[:left_out] + rows[left_out + 1 :], 4)
        expected = predict(others, rows[left_out].terms)
        assert means[left_out] == pytest.approx(expected.value)
        assert sds[left_out] == pytest.approx(expected.sd)

    def test_a_row_nothing_checks_has_no_prediction(self) -> None:
        lone = Row(name="lone", terms=((4, 1.0),), observed=3.0, sigma=1.0)
        means, sds = loo_prediction(adjust([*made_up(7), lone], 5))
        assert math.isnan(means[-1])
        assert math.isinf(sds[-1])

    def test_covariance_after_a_row_equals_a_refit_whatever_it_reads(
        self, rows: tuple[Row, ...], fitted: Adjustment
    ) -> None:
        candidate = Row(name="next", terms=((0, 1.0), (3, -2.0)), observed=77.0, sigma=0.4)
        found = covariance_after(fitted.covariance, candidate.terms, candidate.sigma)
        assert found == pytest.approx(adjust([*rows, candidate], 4).covariance)

    def test_covariance_after_a_row_by_hand(self) -> None:
        """S - S a a'S / (a'S a + s^2), worked by hand."""
        before = np.array([[4.0, 1.2, 0.5], [1.2, 2.0, 0.3], [0.5, 0.3, 1.0]])
        after = covariance_after(before, ((0, 1.0), (2, -1.0)), 0.5)
        expected = [
            [1.117647, 0.458824, 0.911765],
            [0.458824, 1.809412, 0.405882],
            [0.911765, 0.405882, 0.941176],
        ]
        assert after == pytest.approx(np.array(expected), abs=0.5e-6)
        assert np.trace(before - after) == pytest.approx(3.13176471, abs=0.5e-8)

    def test_chi_square_of_shifted_readings_equals_a_refit(
        self, rows: tuple[Row, ...], fitted: Adjustment
    ) -> None:
        shifts = np.random.default_rng(8).normal(size=12)
        refit = adjust(shifted(rows, shifts), 4)
        assert chi_square_if_shifted(fitted, shifts) == pytest.approx(refit.chi_square)

    def test_effect_of_slips_equals_a_refit(
        self, rows: tuple[Row, ...], fitted: Adjustment
    ) -> None:
        shifts = np.random.default_rng(9).normal(size=12)
        refit = adjust(shifted(rows, shifts), 4)
        assert effect_of_slips(fitted, shifts) == pytest.approx(refit.x - fitted.x)

    def test_taking_the_estimated_slip_off_leaves_no_residual(
        self, rows: tuple[Row, ...], fitted: Adjustment
    ) -> None:
        shifts = np.zeros(12)
        shifts[5] = -estimated_slips(fitted)[5]
        assert adjust(shifted(rows, shifts), 4).residuals[5] == pytest.approx(0.0, abs=1e-12)


class TestReliability:
    def test_separability_is_a_correlation(self, rows: tuple[Row, ...], fitted: Adjustment) -> None:
        A, _, P = dense(rows, 4)
        Qv = np.linalg.inv(P) - A @ np.linalg.inv(A.T @ P @ A) @ A.T
        spread = np.sqrt(np.diag(Qv))
        assert separability(fitted) == pytest.approx(Qv / np.outer(spread, spread))

    def test_tau_never_exceeds_the_root_of_the_degrees_of_freedom(self, fitted: Adjustment) -> None:
        assert np.abs(tau(fitted)).max() <= math.sqrt(fitted.degrees_of_freedom)

    def test_global_test_equals_scipy_stats(self, fitted: Adjustment) -> None:
        found = global_test(fitted, alpha=0.1)
        assert (found.low, found.high) == pytest.approx(stats.chi2.ppf([0.05, 0.95], 8))
        assert found.p == pytest.approx(stats.chi2.sf(fitted.chi_square, 8))

    def test_sigmas_set_too_wide_are_not_accepted_but_nothing_disagrees(self) -> None:
        rows = [
            Row(name=f"{i}", terms=((0, 1.0),), observed=900.0 + 1e-3 * i, sigma=1.0)
            for i in range(6)
        ]
        found = global_test(adjust(rows, 1))
        assert not found.accepted
        assert not found.disagrees

    def test_normalised_residuals_of_honest_readings_have_spread_one(self) -> None:
        """2000 made-up sets of 12 readings: mean square of w is 1 within four standard errors."""
        rng = np.random.default_rng(12)
        rows = made_up(7)
        sigma = np.array([row.sigma for row in rows])
        zero = shifted(rows, np.array([-row.observed for row in rows]))
        squares = [
            np.mean(normalised_residuals(adjust(shifted(zero, sigma * noise), 4)) ** 2)
            for noise in rng.normal(size=(2000, 12))
        ]
        assert np.mean(squares) == pytest.approx(1.0, abs=4 * np.std(squares) / math.sqrt(2000))


class TestBoxProbability:
    @pytest.mark.parametrize("dimensions", [1, 2, 3, 4])
    def test_equals_scipy_stats(self, dimensions: int) -> None:
        rng = np.random.default_rng(dimensions)
        root = rng.normal(size=(dimensions, dimensions))
        covariance = root @ root.T + 0.2 * np.eye(dimensions)
        mean = rng.normal(size=dimensions)
        low, high = mean - rng.uniform(0.2, 2.0, dimensions), mean + rng.uniform(0.2, 2, dimensions)
        expected = stats.multivariate_normal.cdf(
            high, mean, covariance, lower_limit=low, abseps=1e-7, releps=1e-7, rng=rng
        )
        assert box_probability(mean, covariance, low, high) == pytest.approx(expected, abs=2e-6)

    def test_two_gaps_above_their_mean_by_the_arcsine_law(self) -> None:
        """P(X > 0, Y > 0) = 1/4 + asin(rho) / 2 pi (Sheppard 1899), also for rho near 1."""
        for rho in (-0.9, 0.0, 0.5, 0.99):
            covariance = np.array([[1.0, rho], [rho, 1.0]])
            found = box_probability(np.zeros(2), covariance, np.zeros(2), np.full(2, np.inf))
            assert found == pytest.approx(0.25 + math.asin(rho) / (2 * math.pi), abs=1e-6)

    def test_limits_the_wrong_way_round_hold_nothing(self) -> None:
        eye = np.eye(2)
        assert box_probability(np.zeros(2), eye, np.ones(2), -np.ones(2)) == 0.0

    def test_five_at_once_is_an_error(self) -> None:
        with pytest.raises(ValueError, match="5 quantities"):
            box_probability(np.zeros(5), np.eye(5), -np.ones(5), np.ones(5))


class TestUncertaintyBudget:
    @pytest.mark.parametrize(
        ("sd", "distribution"),
        [
            (rectangular_sd(3.0), stats.uniform(-3, 6)),
            (resolution_sd(3.0), stats.uniform(-1.5, 3)),
            (triangular_sd(3.0), stats.triang(0.5, -3, 6)),
            (arcsine_sd(3.0), stats.arcsine(-3, 6)),
        ],
        ids=["rectangular", "resolution", "triangular", "arcsine"],
    )
    def test_standard_deviations_equal_scipy_stats(self, sd: float, distribution: Any) -> None:
        assert sd == pytest.approx(distribution.std())

    def test_the_worst_case_is_never_better_than_the_root_of_squares(self) -> None:
        assert worst_case(3.0, -4.0) == 7.0
        assert root_sum_square(3.0, -4.0) == 5.0
