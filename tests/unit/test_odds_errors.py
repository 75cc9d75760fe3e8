"""How far plant and fitter are off: squareness by geometry, one tolerance for two, names."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from scipy.integrate import quad
from scipy.optimize import brentq
from scipy.stats import norm

from hangtrue.fit import fit
from hangtrue.fit.enclosure import Enclosure
from hangtrue.job.brief import Brief
from hangtrue.job.read import read_job
from hangtrue.measure import measure
from hangtrue.measure.opening import Opening
from hangtrue.odds.errors import out_of_square, squareness_of, squareness_sd
from hangtrue.odds.model import model
from hangtrue.tables import table
from hangtrue.units import Length

LODGE = Path(__file__).parents[2] / "examples" / "lodge"


@cache
def room(name: str) -> tuple[Brief, Opening, Enclosure]:
    brief, _ = read_job(LODGE / f"{name}.yaml")
    assert brief is not None
    opening = measure(brief)
    made = fit(brief, opening)[0].made
    assert isinstance(made, Enclosure)
    return brief, opening, made


def with_diagonals(brief: Brief, mm: float) -> Brief:
    plant = brief.profile.plant.model_copy(update={"diagonals": Length(mm)})
    return replace(brief, profile=brief.profile.model_copy(update={"plant": plant}))


@pytest.mark.parametrize(
    ("width", "height", "out"), [(711.0, 2000.0, 1.6), (300.0, 1900.0, 2.5), (1000.0, 1000.0, 4.0)]
)
def test_diagonals_of_a_pane_out_of_square_say_how_far(
    width: float, height: float, out: float
) -> None:
    """Draw the parallelogram and tape it from corner to corner."""
    foot, top = [(0.0, 0.0), (width, 0.0)], [(out, height), (width + out, height)]
    apart = math.dist(foot[0], top[1]) - math.dist(foot[1], top[0])
    assert out_of_square(apart, width, height) == pytest.approx(out, rel=1e-5)


def test_one_tolerance_for_size_and_squareness_is_shared_by_both() -> None:
    """95 % of the panes lie between two rectangles: |w| + |s| <= T, both normal alike."""

    def held(sd: float) -> float:
        inner = quad(lambda w: norm.pdf(w / sd) / sd * (2 * norm.cdf((1 - abs(w)) / sd) - 1), -1, 1)
        return float(inner[0])

    sd = brentq(lambda sd: held(sd) - 0.95, 0.1, 1.0)
    share = float(table("odds")["plant"]["out_of_square"])
    assert share / 2 == pytest.approx(sd, abs=5e-4)


def test_a_plant_that_states_its_diagonals_is_taken_at_its_word() -> None:
    brief, _, made = room("gull")
    for pane in made.lites:
        stated = squareness_sd(with_diagonals(brief, 2.0).profile.plant, pane)
        height = max(pane.height_left, pane.height_right)
        assert stated == pytest.approx(out_of_square(2.0, pane.width_bottom, height) / 2)
    assert squareness_sd(brief.profile.plant, made.lites[0]) == pytest.approx(
        0.632 * brief.profile.plant.size_tolerance / 2
    )


def test_the_stated_diagonals_reach_the_drawn_errors() -> None:
    brief, opening, made = room("gull")
    told = with_diagonals(brief, 2.0)
    square = squareness_of(made.lites[0].id)
    sds = {s.name: s.sd for s in model(told, opening, made).sources}
    assert sds[square] == squareness_sd(told.profile.plant, made.lites[0])


@pytest.mark.parametrize(("name", "mark"), [("wren", '"'), ("curlew", " mm")])
def test_places_of_cut_outs_are_said_in_the_unit_of_the_job(name: str, mark: str) -> None:
    names = [s.name for s in model(*room(name)).sources if " at " in s.name]
    assert names
    assert all(f"{mark} of " in name for name in names)
