"""The clip of a corner over a rounding, against plane geometry."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import Point, Polygon, box

from hangtrue.check.corner import clip


def touches(gap: float, rise: float, radius: float, clear: float, leg: float) -> bool:
    """Whether a clipped pane comes nearer than `clear` to the fillet, as shapely sees it."""
    pane = Polygon([(gap + leg, rise), (200, rise), (200, 200), (gap, 200), (gap, rise + leg)])
    fillet = box(0, 0, radius, radius).difference(Point(radius, radius).buffer(radius, 512))
    return bool(pane.distance(fillet) < clear - 0.01)


@given(st.floats(1.6, 15), st.floats(1.6, 15), st.floats(2, 40))
def test_the_clip_clears_the_rounding(gap: float, rise: float, radius: float) -> None:
    leg = clip(gap, rise, radius, clear=1.5)
    assume(math.isfinite(leg))
    assert not touches(gap, rise, radius, 1.5, leg)


@given(st.floats(1.6, 15), st.floats(1.6, 15), st.floats(5, 40))
def test_a_smaller_clip_would_not(gap: float, rise: float, radius: float) -> None:
    leg = clip(gap, rise, radius, clear=1.5)
    assume(math.isfinite(leg) and leg > 1.0)
    assert touches(gap, rise, radius, 1.45, leg - 1.0)


def test_no_rounding_no_clip() -> None:
    assert clip(3.0, 3.0, 0.0, 1.5) == 0.0


def test_a_corner_that_sits_tight_cannot_be_helped() -> None:
    """Closer to the wall than glass may ever be, beside a rounding: clipping does not move it."""
    assert clip(0.5, 3.0, 20.0, 1.5) == math.inf


@pytest.mark.parametrize("gap", [4.0, 8.0])
def test_it_does_not_know_wall_from_curb(gap: float) -> None:
    assert clip(gap, 5.0, 19.0, 1.5) == pytest.approx(clip(5.0, gap, 19.0, 1.5))
