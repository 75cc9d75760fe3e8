"""Names and instruments of readings and steps where the document leaves them out."""

from __future__ import annotations

from hangtrue.job.problems import Fault
from hangtrue.job.text import Value

USUAL = {
    "width": "tape",
    "lean": "level-72",
    "offset": "laser-line",
    "bow": "rule",
    "diagonal": "tape",
    "fall": "level-24",
    "pitch": "level-24",
    "height": "tape",
    "angle": "angle-finder",
    "corner": "angle-finder",
    "triangle": "tape",
    "square": "angle-finder",
}
"""Instrument of a reading that names none."""

INCH = {"tape": "tape-hb44", "rule": "rule-inch"}
"""Where the job is in inches, so is the tape that nobody named."""


def named(values: Value) -> tuple[Value, tuple[Fault, ...]]:
    """Give every reading an id and an instrument; the later of two equal ids is renamed.

    Examples
    --------
    >>> named({"unit": "in", "readings": [{"what": "width"}]})[0]["readings"]
    [{'what': 'width', 'with': 'tape-hb44', 'id': 'r1'}]

    """
    if not isinstance(values, dict):
        return values, ()
    values, readings = _steps(values), values.get("readings")
    if not isinstance(readings, list):
        return values, ()
    faults: list[Fault] = []
    used = {str(r["id"]) for r in readings if isinstance(r, dict) and r.get("id")}
    seen: dict[str, int] = {}
    out: list[Value] = []
    for position, reading in enumerate(readings):
        if not isinstance(reading, dict):
            out.append(reading)
            continue
        written = str(reading.get("id") or "")
        if written in seen:
            wrong = f"reading {seen[written] + 1} is called {written} too"
            faults.append(
                Fault(path=("readings", position, "id"), wrong=wrong, do="give each its own id")
            )
        fresh = not written or written in seen
        name = _fresh(position, used) if fresh else written
        used.add(name)
        seen.setdefault(name, position)
        out.append({**_instrument(reading, values.get("unit")), "id": name})
    return {**values, "readings": out}, tuple(faults)


def _fresh(position: int, used: set[str]) -> str:
    name = f"r{position + 1}"
    while name in used:
        name += "+"
    return name


def _steps(values: dict[str, Value]) -> dict[str, Value]:
    """Give every step the tape that it was measured with, where it names none."""
    steps = values.get("steps")
    if values.get("unit") != "in" or not isinstance(steps, list):
        return values
    taped: list[Value] = [
        {"with": INCH["tape"], **step} if isinstance(step, dict) else step for step in steps
    ]
    return {**values, "steps": taped}


def _instrument(reading: dict[str, Value], unit: Value) -> dict[str, Value]:
    what = reading.get("what")
    if "with" in reading or not isinstance(what, str) or what not in USUAL:
        return reading
    usual = USUAL[what]
    return {**reading, "with": INCH.get(usual, usual) if unit == "in" else usual}
