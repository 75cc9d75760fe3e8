"""Distances in a pane, against figures worked by hand: rim, edge, corner, strip."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from hangtrue.check import glass
from hangtrue.fit.enclosure import Hole, Lite, Notch
from tests import good_job as g


def pane(holes: tuple[Hole, ...] = (), notches: tuple[Notch, ...] = ()) -> Lite:
    """A pane 600 wide and 1000 high."""
    square = ((0.0, 0.0), (600.0, 0.0), (600.0, 1000.0), (0.0, 1000.0))
    made = g.lite("fixed 1", 600.0, left="left wall", right="free", x=0.0, z=0.0, notches=notches)
    outline = square if not notches else made.outline
    return replace(made, corners=square, holes=holes, outline=outline)


def word(name: str) -> str:
    return name


def of(what: str, *holes: Hole) -> list[float]:
    """Every distance of one kind."""
    return [d.mm for d in glass.distances(pane(holes), word) if d.what == what]


HOLE = Hole(centre=(30.0, 40.0), diameter=12.0, fitting="clamp")
OTHER = Hole(centre=(90.0, 120.0), diameter=16.0, fitting="clamp")


def test_from_rim_to_edge() -> None:
    """30 mm from centre to edge, less the radius of 6."""
    assert of("hole-to-edge", HOLE) == pytest.approx([24.0])


def test_from_rim_to_the_tip_of_the_corner() -> None:
    """3-4-5: 50 mm from centre to corner, less 6."""
    assert of("hole-to-corner", HOLE) == pytest.approx([44.0])


def test_from_rim_to_rim() -> None:
    """60 and 80 apart make 100 between centres, less both radii."""
    assert of("hole-to-hole", HOLE, OTHER) == pytest.approx([100.0 - 6.0 - 8.0])


def test_a_cut_out_counts_as_edge() -> None:
    """A hole 20 mm from a cut-out is nearer to it than to the edge of the blank."""
    cut = Notch(
        corners=((0.0, 450.0), (40.0, 450.0), (40.0, 550.0), (0.0, 550.0)), radius=10, fitting="h"
    )
    hole = Hole(centre=(60.0, 500.0), diameter=10.0, fitting="handle")
    rows = glass.distances(pane((hole,), (cut,)), word)
    assert min(d.mm for d in rows if d.what == "hole-to-edge") == pytest.approx(15.0)


def test_strips_beside_cut_outs() -> None:
    """To the nearest edge it does not open into, to a hole, and to the next cut-out."""
    one = Notch(
        corners=((0.0, 100.0), (40.0, 100.0), (40.0, 160.0), (0.0, 160.0)), radius=10, fitting="a"
    )
    two = Notch(
        corners=((0.0, 200.0), (40.0, 200.0), (40.0, 260.0), (0.0, 260.0)), radius=10, fitting="b"
    )
    hole = Hole(centre=(70.0, 200.0), diameter=10.0, fitting="c")
    found = dict(glass.strips(pane((hole,), (one, two)), word))
    assert found["the a cut-out and an edge"] == pytest.approx(100.0)
    assert found["the a cut-out and the c hole"] == pytest.approx(math.hypot(30, 40) - 5)
    assert found["the b cut-out and the c hole"] == pytest.approx(30 - 5)
    assert found["the a and b cut-outs"] == pytest.approx(40.0)
