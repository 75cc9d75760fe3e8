"""Shims: the fewest pieces, and a rigid door on packed plates stands as the arithmetic says.

The check of the geometry is a rigid-body model that shares no code with the packing: two pivots in
space, the axis through them, the leaf turned about it.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from hangtrue.hang.setting import targets_of
from hangtrue.hang.shims import CannotAddUp, pack, stacks
from hangtrue.hang.shop import shipped_shop
from hangtrue.hang.work import between
from tests.unit import hang_jobs as jobs

SIZES = (0.5, 0.8, 1.6, 3.2)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.sampled_from([0.3, 0.5, 0.8, 1.0, 1.6]), min_size=1, max_size=3, unique=True))
def test_every_stack_has_the_fewest_pieces(sizes: list[float]) -> None:
    """Against all multisets of up to four pieces."""
    most = 3.0
    found = stacks(sizes, most)
    for total, pieces in found.items():
        assert math.fsum(pieces) == pytest.approx(total, abs=1e-6)
    for count in range(5):
        for chosen in itertools.combinations_with_replacement(sizes, count):
            total = math.fsum(chosen)
            if total <= most:
                key = min(found, key=lambda t, s=total: abs(t - s))  # type: ignore[misc]
                assert key == pytest.approx(total, abs=1e-6)
                assert len(found[key]) <= count


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.floats(0.0, 4.0), min_size=2, max_size=3),
    st.sampled_from([0.3, 0.5, 1.0]),
)
def test_packing_is_the_best_of_all_choices(distances: list[float], within: float) -> None:
    most = 3.2
    ways = stacks(SIZES, most)
    answer = pack(distances, SIZES, most, within)

    def spread(row: tuple[float, ...]) -> float:
        left = [d - t for d, t in zip(distances, row, strict=True)]
        return max(left) - min(left)

    rows = [r for r in itertools.product(ways, repeat=len(distances)) if spread(r) <= within + 1e-6]
    if isinstance(answer, CannotAddUp):
        assert not rows
        assert answer.uneven > within
    else:
        assert sum(map(len, answer)) == min(sum(len(ways[t]) for t in r) for r in rows)
        assert spread(tuple(math.fsum(p) for p in answer)) <= within + 1e-6


def test_shims_that_cannot_add_up_say_how_near_they_come() -> None:
    answer = pack([0.0, 2.0], [0.7], 1.4, 0.1)
    assert isinstance(answer, CannotAddUp)
    assert answer.uneven == pytest.approx(0.6)
    assert answer.thicknesses == ((), (0.7, 0.7))


def test_packing_stays_within_what_the_fitting_takes() -> None:
    """The lower gap must be packed by at least 1 mm, though none would be needed to be straight."""
    assert pack([5.0, 5.0], SIZES, 3.2, 0.2, [(1.0, 3.2), (0.0, 3.2)]) == ((1.6,), (1.6,))


def test_a_shop_without_thin_shims_is_told() -> None:
    coarse = replace(shipped_shop(), shims=(6.0,))
    wall = replace(coarse, mm=coarse.mm | {"shims.axis_plumb_within": 0.2})
    plan = jobs.hung(shop=wall)
    wrong = [s for s in plan.snags if s.where == "hinges of door"]
    assert wrong[0].stops
    assert "plumb" in wrong[0].wrong


# ---------------------------------------------------------------------- the rigid-body model


def pivots(packed: bool) -> np.ndarray:  # noqa: FBT001
    """Pivots (2, 3) of the hinges: in front of the wall's face and the packing by one distance."""
    work, plan = jobs.work(), jobs.hung()
    packing = next(p for p in plan.packings if p.id == "hinges of door")
    return np.array(
        [
            [work.face("left", s.at) + (s.thickness if packed else 0.0) + 20.0, 0.0, s.at]
            for s in packing.shims
        ]
    )


def out_of_plumb(points: np.ndarray) -> float:
    low, high = points[0], points[-1]
    return float(abs(high[0] - low[0]))


def test_packed_the_axis_is_plumb_within_the_tolerance_and_unpacked_it_is_not() -> None:
    within = shipped_shop().mm["shims.axis_plumb_within"]
    assert out_of_plumb(pivots(packed=False)) > within
    assert out_of_plumb(pivots(packed=True)) <= within


def test_the_strike_gap_tapers_as_a_rigid_leaf_on_that_axis_does() -> None:
    """Turn a leaf hung plumb to the axis: its strike corners move by lean times their heights."""
    points = pivots(packed=True)
    packing = next(p for p in jobs.hung().packings if p.id == "hinges of door")
    lean = (points[-1] - points[0])[0] / (points[-1] - points[0])[2]
    turned = Rotation.from_euler("y", math.atan(lean))
    corners = np.array([[700.0, 0.0, -250.0], [700.0, 0.0, 1660.0]])
    moved = turned.apply(corners) - corners
    taper = moved[1, 0] - moved[0, 0]
    rise = points[-1, 2] - points[0, 2]
    # What remains after packing is the taper over the height of the plates.
    expected = (packing.shims[0].left - packing.shims[-1].left) / rise * 1910.0
    assert taper == pytest.approx(expected, abs=1e-3)


def test_the_gap_at_each_plate_is_what_the_hinge_takes() -> None:
    """Gap of the glass to the face, less the packing, lies within the hinge's own range."""
    work, plan = jobs.work(), jobs.hung()
    joint = next(j for j in work.enclosure.joints if j.kind == "hinge")
    packing = next(p for p in plan.packings if p.id == "hinges of door")
    points = [(g.at, g.predicted.value) for g in joint.gaps]
    for shim in packing.shims:
        left = between(points, shim.at) - shim.thickness
        assert 3.175 - 1e-6 <= left <= 6.35 + 1e-6


def test_uneven_blocks_would_tilt_the_pane_and_these_do_not() -> None:
    """A pane turned by its blocks: the top moves by their unevenness over their spacing."""
    blocks = next(p for p in jobs.hung().packings if p.id.startswith("setting blocks"))
    first, second = blocks.shims
    tilt = math.atan2(second.left - first.left, second.at - first.at)
    height = jobs.work().enclosure.lite("fixed 1").height_left
    top = Rotation.from_euler("y", tilt).apply([0.0, 0.0, height])[0]
    assert abs(top) <= height * blocks.within / (second.at - first.at)
    assert blocks.uneven <= blocks.within


# ----------------------------------------------------------------------------------- settings


def test_every_joint_has_a_target_at_three_places_with_what_still_closes() -> None:
    plan = jobs.hung()
    assert [s.joint for s in plan.settings] == [j.id for j in jobs.work().enclosure.joints]
    for setting in plan.settings:
        names = [t.place for t in setting.targets]
        assert names in [["bottom", "middle", "top"], ["left", "middle", "right"]]
        assert all(t.least <= t.gap.value <= t.most for t in setting.targets)


def test_targets_are_the_predicted_gaps_at_the_ends() -> None:
    joint = next(j for j in jobs.work().enclosure.joints if j.kind == "channel")
    bottom, _, top = targets_of(joint)
    assert bottom.gap == joint.gaps[0].predicted
    assert top.gap == joint.gaps[-1].predicted


def test_bite_and_floor_and_base_add_up_to_the_channel() -> None:
    """Depth of the deep channel, 1 in: glass inside and what is left to the floor fill it."""
    setting = next(s for s in jobs.hung().settings if s.joint == "fixed 1 to right wall")
    assert setting.mark is not None
    assert setting.mark == pytest.approx(9.525)
    for bite in setting.bites:
        assert bite.bite + bite.floor == pytest.approx(25.4)
        assert bite.bite >= setting.mark
    assert setting.draw_out == pytest.approx(min(b.bite for b in setting.bites) - setting.mark)


def test_tops_come_even() -> None:
    """Every pane stands within 1/64 in of its planned height (tops even: common practice)."""
    for packing in (p for p in jobs.hung().packings if p.id.startswith("setting blocks")):
        assert all(abs(s.left) <= 25.4 / 64 + 1e-6 for s in packing.shims)


def test_no_room_for_a_block_is_said() -> None:
    """A shop with nothing thinner than a quarter of an inch cannot fill 5/32 in."""
    thick = replace(shipped_shop(), blocks=(6.35,), shims=(6.35,))
    assert any(s.where == "setting blocks of fixed 1" for s in jobs.hung(shop=thick).snags)
