"""What every fitter knows, as the limits part says it.

Each is common practice, no source, unless its test names one.
"""

from __future__ import annotations

import pytest

from hangtrue.check.finding import Level
from hangtrue.job.document import Behind
from tests import good_job as g

INCH = 25.4


@pytest.mark.parametrize(
    ("lean", "level"),
    [(0.0, Level.PASS), (3 / 16, Level.PASS), (5 / 16, Level.FAIL), (-5 / 16, Level.FAIL)],
)
def test_a_hinge_wall_is_at_most_a_quarter_inch_out_of_plumb_else_stop(
    lean: float, level: Level
) -> None:
    """Either way: into the opening or out of it. Common practice, no source."""
    case = g.room(g.good(), lean_left=lean * INCH)
    assert g.worst(case, "hinge-wall-plumb").level is level


def test_the_quarter_inch_itself_is_not_decided_by_readings() -> None:
    """On the limit the chance is even, and the program asks. Common practice, no source."""
    finding = g.worst(g.room(g.good(), lean_left=0.25 * INCH), "hinge-wall-plumb")
    assert finding.level is Level.NOT_CHECKED
    assert finding.probability == pytest.approx(0.5, abs=1e-6)
    assert finding.limit == 6.35


@pytest.mark.parametrize(
    ("lean", "level"), [(7 / 16, Level.PASS), (9 / 16, Level.FAIL), (-9 / 16, Level.FAIL)]
)
def test_a_fixed_pane_bears_half_an_inch_out_of_plumb(lean: float, level: Level) -> None:
    """Its channel takes that up. Common practice, no source."""
    case = g.room(g.good(), lean_right=lean * INCH)
    assert g.worst(case, "fixed-wall-in-channel").level is level


@pytest.mark.parametrize(("out", "level"), [(7 / 16, Level.PASS), (9 / 16, Level.FAIL)])
def test_a_fixed_pane_is_never_drawn_out_past_half_an_inch(out: float, level: Level) -> None:
    """Counted from the floor of its channel, 1/16 in off the wall. Common practice, no source."""
    case = g.gaps(g.good(), "fixed 1 to right wall", (out + 1 / 16) * INCH)
    assert g.worst(case, "fixed-wall-in-channel").level is level


def test_the_curb_is_level() -> None:
    """Common practice, no source."""
    assert g.worst(g.good(), "curb-level").level is Level.PASS
    assert g.worst(g.room(g.good(), fall=0.25 * INCH), "curb-level").level is Level.WARN


@pytest.mark.parametrize(
    ("inch_per_foot", "level"),
    [(0.25, Level.PASS), (-0.25, Level.WARN), (0.0, Level.WARN)],
)
def test_the_curb_is_pitched_slightly_inward(inch_per_foot: float, level: Level) -> None:
    """A level one lets water stand. Common practice, no source."""
    case = g.room(g.good(), pitch=inch_per_foot / 12)
    assert g.worst(case, "curb-pitch").level is level


@pytest.mark.parametrize(
    ("behind", "level"),
    [
        ("blocking", Level.PASS),
        ("hollow", Level.FAIL),
        ("acrylic", Level.FAIL),
        ("steel stud", Level.FAIL),
        ("masonry", Level.NOT_CHECKED),
        ("unknown", Level.NOT_CHECKED),
    ],
)
def test_hinge_screws_go_into_solid_wood_only(behind: Behind, level: Level) -> None:
    """No wall anchors, and what is unknown is asked for. Common practice, no source."""
    case = g.job(g.good(), "walls.left.behind", behind)
    assert g.worst(case, "blocking").level is level


@pytest.mark.parametrize(
    ("top", "level"), [("70 in", Level.PASS), ("69 in", Level.FAIL), ("66 in", Level.FAIL)]
)
def test_every_hinge_screw_goes_into_solid_wood(top: str, level: Level) -> None:
    """The upper plate reaches from 66-1/4 to 69-3/4 in; half of it in wood is not enough.

    Common practice, no source.
    """
    case = g.job(g.good(), "walls.left.blocking.0.to", top)
    assert g.worst(case, "blocking").level is level


@pytest.mark.parametrize(
    ("inches", "level"), [(21, Level.WARN), (24, Level.PASS), (37, Level.WARN)]
)
def test_a_door_is_22_to_36_inches_wide(inches: float, level: Level) -> None:
    """Common practice, no source."""
    width = inches * INCH
    corners = ((0.0, 0.0), (width, 0.0), (width, 1968.5), (0.0, 1968.5))
    assert g.worst(g.pane(g.good(), "door", corners=corners), "door-width").level is level


def test_a_door_hangs_on_a_pane_only_if_that_is_held_top_and_bottom() -> None:
    """Common practice, no source."""
    levels = [
        g.worst(g.glass_hung(g.good(), said), "door-on-panel").level
        for said in ("yes", "no", "unknown")
    ]
    assert levels == [Level.PASS, Level.FAIL, Level.NOT_CHECKED]


def test_a_shower_door_opens_outward() -> None:
    """International Residential Code, P2708.1; both ways is fine, as it can open out."""
    levels = [
        g.worst(g.job(g.good(), "wanted.swing", swing), "opens-outward").level
        for swing in ("out", "both", "in")
    ]
    assert levels == [Level.PASS, Level.PASS, Level.FAIL]


@pytest.mark.parametrize(
    ("doorway", "level"),
    [(22.0, Level.FAIL), (22.25, Level.NOT_CHECKED), (24.0, Level.PASS)],
)
def test_the_way_in_is_22_inches_clear_of_door_and_hinge(doorway: float, level: Level) -> None:
    """International Residential Code, P2708.1.1: 22 in (559 mm), the door open.

    A doorway of 22 in is not enough, as the open door takes half its thickness; one that is wide
    enough with the whole hinge taken off is; between them the hinge's pivot decides.
    """
    width = doorway * INCH - g.GAP
    corners = ((0.0, 0.0), (width, 0.0), (width, 1968.5), (0.0, 1968.5))
    bare = g.job(g.good(), "hardware", {"handle": "none"})
    assert g.worst(g.pane(bare, "door", corners=corners), "clear-opening").level is level
