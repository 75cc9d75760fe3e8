"""What must be true of rows that turn, step and slope: simple panes, mirrors, gaps found again.

The panes are put back into the room as a fitter would see them, from above and from the front, by
the drawn panes and the plan of the glass line alone; shapely measures the distances.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any, Literal

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from shapely import LineString, Point, Polygon

from hangtrue.fit import fit
from hangtrue.fit.enclosure import Enclosure, Joint, Lite
from hangtrue.geometry import is_simple
from hangtrue.job.brief import Brief
from hangtrue.job.document import Turn, WantedLite
from hangtrue.measure.opening import Opening
from hangtrue.units import Angle, Length
from tests.openings import Step, brief, turned

SLOW = settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
JOINTS = ("butt", "mitre", "clamp")
OTHER: dict[str, Any] = {"left": "right", "right": "left", "before": "after", "after": "before"}


@st.composite
def layouts(draw: st.DrawFn) -> dict[str, Any]:
    """Draw a row of one to three runs with steps below and perhaps a ceiling above."""
    runs = draw(st.integers(1, 3))
    angles = [draw(st.sampled_from([75.0, 90.0, 110.0, 135.0])) for _ in range(runs - 1)]
    lengths = [draw(st.integers(450, 900)) + draw(st.floats(0.0, 1.0)) for _ in range(runs)]
    steps: list[Step] = []
    for run in range(1, runs + 1):
        if not draw(st.booleans()):
            continue
        length, side = lengths[run - 1], draw(st.sampled_from(["left", "right", "all", "middle"]))
        low = None if side in ("left", "all") else 0.6 * length if side == "right" else 0.4 * length
        high = (
            None if side in ("right", "all") else 0.35 * length if side == "left" else 0.6 * length
        )
        top = draw(st.integers(50, 900))
        steps.append((f"step {run}", run, low, high, top, top - draw(st.floats(-6.0, 6.0))))
    slopes = draw(st.booleans())
    return {
        "lengths": lengths,
        "angles": angles,
        "ways": [draw(st.sampled_from(["in", "out"])) for _ in angles],
        "joints": [draw(st.sampled_from(JOINTS)) for _ in angles],
        "laps": [draw(st.sampled_from(["before", "after"])) for _ in angles],
        "curb": [draw(st.floats(-4.0, 4.0)) for _ in range(runs + 1)],
        "ceiling": [2200.0 + draw(st.floats(-90.0, 90.0)) for _ in range(runs + 1)]
        if slopes
        else [],
        "steps": steps,
        "leans": (draw(st.floats(-6.0, 6.0)), draw(st.floats(-6.0, 6.0))),
        "sd": draw(st.sampled_from([0.0, 0.5])),
    }


def room(drawn: dict[str, Any]) -> Opening:
    return turned(
        *drawn["lengths"], angles=drawn["angles"], curb=drawn["curb"],
        ceiling=drawn["ceiling"] or None, steps=drawn["steps"],
        leans=drawn["leans"], sd=drawn["sd"],
    )  # fmt: skip


def wishes(drawn: dict[str, Any]) -> Brief:
    corners = [
        Turn(angle=Angle(math.radians(angle)), way=way, joint=joint, laps=laps)
        for angle, way, joint, laps in zip(
            drawn["angles"], drawn["ways"], drawn["joints"], drawn["laps"], strict=True
        )
    ]
    head: Literal["ceiling", "level"] = "ceiling" if drawn["ceiling"] else "level"
    lites = [WantedLite(kind="fixed", turn=t, head=head) for t in (None, *corners)]
    return brief(*lites)


def enclosures(drawn: dict[str, Any]) -> list[Enclosure]:
    every = [a.made for a in fit(wishes(drawn), room(drawn))]
    return [made for made in every if isinstance(made, Enclosure)]


# ---------------------------------------------------------------------- seen again


def from_above(enclosure: Enclosure, pane: Lite, x: float, longer: float) -> Polygon:
    """A pane in plan where its left edge stands (x = 0) or its right (1); longer at that end."""
    run = enclosure.run(pane.run)
    t, (left, right) = pane.thickness, (pane.origin[0] + pane.corners[k][0] for k in (0, 1))
    a, b = (t * math.tan(pane.bevel(side)) for side in ("left", "right"))
    off = pane.shifts[1] if x else pane.shifts[0]
    left, right = (left, right + longer) if x else (left - longer, right)
    ring = [(left, -t / 2), (right, -t / 2), (right - b, t / 2), (left + a, t / 2)]
    return Polygon([run.plan(along, off + across) for along, across in ring])


def beside(enclosure: Enclosure, joint: Joint) -> float:
    """Distance of two panes at a corner, each where its edge there stands.

    A pane that laps may end a little short of flush: it is drawn on, so that its face is measured.
    """
    one, two = (enclosure.lite(pane) for pane in joint.between)
    laps = joint.corner.laps if joint.corner else None
    return float(
        from_above(enclosure, one, 1.0, 30.0 * (laps == one.id)).distance(
            from_above(enclosure, two, 0.0, 30.0 * (laps == two.id))
        )
    )


def base_z(shape: Opening, drawn: dict[str, Any], run: int, x: float, name: str) -> float:
    """Height of the curb or of a cap at x, by plain interpolation."""
    marks = [sum(drawn["lengths"][:k]) for k in range(len(drawn["lengths"]) + 1)]
    if name == "curb":
        (x0, x1), (z0, z1) = marks[run - 1 : run + 1], drawn["curb"][run - 1 : run + 1]
        return float(z0 + (z1 - z0) * (x - x0) / (x1 - x0))
    _, _, low, high, z0, z1 = next(s for s in drawn["steps"] if s[0] == name)
    x0 = marks[run - 1] + low if low is not None else marks[run - 1]
    x1 = marks[run - 1] + high if high is not None else marks[run]
    if run == 1 and low is None:
        x0 = shape.estimate(shape.end("left")).value
    if run == len(marks) - 1 and high is None:
        x1 = shape.estimate(shape.end("right")).value
    return float(z0 + (z1 - z0) * (x - x0) / (x1 - x0))


def foot_z(pane: Lite, x: float) -> float:
    """Height of the lowest glass of a pane at x."""
    along = x - pane.origin[0]
    line = LineString([(along, -10.0), (along, 5000.0)])
    return pane.origin[1] + float(Polygon(pane.outline).intersection(line).bounds[1])


@SLOW
@given(drawn=layouts())
def test_every_pane_is_one_simple_piece(drawn: dict[str, Any]) -> None:
    for enclosure in enclosures(drawn):
        for pane in enclosure.lites:
            assert is_simple(pane.outline), pane.id
            shape = Polygon(pane.outline)
            assert pane.area == pytest.approx(shape.area)
            assert pane.centroid == pytest.approx((shape.centroid.x, shape.centroid.y), abs=1e-6)
            assert shape.exterior.distance(Point(pane.centroid)) > 0
            for notch in pane.steps:
                assert notch.radius > 0
            for chain in pane.chains:
                total = chain.opening + sum(d.amount for d in chain.deductions)
                assert total == pytest.approx(chain.glass, abs=1e-6)


@SLOW
@given(drawn=layouts())
def test_gaps_at_corners_are_found_again_in_plan(drawn: dict[str, Any]) -> None:
    """The distance is the gap; that of two arrises out of flush is a little more."""
    for enclosure in enclosures(drawn):
        for joint in enclosure.corners:
            gap = joint.gaps[0].predicted.value
            exact = joint.corner is not None and joint.corner.joint != "clamp"
            assert beside(enclosure, joint) == pytest.approx(gap, abs=1e-6 if exact else 3.0)
            assert beside(enclosure, joint) >= gap - 1e-6


@SLOW
@given(drawn=layouts())
def test_gaps_below_and_at_risers_are_found_again_from_the_outline(drawn: dict[str, Any]) -> None:
    shape = room(drawn)
    for enclosure in enclosures(drawn):
        for joint in enclosure.joints:
            if joint.upright:
                if "riser" in joint.id:
                    assert_beside_riser(enclosure, shape, joint)
                continue
            pane, on = enclosure.lite(joint.between[0]), joint.between[1]
            for gap in joint.gaps:
                if on == "ceiling":
                    top = pane.origin[1] + top_y(pane, gap.at)
                    found = shape.estimate(shape.ceiling(gap.at)).value - top
                else:
                    # A hair inside: at an end of a cap the outline jumps down to the next.
                    ends = [g.at for g in joint.gaps]
                    x = gap.at + 1.5 * math.copysign(1.0, sum(ends) / len(ends) - gap.at)
                    ground = base_z(shape, drawn, pane.run, x, on)
                    if not pane.origin[0] < x < pane.origin[0] + pane.width_bottom:
                        continue
                    found = foot_z(pane, x) - ground
                assert found == pytest.approx(gap.predicted.value, abs=0.05), joint.id


def top_y(pane: Lite, x: float) -> float:
    (x0, y0), (x1, y1) = pane.corners[3], pane.corners[2]
    return y0 + (y1 - y0) * (x - pane.origin[0] - x0) / (x1 - x0)


def assert_beside_riser(enclosure: Enclosure, shape: Opening, joint: Joint) -> None:
    """From the riser level to the glass, half way up."""
    pane = next(p for p in enclosure.lites if p.id in joint.between)
    name = next(end for end in joint.between if end != pane.id)
    left = joint.id.endswith("left riser")
    step = shape.step(name)
    x = shape.estimate(step.left if left else step.right).value
    z = sum(g.at for g in joint.gaps) / len(joint.gaps)
    level = LineString([(-5000.0, z - pane.origin[1]), (x - pane.origin[0], z - pane.origin[1])])
    if not left:
        level = LineString([(x - pane.origin[0], z - pane.origin[1]), (5000.0, z - pane.origin[1])])
    glass = Polygon(pane.outline).intersection(level).bounds
    found = x - pane.origin[0] - glass[2] if left else glass[0] - (x - pane.origin[0])
    assert found == pytest.approx(joint.gaps[0].predicted.value, abs=1e-6)


# ---------------------------------------------------------------------- mirrors


def mirrored(drawn: dict[str, Any]) -> dict[str, Any]:
    lengths = drawn["lengths"]
    back = [
        (
            name, len(lengths) + 1 - run,
            None if high is None else lengths[run - 1] - high,
            None if low is None else lengths[run - 1] - low,
            right, left,
        )
        for name, run, low, high, left, right in drawn["steps"]
    ]  # fmt: skip
    flipped = {
        key: list(drawn[key])[::-1]
        for key in ("lengths", "angles", "ways", "joints", "curb", "ceiling", "leans")
    }
    return {
        **drawn,
        **flipped,
        "laps": [OTHER[x] for x in drawn["laps"][::-1]],
        "steps": back[::-1],
    }


@SLOW
@given(drawn=layouts())
def test_a_mirrored_room_gets_the_mirror_image_of_every_pane(drawn: dict[str, Any]) -> None:
    """With what leans and falls taken out, sizes are unique and every pane mirrors."""
    steady = {**drawn, "leans": (0.0, 0.0), "curb": [0.0] * len(drawn["curb"])}
    here, there = enclosures(steady), enclosures(mirrored(steady))
    assert len(here) == len(there)
    for one, other in zip(here, there, strict=True):
        grid = 1.0
        for a, b in zip(one.lites, other.lites[::-1], strict=True):
            assert a.width_bottom == pytest.approx(b.width_bottom, abs=grid + 1e-6)
            assert a.height_left == pytest.approx(b.height_right, abs=grid + 1e-6)
            assert a.area == pytest.approx(b.area, rel=0.01)
            assert len(a.outline) == len(b.outline)
            assert len(a.steps) == len(b.steps)


def test_a_door_hung_right_is_the_mirror_image_of_one_hung_left() -> None:
    """The whole of a return over a knee wall, seen from inside."""
    corner = Turn(angle=Angle(math.pi / 2))
    steps: list[Step] = [
        ("end", 1, 900.0, None, 600.0, 600.0),
        ("wall", 2, None, None, 600.0, 600.0),
    ]
    here = turned(1000.0, 700.0, angles=(90.0,), steps=steps, sd=0.3)
    job = brief(
        WantedLite(kind="door", width=Length(650.0)), "fixed", WantedLite(kind="fixed", turn=corner)
    )
    there = turned(
        700.0, 1000.0, angles=(90.0,), sd=0.3,
        steps=[("wall", 1, None, None, 600.0, 600.0), ("end", 2, None, 100.0, 600.0, 600.0)],
    )  # fmt: skip
    back = brief(
        "fixed",
        WantedLite(kind="fixed", turn=corner.model_copy(update={"laps": "after"})),
        WantedLite(kind="door", width=Length(650.0)),
        hinge_side="right",
    )
    (one,), (other,) = fit(job, here), fit(back, there)
    assert isinstance(one.made, Enclosure)
    assert isinstance(other.made, Enclosure)
    for a, b in zip(one.made.lites, other.made.lites[::-1], strict=True):
        width = a.width_bottom
        turned_over = sorted((round(width - x, 4), round(y, 4)) for x, y in b.outline)
        assert turned_over == sorted((round(x, 4), round(y, 4)) for x, y in a.outline)
        assert a.origin[0] + b.origin[0] + width == pytest.approx(1700.0, abs=1e-6)
    assert one.made.margin.sigmas == pytest.approx(other.made.margin.sigmas, abs=1e-6)


def test_glass_and_mass_of_a_stepped_pane_by_hand() -> None:
    """A rectangle less the rectangle over the step."""
    steps: list[Step] = [("bench", 1, 700.0, None, 400.0, 400.0)]
    (found,) = fit(brief("fixed"), turned(1000.0, steps=steps))
    assert isinstance(found.made, Enclosure)
    (pane,) = found.made.lites
    (notch,) = pane.steps
    (x0, x1), (y0, y1) = ((min(values), max(values)) for values in zip(*notch.corners, strict=True))
    w, h = pane.width_bottom, pane.height_left
    cut = (x1 - x0) * (y1 - y0)
    assert pane.area == pytest.approx(w * h - cut)
    assert pane.mass_kg == pytest.approx((w * h - cut) * 10.0 * 2.5e-6)
    middle = (
        (w * h * w / 2 - cut * (x0 + x1) / 2) / (w * h - cut),
        (w * h * h / 2 - cut * (y0 + y1) / 2) / (w * h - cut),
    )
    assert pane.centroid == pytest.approx(middle)
    assert pane.lower == ((0.0, 0.0), (x0, 0.0), (x0, y1), (w, y1))
    assert replace(pane, notches=()).steps == ()


# ---------------------------------------------------------------------- on the day

CHANNEL = 12.7
"""Working range of the shipped deep channel, mm."""
SEAL = 1.5875
"""Working range of the shipped butt joint, mm."""


def wall_mean(shape: Opening, errors: np.ndarray, side: str, joint: Joint) -> np.ndarray:
    """Mean error of a wall's face over a joint, for every draw: straight between its nodes."""
    first = shape.unknowns.index(f"{side} {shape.heights[0]:.1f}")
    nodes = errors[:, first : first + len(shape.heights)]
    z = np.linspace(joint.gaps[0].at, joint.gaps[-1].at, 400)
    drawn = np.array([np.interp(z, shape.heights, row) for row in nodes[:4000]])
    mean: np.ndarray = drawn.mean(axis=1)
    return mean


def test_the_spread_at_a_corner_is_that_of_panes_set_in_drawn_rooms() -> None:
    """Butt at 90 degrees: of what the second run is off, wall, gap and a step aside take shares.

    The channel takes 12.7 mm, the corner its 1.6 mm and the 4 mm that the lapping pane can step
    aside in or out; the gap shows its part of the corner's.
    """
    shape = turned(600.0, 500.0, angles=(90.0,), sd=0.8)
    corner = WantedLite(kind="fixed", turn=Turn(angle=Angle(math.pi / 2)))
    job = brief("fixed", corner)
    (found,) = fit(job, shape)
    assert isinstance(found.made, Enclosure)
    errors = np.random.default_rng(3).normal(size=(4000, len(shape.shape))) * np.sqrt(
        np.diag(shape.covariance)
    )
    cut = np.random.default_rng(4).normal(
        scale=float(job.profile.plant.size_tolerance) / 2, size=4000
    )
    (joint,) = found.made.corners
    wall = next(j for j in found.made.joints if j.between == ("fixed 2", "right wall"))
    mark = errors[:, shape.unknowns.index("corner 1")]
    off = wall_mean(shape, errors, "right", wall) - mark - cut
    turn = errors[:, shape.unknowns.index("angle 1")] * 5.0
    drawn = off * SEAL / (SEAL + 4.0 + CHANNEL) + turn
    expected = math.hypot(float(drawn.std()), float(job.profile.setting_sd))
    assert joint.gaps[0].predicted.sd == pytest.approx(expected, rel=0.03)


def test_the_spread_beside_a_riser_is_that_of_panes_set_in_drawn_rooms() -> None:
    """One pane between two channels takes the middle; its step goes with its left edge."""
    steps: list[Step] = [("deck", 1, 700.0, None, 150.0, 150.0)]
    shape = turned(1000.0, steps=steps, sd=0.8)
    job = brief("fixed")
    (found,) = fit(job, shape)
    assert isinstance(found.made, Enclosure)
    rng = np.random.default_rng(5)
    errors = rng.normal(size=(4000, len(shape.shape))) * np.sqrt(np.diag(shape.covariance))
    tolerance = float(job.profile.plant.size_tolerance) / 2
    cut, stepped = rng.normal(scale=tolerance, size=(2, 4000))
    left, right = (
        wall_mean(shape, errors, side, next(j for j in found.made.joints if f"{side} wall" in j.id))
        for side in ("left", "right")
    )
    x = left + 0.5 * (right - left - cut)
    drawn = errors[:, shape.unknowns.index("step deck left")] - x - stepped
    joint = next(j for j in found.made.joints if "riser" in j.id)
    expected = math.hypot(float(drawn.std()), float(job.profile.setting_sd))
    assert joint.gaps[0].predicted.sd == pytest.approx(expected, rel=0.03)
