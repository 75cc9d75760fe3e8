"""Run every benchmark and print one table: what, how fast, against what."""

from __future__ import annotations

import importlib
import os
import platform
import sys
from datetime import UTC, datetime
from pathlib import Path

MODULES = (
    "bench_measure",
    "bench_fit",
    "bench_plan",
    "bench_strength",
    "bench_odds",
    "bench_beside",
    "bench_hang",
)


def machine() -> str:
    """Say on what machine, with which Python, and when."""
    cores = os.cpu_count()
    now = datetime.now(UTC).date()
    return f"{platform.machine()}, {cores} cores, Python {platform.python_version()}, {now}"


def main() -> None:
    """Print every row as it is known."""
    sys.path.insert(0, str(Path(__file__).parents[1]))
    print(machine())
    for name in MODULES:
        for label, figures in importlib.import_module(f"benchmarks.{name}").run():
            print(f"{label:<58} {figures}", flush=True)


if __name__ == "__main__":
    main()
