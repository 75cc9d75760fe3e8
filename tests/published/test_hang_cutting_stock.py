"""Cutting-stock instances with known optimum.

V. Chvatal, Linear Programming, Freeman 1983, chapter 13: raws of 100 in. Orders as restated in an
open guide to optimization; the relaxed optimum 452 1/4 from memory.
The paper machine with master rolls of 5600 mm, 13 widths, that encyclopaedias restate: 73 rolls.
From memory.
The paper mill with rolls of 94 in and 5 widths of the column generation literature: relaxed optimum
160.95, best 161 rolls, as printed in a manual; the orders from memory.
"""

from __future__ import annotations

import math

import pytest

from hangtrue.hang.cut_records import StockLength
from hangtrue.hang.cutting import cut

MILL: dict[float, int] = {
    1380: 22, 1520: 25, 1560: 12, 1710: 14, 1820: 18, 1880: 18, 1930: 20,
    2000: 10, 2050: 12, 2100: 14, 2140: 16, 2150: 18, 2200: 20,
}  # fmt: skip
INSTANCES: dict[str, tuple[dict[float, int], float, float, int]] = {
    "Chvatal": ({45: 97, 36: 610, 31: 395, 14: 211}, 100, 452.25, 453),
    "paper mill, 5600": (MILL, 5600, math.nan, 73),
    "paper mill, 94": ({17: 150, 21: 96, 22.5: 48, 24: 108, 29.5: 227}, 94, 160.95, 161),
}


@pytest.mark.parametrize("name", INSTANCES)
def test_the_optimum_is_found_and_proven(name: str) -> None:
    """A roll costs 1: the cost is the number of rolls, and the bound says that it is least."""
    orders, roll, _, optimum = INSTANCES[name]
    pieces = [(f"{width}", float(width)) for width, count in orders.items() for _ in range(count)]
    plan = cut(pieces, [StockLength(length=roll, cost=1.0)], kerf=0.0, offcut_least=1e9)
    assert len(plan.bars) == optimum
    assert plan.bound == optimum
    assert sum(len(bar.pieces) for bar in plan.bars) == len(pieces)
    assert all(math.fsum(mm for _, mm in bar.pieces) <= roll for bar in plan.bars)


@pytest.mark.parametrize("name", ["Chvatal", "paper mill, 94"])
def test_the_relaxed_optimum_is_the_printed_one(name: str) -> None:
    """A cost that is no whole number of tenths keeps the bound from being rounded up."""
    orders, roll, relaxed, _ = INSTANCES[name]
    pieces = [(f"{width}", float(width)) for width, count in orders.items() for _ in range(count)]
    unit = math.pi
    plan = cut(pieces, [StockLength(length=roll, cost=unit)], kerf=0.0, offcut_least=1e9)
    assert plan.bound / unit == pytest.approx(relaxed, abs=0.005)
