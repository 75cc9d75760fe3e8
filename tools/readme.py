"""The parts of README.md that the program itself writes: a real output and its picture."""

import re
from pathlib import Path

from hangtrue.job.read import read_job
from hangtrue.paper import terminal
from hangtrue.paper.drawings import drawings
from hangtrue.paper.svg import write_svg
from hangtrue.plan import Plan, plan, prove

ROOT = Path(__file__).parent.parent
JOB = ROOT / "examples" / "lodge" / "gull.yaml"
INPUT = re.compile(r"(?<=<!-- input -->\n```yaml\n).*?(?=```)", re.DOTALL)
OUTPUT = re.compile(r"(?<=<!-- output -->\n```text\n).*?(?=```)", re.DOTALL)
LINES = 10
"""How much of the input is shown."""
NOTES = 2
"""How many of the notes are shown."""
NOTE = re.compile(r"^  - .*\n(?:    .*\n)*", re.MULTILINE)


def page() -> str:
    """Return README.md with the input as it stands in the example, and the output as it is now."""
    text = (ROOT / "README.md").read_text("utf-8")
    lines = JOB.read_text("utf-8").splitlines()
    start = lines.index("wanted:")
    shown = "\n".join([*lines[start : start + LINES], "# … walls, hardware and eleven readings"])
    text = INPUT.sub(lambda _: f"{shown}\n", text, count=1)
    return OUTPUT.sub(lambda _: _said(), text, count=1)


def _said() -> str:
    """Return what the command says, without most of its notes."""
    said = f"{terminal.summary(_plan())}\n"
    notes = [found.span() for found in NOTE.finditer(said)]
    if len(notes) <= NOTES:
        return said
    start, end = notes[NOTES][0], notes[-1][1]
    return f"{said[:start]}  … {len(notes) - NOTES} more notes\n{said[end:]}"


def picture() -> str:
    """Return the elevation of that job."""
    sheets = dict(drawings(_plan()))
    return write_svg(sheets["elevation"])


def _plan() -> Plan:
    brief, problems = read_job(JOB)
    if brief is None:
        raise SystemExit("\n".join(map(str, problems)))
    return prove(plan(brief))
