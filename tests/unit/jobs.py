"""A good job to break one thing of, in the tests of reading."""

from hangtrue.job.brief import Brief
from hangtrue.job.problems import Problem
from hangtrue.job.read import read_job_text

GOOD = """\
hangtrue: 1
job: {id: gull}
unit: in
walls:
  left: {behind: blocking, blocking: [{from: 0, to: 80, depth: 1-1/2}]}
  right: {behind: unknown}
threshold: {height: 4, width: 4-1/2}
wanted:
  lites: [door, fixed]
  height: 78
readings:
  - {what: width, at: 4, value: 58-1/2}
  - {what: width, at: 40, value: 58-7/16}
  - {what: width, at: 76, value: 58-3/8}
  - {what: lean, wall: left, from: 0, to: 72, toward: in, value: 1/8}
"""


def broken(old: str, new: str) -> str:
    """Return the good job with one thing changed."""
    assert GOOD.count(old) == 1, f"{old!r} must stand once in the good job"
    return GOOD.replace(old, new)


def with_reading(reading: str) -> str:
    """Return the good job with one more reading, which is its fifth."""
    return f"{GOOD}  - {reading}\n"


def read(text: str) -> tuple[Brief | None, tuple[Problem, ...]]:
    """Read a job that names no files."""
    return read_job_text(text)


def only(text: str) -> Problem:
    """Return the one problem of a text."""
    _, problems = read(text)
    assert len(problems) == 1, [str(problem) for problem in problems]
    return problems[0]
