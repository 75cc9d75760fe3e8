"""Where holes make a hinge move, every paper shows the same pane."""

from __future__ import annotations

import io
import json
from pathlib import Path
from typing import Any

import ezdxf
import pytest

from hangtrue.cli import main
from hangtrue.fit.enclosure import Enclosure
from hangtrue.hang.hanging import hang
from hangtrue.hang.placing import placed
from hangtrue.hang.records import HangPlan
from hangtrue.paper import packet
from hangtrue.plan import Plan
from tests.unit import hang_jobs as jobs

TILES = "tiles: {width: 12, height: 12, joint: 1/8, first_joint_up: 9.22, first_joint_across: -6}"


def moved() -> Plan:
    """Return the Gull room with a tile joint through the plate of a hinge."""
    return jobs.plan_of(jobs.with_left(TILES))


def made(plan: Plan) -> Enclosure:
    enclosure = plan.best.alternative.made
    assert isinstance(enclosure, Enclosure)
    return enclosure


def hung(plan: Plan) -> HangPlan:
    found = hang(plan)
    assert isinstance(found, HangPlan)
    return found


def test_the_plan_has_the_cut_outs_of_the_drilling_plan() -> None:
    before = moved()
    work = hung(before)
    assert any(m.in_glass for m in work.drilling.moved)
    assert work.panes != made(before).lites
    assert made(placed(before)).lites == work.panes


def test_a_plan_that_is_placed_stays_as_it_is() -> None:
    after = placed(moved())
    assert placed(after) == after
    assert hung(after).drilling.moved == ()
    assert hung(after).panes == made(after).lites


def test_a_plan_with_nothing_to_keep_clear_of_is_left_alone() -> None:
    assert placed(jobs.planned()) is jobs.planned()


def test_the_cut_file_of_the_packet_is_the_pane_of_the_work_packet() -> None:
    plan = placed(moved())
    door = hung(moved()).panes[0]
    name = next(n for n in packet.contents(plan, ()) if n.endswith("door.dxf"))
    cut = ezdxf.read(io.StringIO(packet.contents(plan, ())[name].decode())).modelspace()
    outlines: Any = cut.query("LWPOLYLINE")
    ys = {round(y, 3) for line in outlines for _, y, *_ in line.get_points()}
    wanted = {round(y, 3) for notch in door.notches for _, y in notch.corners}
    assert all(any(abs(y - w) < 13.0 for y in ys) for w in wanted), "to an inside radius"


def test_both_commands_write_the_same_pane(tmp_path: Path) -> None:
    job = tmp_path / "job.yaml"
    job.write_text(jobs.with_left(TILES), "utf-8")
    assert main(["plan", str(job), "--out", str(tmp_path / "plan")]) == 0
    assert main(["work", str(job), "--out", str(tmp_path / "work")]) == 0
    (found,) = (tmp_path / "plan").glob("*-plan.json")
    (door, _) = json.loads(found.read_text("utf-8"))["best"]["made"]["panes"]
    assert door["hinge_heights"] == pytest.approx(hung(moved()).panes[0].hinge_heights, abs=1e-5)
    (listed,) = (tmp_path / "work" / "lists").glob("*-receiving.csv")
    text = listed.read_text("utf-8-sig")
    assert "middle of cut-out 1, from the bottom" in text


def test_the_snag_says_which_sheets_to_order_by() -> None:
    found = [s for s in hung(moved()).snags if s.where.startswith("hinge")]
    assert found
    assert all("version 2" in s.do and not s.stops for s in found)
    assert all("its cut-out goes along" in s.wrong for s in found)


def test_the_moved_hinge_keeps_its_distance_from_the_end() -> None:
    """Common practice, no source: 8 to 12 in from the end of the door."""
    low, high = hung(moved()).panes[0].hinge_heights
    tall = made(moved()).lites[0].height_left
    assert 8 * 25.4 <= low <= 12 * 25.4
    assert 8 * 25.4 <= tall - high <= 12 * 25.4
