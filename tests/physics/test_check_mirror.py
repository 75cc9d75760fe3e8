"""Seen in a mirror, a room gets the same findings: rule by rule, level by level."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from hangtrue.check.around import meets
from hangtrue.check.case import Case
from hangtrue.job.brief import Brief
from hangtrue.job.document import Bar, Job, Obstacle, Step, WantedLite
from hangtrue.job.glass_line import run_length
from hangtrue.job.read import read_job
from hangtrue.job.readings import Height, Pitch, Reading
from hangtrue.plan import Plan, plan
from hangtrue.units import Length
from tests.physics.test_measure_corners import mirrored

LODGE = Path(__file__).parents[2] / "examples" / "lodge"
OTHER: dict[str, Any] = {
    "left": "right", "right": "left", "free": "free", "before": "after", "after": "before",
    "left wall": "right wall", "right wall": "left wall",
}  # fmt: skip


def planned(name: str) -> Plan:
    brief, _ = read_job(LODGE / f"{name}.yaml")
    assert brief
    return plan(brief)


def in_a_mirror(brief: Brief) -> Brief:
    """The same room as it would be written down by somebody who sees it in a mirror."""
    job = brief.job
    runs = len(job.wanted.runs)
    wanted = job.wanted.model_copy(
        update={
            "lites": turned_round(job.wanted.lites),
            "hinge_side": OTHER[job.wanted.hinge_side],
            "bars": tuple(bar(b, job) for b in job.wanted.bars),
        }
    )
    walls = job.walls.model_copy(update={"left": job.walls.right, "right": job.walls.left})
    there = job.model_copy(
        update={
            "wanted": wanted,
            "walls": walls,
            "datum": "curb right",
            "steps": tuple(step(s, job) for s in job.steps),
            "obstacles": tuple(obstacle(o, job) for o in job.obstacles),
            "readings": tuple(reading(r, runs) for r in job.readings),
        }
    )
    return replace(brief, job=there)


def reading(it: Reading, runs: int) -> Reading:
    if isinstance(it, Pitch):
        return it.model_copy(update={"run": runs + 1 - it.run})
    middle = isinstance(it, Height) and it.at == "middle"
    return it if middle else mirrored(it, runs)


def turned_round(row: tuple[WantedLite, ...]) -> tuple[WantedLite, ...]:
    """Read the row from its other end: a turn stands before what was the pane before it."""
    turns = [*(lite.turn for lite in row[1:]), None]
    back = [
        lite.model_copy(
            update={
                "turn": turn and turn.model_copy(update={"laps": OTHER[turn.laps]}),
                "hinge": lite.hinge and OTHER[lite.hinge],
            }
        )
        for lite, turn in zip(row, turns, strict=True)
    ]
    return tuple(back[::-1])


def bar(it: Bar, job: Job) -> Bar:
    kind, _, number = it.holds.partition(" ")
    count = sum(lite.kind == kind for lite in job.wanted.lites)
    holds = f"{kind} {count + 1 - int(number)}" if number else kind
    run = len(job.wanted.runs) + 1 - it.run
    return it.model_copy(update={"run": run, "holds": holds, "to": OTHER.get(it.to, it.to)})


def length(job: Job, run: int) -> float:
    found = run_length(job, run)
    return 0.0 if found is None else found


def step(it: Step, job: Job) -> Step:
    long = length(job, it.run)
    low = None if it.to is None else Length(long - it.to)
    high = None if it.from_ is None else Length(long - it.from_)
    update = {
        "run": len(job.wanted.runs) + 1 - it.run,
        "from_": low,
        "to": high,
        "height": Length(it.height - it.cap_fall),
        "cap_fall": Length(-it.cap_fall),
    }
    return it.model_copy(update=update)


def obstacle(it: Obstacle, job: Job) -> Obstacle:
    swing = it.swing and it.swing.model_copy(
        update={"hinge": OTHER.get(it.swing.hinge, it.swing.hinge)}
    )
    x = Length(length(job, job.wanted.front) - it.x)
    return it.model_copy(update={"x": x, "swing": swing})


def counted(one: Plan) -> Counter[tuple[str, str, str]]:
    """Rule, level and place of all findings, the sides of the places taken out.

    How tight the tightest gap is depends on which way a size is rounded to the plant's grid.
    """
    sides = re.compile(r"left|right|\d")
    return Counter(
        (f.rule, f.level.words, sides.sub("…", f.where))
        for f in one.best.findings
        if f.rule != "fits"
    )


ROOMS = ["gull", "petrel", "curlew", "dunlin"]


@pytest.mark.parametrize("name", ROOMS)
def test_a_mirrored_room_gets_the_same_findings(name: str) -> None:
    here = planned(name)
    there = plan(in_a_mirror(here.brief))
    assert counted(here) == counted(there)


@pytest.mark.parametrize("name", ["petrel", "curlew"])
def test_a_mirrored_door_opens_as_far(name: str) -> None:
    """To a degree: heights and widths are read at the same places, and no better."""
    here = planned(name)
    there = plan(in_a_mirror(here.brief))
    met = [
        meets(case, case.hung[0], "out")
        for one in (here, there)
        for case in (Case(brief=one.brief, opening=one.opening, alternative=one.best.alternative),)
    ]
    one, other = met
    assert bool(one) == bool(other)
    if one and other:
        assert one.name == other.name
        assert one.angle == pytest.approx(other.angle, abs=0.02)
