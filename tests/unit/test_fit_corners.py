"""Panes at corners against the geometry of their plan, worked out by hand for each joint."""

from __future__ import annotations

import math
from typing import Any, Literal

import pytest
from shapely import Polygon

from hangtrue.fit import fit
from hangtrue.fit.enclosure import Enclosure, Lite, NoFit
from hangtrue.fit.meeting import gap_form, usual_cuts
from hangtrue.job.document import Turn, WantedLite
from hangtrue.units import Angle, Length
from tests.openings import brief, made, on_grid, turned

T = 10.0
SILICONE = 2.38125
"""Usual gap of the shipped butt joint, mm: 3/32 in."""
WALL = (1.5875 + 3.175 + 1.5875 + 25.4 - 9.525) / 2
"""Usual gap in the shipped deep channel: the middle of its range, mm."""


def turn(angle: float = 90.0, **more: Any) -> Turn:
    return Turn(angle=Angle(math.radians(angle)), **more)


def after(corner: Turn, kind: Literal["door", "fixed"] = "fixed", **more: Any) -> WantedLite:
    return WantedLite(kind=kind, turn=corner, **more)


def corner(joint: str, angle: float = 90.0, *, laps: str = "before", t: float = T) -> Enclosure:
    """Two fixed panes, 600 and 500 mm of line, with nothing that is off and next to no grid."""
    job = brief(
        "fixed", after(turn(angle, joint=joint, laps=laps)), exact=True, thickness=Length(t)
    )
    return made(fit(on_grid(job, 0.01), turned(600.0, 500.0, angles=(angle,))))


def width(pane: Lite) -> float:
    return pane.width_bottom


def test_a_lapping_pane_covers_the_edge_of_the_other() -> None:
    """At 90 degrees: run + t/2 less the wall's gap, and run - t/2 - gap less the wall's gap."""
    first, second = corner("butt").lites
    assert width(first) == pytest.approx(600.0 + T / 2 - WALL, abs=0.02)
    assert width(second) == pytest.approx(500.0 - T / 2 - SILICONE - WALL, abs=0.02)
    assert (first.run, second.run) == (1, 2)
    assert first.origin[0] + width(first) == pytest.approx(605.0, abs=0.02)


def test_how_far_panes_are_out_of_flush_is_told() -> None:
    """Cut to whole millimetres, the lapping pane ends up to one short of the other's face."""
    enclosure = made(fit(brief("fixed", after(turn())), turned(600.4, 500.0, angles=(90.0,))))
    (joint,) = enclosure.corners
    assert joint.corner
    first, second = enclosure.lites
    face = 600.4 + T / 2 - second.shifts[0]
    assert joint.corner.flush == pytest.approx(first.origin[0] + width(first) - face, abs=1e-6)
    assert abs(joint.corner.flush) <= 1.0


def test_the_other_pane_may_lap() -> None:
    first, second = corner("butt", laps="after").lites
    assert width(first) == pytest.approx(600.0 - T / 2 - SILICONE - WALL, abs=0.02)
    assert width(second) == pytest.approx(500.0 + T / 2 - WALL, abs=0.02)


def test_thicker_glass_has_other_sizes() -> None:
    thin, thick = corner("butt", t=8.0), corner("butt", t=12.0)
    assert width(thick.lites[0]) - width(thin.lites[0]) == pytest.approx(2.0, abs=0.02)
    assert width(thin.lites[1]) - width(thick.lites[1]) == pytest.approx(2.0, abs=0.02)


@pytest.mark.parametrize("angle", [90.0, 135.0])
def test_a_mitre_is_as_long_as_the_line_less_the_gap(angle: float) -> None:
    """Each bevel is half the turn; the outside face is longer by t tan(turn/2) than the inside."""
    half = math.radians(180.0 - angle) / 2
    for pane, run in zip(corner("mitre", angle).lites, (600.0, 500.0), strict=True):
        where: Literal["left", "right"] = "right" if pane.run == 1 else "left"
        middle = run - SILICONE / (2 * math.cos(half)) - WALL
        assert pane.bevel(where) == pytest.approx(half)
        assert width(pane) == pytest.approx(middle + T / 2 * math.tan(half), abs=0.03)
        inside = pane.inside_corners
        assert inside[1][0] - inside[0][0] == pytest.approx(
            middle - T / 2 * math.tan(half), abs=0.03
        )
        assert pane.mass_kg == pytest.approx(
            2.5e-6 * T * pane.height_left * (width(pane) - T / 2 * math.tan(half))
        )


def test_an_outward_mitre_is_longer_on_the_shower_side() -> None:
    job = brief("fixed", after(turn(135.0, joint="mitre", way="out")), exact=True)
    first, _ = made(fit(on_grid(job, 0.01), turned(600.0, 500.0, angles=(135.0,)))).lites
    assert first.bevel("right") == pytest.approx(-math.radians(22.5))
    assert first.inside_corners[1][0] - first.corners[1][0] == pytest.approx(
        T * math.tan(math.radians(22.5))
    )


def test_square_edges_meet_at_their_inner_arrises() -> None:
    """135 degrees, clamped: both cut back by (gap + t sin(22.5)) / (2 cos(22.5))."""
    half = math.radians(22.5)
    back = (SILICONE + T * math.sin(half)) / (2 * math.cos(half))
    first, second = corner("clamp", 135.0).lites
    assert width(first) == pytest.approx(600.0 - back - WALL, abs=0.02)
    assert width(second) == pytest.approx(500.0 - back - WALL, abs=0.02)


def neo(**more: Any) -> Enclosure:
    """A pane, a door and a pane over two corners of 135 degrees, clamped glass to glass."""
    job = brief(
        "fixed", after(turn(135.0, joint="hinge"), "door", hinge="left"),
        after(turn(135.0, joint="clamp")), exact=True, hinge_side="free", **more,
    )  # fmt: skip
    return made(fit(on_grid(job, 0.01), turned(500.0, 700.0, 450.0, angles=(135.0, 135.0))))


def test_a_door_between_two_corners_hangs_on_glass() -> None:
    half = math.radians(22.5)
    enclosure = neo()
    door = enclosure.door
    assert door
    assert (door.run, door.hinge_side, door.hung_on) == (2, "left", "glass")
    hinge, strike = enclosure.corners
    assert [j.corner.joint for j in (hinge, strike) if j.corner] == ["hinge", "clamp"]
    assert (hinge.kind, strike.kind) == ("hinge", "strike")
    gaps = hinge.gaps[0].predicted.value + strike.gaps[0].predicted.value
    open_ = (gaps + 2 * T * math.sin(half)) / (2 * math.cos(half))
    assert width(door) == pytest.approx(700.0 - open_, abs=0.05)


def test_the_line_is_folded_about_the_run_of_the_door() -> None:
    """Law of cosines: legs of 500 and 700 at 135 degrees are 1,111.6 mm apart at their ends."""
    left, front, right = neo().runs
    assert front.heading == 0.0
    assert front.origin == (0.0, 0.0)
    apart = math.dist(left.plan(left.start), front.plan(front.end))
    assert apart == pytest.approx(
        math.sqrt(500**2 + 700**2 + 2 * 500 * 700 * math.cos(math.pi / 4))
    )
    assert left.heading == pytest.approx(-math.pi / 4)
    assert right.plan(right.end) == pytest.approx((700 + 450 / math.sqrt(2), 450 / math.sqrt(2)))


def test_a_hinge_asked_for_at_a_corner_decides_the_side() -> None:
    found = fit(
        brief("fixed", after(turn(joint="hinge"), "door"), hinge_side="free"),
        turned(500.0, 720.0, angles=(90.0,)),
    )
    assert {a.choice.hinge_side for a in found} == {"left"}


@pytest.mark.parametrize("joint", ["butt", "mitre", "clamp"])
@pytest.mark.parametrize("angle", [60.0, 75.0, 90.0, 110.0, 135.0, 170.0])
def test_the_gap_is_the_distance_of_the_two_panes_in_plan(joint: Any, angle: float) -> None:
    """Both panes drawn from above and measured by shapely, shifted and cut back at random."""
    phi, gap = math.radians(180.0 - angle), 3.0
    cuts = usual_cuts(joint, "before", phi, T, gap)
    half = T / 2 * math.tan(phi / 2) if joint == "mitre" else 0.0
    one = Polygon([
        (-500.0, -T / 2), (-cuts[0] + half, -T / 2), (-cuts[0] - half, T / 2), (-500.0, T / 2),
    ])  # fmt: skip
    other = [(cuts[1] - half, -T / 2), (500.0, -T / 2), (500.0, T / 2), (cuts[1] + half, T / 2)]
    cos, sin = math.cos(phi), math.sin(phi)
    two = Polygon([(x * cos - y * sin, x * sin + y * cos) for x, y in other])
    assert one.distance(two) == pytest.approx(gap, abs=1e-9)
    assert gap_form(joint, "before", phi, T).at(cuts) == pytest.approx(gap, abs=1e-12)


def test_widths_that_do_not_reach_the_corner_are_named() -> None:
    job = brief(WantedLite(kind="fixed", width=Length(500.0)), after(turn()))
    (only,) = fit(job, turned(600.0, 500.0, angles=(90.0,)))
    assert isinstance(only.made, NoFit)
    assert "flush" in only.made.why
    assert "fixed 1" in only.made.why


def test_double_doors_meet_in_the_middle() -> None:
    enclosure = made(fit(brief("door", "door", hinge_side="free"), turned(1300.0)))
    one, two = enclosure.doors
    assert (one.id, two.id) == ("door 1", "door 2")
    assert (one.hinge_side, two.hinge_side) == ("left", "right")
    assert width(one) == width(two)
    assert [j.kind for j in enclosure.joints if j.upright] == ["hinge", "strike", "hinge"]
    assert str(enclosure.choice).count("hinges left on the wall and right on the wall") == 1


def test_a_flap_swings_on_a_screen_and_ends_free() -> None:
    flap = WantedLite(kind="door", width=Length(350.0), hinge="left")
    job = brief(WantedLite(kind="fixed", width=Length(700.0)), flap, walls=("left",))
    enclosure = made(fit(job, turned(1050.0, walls=("left",))))
    assert enclosure.door
    assert enclosure.door.edge("right").meets == "free"
    assert enclosure.door.hung_on == "glass"
