"""An installer's own hand: learned from finished jobs, near the default while they are few."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from hangtrue.cli import main
from hangtrue.job.library import find_profile, shipped_instruments, shipped_profiles
from hangtrue.odds.history import FinishedJob, History, Repeated, SetGap, read_history
from hangtrue.odds.learn import Learned, as_profile, learn
from hangtrue.units import Length

SHOP = shipped_profiles()["metric-shop"]


def finished(
    jobs: int, bias: float = 0.0, sd: float = 0.5, seed: int = 1, between: float = 0.0
) -> History:
    """Finished jobs of one person with eight gaps each."""
    rng = np.random.default_rng(seed)

    def gap(shift: float) -> SetGap:
        return SetGap(
            joint="door to left wall",
            predicted=Length(5.0),
            measured=Length(5.0 + shift + rng.normal(bias, sd)),
        )

    made = []
    for k in range(jobs):
        shift = rng.normal(0.0, between)
        made.append(
            FinishedJob(job=f"job-{k}", set_by="Tomas", gaps=tuple(gap(shift) for _ in range(8)))
        )
    return History(history=1, unit="mm", jobs=tuple(made))


def taught(history: History) -> Learned:
    return learn(history, SHOP, shipped_instruments())


def test_many_jobs_find_bias_and_scatter() -> None:
    hand = taught(finished(60, bias=0.6, sd=0.9)).hands[0]
    assert hand.bias == pytest.approx(0.6, abs=0.15)
    assert hand.scatter == pytest.approx(0.9, abs=0.12)
    assert hand.biased
    low, high = hand.scatter_interval
    assert low < hand.scatter < high < 1.05


def test_few_jobs_stay_near_the_default() -> None:
    few, many = (taught(finished(n, sd=2.0)).hands[0].scatter for n in (1, 40))
    assert float(SHOP.setting_sd) < few < many


def test_one_job_says_what_it_cannot_tell() -> None:
    found = taught(finished(1))
    assert found.hands[0].from_jobs is None
    assert "One job only" in found.notes[0]


def test_an_empty_history_changes_nothing() -> None:
    found = taught(History(history=1, unit="mm", jobs=()))
    assert found.setting_sd[0] == found.setting_sd[1]
    assert "nothing is learned" in found.notes[0]


def test_what_differs_from_job_to_job_is_told_from_what_differs_within() -> None:
    found = taught(finished(40, sd=0.4, between=1.2)).hands[0].from_jobs
    assert found is not None
    assert found.between**0.5 == pytest.approx(1.2, abs=0.4)
    assert found.within**0.5 == pytest.approx(0.4, abs=0.05)


def test_no_variance_is_ever_negative() -> None:
    for seed in range(40):
        found = taught(finished(3, seed=seed)).hands[0].from_jobs
        assert found is not None
        assert found.between >= 0.0
        assert found.between_interval[0] >= 0.0


def test_repeats_of_a_length_teach_the_scatter_of_an_instrument_and_no_bias() -> None:
    rng = np.random.default_rng(2)
    readings = tuple(
        Repeated(
            what=f"w{k}", with_="tape", by="Ines",
            values=tuple(Length(1480 + 10 * k + rng.normal(0, 0.8)) for _ in range(3)),
        )
        for k in range(60)
    )  # fmt: skip
    history = History(
        history=1, unit="mm", jobs=(FinishedJob(job="a", set_by="Ines", readings=readings),)
    )
    hand = taught(history).hands[0]
    assert hand.what == "tape"
    assert hand.scatter == pytest.approx(0.8, abs=0.1)
    assert hand.bias == 0.0


def test_the_profile_takes_it_over_only_when_told_to(tmp_path: Path) -> None:
    found = taught(finished(40, sd=0.9))
    path = tmp_path / "learned.toml"
    path.write_text(as_profile(found, SHOP, "learned"), encoding="utf-8")
    profile, faults = find_profile("learned.toml", tmp_path)
    assert not faults
    assert profile is not None
    assert float(profile.setting_sd) == pytest.approx(found.setting_sd[0], abs=0.006)


def test_learn_on_the_terminal(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "history.yaml"
    path.write_text(
        "history: 1\nunit: mm\njobs:\n"
        "  - job: lodge-gull\n    set_by: Tomas\n    gaps:\n"
        "      - {joint: door to left wall, predicted: 4.8, measured: 5.2}\n"
        "      - {joint: door to fixed 1, predicted: 4.8, measured: 4.9}\n",
        encoding="utf-8",
    )
    out = tmp_path / "mine.toml"
    assert main(["learn", str(path), "--shop", "metric-shop", "--profile", str(out)]) == 0
    said = capsys.readouterr().out
    assert "Tomas" in said
    assert "One job only" in said
    assert 'based_on = "metric-shop"' in out.read_text(encoding="utf-8")
    assert main(["learn", str(path), "--profile", str(out)]) == 2  # never overwritten


def test_all_that_is_wrong_in_a_history_is_said_at_once(tmp_path: Path) -> None:
    path = tmp_path / "history.yaml"
    path.write_text(
        "history: 1\nunit: mm\njobs:\n  - set_by: Tomas\n    gaps: [{joint: a, predicted: x}]\n",
        encoding="utf-8",
    )
    found, problems = read_history(path)
    assert found is None
    assert len(problems) >= 3
    assert all(p.line for p in problems)
