"""Comparing what the wishes leave open: bounded, ranked, and every loser with its reason."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from itertools import takewhile
from pathlib import Path

import pytest

from hangtrue.check.finding import Finding, Level
from hangtrue.cli import main
from hangtrue.compare import compare
from hangtrue.compare.left_open import Variant, left_open
from hangtrue.compare.ranking import Comparison, speaks_against
from hangtrue.compare.shelf import boxed_sets_beside
from hangtrue.fit import fit
from hangtrue.fit.enclosure import Enclosure
from hangtrue.job.brief import Brief
from hangtrue.job.document import Chosen
from hangtrue.job.hardware import Item
from hangtrue.job.profile import Prices
from hangtrue.job.read import read_job
from hangtrue.measure import measure
from hangtrue.measure.opening import Opening
from hangtrue.odds.sizes import Curve
from hangtrue.paper.terminal_compare import comparison_text, write_drawings
from hangtrue.plan import plan, prove

LODGE = Path(__file__).parents[2] / "examples" / "lodge"


@cache
def brief(name: str) -> Brief:
    found, _ = read_job(LODGE / f"{name}.yaml")
    assert found is not None
    return found


@cache
def compared(name: str, most: int = 30) -> Comparison:
    return compare(brief(name), boxed_sets_beside(LODGE / f"{name}.yaml"), most)


def settled(job: Brief) -> Brief:
    """Everything decided that is decided by default."""
    made = plan(job).best.alternative.made
    assert isinstance(made, Enclosure)
    wanted = job.job.wanted.model_copy(update={"hinge_side": "left"})
    wanted.model_fields_set.update({"make"})
    lites = tuple(
        lite.model_copy(update={"width": made.lite("door").width_bottom})
        if lite.kind == "door"
        else lite
        for lite in wanted.lites
    )
    hardware = job.job.hardware.model_copy()
    hardware.model_fields_set.update(Chosen.model_fields)
    wanted = wanted.model_copy(update={"lites": lites})
    return replace(job, job=job.job.model_copy(update={"hardware": hardware, "wanted": wanted}))


def test_the_best_three_are_in_order_and_every_other_says_why_it_lost() -> None:
    found = compared("gull")
    assert len(found.best) == 3
    assert [o.rank for o in found.best] == sorted(o.rank for o in found.best)
    assert all(lost.why for lost in found.lost)
    assert len({o.title for o in found.best}) == 3


def test_a_likely_remake_is_not_made_good_by_one_finding_less() -> None:
    """Dunlin: silicone at the curb leaves one finding less and a remake in two of five."""
    found = compared("dunlin", 60)
    assert all(o.remake is not None and o.remake < 0.05 for o in found.best)
    assert any("remade more often" in lost.why for lost in found.lost)


def test_the_best_is_at_least_as_good_as_the_plan() -> None:
    best = compared("gull").best[0]
    assert best.judged.verdict <= prove(plan(brief("gull"))).verdict


def test_where_none_of_the_best_can_be_ordered_that_is_said() -> None:
    """Three ways to hang a door on a hollow wall are no offer."""
    said = comparison_text(compared("heron", 6))
    assert "None of these can be ordered as things stand" in said
    assert "None of these" not in comparison_text(compared("gull"))


def test_glass_is_counted_in_the_unit_it_is_bought_in() -> None:
    assert "sq ft of glass" in comparison_text(compared("gull"))
    assert "m²" not in comparison_text(compared("gull"))
    assert "m² of glass" in comparison_text(compared("skua", 12))


def finding(rule: str, where: str, level: Level = Level.NOTE) -> Finding:
    return Finding(rule=rule, level=level, where=where, found=f"{rule} at {where}.", means="So.")


def test_the_reason_is_one_that_the_best_does_not_share() -> None:
    """A note that every way has says nothing of why one lost; nor does the same at another pane."""
    best = compared("gull").best[0].judged
    shared = (finding("door-swing", "door"), finding("carrying", "door and fixed 1"))
    best = replace(best, findings=shared)
    own = finding("clear-width", "door")
    lost = replace(best, findings=(shared[0], finding("carrying", "door"), own))
    assert speaks_against(lost, best) == own
    worse = finding("fits", "curb", Level.WARN)
    assert speaks_against(replace(lost, findings=(worse, *lost.findings)), best) == worse


def test_notes_of_one_rule_count_once_and_cures_each() -> None:
    option = compared("gull").best[0]
    notes = (finding("carrying", "door"), finding("carrying", "fixed 1"), finding("grade", "door"))
    assert replace(option, judged=replace(option.judged, findings=notes)).worst == 2
    cures = tuple(replace(note, level=Level.WARN) for note in notes)
    assert replace(option, judged=replace(option.judged, findings=cures)).worst == 3


def test_what_was_not_proved_is_held_against_the_best_before_its_proof() -> None:
    """Proofs add findings to the best; without them no reason may read the other way round."""
    found = compared("gull")
    assert all(option.checked is not None for option in found.best)
    shares = [re.findall(r"(\d+)%", lost.why) for lost in found.lost if "even gaps" in lost.why]
    assert shares
    assert all(int(own) >= int(other) for own, other in shares)


def test_what_is_looked_at_is_bounded_and_said_so() -> None:
    found = compared("gull", 12)
    assert len(found.best) + len(found.lost) <= 12
    assert found.looked_at < found.possible
    text = comparison_text(found)
    assert f"of {found.possible:,} combinations" in text


def test_a_million_alternatives_are_counted_and_not_made() -> None:
    """Sixty more of each fitting: counted at once, and only the first few ever built."""
    job = brief("gull")
    more: dict[str, Item] = {}
    for name in ("channel-deep", "channel-shallow", "plain-wall-hinge", "strike-seal-round"):
        item = job.items[name]
        more |= {f"{name}-{k}": item.model_copy(update={"id": f"{name}-{k}"}) for k in range(60)}
    crowded = replace(job, items=job.items | more)
    open_ = left_open(crowded, fit(crowded, measure(crowded)), ())
    assert open_.possible > 1_000_000
    assert next(open_.variants).words == ()


def test_a_wish_that_leaves_nothing_open_is_said() -> None:
    job = settled(brief("gull"))
    open_ = left_open(job, fit(job, measure(job)), ())
    assert open_.possible == 1
    assert len(list(open_.variants)) == 1


def test_boxed_sets_beside_the_job_are_looked_at() -> None:
    shelf = boxed_sets_beside(LODGE / "gull.yaml")
    assert [box.id for box in shelf] == ["wren"]
    assert any("boxed set wren" in lost.title for lost in compared("gull").lost)


def test_cost_counts_in_money_only_with_prices() -> None:
    assert not compared("gull").priced
    assert all(o.cost is None for o in compared("gull").best)
    prices = Prices(money="EUR", remake=600.0, hour=60.0, glass_m2=150.0)
    priced = replace(
        brief("gull"), profile=brief("gull").profile.model_copy(update={"prices": prices})
    )
    best = compare(priced, (), 6).best[0]
    assert best.remake is not None
    assert best.cost == pytest.approx(150.0 * best.glass + 600.0 * best.remake)


def test_contradicting_readings_are_ordered_from_by_nobody(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["compare", str(LODGE / "plover.yaml")]) == 1
    assert "Nothing that was left open can be ordered" in capsys.readouterr().out


def test_compare_on_the_terminal_and_its_drawings(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["compare", str(LODGE / "skua.yaml"), "--out", str(tmp_path)]) == 0
    out = capsys.readouterr().out
    assert "Chance of a remake" in out
    assert list(tmp_path.glob("alternative-1-*.svg"))
    curve = (tmp_path / "chance-over-width-1.svg").read_text("utf-8")
    assert "Chance of a remake over the width" in curve


def test_every_way_that_lost_has_its_line_in_a_file(tmp_path: Path) -> None:
    found = compared("gull", 40)
    write_drawings(found, tmp_path)
    lines = (tmp_path / "why-the-others-lost.txt").read_text("utf-8").splitlines()
    assert len(lines) == len(found.lost)
    assert all(f"{other.title}: " in line for other, line in zip(found.lost, lines, strict=True))


def test_hinges_and_swing_are_varied_where_nobody_decided_them() -> None:
    job = brief("gull")
    said = {words for v in variants(job) for words in v.words}
    assert "three hinges" in said
    assert not any("opens" in words for words in said)
    nobody = job.job.wanted.model_copy()
    nobody.model_fields_set.discard("swing")
    free = replace(job, job=job.job.model_copy(update={"wanted": nobody}))
    opens = {words for v in variants(free) for words in v.words if "opens" in words}
    assert opens == {"door opens outward", "door opens inward"}


def test_the_first_of_two_fixed_panes_is_varied_too() -> None:
    said = [w for v in variants(brief("tern")) for w in v.words if w.startswith("fixed 1 ")]
    assert len(said) == 4
    assert all(w.endswith(" mm wide") for w in said)


def variants(job: Brief) -> list[Variant]:
    """Variants with one thing decided differently."""
    open_ = left_open(job, fit(job, measure(job)), ())
    return list(takewhile(lambda v: len(v.words) <= 1, open_.variants))


def test_a_width_with_better_odds_than_the_one_chosen_is_offered(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """However it comes about: the curve here is made up."""

    def made_up(_brief: Brief, _opening: Opening, made: Enclosure, pane: str) -> Curve:
        chosen = made.lite(pane).width_bottom
        widths = (chosen, chosen + 1.5875)
        risk = (0.01, 0.001) if pane == "door" else (0.01, 0.01)
        return Curve(pane=pane, widths=widths, remake=risk, chosen=chosen)

    monkeypatch.setattr("hangtrue.compare.ranking.curve", made_up)
    found = compare(brief("gull"), (), 2)
    titles = [o.title for o in found.best] + [o.title for o in found.lost]
    assert any('door 28-1/16" wide' in title for title in titles)


def test_compare_of_a_document_that_is_wrong(tmp_path: Path) -> None:
    bad = tmp_path / "bad.yaml"
    bad.write_text("hangtrue: 1\n", encoding="utf-8")
    assert main(["compare", str(bad)]) == 2


def test_the_plan_carries_its_odds() -> None:
    found = prove(plan(brief("gull"))).odds
    assert found is not None
    assert 0.0001 < found.remake.value < 0.001
