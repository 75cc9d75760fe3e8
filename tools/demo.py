"""Plan every job of the lodge, write what is worked from, and say where it lies: `make demo`.

A job that must not be hung is an answer, not a failure: the command then ends with 1. Any other end
but 0 and 1 fails the demo, under the command's own words.
"""

import subprocess
import sys
from pathlib import Path

JOBS = Path("examples/lodge")
OUT = Path("out")
ANSWERED = (0, 1)
FIRST = "2026-06-01"
"""First day of the work, in every room."""


def main() -> int:
    """Plan the jobs in the order of their names; 0 if each got its answer."""
    jobs = sorted(path for path in JOBS.glob("*.yaml") if is_job(path))
    if not jobs:
        print(f"no job in {JOBS}: is this the project's folder?", file=sys.stderr)
        return 2
    failed = [job for job in jobs if not planned(job)]
    for job in failed:
        print(f"no answer for {job}", file=sys.stderr)
    if not failed:
        print(f"{len(jobs)} jobs planned. Open the packet in each folder under {OUT}/;")
        print(f"what people work from is in {OUT}/hang/.")
    return 2 if failed else 0


def is_job(path: Path) -> bool:
    """Tell a job from the other documents that lie beside it, such as a boxed set."""
    return any(line.startswith("readings:") for line in path.read_text("utf-8").splitlines())


def planned(job: Path) -> bool:
    """Plan one job, write its work packet, and tell whether both got an answer."""
    done = ended("plan", str(job), "--out", str(OUT / job.stem))
    work = ended("work", str(job), "--out", str(OUT / "hang" / job.stem), "--on", FIRST)
    answered = all(ran.returncode in ANSWERED and ran.stdout for ran in (done, work))
    room, verdict = done.stdout.split("\n\n", 2)[:2] if answered else (str(job), "no answer")
    said = done.stderr.strip() if answered else f"{done.stderr}\n{work.stderr}"
    print(f"{room}\n  {verdict}\n  {said}\n", flush=True)
    return answered


def ended(*arguments: str) -> subprocess.CompletedProcess[str]:
    """Run the command and return what it said and how it ended."""
    command = [sys.executable, "-m", "hangtrue", *arguments]
    return subprocess.run(command, check=False, capture_output=True, text=True)


if __name__ == "__main__":
    sys.exit(main())
