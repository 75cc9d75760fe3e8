"""What tempered glass allows of holes and cut-outs, and which safety mark shower glass carries.

Sources
-------
- ASTM C1048, Heat-Strengthened and Fully Tempered Flat Glass, with the fabrication guideline of the
  United States glass trade: hole diameter >= glass thickness + 1/16 in and >= 1/4 in; rim to edge
  >= max(1/4 in, 2 t); rim to rim >= max(3/8 in, 2 t); rim to corner >= 6.5 t; fillet of an inside
  corner >= t and >= 1/2 in; hole <= 1/3 of the narrowest dimension.
  Practice for cut-outs, common practice, no source: up to 1/3 of width and height.
- EN 12150-1, clause 7: cut-outs up to 1/3 of width and length; processors' inside radius from 6 mm;
  diameter >= d; rim to edge and rim to rim >= 2 d; rim to corner >= 6 d. Its
  note on the greatest diameter, 1/3 of the short side, is from memory and passes nothing.
- 16 CFR 1201.2(a)(4)(i): shower doors and enclosures are Category II whatever the size of the pane;
  1201.2(a)(3): Category I for panes up to 9 sq ft of other doors only.
- International Building Code, 2406.2: around showers the voluntary mark (ANSI Z97.1) alone is not
  enough.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from hangtrue.check import glass
from hangtrue.check.finding import Level
from hangtrue.source import source
from tests import corner_case as k
from tests import good_job as g

INCH = 25.4
EXACT = 1e-9


def inch(text: str) -> float:
    """Read `2-7/16`: inches as printed, in mm."""
    return float(sum(map(Fraction, text.split("-")))) * INCH


UNITED_STATES = [
    # glass, hole diameter, rim to edge, rim to rim, rim to corner, inside fillet
    ("1/4", "5/16", "1/2", "1/2", "1-5/8", "1/2"),
    ("5/16", "3/8", "5/8", "5/8", "2-1/32", "1/2"),
    ("3/8", "7/16", "3/4", "3/4", "2-7/16", "1/2"),
    ("1/2", "9/16", "1", "1", "3-1/4", "1/2"),
]
EUROPE = [(6, 6, 12, 12, 36), (8, 8, 16, 16, 48), (10, 10, 20, 20, 60), (12, 12, 24, 24, 72)]
ROWS = ("hole-diameter", "hole-to-edge", "hole-to-hole", "hole-to-corner", "inside-radius")


@pytest.mark.parametrize("line", UNITED_STATES, ids=lambda line: f"{line[0]} in")
def test_the_table_of_the_united_states_practice(line: tuple[str, ...]) -> None:
    """Every printed figure of the table, in inches and sixteenths or thirty-seconds."""
    thickness, *printed = map(inch, line)
    ours = [glass.least("us", row, thickness) for row in ROWS]
    assert ours == pytest.approx(printed, abs=EXACT)


@pytest.mark.parametrize("line", EUROPE, ids=lambda line: f"{line[0]} mm")
def test_the_table_of_the_european_practice(line: tuple[float, ...]) -> None:
    """The standard's own example is 10 mm glass: 20 mm from the edge."""
    thickness, *printed = line
    assert [glass.least("en", row, thickness) for row in ROWS[:4]] == printed


def test_a_hole_may_take_a_third_of_the_narrowest_side() -> None:
    assert glass.share("us", "hole-share") == pytest.approx(1 / 3)


def test_the_european_third_is_from_memory_and_passes_nothing() -> None:
    """The widest hole of a pane comes back as a note, whatever it measures."""
    assert not source(glass.source_of("en", "hole-share")).decides
    case = g.job(g.good(), "unit", "in", profile="metric-shop")
    widest = [f for f in g.found(case, "hole-rules") if f.source == "en-12150-memory"]
    assert [f.level for f in widest] == [Level.NOTE]


@pytest.mark.parametrize("width", [300.0, 660.4, 1200.0], ids=lambda w: f"{w:g} mm wide")
def test_shower_glass_is_category_ii_whatever_its_size(width: float) -> None:
    """A pane under 9 sq ft (0.83 m2) would be Category I in another door; not in a shower."""
    corners = ((0.0, 0.0), (width, 0.0), (width, 1968.5), (0.0, 1968.5))
    case = g.pane(g.good(), "door", corners=corners)
    assert g.worst(case, "safety-glazing").level is Level.PASS
    lesser = g.job(case, "wanted.safety_mark", "16 CFR 1201 category I")
    assert g.worst(lesser, "safety-glazing").level is Level.FAIL


def test_the_voluntary_mark_alone_is_not_enough() -> None:
    case = g.job(g.good(), "wanted.safety_mark", "ANSI Z97.1 class A")
    finding = g.worst(case, "safety-glazing")
    assert finding.level is Level.FAIL
    assert finding.source == "ibc-2406"


NOTCHES = [
    # practice, glass in mm, radius in mm, what is found
    ("us", 9.525, 12.7, Level.PASS),
    ("us", 9.525, 12.6, Level.FAIL),
    ("us", 15.875, 15.8, Level.FAIL),  # thicker than 1/2 in: its own thickness
    ("us", 15.875, 15.9, Level.PASS),
    ("en", 10.0, 6.0, Level.PASS),
    ("en", 10.0, 5.9, Level.FAIL),
    ("en", 12.0, 6.0, Level.PASS),
]


@pytest.mark.parametrize(("practice", "glass_mm", "radius", "level"), NOTCHES)
def test_the_inside_radius_of_a_notch_over_a_step(
    practice: str, glass_mm: float, radius: float, level: Level
) -> None:
    """The shop's own limit is set aside, so that the practice decides."""
    case = g.under(k.stepped(g.good(), 200.0, 500.0, radius=radius), hole_rules=practice)
    limits = case.brief.profile.limits
    own = limits["notch-radius-least"].model_copy(update={"value": 0.0})
    case = g.under(case, limits=limits | {"notch-radius-least": own})
    case = g.pane(case, "fixed 1", thickness=glass_mm)
    assert g.found(case, "notch-radius")[0].level is level


@pytest.mark.parametrize("practice", ["us", "en"])
@pytest.mark.parametrize("part", [0.32, 0.34])
def test_a_notch_may_take_a_third_of_width_and_height(practice: str, part: float) -> None:
    """Either way round; beyond it the standard stops, common practice warns."""
    height = g.TOP - 3.2
    level = {"us": Level.WARN, "en": Level.FAIL}[practice] if part > 1 / 3 else Level.PASS
    for width, up in ((part * g.FIXED, 300.0), (200.0, part * height)):
        case = g.under(k.stepped(g.good(), width, up), hole_rules=practice)
        assert g.worst(case, "notch-depth").level is level
