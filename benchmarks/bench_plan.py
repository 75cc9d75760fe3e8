"""The whole road: warm in one process, and cold as a person runs it."""

from __future__ import annotations

import resource
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path

from hangtrue.job.read import read_job
from hangtrue.plan import plan

JOB = Path(__file__).parents[1] / "examples" / "lodge" / "gull.yaml"


def median_ms(call: Callable[[], object], repeats: int = 30) -> float:
    """Median time of a call in ms, after three calls to warm up."""
    for _ in range(3):
        call()
    times = []
    for _ in range(repeats):
        start = time.perf_counter()
        call()
        times.append(time.perf_counter() - start)
    return 1000 * statistics.median(times)


def cold(*words: str, repeats: int = 7) -> tuple[float, float]:
    """Median wall time in s of a fresh process, and the greatest memory in MB of any so far."""
    times = []
    for _ in range(repeats):
        start = time.perf_counter()
        subprocess.run([sys.executable, "-m", "hangtrue", *words], check=False, capture_output=True)
        times.append(time.perf_counter() - start)
    peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
    return statistics.median(times), peak


def run() -> Iterator[tuple[str, str]]:
    """Yield one row a figure."""
    brief, _ = read_job(JOB)
    if brief is None:
        raise SystemExit(f"{JOB} does not read")
    yield (
        "plan(), warm, without documents (at most 20 ms)",
        f"{median_ms(lambda: plan(brief)):.1f} ms",
    )
    seconds, _ = cold("--help")
    yield "hangtrue --help, cold (at most 0.2 s)", f"{seconds:.2f} s"
    with tempfile.TemporaryDirectory() as folder:
        seconds, peak = cold("plan", str(JOB), "--out", f"{folder}/packet")
    yield (
        "hangtrue plan with the packet, cold (at most 2.5 s, 250 MB)",
        f"{seconds:.2f} s, {peak:.0f} MB",
    )
