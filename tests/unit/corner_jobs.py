"""A good job with a corner and a step to break one thing of, in the tests of reading."""

from hangtrue.job.problems import Problem
from tests.unit.jobs import read

CORNER = """\
hangtrue: 1
job: {id: petrel}
unit: in
walls:
  left: {behind: blocking, blocking: [{from: 0, to: 80, depth: 1-1/2}]}
  right: {behind: unknown}
threshold: {height: 4, width: 4-1/2}
steps:
  - {name: knee wall, kind: knee wall, run: 2, height: 36, width: 5}
above: {kind: open}
obstacles:
  - {name: toilet, kind: toilet, x: 14, y: -32, width: 15, depth: 28, top: 26}
wanted:
  lites:
    - {kind: door, width: 28}
    - {kind: fixed, width: 12}
    - {kind: fixed, turn: {angle: 90°, way: in, joint: butt, laps: before}}
  bars: []
  height: 78
readings:
  - {what: width, at: 4, value: 40-1/2}
  - {what: width, run: 2, at: 40, value: 34}
  - {what: corner, corner: 1, value: 90.2°}
  - {what: triangle, corner: 1, before: 30, after: 40, value: 50-1/16}
  - {what: square, wall: right, value: 89.8°}
  - {what: height, of: curb, at: corner 1, value: 0}
  - {what: fall, run: 2, falls: right, value: 1/16}
"""


def changed(*changes: tuple[str, str]) -> str:
    """Return the good job with some things changed."""
    text = CORNER
    for old, new in changes:
        assert text.count(old) == 1, f"{old!r} must stand once in the good job"
        text = text.replace(old, new)
    return text


def added(reading: str) -> str:
    """Return the good job with one more reading, which is its eighth."""
    return f"{CORNER}  - {reading}\n"


def said(text: str) -> dict[str, str]:
    """Return what is said about each field."""
    found: dict[str, str] = {}
    for problem in read(text)[1]:
        found[problem.field] = f"{found.get(problem.field, '')}\n{problem}"
    return found


def alone(text: str) -> Problem:
    """Return the one problem of a text that can still be planned."""
    brief, problems = read(text)
    assert brief, "the rest is planned"
    assert len(problems) == 1, [str(problem) for problem in problems]
    return problems[0]
