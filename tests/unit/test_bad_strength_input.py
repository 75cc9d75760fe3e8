"""What is wrong on paper about hinges, holes, bars, screws and the way in: said, never a traceback.

Each job is one good room with one thing wrong; it is read, planned and proved as on the command
line. Wrong input is a problem with its line, or a finding that is not a pass.
"""

from __future__ import annotations

from io import StringIO
from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML

from hangtrue.check.finding import Finding, Level
from hangtrue.job.read import read_job_text
from hangtrue.plan import plan, prove

GULL = Path(__file__).parents[2] / "examples" / "lodge" / "gull.yaml"
HINGE: dict[str, Any] = {
    "id": "our-hinge", "title": "Our hinge", "kind": "hinge", "mount": "wall",
    "gap": {"least": "1/8 in", "usual": "3/16 in", "most": "1/4 in"}, "shim_most": "1/8 in",
    "between": {"least": "1/16 in", "usual": "3/16 in", "most": "3/8 in"},
    "plate_height": "3-1/2 in", "plate_width": "2 in", "screws": 4, "screw_rows": "2-1/2 in",
    "cut_outs": [{"shape": "notch", "width": "1-5/8 in", "height": "2-1/2 in",
                  "radius": "1/2 in"}],
    "mass_kg": 36.0, "door_width_most": "28 in", "glass_least": "10 mm", "glass_most": "12 mm",
}  # fmt: skip
HANDLE: dict[str, Any] = {
    "id": "our-handle", "title": "Our handle", "kind": "handle", "from_edge": "2-1/2 in",
    "holes": [{"shape": "hole", "width": "1-1/2 in", "along": f"{way}1/4 in"} for way in ("", "-")],
}  # fmt: skip


def job(**changes: Any) -> str:
    """Write the Gull room with other tables at its top, and within its wishes."""
    yaml = YAML()
    room: Any = yaml.load(GULL.read_text("utf-8"))
    room["wanted"].update(changes.pop("wanted", {}))
    room.update(changes)
    out = StringIO()
    yaml.dump(room, out)
    return out.getvalue()


def hinge(**changes: Any) -> str:
    return job(hardware={"hinge": "our-hinge"}, items=[HINGE | changes])


def findings(text: str) -> tuple[Finding, ...]:
    """Read, plan and prove; every problem must be one that lets it be planned."""
    brief, _ = read_job_text(text, GULL.parent)
    assert brief is not None
    return prove(plan(brief)).best.findings


def problems(text: str) -> list[str]:
    return [str(problem) for problem in read_job_text(text, GULL.parent)[1]]


CUT: dict[str, Any] = HINGE["cut_outs"][0]
UNPROVED = {
    "hinges outside a door that is too low": (job(wanted={"height": 12}), "glass-stress"),
    "a hinge cut taller than the door": (
        hinge(cut_outs=[CUT | {"height": "90 in"}]), "cut-out-rules",
    ),
    "a hinge cut wider than the door": (hinge(cut_outs=[CUT | {"width": "40 in"}]), "glass-stress"),
    "a plate taller than the door": (hinge(plate_height="99 in"), "hinge-screws"),
    "holes that overlap": (
        job(hardware={"handle": "our-handle"}, items=[HANDLE]), "glass-stress",
    ),
    "holes beside the glass": (
        job(hardware={"handle": "our-handle"}, items=[HANDLE | {"from_edge": "60 in"}]),
        "glass-stress",
    ),
    "a screw longer than wall and wood": (
        hinge(screw={"size": "10", "length": "9 in"}), "screw-length",
    ),
    "a screw in no table": (hinge(screw={"size": "10.5", "length": "2 in"}), "hinge-screws"),
    "a plate without screws": (hinge(screws=0), "hinge-screws"),
    "a plate whose screws stand in one row": (hinge(screw_rows="0 in"), "hinge-screws"),
    "a pivot far from the wall": (hinge(pivot="300 in"), "hinge-screws"),
    "stairs that stand upright": (
        job(way_in={"stairs": [{"width": 30, "headroom": 80, "slope": "85°"}]}), "way-in",
    ),
    "a turn without width": (
        job(way_in={"turns": [{"before": 0, "after": 30, "headroom": 80}]}), "way-in",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", UNPROVED)
def test_what_cannot_be_proved_is_no_pass(name: str) -> None:
    text, rule = UNPROVED[name]
    found = [f for f in findings(text) if f.rule == rule]
    assert found
    assert max(f.level for f in found) >= Level.NOT_CHECKED


BAR = {"kind": "support", "holds": "fixed 1", "to": "right wall"}
REFUSED = {
    "a bar that holds no pane": (job(wanted={"bars": [BAR | {"holds": "fixed 3"}]}), "fixed 3"),
    "a bar over the glass": (job(wanted={"bars": [BAR | {"at": "99 in"}]}), "touches nothing"),
    "a bar at the floor": (job(wanted={"bars": [BAR | {"at": "2 in"}]}), "does not hold the top"),
    "a negative mass": (hinge(mass_kg=-36.0), "mass_kg"),
    "a negative torque": (hinge(holding_torque=-1.0), "holding_torque"),
    "a negative screw": (hinge(screw={"size": "10", "length": "-2 in"}), "below 0"),
    "a negative pivot": (hinge(pivot="-30 mm"), "below 0"),
    "a negative cut": (hinge(cut_outs=[CUT | {"width": "-1 in"}]), "below 0"),
    "negative stairs": (
        job(way_in={"stairs": [{"width": -30, "headroom": 80}]}), "below 0",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", REFUSED)
def test_what_cannot_be_is_a_problem_with_its_place(name: str) -> None:
    text, says = REFUSED[name]
    assert any(says in problem for problem in problems(text)), problems(text)


def test_all_of_them_are_said_at_once() -> None:
    text = hinge(pivot="-30 mm", plate_width="-2 in", screw={"size": "10", "length": "-2 in"})
    assert sum("below 0" in problem for problem in problems(text)) == 3
