"""What must be true of any fit: mirrors, shifts, sums, gaps found again from the glass alone."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hangtrue.fit import fit
from hangtrue.fit.enclosure import Enclosure, Joint, Lite, NoFit
from hangtrue.geometry import at_height, is_simple
from hangtrue.measure.opening import Opening
from tests.openings import brief, made, opening

LAYOUTS = [("door",), ("door", "fixed"), ("fixed", "door"), ("fixed", "door", "fixed"), ("fixed",)]
OTHER = {"left": "right", "right": "left"}

leans = st.floats(-9.0, 9.0)
bows = st.floats(-3.0, 3.0)


@st.composite
def rooms(draw: st.DrawFn) -> Opening:
    """Draw a room as a tiler may leave it, or a little worse."""
    return opening(
        width=draw(st.floats(900.0, 1900.0)),
        lean_left=draw(leans),
        lean_right=draw(leans),
        bow_left=draw(bows),
        bow_right=draw(bows),
        curb=(draw(leans), draw(leans)),
        sd=draw(st.sampled_from([0.0, 0.4, 1.5])),
    )


def face(room: Opening, side: str, z: float) -> float:
    """x of a wall, by plain interpolation between its nodes."""
    first = room.unknowns.index(f"{side} {room.heights[0]:.1f}")
    nodes = room.shape[first : first + len(room.heights)]
    return float(np.interp(z, room.heights, nodes))


def curb(room: Opening, x: float) -> float:
    left, right = (room.shape[room.unknowns.index(f"curb {side}")] for side in OTHER)
    return float(np.interp(x, [face(room, "left", 0.0), face(room, "right", 0.0)], [left, right]))


def edge_x(pane: Lite, side: str, z: float) -> float:
    """x in the room of an upright edge of a pane at a height."""
    bl, br, tr, tl = pane.corners
    low, high = (bl, tl) if side == "left" else (br, tr)
    return pane.origin[0] + at_height(low, high, z - pane.origin[1])


def foot_z(pane: Lite, x: float) -> float:
    (x0, y0), (x1, y1) = pane.corners[:2]
    along = x - pane.origin[0]
    return pane.origin[1] + y0 + (y1 - y0) * (along - x0) / (x1 - x0)


def gap_again(enclosure: Enclosure, room: Opening, joint: Joint, at: float) -> float:
    """Find a gap again from the drawn panes and the opening, without the program's own sums."""
    if not joint.upright:
        return foot_z(enclosure.lite(joint.between[0]), at) - curb(room, at)
    left, right = joint.between
    x_left = (
        face(room, "left", at) if left == "left wall" else edge_x(enclosure.lite(left), "right", at)
    )
    x_right = (
        face(room, "right", at)
        if right == "right wall"
        else edge_x(enclosure.lite(right), "left", at)
    )
    return x_right - x_left


@settings(max_examples=60)
@given(room=rooms(), lites=st.sampled_from(LAYOUTS), free=st.booleans())
def test_any_room_gets_an_answer_that_holds(
    *, room: Opening, lites: tuple[str, ...], free: bool
) -> None:
    """Every gap is found again from the glass, is inside its range, and panes are whole."""
    side = "free" if free else "left"
    for way in fit(brief(*lites, hinge_side=side), room):
        for one in (way.made, way.squared):
            if isinstance(one, NoFit):
                assert one.missing > 0
                assert one.clashes
            elif one is not None:
                holds(one, room)


def holds(enclosure: Enclosure, room: Opening) -> None:
    for joint in enclosure.joints:
        for gap in joint.gaps:
            again = gap_again(enclosure, room, joint, gap.at)
            assert gap.predicted.value == pytest.approx(again, abs=1e-6)
            # what the program linearises away is a product of two small slopes: some microns
            assert gap.margin >= -0.01
    margins = [gap.margin for joint in enclosure.joints for gap in joint.gaps]
    assert enclosure.margin.mm >= min(margins) - 1e-9
    tops = [pane.origin[1] + pane.corners[2][1] for pane in enclosure.lites]
    assert np.ptp(tops) == pytest.approx(0.0, abs=1e-6)
    for pane in enclosure.lites:
        assert is_simple(pane.outline)
        assert pane.mass_kg > 0


def mirror(room: Opening) -> Opening:
    """Look at the same room from inside the shower."""
    n = len(room.heights)
    left, right = room.shape[:n], room.shape[n : 2 * n]
    rest = room.shape[2 * n :].copy()
    rest[[0, 1]], rest[[2, 3]] = rest[[1, 0]], rest[[3, 2]]
    at_floor = right[room.heights.index(0.0)]
    shape = np.concatenate([at_floor - right, at_floor - left, rest])
    return replace(room, shape=shape)


@settings(max_examples=40)
@given(room=rooms(), lites=st.sampled_from(LAYOUTS[:4]))
def test_the_mirror_image_of_a_room_gets_mirrored_panes(
    room: Opening, lites: tuple[str, ...]
) -> None:
    (there,) = fit(brief(*lites, hinge_side="left"), room)
    (here,) = fit(brief(*lites[::-1], hinge_side="right"), mirror(room))
    assert type(there.made) is type(here.made)
    if isinstance(there.made, NoFit) or isinstance(here.made, NoFit):
        return
    assert there.made.margin.sigmas == pytest.approx(here.made.margin.sigmas, abs=1e-6)
    for pane, image in zip(there.made.lites, here.made.lites[::-1], strict=True):
        assert pane.width_bottom == pytest.approx(image.width_bottom, abs=1e-6)
        assert pane.width_top == pytest.approx(image.width_top, abs=1e-6)
        assert pane.height_left == pytest.approx(image.height_right, abs=1e-6)
        assert pane.height_right == pytest.approx(image.height_left, abs=1e-6)
        assert pane.mass_kg == pytest.approx(image.mass_kg, rel=1e-9)


@settings(max_examples=25)
@given(room=rooms(), by=st.floats(-500.0, 500.0))
def test_where_x_begins_changes_nothing(room: Opening, by: float) -> None:
    n = 2 * len(room.heights)
    shape = room.shape.copy()
    shape[:n] += by
    (here,) = fit(brief("door", "fixed"), room)
    (there,) = fit(brief("door", "fixed"), replace(room, shape=shape))
    assert type(here.made) is type(there.made)
    if isinstance(here.made, Enclosure) and isinstance(there.made, Enclosure):
        for pane, same in zip(here.made.lites, there.made.lites, strict=True):
            assert np.array(same.corners) == pytest.approx(np.array(pane.corners), abs=1e-6)
            assert same.origin[0] - pane.origin[0] == pytest.approx(by, abs=1e-6)


def test_how_well_the_frame_is_known_changes_nothing() -> None:
    """An error that shifts both walls alike, or lifts the whole curb, is no error of any gap."""
    room = opening(lean_right=4.0, sd=0.5)
    alike = np.zeros(len(room.shape))
    alike[: 2 * len(room.heights)] = 1.0
    lift = np.array([name.startswith("curb") for name in room.unknowns], dtype=float)
    loose = replace(
        room,
        covariance=room.covariance + 900.0 * np.outer(alike, alike) + 400.0 * np.outer(lift, lift),
    )
    for lites in LAYOUTS:
        tight, slack = (made(fit(brief(*lites), r)) for r in (room, loose))
        for joint, same in zip(tight.joints, slack.joints, strict=True):
            for gap, again in zip(joint.gaps, same.gaps, strict=True):
                assert gap.predicted.sd == pytest.approx(again.predicted.sd, abs=1e-6)


@pytest.mark.parametrize("more", [7.0, 50.0, 133.0])
@pytest.mark.parametrize(("lites", "width"), [(("door",), 750.0), (("door", "fixed"), 1400.0)])
def test_a_wider_opening_takes_wider_glass(
    lites: tuple[str, ...], width: float, more: float
) -> None:
    """By just as much, but for what rounding each pane down to whole mm may lose."""
    narrow, wide = (
        math.fsum(pane.width_bottom for pane in made(fit(brief(*lites), opening(width=w))).lites)
        for w in (width, width + more)
    )
    assert wide - narrow == pytest.approx(more, abs=len(lites) * 1.0)


def test_a_poorer_survey_leaves_less_margin() -> None:
    margins = [
        made(fit(brief("door", "fixed"), opening(lean_right=5.0, sd=sd))).margin.sigmas
        for sd in (0.0, 0.7, 1.4, 2.1)
    ]
    assert margins == sorted(margins, reverse=True)


def test_the_spread_of_gaps_is_that_of_panes_set_in_drawn_rooms() -> None:
    """Draw the opening and the plant's errors, share what is off as a fitter would, and compare.

    Door and fixed pane; the standard deviations printed with the gaps must be those of the
    drawn gaps, within the noise of 20,000 draws (about half a percent, here allowed 3 %).
    """
    rng = np.random.default_rng(7)
    room = opening(lean_right=6.0, sd=0.8)
    job = brief("door", "fixed")
    enclosure = made(fit(job, room))
    upright = [joint for joint in enclosure.joints if joint.upright]
    takes_up = np.array([min(gap.most - gap.least for gap in j.gaps) for j in upright])
    share = takes_up / takes_up.sum()
    draws = 20_000
    errors = rng.normal(size=(draws, len(room.shape))) * np.sqrt(np.diag(room.covariance))
    cut = rng.normal(scale=float(job.profile.plant.size_tolerance) / 2, size=(draws, 2)).sum(axis=1)
    n = len(room.heights)
    walls = {"left": errors[:, :n], "right": errors[:, n : 2 * n]}

    def at(side: str, z: float) -> np.ndarray:
        nodes = walls[side].T
        k = int(np.searchsorted(room.heights, z)) or 1
        low, high = room.heights[k - 1], room.heights[k]
        share = (z - low) / (high - low)
        drawn: np.ndarray = (1.0 - share) * nodes[k - 1] + share * nodes[k]
        return drawn

    def mean(side: str, joint: Joint) -> np.ndarray:
        zs = np.array([gap.at for gap in joint.gaps])
        values = np.array([at(side, z) for z in zs])
        whole: np.ndarray = ((values[1:] + values[:-1]) / 2 * np.diff(zs)[:, None]).sum(axis=0)
        average: np.ndarray = whole / np.ptp(zs)
        return average

    left, right = mean("left", upright[0]), mean("right", upright[-1])
    off = right - left - cut
    setting = float(job.profile.setting_sd)
    for k, joint in enumerate(upright):
        for gap in joint.gaps:
            drawn = share[k] * off
            if joint.between[0] == "left wall":
                drawn = drawn - (at("left", gap.at) - left)
            if joint.between[1] == "right wall":
                drawn = drawn + (at("right", gap.at) - right)
            sd = math.hypot(float(drawn.std()), setting)
            assert gap.predicted.sd == pytest.approx(sd, rel=0.03)
