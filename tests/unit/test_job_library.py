"""The shipped data are whole; each number is what its text says; a shop may alter them."""

from pathlib import Path

import pytest

from hangtrue import units
from hangtrue.job import library
from hangtrue.job.hardware import Channel, GapRange, Hinge, Seal
from hangtrue.job.slips import plausible
from hangtrue.source import source
from hangtrue.tables import table

PROFILES = sorted(library.shipped_profiles())


def said(tmp_path: Path, text: str) -> list[str]:
    """Return what is said about a shop's own profile."""
    (tmp_path / "our.toml").write_text(text, encoding="utf-8")
    return [f"{f.wrong}; {f.do}" for f in library.find_profile("our.toml", tmp_path)[1]]


def test_both_shops_are_shipped_and_name_the_same_limits() -> None:
    inch, metric = (library.shipped_profiles()[name] for name in PROFILES)
    assert (inch.id, metric.id) == ("inch-shop", "metric-shop")
    assert set(inch.limits) == set(metric.limits)
    assert (inch.paper, metric.paper) == ("letter", "a4")


@pytest.mark.parametrize("name", PROFILES)
def test_the_value_of_a_limit_is_what_its_text_says(name: str) -> None:
    for key, limit in library.shipped_profiles()[name].limits.items():
        assert limit.why, key
        assert source(limit.source).title, key
        if any(word in limit.typed for word in ("per", "mm/m", "in 2 m")):
            assert limit.value == pytest.approx(units.slope(limit.typed), rel=1e-8), key
        elif limit.typed.endswith((" in", "mm")):
            assert limit.value == units.length(limit.typed), key


def test_the_usual_numbers_of_the_trade() -> None:
    """Common practice, no source."""
    limit = library.shipped_profiles()["inch-shop"].limit
    assert limit("hinge-wall-lean-most").value == units.length("1/4 in")
    assert limit("fixed-wall-lean-most").value == units.length("1/2 in")
    assert limit("fixed-pane-drawn-out-most").value == units.length("1/2 in")
    assert limit("rake-wanted-over").value == units.length("1/8 in")
    assert limit("door-width-least").value == units.length("22 in")
    assert limit("door-width-most").value == units.length("36 in")
    assert limit("blocking-width-least").value == units.length("5-1/2 in")
    assert limit("screw-in-wood-least").value == units.length("1-1/4 in")


def test_the_deep_channel_takes_up_half_an_inch() -> None:
    """Common practice, no source: an in-line fixed pane up to 1/2 in out of plumb."""
    channel = library.shipped_items()["channel-deep"]
    assert isinstance(channel, Channel)
    taken_up = channel.depth - channel.bite_least - channel.floor_gap_least
    assert taken_up == pytest.approx(units.length("1/2 in"), abs=1e-12)


def test_the_usual_gaps_of_seals() -> None:
    """Common practice, no source: 3/16 in at a strike seal; a door set on 5/8 in shims."""
    strike, sweep = (library.shipped_items()[key] for key in ("strike-seal-round", "sweep-drip"))
    assert isinstance(strike, Seal)
    assert isinstance(sweep, Seal)
    assert strike.gap.usual == units.length("3/16 in")
    assert sweep.gap.least <= units.length("5/8 in") <= sweep.gap.most


def test_every_shipped_fitting_is_sound_and_its_title_is_its_own() -> None:
    items = library.shipped_items()
    assert len({item.title for item in items.values()}) == len(items)
    for item in items.values():
        assert source(item.source).known == "common practice"
        assert item.glass_least < item.glass_most
        for value in dict(item).values():
            if isinstance(value, GapRange):
                assert 0 <= value.least <= value.usual <= value.most
        if isinstance(item, Hinge):
            assert item.screw_rows < item.plate_height
            assert (item.mass_third_kg or item.mass_kg) >= item.mass_kg


def test_what_is_plausible_is_also_possible() -> None:
    for name in table("plausible"):
        row = plausible(name)
        assert row.can[0] <= row.usual[0] < row.usual[1] <= row.can[1]


def test_a_shop_lays_its_own_numbers_over_the_shipped_ones(tmp_path: Path) -> None:
    (tmp_path / "our.toml").write_text(
        'id = "our"\ntitle = "Our shop"\nbased_on = "metric-shop"\n'
        "[limits.rake-wanted-over]\nvalue = 2.0\ntyped = '2 mm'\n",
        encoding="utf-8",
    )
    profile, faults = library.find_profile("our.toml", tmp_path)
    assert faults == ()
    assert profile
    assert profile.limit("rake-wanted-over").value == 2.0
    assert profile.limit("rake-wanted-over").why, "what it is good for stays"
    assert profile.limit("door-width-most").value == 900.0
    assert profile.plant.grid == 1.0


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("a = ", "is not TOML"),
        ('based_on = "brass-shop"', "is no shipped profile"),
        ("based_on = 3", "is no shipped profile"),
        ("[limits.rake-wanted-over]\nvalue = 2.0", "`typed` is missing"),
        ("[limits.rake-wantd-over]\nvalue = 2.0", "no rule uses a limit of this name"),
        ('[limits.rake-wanted-over]\nvalue = "2 mm"', "is not a number"),
        ("[limits.rake-wanted-over]\nvalue = nan", "is not a finite number"),
        ('[limits.rake-wanted-over]\nsource = "hearsay"', "is no known source"),
        ("[limits]\nrake-wanted-over = 2", "is not a block"),
        ("limits = 3", "is not a table"),
        ("plant = []", "is not a table"),
        ('[plant]\ngrid = "1/7 in"', "on no tape"),
        ('[plant]\ngrid = "0 mm"', "line 2: plant.grid: a size must be over zero"),
        ('[plant]\nsize_tolerance = "-1 mm"', "line 2: plant.size_tolerance: this must not be"),
        ('[plant]\nhole_tolerance = "-1/16 in"', "plant.hole_tolerance: this must not be under"),
        ('[plant]\nnotch_tolerance = "-1 mm"', "plant.notch_tolerance: this must not be under"),
        ('[plant]\ndiagonals = "-2 mm"', "plant.diagonals: this must not be under zero"),
        ('setting_sd = "-0.8 mm"', "setting_sd: this must not be under zero"),
        ('paper = "a5"', "write letter or a4"),
        ("colour = 1", "nobody reads a key `colour`"),
    ],
)
def test_a_slip_in_a_shops_own_profile_is_named(tmp_path: Path, text: str, says: str) -> None:
    found = said(tmp_path, text)
    assert any(says in line for line in found), found
