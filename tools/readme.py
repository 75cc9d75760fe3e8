"""The parts of README.md that the program itself writes: a real output and its picture."""

import re
from pathlib import Path

from hangtrue.job.read import read_job
from hangtrue.paper import terminal
from hangtrue.paper.drawings import drawings
from hangtrue.paper.svg import write_svg
from hangtrue.plan import Plan, plan

ROOT = Path(__file__).parent.parent
JOB = ROOT / "examples" / "lodge" / "gull.yaml"
INPUT = re.compile(r"(?<=<!-- input -->\n```yaml\n).*?(?=```)", re.DOTALL)
OUTPUT = re.compile(r"(?<=<!-- output -->\n```text\n).*?(?=```)", re.DOTALL)


def page() -> str:
    """Return README.md with the input as it stands in the example, and the output as it is now."""
    text = (ROOT / "README.md").read_text("utf-8")
    lines = JOB.read_text("utf-8").splitlines()
    start = lines.index("threshold: {kind: curb, height: 4, width: 4-1/2, material: stone}")
    shown = "\n".join([*lines[start : start + 16], "  # … and ten more readings"])
    text = INPUT.sub(lambda _: f"{shown}\n", text, count=1)
    return OUTPUT.sub(lambda _: f"{terminal.summary(_plan())}\n", text, count=1)


def picture() -> str:
    """Return the elevation of that job."""
    sheets = dict(drawings(_plan()))
    return write_svg(sheets["elevation"])


def _plan() -> Plan:
    brief, problems = read_job(JOB)
    if brief is None:
        raise SystemExit("\n".join(map(str, problems)))
    return plan(brief)
