"""Equilibrium of a leaf on two hinges and of a plate on its screws, by vectors."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangtrue.mechanics.door_statics import (
    HingeForces,
    Leaf,
    LeafLoad,
    PlateForce,
    hinge_forces,
    screw_forces,
)
from hangtrue.mechanics.ranges import OutOfRange

FORCE = st.floats(-500.0, 500.0)
LEAF = Leaf(mass_kg=42.0, centre=390.0, spacing=1450.0, lower_hinge=260.0)
FOUR = ((-20.0, -35.0), (20.0, -35.0), (-20.0, 35.0), (20.0, 35.0))


def reactions(forces: HingeForces) -> tuple[np.ndarray, np.ndarray]:
    """Lower and upper force on the wall as (away from it, along it, up)."""
    lower, upper = (
        np.array([f.pull_N, f.along_N, -f.down_N]) for f in (forces.lower, forces.upper)
    )
    return lower, upper


@given(opening=st.floats(-1.6, 3.1), along=FORCE, across=FORCE, down=FORCE)
def test_both_plates_balance_weight_and_load(
    opening: float, along: float, across: float, down: float
) -> None:
    """Force and moment about both horizontal axes; the torque about the hinges is left."""
    load = LeafLoad(arm=700.0, height=1000.0, along_N=along, across_N=across, down_N=down)
    forces = hinge_forces(LEAF, opening, "both", [load])
    lower, upper = reactions(forces)
    leaf = np.array([math.cos(opening), math.sin(opening), 0.0])
    face = np.array([-math.sin(opening), math.cos(opening), 0.0])
    up = np.array([0.0, 0.0, 1.0])
    push = along * leaf + across * face - down * up
    weight = -LEAF.weight_N * up
    assert lower + upper == pytest.approx(push + weight, abs=1e-6)
    moment = np.cross(700.0 * leaf + 1000.0 * up, push) + np.cross(390.0 * leaf, weight)
    held = np.cross(260.0 * up, lower) + np.cross(1710.0 * up, upper)
    assert held[:2] == pytest.approx(moment[:2], abs=1e-5)
    assert forces.torque_Nmm == pytest.approx(moment[2], abs=1e-5)


def test_the_couple_turns_with_the_leaf() -> None:
    """Pull H cos t and shear along the wall H sin t."""
    couple_N = LEAF.weight_N * 390.0 / 1450.0
    for opening in (0.0, 0.4, math.pi / 2):
        upper = hinge_forces(LEAF, opening).upper
        assert upper.pull_N == pytest.approx(couple_N * math.cos(opening), abs=1e-9)
        assert upper.along_N == pytest.approx(couple_N * math.sin(opening), abs=1e-9)


@given(pull=st.floats(0.0, 500.0), along=FORCE, down=FORCE, stand_off=st.floats(0.0, 60.0))
def test_screws_balance_the_plate(pull: float, along: float, down: float, stand_off: float) -> None:
    """With a pull large enough that no screw is pressed, forces and moments add up."""
    pull += 20_000.0
    found = screw_forces(PlateForce(pull_N=pull, along_N=along, down_N=down), FOUR, stand_off)
    each = [np.array([s.tension_N, s.along_N, -s.down_N]) for s in found]
    at = [np.array([0.0, y, z]) for y, z in FOUR]
    force = np.array([pull, along, -down])
    assert sum(each) == pytest.approx(force, abs=1e-6)
    moment = sum(np.cross(r, f) for r, f in zip(at, each, strict=True))
    assert moment == pytest.approx(np.cross([stand_off, 0.0, 0.0], force), abs=1e-4)


def test_a_plate_that_stands_off_pulls_its_upper_row() -> None:
    """V e / s for the row, half of it for each of its two screws; the lower row is pressed."""
    found = screw_forces(PlateForce(pull_N=0.0, along_N=0.0, down_N=400.0), FOUR, 25.0)
    assert [s.tension_N for s in found] == pytest.approx(
        [0.0, 0.0, 400 * 25 / 70 / 2, 400 * 25 / 70 / 2]
    )
    assert all(s.shear_N == pytest.approx(100.0) for s in found)


def test_screws_beside_the_force_twist_as_well() -> None:
    """A group whose middle is 30 mm to the side of the force."""
    aside = tuple((y + 30.0, z) for y, z in FOUR)
    found = screw_forces(PlateForce(pull_N=0.0, along_N=0.0, down_N=400.0), aside, 0.0)
    assert sum(s.down_N for s in found) == pytest.approx(400.0)
    assert sum(s.along_N for s in found) == pytest.approx(0.0, abs=1e-9)
    twist = sum(s.along_N * z + s.down_N * y for s, (y, z) in zip(found, aside, strict=True))
    assert twist == pytest.approx(0.0, abs=1e-9)


def test_one_row_cannot_take_a_moment_across_it() -> None:
    row = ((0.0, -30.0), (0.0, 30.0))
    with pytest.raises(OutOfRange, match="along the wall"):
        screw_forces(PlateForce(pull_N=10.0, along_N=50.0, down_N=100.0), row, 25.0)
    with pytest.raises(OutOfRange, match="number of screws"):
        screw_forces(PlateForce(pull_N=10.0, along_N=50.0, down_N=100.0), (), 25.0)
