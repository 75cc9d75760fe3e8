"""The chance that glass goes in: every draw against a linear program written on its own."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.optimize import linprog
from scipy.stats import norm

from hangtrue.fit import fit
from hangtrue.fit.enclosure import Enclosure
from hangtrue.job.brief import Brief
from hangtrue.job.profile import Prices
from hangtrue.job.read import read_job
from hangtrue.measure import measure
from hangtrue.measure.opening import Opening
from hangtrue.odds import odds
from hangtrue.odds.boxes import bracket
from hangtrue.odds.candidates import candidates
from hangtrue.odds.cures import after_cures, tilted
from hangtrue.odds.drawing import chance, deciding, faces, factor, noise, stretches
from hangtrue.odds.drivers import by_origin, drivers, readings_of
from hangtrue.odds.errors import Source
from hangtrue.odds.margins import by_program, circuits, decided, margin, margins, system
from hangtrue.odds.model import Model, NotACovarianceError, Place, model
from hangtrue.odds.next_reading import NO_PRICES, advise, once_read
from hangtrue.odds.odds import odds_of, shown, where_rare
from hangtrue.odds.sizes import curve

LODGE = Path(__file__).parents[2] / "examples" / "lodge"
Draws = NDArray[np.float64]


@cache
def room(name: str) -> tuple[Brief, Opening, Enclosure]:
    brief, _ = read_job(LODGE / f"{name}.yaml")
    assert brief is not None
    opening = measure(brief)
    made = fit(brief, opening)[0].made
    assert isinstance(made, Enclosure)
    return brief, opening, made


def drawn(of: Model, count: int, seed: int = 1) -> Draws:
    """Noise by eigenvectors: another way than the product's."""
    values, vectors = np.linalg.eigh(of.noise)
    rng = np.random.default_rng(seed)
    z = rng.standard_normal((len(values), count))
    noise: Draws = vectors @ (np.sqrt(np.maximum(values, 0.0))[:, None] * z)
    return noise


def one_program_a_draw(of: Model, noise: Draws) -> NDArray[np.bool_]:
    """Whether any position puts every gap into its range, by a solver called from outside."""
    rows = np.vstack([of.Y, -of.Y])
    bounds = [(-m, m) if np.isfinite(m) else (None, None) for m in of.most]
    goes = []
    for u in noise.T:
        gaps = of.planned + u
        limits = np.concatenate([of.high - gaps, gaps - of.low])
        goes.append(linprog(np.zeros(of.Y.shape[1]), rows, limits, bounds=bounds).status == 0)
    return np.array(goes)


def simple(
    *, low: float, high: float, sds: tuple[float, ...], planned: float = 0.0, uniform: bool = False
) -> Model:
    """One gap that nobody can do anything about."""
    return Model(
        places=(Place(joint="gap", at=0.0),),
        planned=np.array([planned]),
        usual=np.array([planned]),
        low=np.array([low]),
        high=np.array([high]),
        freedoms=(),
        Y=np.zeros((1, 0)),
        most=np.zeros(0),
        shape=np.zeros((1, 1)),
        covariance=np.zeros((1, 1)),
        sources=tuple(
            Source(name=f"{i}", origin="plant", sd=sd, uniform=uniform) for i, sd in enumerate(sds)
        ),
        parts=np.ones((1, len(sds))),
    )


# ------------------------------------------------------------------------------ the answer


@pytest.mark.parametrize(("name", "count"), [("gull", 5000), ("wren", 500), ("petrel", 300)])
def test_every_draw_is_decided_as_by_a_linear_program(name: str, count: int) -> None:
    of = model(*room(name))
    noise = drawn(of, count)
    assert (decided(of, noise) == one_program_a_draw(of, noise)).all()


def test_margins_are_those_of_the_linear_program() -> None:
    of = model(*room("wren"))
    noise = drawn(of, 60)
    alone = np.array([by_program(of, u)[0] for u in noise.T])
    assert margins(of, noise) == pytest.approx(alone, abs=1e-7)


def test_the_price_of_a_dual_solution_bounds_every_other_draw() -> None:
    of = model(*room("wren"))
    noise = drawn(of, 40)
    reached, price = by_program(of, noise[:, 0])
    bound = reached + price @ (noise - noise[:, :1])
    assert (margins(of, noise) <= bound + 1e-7).all()


def test_where_the_ways_to_fail_are_not_listed_the_answer_is_the_same() -> None:
    """Panes that may lean have rows of their own at every height: too many to list."""
    brief, opening, made = room("gull")
    leaning = tilted(brief, made, model(brief, opening, made))
    assert leaning is not None
    assert system(leaning).circuits is None
    noise = drawn(leaning, 4000)
    hard = noise[:, ~decided(model(brief, opening, made), noise)]
    some = np.hstack([hard, noise[:, :60]])
    assert (decided(leaning, some) == one_program_a_draw(leaning, some)).all()


def test_rows_left_out_change_no_decision() -> None:
    of = model(*room("skua"))
    whole = noise(of, system(of))
    small = deciding(whole)
    assert len(small.system.rows) < len(whole.system.rows)
    assert chance(of, system(of), 1, 4096) == 0.0


def test_planned_gaps_are_those_of_the_gaps_sheet() -> None:
    brief, opening, made = room("gull")
    of = model(brief, opening, made)
    told = [g.predicted.value for j in made.joints for g in j.gaps]
    mine = [g for g, p in zip(of.planned, of.places, strict=True) if not p.cut_out]
    assert mine == pytest.approx(told)


@pytest.mark.parametrize("name", ["gull", "wren", "tern"])
def test_shared_out_errors_are_as_large_as_the_fit_said(name: str) -> None:
    """Two derivations of the same deviation: here the whole model, there a rule for each joint.

    They share out alike but for how the mean over a joint is taken, and squareness, which only the
    odds know.
    """
    brief, opening, made = room(name)
    of = model(brief, opening, made)
    told = {(j.id, g.at): g.predicted.sd for j in made.joints for g in j.gaps}
    seen = shown(of, 1, 4000).std(axis=1)
    for place, sd in zip(of.places, seen, strict=True):
        if (place.joint, place.at) in told and not place.cut_out:
            assert 0.5 < sd / told[place.joint, place.at] < 2.6


# ------------------------------------------------------------------------------ chances


def test_the_risk_is_the_same_by_plain_draws_by_weighted_ones_and_without_drawing() -> None:
    of = model(*room("gull"))
    plain = chance(of, system(of), 1, 400_000)
    weighted = odds_of(of, 1, 20_000)
    low, high = bracket(of)
    assert weighted.weighted
    assert weighted.remake.value == pytest.approx(plain, abs=4 * (plain / 400_000) ** 0.5)
    assert low - 4 * weighted.remake.sd < weighted.remake.value < high + 4 * weighted.remake.sd


def test_a_risk_of_one_in_ten_thousand_needs_no_ten_million_draws() -> None:
    of = simple(low=-3.8906, high=3.8906, sds=(1.0,))
    found = odds_of(of, 1, 20_000)
    assert found.remake.value == pytest.approx(1.0e-4, rel=0.05)
    assert found.remake.sd < 0.03 * found.remake.value


def test_uniform_parts_are_not_taken_for_normal_ones() -> None:
    """Two alike: the sum is a triangle, beyond 90 % of its reach with probability 1 %."""
    of = simple(low=-0.9 * 12**0.5, high=99.0, sds=(1.0, 1.0), uniform=True)
    found = odds_of(of, 1, 200_000)
    assert found.remake.value == pytest.approx(0.005, abs=4 * found.remake.sd)


def test_joints_share_out_the_whole_risk() -> None:
    for name in ("gull", "wren", "petrel"):
        found = odds(*room(name), draws=5000)
        assert sum(j.fails for j in found.joints) == pytest.approx(found.remake.value)
        assert sum(f.chance for f in found.failures) == pytest.approx(found.remake.value)


def test_a_joint_whose_range_is_taken_away_fails() -> None:
    of = model(*room("gull"))
    rows = of.rows_of("fixed 1 to right wall")
    high = of.high.copy()
    high[rows] = of.low[rows] + 3.0
    found = odds_of(of.wider(of.low, high), 1, 4000)
    assert found.remake.value > 0.5
    blamed = {j.joint: j.fails for j in found.joints}
    row = [blamed[j] for j in ("door to left wall", "door to fixed 1", "fixed 1 to right wall")]
    assert sum(row) > 0.99 * found.remake.value
    assert blamed["fixed 1 to right wall"] == max(row)


def test_the_same_seed_gives_the_same_answer_and_another_seed_another() -> None:
    of = model(*room("wren"))
    assert odds_of(of, 7, 3000).remake == odds_of(of, 7, 3000).remake
    assert odds_of(of, 7, 3000).joints != odds_of(of, 8, 3000).joints


def test_draws_do_not_depend_on_how_many_workers_there_are() -> None:
    whole = [b.normal for s in stretches(3, 70_000, (2, 0)) for b in s]
    alone = [b.normal for s in stretches(3, 70_000, (2, 0))[1:2] for b in s]
    assert (np.hstack(whole)[:, 32_768:65_536] == np.hstack(alone)).all()


def test_weights_of_shifted_draws_average_to_one() -> None:
    of = model(*room("gull"))
    every = noise(of, system(of))
    shifts = where_rare(every)
    assert shifts is not None
    sizes = every.normal.shape[1], 0
    weight = np.concatenate([b.weight for s in stretches(1, 50_000, sizes, shifts) for b in s])
    assert weight.mean() == pytest.approx(1.0, abs=0.03)


def test_the_risk_lies_between_the_likeliest_way_to_fail_and_all_of_them_added_up() -> None:
    of = model(*room("gull"))
    betas = [f.beta for f in faces(noise(of, system(of)))]
    assert betas == sorted(betas)
    found = odds_of(of, 1, 20_000).remake
    assert norm.cdf(-betas[0]) - 4 * found.sd <= found.value
    assert found.value <= sum(norm.cdf(-np.array(betas))) + 4 * found.sd


def test_where_nothing_can_fail_no_draw_fails() -> None:
    of = simple(low=-50.0, high=50.0, sds=(1.0,))
    assert chance(of, system(of), 1, 3000) == 0.0
    assert odds_of(of, 1, 3000).remake.value < 1e-12


@pytest.mark.parametrize("planned", [0.0, 60.0])
def test_where_everything_is_known_exactly_the_answer_is_yes_or_no(planned: float) -> None:
    """A shop may say that its plant and its hands are never off; nothing is left to draw."""
    of = simple(low=-50.0, high=50.0, sds=(), planned=planned)
    assert chance(of, system(of), 1, 3000) == float(planned > 50.0)
    assert odds_of(of, 1, 3000).remake.value == pytest.approx(float(planned > 50.0))


def test_a_plant_and_a_hand_that_are_never_off_leave_the_readings() -> None:
    brief, opening, made = room("gull")
    exact = {"size_tolerance": 0.0, "hole_tolerance": 0.0, "notch_tolerance": 0.0}
    plant = brief.profile.plant.model_copy(update=exact)
    profile = brief.profile.model_copy(update={"plant": plant, "setting_sd": 0.0})
    found = odds(replace(brief, profile=profile), opening, made)
    assert 0.0 <= found.remake.value < odds(brief, opening, made).remake.value


# ------------------------------------------------------------------------------ bad input


def test_a_covariance_that_is_none_is_said() -> None:
    brief, opening, made = room("gull")
    broken = opening.covariance.copy()
    broken[2, 2] = -9.0
    with pytest.raises(NotACovarianceError, match="not positive"):
        odds(brief, replace(opening, covariance=broken), made)
    with pytest.raises(NotACovarianceError):
        factor(np.array([[1.0, np.nan], [np.nan, 1.0]]))


def test_a_factor_gives_the_covariance_back_also_where_it_is_singular() -> None:
    a = np.random.default_rng(3).standard_normal((6, 3))
    found = factor(a @ a.T)
    assert found.shape == (6, 3)
    assert found @ found.T == pytest.approx(a @ a.T, abs=1e-8)


def test_without_prices_nothing_is_counted_in_money() -> None:
    brief, opening, made = room("wren")
    found = odds(brief, opening, made, draws=2000)
    assert found.cost is None
    assert advise(brief, opening, made, found).prices == NO_PRICES


def test_with_prices_the_expected_cost_is_the_risk_times_the_price() -> None:
    brief, opening, made = room("plover")
    priced = replace(
        brief,
        profile=brief.profile.model_copy(update={"prices": Prices(remake=600.0, hour=60.0)}),
    )
    found = odds(priced, opening, made, draws=2000)
    assert found.cost == pytest.approx(600.0 * found.remake.value)
    best = advise(priced, opening, made, found).readings[0]
    saved = 600.0 * (found.remake.value - best.remains)
    assert best.gain == pytest.approx(saved - best.minutes)


def test_elementary_vectors_of_a_closed_row() -> None:
    """Three gaps of two panes between walls add up to what is left over, whoever sets them."""
    found = list(circuits(np.array([[1.0, 0.0], [-1.0, 1.0], [0.0, -1.0]])))
    assert [some for some, _ in found] == [(0, 1, 2)]
    assert np.abs(found[0][1]) == pytest.approx([1.0, 1.0, 1.0])


def test_one_gap_with_one_freedom_fails_only_by_itself() -> None:
    found = system(replace(simple(low=-1.0, high=1.0, sds=(9.0,)), freedoms=("y",),
                           Y=np.ones((1, 1)), most=np.full(1, np.inf)))  # fmt: skip
    assert margin(found, np.array([[50.0, -50.0]])) == pytest.approx([1.0, 1.0])


# ------------------------------------------------------------------------------ why, and what then


def test_shares_of_the_risk_add_up_to_the_whole() -> None:
    brief, opening, made = room("wren")
    of = model(brief, opening, made)
    found = odds(brief, opening, made, draws=4000)
    shares = drivers(of, found, readings_of(brief, opening))
    assert sum(d.share for d in shares) == pytest.approx(1.0)
    assert sum(by_origin(shares).values()) == pytest.approx(1.0)


def test_readings_that_read_alike_are_told_apart_by_their_ids() -> None:
    """Dunlin: the height of the ceiling was read in several places."""
    brief, opening, _ = room("dunlin")
    apart = readings_of(brief, opening)
    assert apart is not None
    names = [name for name, reading in zip(apart.names, apart.ids, strict=True) if reading]
    assert len(set(names)) == len(names)
    assert "the height of the ceiling (reading h1)" in names


def test_the_covariance_of_an_opening_is_the_sum_of_what_its_readings_leave() -> None:
    brief, opening, _ = room("wren")
    apart = readings_of(brief, opening)
    assert apart is not None
    assert apart.parts @ apart.parts.T == pytest.approx(opening.covariance, abs=1e-6)


def test_reading_more_never_makes_a_covariance_larger() -> None:
    _brief, opening, _ = room("wren")
    a = np.zeros(len(opening.shape))
    a[-1] = 1.0
    after = once_read(
        opening.covariance, opening.covariance @ a, float(a @ opening.covariance @ a), 1
    )
    gone = opening.covariance - after
    assert np.linalg.eigvalsh(gone).min() > -1e-9


def test_a_reading_advised_once_taken_lowers_the_risk_as_said() -> None:
    """Plover room: nobody read the bow of its right wall."""
    brief, opening, made = room("plover")
    found = odds(brief, opening, made, draws=4000)
    advice = advise(brief, opening, made, found)
    assert "right wall" in advice.sentence
    assert advice.readings[0].remains < found.remake.value / 3


@pytest.mark.parametrize("name", ["plover", "heron"])
def test_the_few_readings_that_are_tried_hold_the_best_of_all(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Every candidate on draws, one by one, finds nothing that is clearly better."""
    brief, opening, made = room(name)
    found = odds(brief, opening, made, draws=4000)
    few = advise(brief, opening, made, found).readings
    monkeypatch.setattr(
        "hangtrue.odds.next_reading._promising", lambda _o, a, *_: candidates(a.fit)
    )
    every = advise(brief, opening, made, found).readings
    assert few[0].remains <= every[0].remains + 0.03 * found.remake.value


def test_cures_help_and_all_together_help_most() -> None:
    brief, opening, made = room("gull")
    found = odds(brief, opening, made)
    cures = after_cures(brief, opening, made, found.remake)
    assert all(c.remake.value <= found.remake.value for c in cures)
    together = cures[-1].remake
    assert all(together.value <= c.remake.value + 4 * together.sd for c in cures)


def test_the_curve_over_width_has_its_best_where_the_row_is_neither_tight_nor_loose() -> None:
    found = curve(*room("gull"), "door")
    assert found.remake[0] > 0.5 < found.remake[-1]
    assert min(found.remake) == pytest.approx(
        found.remake[found.widths.index(found.chosen)], rel=0.3
    )
    assert abs(found.best - found.chosen) <= 2 * 25.4 / 16
