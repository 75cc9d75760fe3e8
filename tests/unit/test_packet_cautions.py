"""Cautions stand where they apply and nowhere else."""

from __future__ import annotations

from dataclasses import replace

import pytest

from hangtrue.fit.enclosure import Enclosure
from hangtrue.hang.cautions import APPLIES
from hangtrue.paper.cautions import Caution, cautions
from hangtrue.paper.lengths import Units, units_of
from hangtrue.source import source
from hangtrue.tables import table
from tests.unit import packet_plans as plans

MM = Units(first="mm", both=False)


def said(*, made: Enclosure | None = None) -> dict[str, Caution]:
    plan = plans.plan(plans.GOOD, made=made)
    return {c.id: c for c in cautions(plan, units_of(plan.brief))}


def test_every_row_names_a_known_condition_and_a_source() -> None:
    for row in table("cautions").values():
        assert row["when"] in APPLIES
        assert source(row["source"])
        assert row["text"].endswith(".")


def test_a_heavy_pane_asks_for_two_people_and_says_its_weight() -> None:
    """HSE INDG143: a man alone near the waist lifts 25 kg at most as a guide."""
    light = plans.enclosure()
    light = replace(light, lites=tuple(replace(p, mass_kg=24.9) for p in light.lites))
    heavy = replace(light, lites=tuple(replace(p, mass_kg=25.1) for p in light.lites))
    assert "heavy" not in said(made=light)
    assert "25.1 kg" in said(made=heavy)["heavy"].text


def test_an_unknown_wall_is_a_caution_on_the_first_page() -> None:
    assert said()["backing-unknown"].front


def test_nothing_is_said_of_cutting_where_nothing_fits() -> None:
    plan = plans.plan(made=plans.NO_FIT)
    ids = {c.id for c in cautions(plan, MM)}
    assert "cut-never" not in ids
    assert "own-hardware" in ids


@pytest.mark.parametrize("name", ["wear", "knock", "silica", "old-wall", "solid-wood", "grab"])
def test_a_door_on_a_wall_carries_the_usual_cautions(name: str) -> None:
    assert name in said()


def test_a_boxed_set_is_not_told_to_be_cut_but_to_be_measured() -> None:
    boxed = replace(plans.enclosure(), choice=replace(plans.CHOICE, cut="boxed"))
    assert "boxed-set" in said(made=boxed)
    assert "cut-never" not in said(made=boxed)
    assert "cut-never" in said()
