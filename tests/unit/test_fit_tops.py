"""Ceilings, transoms, bars, scribed edges, projections and steps too deep, by hand."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any, Literal

import numpy as np
import pytest
from shapely import Polygon

from hangtrue.fit import fit
from hangtrue.fit.enclosure import Enclosure, Lite, NoFit
from hangtrue.job.brief import Brief
from hangtrue.job.document import Projection, Turn, Wall, Walls, WantedLite
from hangtrue.job.wishes import Bar
from hangtrue.units import Angle, Length
from tests.openings import Step, brief, made, on_grid, opening, turned

CHANNEL = 11.1125
"""Usual gap of the shipped deep channel, mm."""
CLEAR = 4.7625
"""Usual gap of the shipped open joint, mm: 3/16 in."""


def lite(kind: Literal["door", "fixed"], **more: Any) -> WantedLite:
    return WantedLite(kind=kind, **more)


def with_right_wall(job: Brief, wall: Wall) -> Brief:
    walls = Walls(left=job.job.walls.left, right=wall)
    return replace(job, job=job.job.model_copy(update={"walls": walls}))


# ---------------------------------------------------------------------- tops


def test_a_top_follows_the_ceiling_less_its_gap() -> None:
    """The ceiling falls from 2,200 to 2,100 mm over 1,000 mm; the pane keeps one gap below it."""
    job = on_grid(brief(lite("fixed", head="ceiling"), exact=True), 0.01)
    (pane,) = made(fit(job, turned(1000.0, ceiling=(2200.0, 2100.0)))).lites
    left = pane.origin[0]
    assert pane.origin[1] + pane.height_left == pytest.approx(2200 - left / 10 - CHANNEL, abs=0.02)
    assert pane.edge("top").rake == pytest.approx(-pane.width_top / 10, abs=0.02)
    assert pane.edge("top").meets == "ceiling"
    assert pane.area == pytest.approx(
        pane.width_top * (pane.height_left + pane.height_right) / 2, abs=1.0
    )


def steam(transom: str = "fixed", **more: Any) -> Enclosure:
    job = brief(
        lite("fixed", head="ceiling"), lite("door", width=Length(700.0), head="transom"),
        lite("fixed", head="ceiling"), transom_at=Length(1950.0), transom=transom,
        exact=True, **more,
    )  # fmt: skip
    return made(fit(on_grid(job, 0.01), turned(1500.0, ceiling=(2300.0, 2200.0))))


def test_a_transom_fills_what_door_neighbours_and_ceiling_leave() -> None:
    enclosure = steam("tilting")
    transom, door = enclosure.lite("transom"), enclosure.door
    assert door
    assert transom.kind == "transom"
    assert door.origin[1] + door.height_left == pytest.approx(1950.0, abs=0.02)
    assert transom.origin[1] == pytest.approx(1950.0 + CLEAR, abs=0.02)
    left, right = enclosure.lite("fixed 1"), enclosure.lite("fixed 2")
    slot = right.origin[0] - left.origin[0] - left.width_top
    assert transom.width_bottom == pytest.approx(slot - 2 * CLEAR, abs=0.02)
    top = 2300.0 - transom.origin[0] / 15.0 - CLEAR
    assert transom.origin[1] + transom.height_left == pytest.approx(top, abs=0.02)
    assert Polygon(transom.outline).area == pytest.approx(transom.area)


def test_every_gap_of_a_transom_is_in_its_joint() -> None:
    """What the joints say is what is between the panes as drawn."""
    enclosure = steam()
    transom, door = enclosure.lite("transom"), enclosure.door
    assert door
    known = {joint.id: joint for joint in enclosure.joints}
    below = known["door to transom"]
    assert below.kind == "open"
    assert below.gaps[0].predicted.value == pytest.approx(
        transom.origin[1] - door.origin[1] - door.height_left
    )
    assert known["fixed 1 to transom"].hardware == "butt-joint"
    assert known["transom to ceiling"].level
    for chain in transom.chains:
        assert chain.opening + sum(d.amount for d in chain.deductions) == pytest.approx(chain.glass)


def test_a_ceiling_too_low_for_a_transom_is_said() -> None:
    job = brief(
        lite("fixed", head="ceiling"), lite("door", width=Length(700.0), head="transom"),
        transom_at=Length(1990.0),
    )  # fmt: skip
    (only,) = fit(job, turned(1200.0, ceiling=(2100.0, 1980.0)))
    assert isinstance(only.made, NoFit)
    assert only.made.why == "Door, neighbours and ceiling leave no room for the transom."


def test_glass_that_falls_in_two_is_said() -> None:
    """Beside a bench a leg of less than 41 mm is left; the hinge is let in 41 mm deep."""
    steps: list[Step] = [("bench", 1, None, 572.0, 900.0, 900.0)]
    job = brief(lite("fixed", width=Length(600.0)), lite("door", width=Length(600.0)))
    found = fit(job, turned(1221.0, steps=steps))
    assert isinstance(found[0].made, NoFit)
    assert found[0].made.why == "Steps and fittings together cut fixed 1 in two."


# ---------------------------------------------------------------------- bars


def test_a_brace_to_the_wall_of_its_own_run_stands_at_45_degrees() -> None:
    bar = Bar(kind="support", holds="fixed 1", to="left wall")
    job = brief(lite("fixed", width=Length(700.0)), walls=("left",), bars=(bar,))
    enclosure = made(fit(job, turned(900.0, walls=("left",))))
    (found,) = enclosure.bars
    (x0, y0, z0), (x1, y1, z1) = found.ends
    assert (x1, y0, z0) == pytest.approx((0.0, 0.0, z1))
    assert y1 == pytest.approx(x0)
    assert found.chain.opening == pytest.approx(math.sqrt(2) * x0)
    assert found.length.value == pytest.approx(found.chain.opening - 16.0)


def test_a_bar_across_a_return_ends_at_the_wall_opposite() -> None:
    """From the return, square to it, back to the left wall: as long as the front run."""
    bar = Bar(kind="support", run=2, holds="fixed 2", to="across")
    job = brief("fixed", lite("fixed", turn=Turn(angle=Angle(math.pi / 2))), bars=(bar,))
    (found,) = made(fit(job, turned(1000.0, 800.0, angles=(90.0,)))).bars
    assert found.to == "left wall"
    assert found.chain.opening == pytest.approx(1000.0, abs=1e-6)


def test_a_header_runs_from_wall_to_wall_and_knows_how_sure_it_is() -> None:
    """Both walls are known to 0.5 mm at a node: the length between them to sqrt(2) times that."""
    bar = Bar(kind="header", holds="door", to="right wall", at=Length(2000.0))
    enclosure = made(fit(brief("door", "fixed", bars=(bar,)), opening(width=1400.0, sd=0.5)))
    (found,) = enclosure.bars
    assert found.length.value == pytest.approx(1400.0 - 12.0)
    assert found.length.sd == pytest.approx(0.5 * math.sqrt(2), rel=1e-6)


# ---------------------------------------------------------------------- walls


def bowed(edge: Literal["straight", "scribed"], bow: float) -> tuple[Enclosure, Lite]:
    job = with_right_wall(brief("fixed", exact=True), Wall(edge=edge))
    enclosure = made(fit(on_grid(job, 0.01), opening(width=1000.0, bow_right=bow)))
    return enclosure, enclosure.lites[0]


@pytest.mark.parametrize("bow", [5.0, -5.0])
def test_a_scribed_edge_follows_its_wall(bow: float) -> None:
    """The gap to the wall is the same at every node; the outline holds the points."""
    enclosure, pane = bowed("scribed", bow)
    points = pane.edge("right").points
    wall = np.array([1000.0 - bow * 4 * z / 1900 * (1 - z / 1900) for z in (500.0, 1000.0, 1500.0)])
    x = np.array([pane.origin[0] + p[0] for p in points[1:-1]])
    assert [pane.origin[1] + p[1] for p in points[1:-1]] == pytest.approx([500.0, 1000.0, 1500.0])
    assert wall - x == pytest.approx(np.full(3, (wall - x)[0]), abs=0.15)
    assert set(points) <= set(pane.outline)
    assert min(p[0] for p in pane.outline) == 0.0
    gaps = [g.predicted.value for g in enclosure.joints[1].gaps]
    assert max(gaps) - min(gaps) < 0.3


def test_a_straight_edge_shows_the_bow() -> None:
    enclosure, pane = bowed("straight", 5.0)
    gaps = [g.predicted.value for g in enclosure.joints[1].gaps]
    assert max(gaps) - min(gaps) > 4.0
    assert not pane.edge("right").points


def test_a_projection_is_cut_out_of_the_glass_where_the_glass_gives_way() -> None:
    def thing(cut: Literal["glass", "tile"]) -> Wall:
        tile = Projection.model_validate(
            {"name": "pencil tile", "from": Length(1000.0), "to": Length(1015.0),
             "stands_out": Length(9.5), "cut": cut}
        )  # fmt: skip
        return Wall(projections=(tile,))

    room_ = opening(width=1000.0)
    (pane,) = made(fit(with_right_wall(brief("fixed"), thing("glass")), room_)).lites
    (notch,) = pane.notches
    assert (notch.of, notch.fitting) == ("projection", "pencil tile")
    x, y = zip(*notch.corners, strict=True)
    assert max(x) - min(x) == pytest.approx(10.0)
    assert min(y) + pane.origin[1] < 1000.0 - 3.0
    assert max(y) + pane.origin[1] > 1015.0 + 3.0
    (whole,) = made(fit(with_right_wall(brief("fixed"), thing("tile")), room_)).lites
    assert whole.notches == ()


# ---------------------------------------------------------------------- steps too deep


def test_a_step_too_deep_is_also_offered_as_two_panes() -> None:
    """A bench of 1,200 mm under a pane of 1,890: no plant cuts that; the joint stands above it."""
    steps: list[Step] = [("bench", 1, 600.0, None, 1200.0, 1200.0)]
    one, two = fit(brief("fixed"), turned(1200.0, steps=steps))
    assert isinstance(one.made, Enclosure)
    assert isinstance(two.made, Enclosure)
    assert one.made.lites[0].steps
    assert two.choice.split == ("bench",)
    low, high = two.made.lites
    assert low.steps == high.steps == ()
    assert low.origin[0] + low.width_bottom < 600.0
    assert (low.edge("bottom").meets, high.edge("bottom").meets) == ("curb", "bench")
    riser = next(j for j in two.made.joints if "riser" in j.id)
    gap = 600.0 - low.origin[0] - low.width_bottom
    assert riser.gaps[0].predicted.value == pytest.approx(gap)
    assert str(two.choice).endswith("two panes at the bench")


def test_a_shallow_step_is_not() -> None:
    steps: list[Step] = [("deck", 1, 700.0, None, 150.0, 150.0)]
    (only,) = fit(brief("fixed"), turned(900.0, steps=steps))
    assert only.choice.split == ()


def test_an_overhang_moves_the_cut_not_the_gap() -> None:
    """The cap stands out 15 mm beyond its riser: the glass keeps clear of the cap."""
    steps: list[Step] = [("deck", 1, 700.0, None, 150.0, 150.0)]
    plain = turned(900.0, steps=steps)
    (step,) = plain.standing
    proud = replace(plain, standing=(replace(step, overhang_left=15.0),))
    edges = [made(fit(brief("fixed"), r)).lites[0].steps[0].corners for r in (plain, proud)]
    left = [min(x for x, _ in corners) for corners in edges]
    assert left[0] - left[1] == pytest.approx(15.0, abs=1.0)
