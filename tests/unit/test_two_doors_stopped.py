"""Two doors with stops, from the document to the finding: the way in between them, by hand."""

from __future__ import annotations

import math

import pytest

from hangtrue.check.finding import Finding, Level
from hangtrue.job.read import read_job_text
from hangtrue.plan import plan

INCH = 25.4
DOORS = """\
hangtrue: 1
job: {{id: pair}}
unit: in
walls:
  left: {{behind: blocking, blocking: [{{from: 0, to: 80, depth: 1-1/2}}]}}
  right: {{behind: blocking, blocking: [{{from: 0, to: 80, depth: 1-1/2}}]}}
threshold: {{height: 4, width: 4-1/2}}
wanted:
  lites:
    - {{kind: door, hinge: left, stop: "{left}"}}
    - {{kind: door, hinge: right, stop: "{right}"}}
  height: 76
  thickness: 3/8
hardware: {{handle: none}}
readings:
  - {{what: width, at: 4, value: 50}}
  - {{what: width, at: 40, value: 50}}
  - {{what: width, at: 74, value: 50}}
  - {{what: lean, wall: left, from: 0, to: 72, toward: in, value: 0}}
  - {{what: lean, wall: right, from: 0, to: 72, toward: in, value: 0}}
"""


def way_in(left: str, right: str) -> tuple[Finding, tuple[float, float, float]]:
    """Return the finding, with the width of each door and the notch of its hinges, mm."""
    brief, problems = read_job_text(DOORS.format(left=left, right=right))
    assert brief is not None, problems
    best = plan(brief).best
    (found,) = [f for f in best.findings if f.rule == "clear-opening"]
    doors = best.alternative.made.doors  # type: ignore[union-attr]
    notch = max(float(c.width) for c in brief.items["plain-wall-hinge"].cut_outs)  # type: ignore[union-attr]
    return found, (doors[0].width_bottom, doors[1].width_bottom, notch)


def test_both_past_square_are_told_square_and_at_their_stops() -> None:
    found, _ = way_in("100°", "105°")
    assert found.where == "doors"
    assert "open square" in found.found
    assert "held at 100° and 105°" in found.found


def test_one_stopped_short_of_square_takes_its_own_share() -> None:
    """The other stands square at its hinge: the clear way is from it to the leaf held at 60 deg."""
    square, _ = way_in("90°", "90°")
    held, (wide, _, notch) = way_in("60°", "90°")
    assert square.level is Level.PASS
    reach = wide - notch
    free = (reach * math.cos(math.radians(60)), reach * math.sin(math.radians(60)))
    # The free corner of the stopped leaf, on the face that looks at the way in, and the other leaf
    half = 9.525 / 2
    corner = free[0] + half * math.sin(math.radians(60))
    other = square.value.value + half  # type: ignore[union-attr]
    assert held.value.value == pytest.approx(other - corner, abs=1.0)  # type: ignore[union-attr]
    assert held.limit == pytest.approx(22 * INCH)
