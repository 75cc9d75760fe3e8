"""The hanging alone: rooms of the lodge, and 300 pieces of 12 lengths out of stock."""

from __future__ import annotations

import re
import statistics
import time
from collections.abc import Iterator
from pathlib import Path

import numpy as np

from hangtrue.hang.cut_records import StockLength
from hangtrue.hang.cutting import cut
from hangtrue.hang.hanging import hang
from hangtrue.hang.records import HangPlan
from hangtrue.hang.tiling import pages
from hangtrue.job.read import read_job
from hangtrue.paper.work_packet import contents
from hangtrue.plan import Plan, plan, prove

LODGE = Path(__file__).parents[1] / "examples" / "lodge"
ROOMS = ("gull", "tern", "petrel")
STOCK = tuple(StockLength(length=mm, cost=mm) for mm in (2413.0, 3657.6))


def planned(name: str) -> Plan:
    """Plan one room of the lodge."""
    brief, _ = read_job(LODGE / f"{name}.yaml")
    if brief is None:
        raise SystemExit(f"{name} does not read")
    return plan(brief)


def run() -> Iterator[tuple[str, str]]:
    """Yield one row a figure."""
    for name in ROOMS:
        whole = planned(name)
        spent, made = [], hang(whole)
        for _ in range(20):
            start = time.perf_counter()
            made = hang(whole)
            spent.append(time.perf_counter() - start)
        ms = 1000 * statistics.median(spent)
        if isinstance(made, HangPlan):
            sheets = sum(len(pages(t, "letter")) for t in made.templates)
            label = f"hang(), warm, {name} room, {len(made.drilling.holes)} holes"
            yield label, f"{ms:.1f} ms; templates on {sheets} sheets"
    yield (
        "work packet, warm, four panes (dunlin): PDF, templates, lists, DXF",
        work_packet("dunlin"),
    )
    yield "cutting 300 pieces of 12 lengths, 10 orders, slowest; widest gap", cutting()


def work_packet(name: str) -> str:
    """Every file of the work packet from its plan; the median of five, and how many pages."""
    brief, _ = read_job(LODGE / f"{name}.yaml")
    if brief is None:
        raise SystemExit(f"{name} does not read")
    proved = prove(plan(brief))
    files, spent = contents(proved), []
    for _ in range(5):
        start = time.perf_counter()
        files = contents(proved)
        spent.append(time.perf_counter() - start)
    sheets = [len(PAGE.findall(data)) for path, data in files.items() if path.endswith(".pdf")]
    return f"{statistics.median(spent):.2f} s; {' + '.join(map(str, sheets))} pages"


PAGE = re.compile(rb"/Type\s*/Page\b")
"""One in the text of a PDF for each of its pages."""


def cutting() -> str:
    """Cut ten made-up orders; the slowest of them and the widest gap to the bound."""
    worst, gap = 0.0, 0.0
    for seed in range(10):
        lengths = np.random.default_rng(seed).uniform(250.0, 2200.0, 12)
        pieces = [(str(i), float(lengths[i % 12])) for i in range(300)]
        start = time.perf_counter()
        plan = cut(pieces, STOCK, kerf=3.2, offcut_least=300.0)
        worst, gap = max(worst, time.perf_counter() - start), max(gap, plan.gap)
    return f"{worst:.2f} s; {gap:.2%}"


if __name__ == "__main__":
    for label, figures in run():
        print(f"{label:<64} {figures}")
