"""Glass on clamps through holes, from the document to its proofs: it is solved, and holds or not.

Each job is the Gull room with other hardware; the right wall carries the fixed pane.
"""

from __future__ import annotations

from io import StringIO
from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML

from hangtrue.check.finding import Finding, Level
from hangtrue.job.read import read_job_text
from hangtrue.mechanics.plate import solve
from hangtrue.mechanics.plate_model import EdgeSupport, PatchSupport, Plate, PlateFault, Pressure
from hangtrue.plan import plan, prove

GULL = Path(__file__).parents[2] / "examples" / "lodge" / "gull.yaml"
CLAMPS = {"wall": "clamp-wall-square", "curb": "clamp-wall-square"}


def found(rule: str, *, behind: str = "blocking", bar: bool = False) -> list[Finding]:
    """Findings of a rule about the fixed pane on clamps, in front of that wall."""
    yaml = YAML()
    room: Any = yaml.load(GULL.read_text("utf-8"))
    room["hardware"] = CLAMPS
    room["walls"]["right"]["behind"] = behind
    if bar:
        room["wanted"]["bars"] = [{"kind": "support", "holds": "fixed 1", "to": "right wall"}]
    out = StringIO()
    yaml.dump(room, out)
    brief, problems = read_job_text(out.getvalue(), GULL.parent)
    assert brief is not None, problems
    return [f for f in prove(plan(brief)).best.findings if f.rule == rule]


def test_a_pane_on_clamps_is_bent_like_any_other() -> None:
    """Its holes lie under the clamps that grip it."""
    (fixed,) = [f for f in found("glass-stress") if f.where == "fixed 1"]
    assert fixed.value is not None
    assert 5.0 < fixed.value.value < 100.0


def test_two_clamps_of_a_free_pane_are_too_few_and_a_bar_helps() -> None:
    (alone,) = found("fixed-screws")
    assert alone.level is Level.WARN
    assert "by a bar" in alone.do
    barred = found("fixed-screws", bar=True)
    assert {f.level for f in barred} == {Level.PASS}
    assert len(barred) == 2


def test_no_pane_hangs_by_clamps_on_a_hollow_wall() -> None:
    (hollow,) = found("fixed-screws", behind="hollow")
    assert hollow.level is Level.FAIL
    assert "solid wood" in hollow.do


def test_a_masonry_wall_is_told_the_working_load_of_each_screw() -> None:
    (masonry,) = found("fixed-screws", behind="masonry")
    assert masonry.level is Level.NOT_CHECKED
    assert "working load" in masonry.found


def ring(x: float, y: float, size: float) -> tuple[tuple[float, float], ...]:
    half = size / 2
    return ((x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half))


def plate(*holes: tuple[tuple[float, float], ...]) -> Plate:
    """A pane on its foot with one clamp, 45 mm square, around (25, 1500)."""
    return Plate(
        outline=((0.0, 0.0), (700.0, 0.0), (700.0, 1900.0), (0.0, 1900.0)),
        holes=holes,
        thickness=9.02,
        youngs_modulus_MPa=71_700.0,
        poisson=0.22,
        supports=(
            EdgeSupport(start=(0.0, 0.0), end=(700.0, 0.0)),
            PatchSupport(outline=ring(25.0, 1500.0, 45.0), stiffness_N_per_mm3=20.0),
        ),
    )


def test_a_clamp_over_its_hole_grips_the_glass_around_it() -> None:
    """A little softer than without the hole, and in equilibrium."""
    push = [Pressure(pressure_MPa=1e-4)]
    whole, bored = solve(plate(), push), solve(plate(ring(30.0, 1500.0, 16.0)), push)
    assert bored.largest_deflection == pytest.approx(whole.largest_deflection, rel=0.05)
    total = sum(r.force_N for r in bored.reactions)
    assert total == pytest.approx(-1e-4 * (700 * 1900 - 16**2), rel=1e-5)


def test_a_clamp_with_hardly_any_glass_is_no_support() -> None:
    with pytest.raises(PlateFault, match="not on the glass"):
        solve(plate(ring(26.0, 1500.0, 42.0)), [Pressure(pressure_MPa=1e-4)])
