"""Panes as cut: datum corner, cut-outs, holes, chains, mass."""

from __future__ import annotations

import math

import pytest

from hangtrue.fit import fit
from hangtrue.fit.enclosure import Enclosure
from hangtrue.geometry import is_simple
from tests.openings import TOP, brief, made, opening


@pytest.fixture(scope="module")
def raked() -> Enclosure:
    room = opening(lean_left=-8.0, lean_right=-9.0, curb=(2.0, -3.0))
    return made(fit(brief("fixed", "door", hardware={"wall": "clamp-wall-square"}), room))


def test_no_corner_of_a_drawing_is_negative(raked: Enclosure) -> None:
    for pane in raked.lites:
        assert min(x for x, _ in pane.corners) == 0.0
        assert min(y for _, y in pane.corners) == 0.0


def test_sizes_are_on_the_plants_grid(raked: Enclosure) -> None:
    for pane in raked.lites:
        for size in (pane.width_bottom, pane.width_top, pane.height_left, pane.height_right):
            assert size == pytest.approx(round(size), abs=1e-9)


def test_outlines_are_simple_and_run_anticlockwise(raked: Enclosure) -> None:
    for pane in raked.lites:
        assert is_simple(pane.outline)
        twice = sum(
            x0 * y1 - x1 * y0
            for (x0, y0), (x1, y1) in zip(
                pane.outline, (*pane.outline[1:], pane.outline[0]), strict=True
            )
        )
        assert twice > 0


def test_area_is_the_blank_less_notches_and_holes(raked: Enclosure) -> None:
    for pane in raked.lites:
        height = (pane.height_left + pane.height_right) / 2
        blank = (pane.width_bottom + pane.width_top) / 2 * height
        notches = sum(
            math.dist(n.corners[0], n.corners[1]) * math.dist(n.corners[1], n.corners[2])
            for n in pane.notches
        )
        holes = sum(math.pi * h.diameter**2 / 4 for h in pane.holes)
        # a foot that is not level makes a quadrilateral that the two means miss by a hair
        assert pane.area == pytest.approx(blank - notches - holes, abs=1e-5 * blank)


def test_every_chain_adds_up_from_the_opening_to_the_glass(raked: Enclosure) -> None:
    for pane in raked.lites:
        sizes = (pane.width_bottom, pane.width_top, pane.height_left, pane.height_right)
        assert [c.glass for c in pane.chains] == pytest.approx(sizes, abs=1e-9)
        for chain in pane.chains:
            total = chain.opening + math.fsum(d.amount for d in chain.deductions)
            assert total == pytest.approx(chain.glass, abs=1e-6)
            assert all(d.amount <= 0 or d.what.startswith("rounding") for d in chain.deductions)


def test_a_chain_starts_from_the_opening_at_its_height() -> None:
    pane = made(fit(brief("door"), opening(width=800.0, lean_right=1.0))).lites[0]
    foot, top = (c for c in pane.chains if c.size.startswith("width"))
    assert foot.opening == pytest.approx(800.0 - foot.at_height / TOP, abs=1e-9)
    assert top.opening == pytest.approx(799.0, abs=1e-9)


def test_hinge_notches_sit_at_the_hinge_heights_in_the_hinge_edge() -> None:
    pane = made(fit(brief("door"), opening(width=800.0))).lites[0]
    for notch, height in zip(pane.notches, pane.hinge_heights, strict=True):
        xs, ys = zip(*notch.corners, strict=True)
        assert (min(xs), max(xs)) == pytest.approx((0.0, 1.625 * 25.4))
        assert (min(ys) + max(ys)) / 2 == pytest.approx(height)
        assert max(ys) - min(ys) == pytest.approx(2.5 * 25.4)


def test_a_glass_hinge_is_let_into_both_panes() -> None:
    enclosure = made(fit(brief("fixed", "door"), opening()))
    fixed, door = enclosure.lites
    assert (door.hinge_side, door.hung_on) == ("left", "glass")
    assert len(fixed.notches) == len(door.notches) == 2
    room = [
        [pane.origin[1] + sum(y for _, y in n.corners) / 4 for n in pane.notches]
        for pane in (fixed, door)
    ]
    assert room[0] == pytest.approx(room[1])
    assert max(x for x, _ in fixed.notches[0].corners) == fixed.width_bottom


def test_the_handle_sits_at_its_height_above_the_floor_from_the_strike_edge() -> None:
    """Handle 1016 mm above the floor, curb 100 mm high: 916 mm above the curb; holes 8 in apart."""
    pane = made(fit(brief("door"), opening(width=800.0))).lites[0]
    ys = [hole.centre[1] + pane.origin[1] for hole in pane.holes]
    assert sum(ys) / 2 == pytest.approx(916.0)
    assert max(ys) - min(ys) == pytest.approx(8 * 25.4)
    assert pane.width_bottom - pane.holes[0].centre[0] == pytest.approx(2.5 * 25.4)


def test_holes_of_clamps_follow_an_edge_that_rakes(raked: Enclosure) -> None:
    """Each is 1-3/8 in from the edge, measured square to it."""
    fixed = raked.lite("fixed 1")
    bl, _, _, tl = fixed.corners
    holes = [h for h in fixed.holes if h.fitting == "clamp-wall-square"]
    assert len(holes) == 2
    for hole in holes:
        cross = (tl[0] - bl[0]) * (hole.centre[1] - bl[1]) - (tl[1] - bl[1]) * (
            hole.centre[0] - bl[0]
        )
        assert abs(cross) / math.dist(bl, tl) == pytest.approx(1.375 * 25.4)


def test_mass_by_nominal_thickness() -> None:
    """2.5 kg for each square metre and millimetre (EN 572-1)."""
    pane = made(fit(brief("door"), opening(width=800.0))).lites[0]
    assert pane.mass_kg == pytest.approx(pane.area * 1e-6 * 25.0)
    assert pane.mass_kg == pytest.approx(0.79 * 1.887 * 25.0, rel=0.01)
