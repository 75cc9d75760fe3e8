"""Cutting: nothing is lost, nothing is longer than its bar, and no plan beats the bound."""

from __future__ import annotations

import math
import time
import tomllib
from collections import Counter
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hangtrue.cli import main
from hangtrue.estimate import Estimate
from hangtrue.hang.cut_records import CutPiece, StockLength
from hangtrue.hang.cutting import cut, cutting, shelf_after
from hangtrue.hang.patterns import knapsack
from hangtrue.hang.shop import shipped_shop

KERF = 3.0
LODGE = Path(__file__).parents[2] / "examples" / "lodge"


def bars_of(length: float) -> list[StockLength]:
    return [StockLength(length=length, cost=length)]


def fewest_bars(pieces: list[int], room: int) -> int:
    """Count the bars of the best packing by trying every set of pieces: independent and slow."""
    full = (1 << len(pieces)) - 1
    sums = [sum(p for i, p in enumerate(pieces) if mask >> i & 1) for mask in range(full + 1)]

    @cache
    def least(left: int) -> int:
        if not left:
            return 0
        first = left & -left
        subsets = (s for s in _subsets(left) if s & first and sums[s] <= room)
        return 1 + min(least(left & ~s) for s in subsets)

    return least(full)


def _subsets(mask: int) -> Iterator[int]:
    sub = mask
    while sub:
        yield sub
        sub = (sub - 1) & mask


@settings(max_examples=40, deadline=None)
@given(st.lists(st.integers(100, 900), min_size=1, max_size=8))
def test_as_few_bars_as_an_exhaustive_search(pieces: list[int]) -> None:
    plan = cut(
        [(str(i), float(p)) for i, p in enumerate(pieces)],
        bars_of(1000.0),
        kerf=0.0,
        offcut_least=100.0,
    )
    best = fewest_bars(pieces, 1000)
    assert plan.bound <= best * 1000.0 + 1e-6
    assert len(plan.bars) - best <= 0 or plan.gap > 0
    assert len(plan.bars) <= best + 1


@settings(max_examples=30, deadline=None)
@given(st.lists(st.floats(50, 2400), min_size=1, max_size=25))
def test_every_piece_is_cut_once_and_every_bar_holds_its_pieces(lengths: list[float]) -> None:
    pieces = [(f"p{i}", mm) for i, mm in enumerate(lengths)]
    plan = cut(pieces, bars_of(2413.0), kerf=KERF, offcut_least=300.0)
    names = Counter(name for bar in plan.bars for name, _ in bar.pieces)
    assert names == Counter(name for name, _ in pieces)
    for bar in plan.bars:
        used = math.fsum(mm for _, mm in bar.pieces) + KERF * (len(bar.pieces) - 1)
        assert used <= bar.stock.length + 0.1
        assert bar.kept == (bar.rest >= 300.0)
    assert plan.cost >= plan.bound - 1e-6


def test_a_piece_as_long_as_the_stock_takes_no_kerf() -> None:
    plan = cut([("a", 2413.0)], bars_of(2413.0), kerf=KERF, offcut_least=300.0)
    assert len(plan.bars) == 1
    assert plan.bars[0].rest == 0.0


def test_the_kerf_counts_between_pieces() -> None:
    """Two halves do not come out of one bar once the saw has taken its width."""
    halves = [("a", 500.0), ("b", 500.0)]
    assert len(cut(halves, bars_of(1000.0), kerf=0.0, offcut_least=1.0).bars) == 1
    assert len(cut(halves, bars_of(1000.0), kerf=KERF, offcut_least=1.0).bars) == 2


def test_an_offcut_from_the_shelf_is_used_before_a_new_length() -> None:
    shelf = StockLength(length=900.0, cost=450.0, count=1, shelf=True)
    plan = cut(
        [("a", 800.0), ("b", 800.0)],
        [*bars_of(2000.0), shelf],
        kerf=KERF,
        offcut_least=300.0,
    )
    assert plan.cost == 2000.0
    plan = cut([("a", 800.0)], [*bars_of(2000.0), shelf], kerf=KERF, offcut_least=300.0)
    assert [bar.stock.shelf for bar in plan.bars] == [True]
    assert plan.buy() == ()


def test_no_more_offcuts_are_used_than_there_are() -> None:
    shelf = StockLength(length=900.0, cost=1.0, count=2, shelf=True)
    plan = cut(
        [(str(i), 800.0) for i in range(5)],
        [*bars_of(1000.0), shelf],
        kerf=KERF,
        offcut_least=50.0,
    )
    assert Counter(bar.stock.shelf for bar in plan.bars) == {True: 2, False: 3}
    assert plan.gap == pytest.approx(0.0, abs=1e-9)


def test_stock_shorter_than_a_piece_is_said_and_the_rest_is_cut() -> None:
    plan = cut([("long", 3000.0), ("ok", 500.0)], bars_of(2413.0), kerf=KERF, offcut_least=300.0)
    assert [snag.where for snag in plan.snags] == ["long"]
    assert plan.snags[0].stops
    assert [name for bar in plan.bars for name, _ in bar.pieces] == ["ok"]


def test_nothing_to_cut_is_nothing() -> None:
    assert cut([], bars_of(1000.0), kerf=KERF, offcut_least=1.0).bars == ()


def test_a_sort_that_nobody_says_how_it_is_bought_is_asked_for() -> None:
    piece = CutPiece(
        job="j", id="x", sort="gold strip", item="gold", title="", length=Estimate(100.0)
    )
    plans, snags = cutting([piece], shipped_shop())
    assert plans == ()
    assert snags[0].stops


def test_several_jobs_share_a_length_and_one_job_twice_is_no_cheaper_apart() -> None:
    """Two channels of 1150 mm for two jobs come out of one length of 95 in."""
    pieces = [
        CutPiece(
            job=job, id="c", sort="channel", item="channel-deep", title="", length=Estimate(1150.0)
        )
        for job in ("gull", "tern")
    ]
    plans, _ = cutting(pieces, shipped_shop())
    assert [len(p.plan.bars) for p in plans] == [1]
    assert {name.split()[0] for name, _ in plans[0].plan.bars[0].pieces} == {"gull", "tern"}


def test_the_shelf_loses_what_is_used_and_gains_what_is_kept() -> None:
    """One job after the other: the second finds the offcut of the first."""

    def channel(job: str, mm: float) -> CutPiece:
        return CutPiece(
            job=job, id="c", sort="channel", item="channel-deep", title="", length=Estimate(mm)
        )

    shop, key = shipped_shop(), ("channel", "channel-deep")
    first, _ = cutting([channel("gull", 1150.0)], shop)
    shelf = shelf_after(first)
    assert shelf[key] == pytest.approx((2413.0 - 1150.0 - shop.mm["cutting.kerf"],))
    second, _ = cutting([channel("tern", 1200.0)], shop, shelf)
    assert [bar.stock.shelf for bar in second[0].plan.bars] == [True]
    assert shelf_after(second, shelf) == {}


def test_300_pieces_of_12_lengths_within_1_percent_of_the_bound_in_2_seconds() -> None:
    rng = np.random.default_rng(7)
    lengths = rng.uniform(250.0, 2200.0, 12)
    pieces = [(str(i), float(lengths[i % 12])) for i in range(300)]
    stock = [StockLength(length=s, cost=s) for s in (2413.0, 3657.6)]
    start = time.perf_counter()
    plan = cut(pieces, stock, kerf=3.2, offcut_least=300.0)
    assert time.perf_counter() - start <= 2.0
    assert plan.gap <= 0.01


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.tuples(st.integers(3, 40), st.integers(0, 4), st.floats(0, 9)), min_size=1,
             max_size=5),
    st.integers(5, 90),
)  # fmt: skip
def test_the_knapsack_is_the_best_of_all_choices(
    items: list[tuple[int, int, float]], room: int
) -> None:
    lengths, most, worth = zip(*items, strict=True)
    value, counts = knapsack(lengths, most, np.array(worth), room)
    every = np.stack(np.meshgrid(*[np.arange(m + 1) for m in most]), axis=-1).reshape(-1, len(most))
    fits = every @ np.array(lengths) <= room
    assert value == pytest.approx(float(np.max((every @ np.array(worth))[fits])), abs=1e-9)
    assert sum(c * length for c, length in zip(counts, lengths, strict=True)) <= room
    assert all(c <= m for c, m in zip(counts, most, strict=True))


def test_several_jobs_are_cut_at_once_and_what_is_left_goes_into_the_profile(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    jobs_ = [str(LODGE / f"{room}.yaml") for room in ("gull", "tern")]
    assert main(["cut", *jobs_]) == 0
    said = capsys.readouterr().out
    shallow = said.split("Channel, channel-shallow")[1].split("\n\n")[0]
    assert "lodge-gull" in shallow
    assert "lodge-tern" in shallow, "pieces of both jobs come out of one length"
    left = tomllib.loads(said.split("for the profile\n")[1])["shelf"]["offcuts"]
    text = 'id = "our"\ntitle = "Our"\nbased_on = "inch-shop"\n'
    text += said.split("for the profile\n")[1]
    (tmp_path / "our.toml").write_text(text, "utf-8")
    job = (LODGE / "gull.yaml").read_text("utf-8").replace("inch-shop", "our.toml")
    (tmp_path / "again.yaml").write_text(job, "utf-8")
    assert main(["cut", str(tmp_path / "again.yaml")]) == 0
    again = capsys.readouterr().out
    assert left["channel"]["channel-shallow"] == ["788 mm"]
    assert "788 mm from the shelf: channel of fixed 1 on the curb" in " ".join(again.split())


def test_a_job_that_must_not_be_hung_is_left_out_of_the_cut_list(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["cut", str(LODGE / "heron.yaml")]) == 1
    captured = capsys.readouterr()
    assert "Nothing to cut." in captured.out
    assert "Left out: lodge-heron" in captured.err
