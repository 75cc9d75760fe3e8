"""An installer's own hand: learned from finished jobs, near the default while they are few."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest

from hangtrue.cli import main
from hangtrue.job.library import find_profile, shipped_instruments, shipped_profiles
from hangtrue.odds.history import FinishedJob, History, Repeated, SetGap, read_history
from hangtrue.odds.learn import EVERYBODY, Hand, Learned, as_profile, learn
from hangtrue.paper.terminal_compare import changed_text
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


# -------------------------------------------------------------- hands at instruments, taken over


def read_twice(
    jobs: int,
    people: dict[str, tuple[float, float]],
    known: float | None = None,
    with_: str = "tape",
) -> History:
    """Jobs in which each of them, with a bias and a scatter, reads a length of 1 m four times."""
    rng = np.random.default_rng(5)

    def reading(person: str) -> Repeated:
        bias, sd = people[person]
        values = tuple(Length(1000.0 + rng.normal(bias, sd)) for _ in range(4))
        given = None if known is None else Length(known)
        return Repeated(what="bar", with_=with_, by=person, known=given, values=values)

    made = (
        FinishedJob(job=f"job-{k}", set_by="Tomas", readings=tuple(map(reading, people)))
        for k in range(jobs)
    )
    return History(history=1, unit="mm", jobs=tuple(made))


def hand_of(found: Learned, person: str) -> Hand:
    return next(h for h in found.hands if h.person == person and h.what != "setting")


def test_a_length_known_otherwise_teaches_a_bias() -> None:
    found = taught(read_twice(30, {"Ines": (0.8, 0.3), "Tomas": (0.0, 0.3)}, known=1000.0))
    ines, tomas = hand_of(found, "Ines"), hand_of(found, "Tomas")
    assert ines.bias == pytest.approx(0.8 * 120 / 125, abs=0.08)  # drawn to nought by five numbers
    assert ines.scatter == pytest.approx(0.3, abs=0.08)
    assert ines.biased
    assert not tomas.biased
    assert (ines.jobs, ines.count) == (30, 120)


def test_the_bias_of_one_is_scatter_to_whoever_is_not_named() -> None:
    """Half the numbers 0.8 mm off, half none: 0.8 / sqrt 2 beside the scatter of each."""
    found = taught(read_twice(200, {"Ines": (0.8, 0.3), "Tomas": (0.0, 0.3)}, known=1000.0))
    shop = hand_of(found, EVERYBODY)
    assert shop.scatter == pytest.approx(math.hypot(0.3, 0.8 / math.sqrt(2.0)), abs=0.03)
    assert not shop.tells_bias


def test_scatter_of_repeats_is_that_of_one_way_analysis_of_variance() -> None:
    """With data enough: the mean square within groups, by numpy."""
    history = read_twice(400, {"Ines": (0.0, 0.7)})
    groups = np.array([[float(v) for v in j.readings[0].values] for j in history.jobs])
    within = float(np.mean(groups.var(axis=1, ddof=1)))
    assert hand_of(taught(history), "Ines").scatter == pytest.approx(within**0.5, rel=0.01)


def test_few_repeats_stay_near_what_the_instrument_says() -> None:
    few = hand_of(taught(read_twice(1, {"Ines": (0.0, 2.0)})), "Ines")
    many = hand_of(taught(read_twice(60, {"Ines": (0.0, 2.0)})), "Ines")
    assert few.default == pytest.approx(math.hypot(0.5, 0.5) / math.sqrt(3.0))
    assert few.default < few.scatter < many.scatter
    low, high = few.scatter_interval
    assert high - low > np.diff(many.scatter_interval)[0]


def test_the_profile_takes_over_the_hands_as_learned(tmp_path: Path) -> None:
    found = taught(read_twice(20, {"Ines M.": (0.8, 0.3), "Tomas": (0.0, 0.5)}, known=1000.0))
    (tmp_path / "mine.toml").write_text(as_profile(found, SHOP, "mine"), encoding="utf-8")
    profile, faults = find_profile("mine.toml", tmp_path)
    assert not faults
    assert profile is not None
    for person in ("Ines M.", "Tomas", EVERYBODY):
        taken, learnt = profile.hand(person, "tape"), hand_of(found, person)
        assert taken is not None
        assert float(taken.scatter) == pytest.approx(learnt.scatter, abs=0.006)
        assert float(taken.bias or 0.0) == pytest.approx(learnt.bias, abs=0.006)
    taken = profile.people["Ines M."]["tape"]
    assert (taken.numbers, taken.jobs) == (80, 20)


def test_what_is_taken_over_is_shown_as_it_was_and_as_it_becomes() -> None:
    found = taught(read_twice(20, {"Ines": (0.8, 0.3)}, known=1000.0))
    ines = hand_of(found, "Ines")
    rows = changed_text(found, SHOP, "mine.toml").splitlines()
    scatter = next(row for row in rows if row.startswith("scatter of Ines, tape")).split()
    assert scatter[-5:-3] == [f"{ines.default:.2f}", f"{ines.scatter:.2f}"]
    assert scatter[-3:] == [
        f"{ines.scatter_interval[0]:.2f}",
        "to",
        f"{ines.scatter_interval[1]:.2f}",
    ]
    bias = next(row for row in rows if row.startswith("bias of Ines, tape")).split()
    assert bias[-5:-3] == ["+0.00", f"{ines.bias:+.2f}"]


def test_learned_again_on_top_of_its_own_profile_it_starts_from_there(tmp_path: Path) -> None:
    history = read_twice(20, {"Ines": (0.8, 0.3)}, known=1000.0)
    (tmp_path / "mine.toml").write_text(as_profile(taught(history), SHOP, "mine"), encoding="utf-8")
    mine, _ = find_profile("mine.toml", tmp_path)
    assert mine is not None
    again = hand_of(learn(history, mine, shipped_instruments()), "Ines")
    taken = mine.hand("Ines", "tape")
    assert taken is not None
    assert again.default == float(taken.scatter)
    assert again.bias_now == float(taken.bias or 0.0)


def test_a_length_read_once_teaches_nothing_and_changes_nothing() -> None:
    reading = Repeated(what="w1", with_="tape", by="Ines", values=(Length(1000.0),))
    job = FinishedJob(job="a", set_by="Ines", readings=(reading,))
    found = taught(History(history=1, unit="mm", jobs=(job,)))
    assert found.taken == ()
    assert hand_of(found, "Ines").scatter == pytest.approx(hand_of(found, "Ines").default)


def test_an_instrument_that_reads_degrees_is_not_learned_from_lengths() -> None:
    found = taught(read_twice(3, {"Ines": (0.0, 0.5)}, with_="digital-level"))
    assert found.hands == ()
    assert any("digital-level reads degrees" in note for note in found.notes)
