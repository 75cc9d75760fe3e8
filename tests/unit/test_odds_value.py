"""Whether to read once more: cost with and without, break-even without prices, boxed sets."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from scipy.stats import norm

from hangtrue.fit import fit
from hangtrue.fit.enclosure import Enclosure
from hangtrue.job.brief import Brief
from hangtrue.job.profile import Prices
from hangtrue.job.read import read_job
from hangtrue.measure import measure
from hangtrue.measure.opening import Opening
from hangtrue.odds import odds
from hangtrue.odds.errors import Source
from hangtrue.odds.model import Model, Place
from hangtrue.odds.next_reading import Advice, _Case, advise
from hangtrue.odds.odds import odds_of
from hangtrue.odds.value import Reread, equally_likely, whether

LODGE = Path(__file__).parents[2] / "examples" / "lodge"
WIDTH = Reread(words='read the width at 76"', minutes=3.0, saved=0.05)


def prices(*, remake: float = 650.0, hour: float = 60.0, visit: float = 45.0) -> Prices:
    return Prices(money="EUR", remake=remake, hour=hour, visit=visit)


@cache
def room(name: str) -> tuple[Brief, Opening, Enclosure]:
    brief, _ = read_job(LODGE / f"{name}.yaml")
    assert brief is not None
    opening = measure(brief)
    made = fit(brief, opening)[0].made
    assert isinstance(made, Enclosure)
    return brief, opening, made


@cache
def advised(name: str, remake: float = 0.0) -> Advice:
    brief, opening, made = room(name)
    if remake:
        profile = brief.profile.model_copy(update={"prices": prices(remake=remake)})
        brief = replace(brief, profile=profile)
    return advise(brief, opening, made, odds(brief, opening, made))


def test_expected_cost_with_and_without_by_hand() -> None:
    """8 % of 650 is 52; 3 % is 19.50, and 3 minutes of an hour at 60 are 3."""
    found = whether(0.08, WIDTH, 0.06, prices())
    assert found.without == pytest.approx(52.0)
    assert found.there == pytest.approx(22.5)
    assert found.back == pytest.approx(67.5)
    assert found.perfect == pytest.approx(0.02)
    assert found.sentence == (
        "Ordering now is expected to cost 52 EUR in remakes; reading first, 20 EUR in remakes and "
        "3.00 EUR of time: read it, it saves 30 EUR. Going back for it does not pay, at 45 EUR a "
        "visit."
    )


@pytest.mark.parametrize(
    ("given", "said"),
    [
        (prices(visit=10.0), "Going back for it pays too, at 10 EUR a visit."),
        (prices(visit=0.0), "Going back for it pays if a visit costs less than 30 EUR."),
        (prices(remake=50.0), "do not read again."),
    ],
)
def test_what_pays_follows_the_prices(given: Prices, said: str) -> None:
    assert whether(0.08, WIDTH, 0.06, given).sentence.endswith(said)


def test_without_prices_the_break_even_is_said() -> None:
    """0.05 hours over 0.05 saved is one hour; 1 over 0.05 is twenty visits."""
    found = whether(0.08, WIDTH, 0.06, None)
    assert (found.without, found.there, found.back) == (None, None, None)
    assert [found.hours, found.visits] == pytest.approx([1.0, 20.0])
    assert "worth its 3 minutes if a remake costs more than 1.0 hours" in found.sentence
    assert found.sentence.endswith("if a remake costs more than 20 visits.")


def test_at_the_break_even_both_ways_cost_the_same() -> None:
    found = whether(0.08, WIDTH, 0.06, None)
    there = whether(0.08, WIDTH, 0.06, prices(remake=found.hours * 60.0))
    assert there.there == pytest.approx(there.without)


def test_nothing_pays_where_even_an_opening_known_exactly_changes_nothing() -> None:
    found = whether(0.02, None, 0.0, None)
    assert found.visits == math.inf
    assert found.sentence == "Even an opening known exactly would change nothing: no reading pays."


def test_no_reading_saves_more_than_knowing_the_opening_exactly() -> None:
    for name in ("plover", "petrel", "heron"):
        found = advised(name)
        assert all(w.remains >= found.whether.perfect - 0.02 * found.remake for w in found.readings)


def test_a_shop_to_which_remakes_are_cheap_is_told_not_to_read() -> None:
    assert "pays" in advised("petrel", 100.0).sentence
    assert "do not read again" in advised("petrel", 100.0).whether.sentence
    assert "read it, it saves" in advised("plover", 650.0).whether.sentence


def test_where_the_plant_decides_a_closer_class_is_worked_out() -> None:
    assert "A class half as wide would leave" in advised("sandpiper").sentence


def test_a_boxed_set_is_not_sized_anew_by_a_reading() -> None:
    """Reading tells whether to take it: what is taken and fails, and what is left, are the risk."""
    found = advised("wren")
    assert "take a set with more range" in found.sentence or found.readings
    assert found.whether.perfect > 0.0
    assert found.assumed == ""


def test_a_set_is_left_where_a_reading_says_that_it_fails_more_often_than_not() -> None:
    """One gap, good within 2 mm, off by a reading's 1.5 mm and by 1 mm that nobody can read."""
    told = 1.5 * equally_likely(9)
    fails = 1.0 - (norm.cdf(2.0 - told) - norm.cdf(-2.0 - told))
    after = _Case(
        brief=room("wren")[0],
        of=gap(),
        found=odds_of(gap(), 1, 1000),
        apart=None,
        boxed=True,
        scale=1.0,
    )._told(gap(), told[None, :])
    assert after.leaves == pytest.approx((fails > 0.5).mean())
    assert after.remains == pytest.approx(fails[fails < 0.5].sum() / 9, abs=0.01)
    least = np.minimum(fails, 0.5)
    assert after.saved == pytest.approx(min(fails.mean(), 0.5) - least.mean(), abs=0.01)


def gap() -> Model:
    """One gap that nobody can do anything about."""
    return Model(
        places=(Place(joint="gap", at=0.0),),
        planned=np.zeros(1),
        usual=np.zeros(1),
        low=np.array([-2.0]),
        high=np.array([2.0]),
        freedoms=(),
        Y=np.zeros((1, 0)),
        most=np.zeros(0),
        shape=np.zeros((1, 1)),
        covariance=np.zeros((1, 1)),
        sources=(Source(name="plant", origin="plant", sd=1.0),),
        parts=np.ones((1, 1)),
    )


def test_what_was_taken_for_granted_of_squareness_is_said_where_it_matters() -> None:
    said = advised("heron").assumed
    assert "plant.diagonals" in said
    assert '" either way' in said
    assert advised("gull").assumed == ""
