"""Names exist, and the parts of a job suit each other."""

from pathlib import Path

import pytest

from hangtrue.job.hardware import Channel, Hinge, Seal
from hangtrue.job.read import read_job_text
from tests.unit.jobs import GOOD, broken, read, with_reading

SET = (Path(__file__).parents[2] / "examples" / "lodge" / "wren-set.yaml").read_text("utf-8")


def said(text: str) -> dict[str, str]:
    """Return what is said about each field."""
    found: dict[str, str] = {}
    for problem in read(text)[1]:
        found[problem.field] = f"{found.get(problem.field, '')}\n{problem}"
    return found


@pytest.mark.parametrize(
    ("old", "new", "field", "says"),
    [
        ("[door, fixed]", "[fixed]\n  hinge_side: left", "wanted.hinge_side", "no door"),
        ("  right: {behind: unknown}\n", "", "wanted.lites[2]", "nobody says how wide"),
        ("[door, fixed]", "[door, fixed]\n  thickness: 6 mm", "wanted.thickness", "to be had"),
        ("[door, fixed]", "[door, fixed]\n  make: boxed set", "wanted.boxed_set", "which one?"),
        ("[door, fixed]", "[door, fixed]\n  boxed_set: a.yaml", "wanted.boxed_set", "no file"),
        (
            "[door, fixed]",
            "[door]\n  make: boxed set\n  boxed_set: ../a",
            "wanted.boxed_set",
            "plain file",
        ),
        ("unit: in", "unit: in\nprofile: our-shop", "profile", "write one of inch-shop"),
        ("unit: in", "unit: in\nprofile: our.toml", "profile", "no file 'our.toml'"),
        ("unit: in", "unit: in\ndatum: mark", "datum", "nobody read the curb's height"),
        ("from: 0, to: 80", "from: 80, to: 0", "walls.left.blocking[1]", "lower height"),
        ("unit: in", "unit: in\nhardware: {hinge: plain}", "hardware.hinge", "nobody knows"),
        ("unit: in", "unit: in\nhardware: {hinge: plain-glass-hinge}", "hardware.hinge", "wall"),
        ("unit: in", "unit: in\nhardware: {sweep: strike-seal-round}", "hardware.sweep", "sweep"),
        ("unit: in", "unit: in\nhardware: {wall: knob}", "hardware.wall", "channel or clamp"),
    ],
)
def test_what_does_not_go_together(old: str, new: str, field: str, says: str) -> None:
    found = said(broken(old, new))
    assert says in found[field]


@pytest.mark.parametrize(
    ("reading", "field", "says"),
    [
        ("{what: width, at: 4, value: 58, with: tap}", "with", "did you mean tape?"),
        ("{what: width, at: 4, value: 58, with: level-72}", "with", "not read with a level"),
        ("{what: lean, wall: left, from: 9, to: 9, value: 0}", "from", "does not go up"),
        ("{what: bow, wall: left, from: 4, to: 76, at: 80, value: 0}", "at", "straightedge"),
        ("{what: lean, wall: left, from: 0, to: 9, toward: in, value: -1/8}", "value", "sign"),
        ("{what: fall, falls: left, value: -1/8}", "value", "`falls: left` says it again"),
        ("{what: offset, wall: left, line: a, at: 4, value: 6}", "line", "second one"),
        ("{what: height, of: curb, at: left, value: 1}", "value", "so there it is 0"),
    ],
)
def test_a_reading_that_does_not_go_together(reading: str, field: str, says: str) -> None:
    found = said(with_reading(reading))
    assert says in found[f"readings[5].{field}"]


def test_a_reading_of_a_wall_that_is_not_there_is_left_out() -> None:
    free = GOOD.replace("  right: {behind: unknown}\n", "").replace(
        "[door, fixed]", "[{kind: fixed, width: 34 in}]"
    )
    brief, problems = read(free)
    assert brief
    assert [reading.what for reading in brief.job.readings] == ["lean"]
    assert len(problems) == 3, "the three widths have no wall to go to"


def test_a_screen_with_a_free_end_is_a_good_job() -> None:
    brief, problems = read("""\
hangtrue: 1
job: {id: skua}
unit: mm
profile: metric-shop
walls: {left: {behind: masonry}}
threshold: {kind: floor, height: 0, width: 100}
wanted: {lites: [{kind: fixed, width: 900, head_support: yes}], height: 2000, thickness: 10}
readings:
  - {what: lean, wall: left, from: 0, to: 1900, toward: out, value: 4}
""")
    assert brief
    assert problems == ()
    assert brief.job.wall("right") is None


def test_the_jobs_own_hardware_and_instruments_count() -> None:
    brief, problems = read(
        GOOD
        + """\
  - {what: fall, falls: right, value: 1/16, with: our-level}
instruments:
  - {id: our-level, title: Our level, kind: level, error: 0.3, source: own}
hardware: {sweep: our-sweep}
items:
  - {id: our-sweep, title: Tall sweep, kind: seal, use: sweep,
     gap: {least: 3/8, usual: 1/2, most: 3/4}}
"""
    )
    assert problems == ()
    assert brief
    assert brief.items["our-sweep"].glass_most == 12.0
    assert brief.instruments["our-level"].error == 0.3


def test_a_fitting_whose_numbers_cannot_be_is_left_out() -> None:
    found = said(
        GOOD
        + """\
items:
  - {id: a, title: A, kind: joint, gap: {least: 1/4, usual: 1/8, most: 1/2}}
  - {id: b, title: B, kind: channel, depth: 1/4, base: 0, bite_least: 3/8, floor_gap_least: 1/8}
  - {id: b, title: B, kind: joint, gap: {least: 0, usual: 0, most: 0}, glass_least: 14 mm}
instruments: [{id: x, title: X, kind: tape, source: leaflet}]
"""
    )
    assert "do not grow" in found["items[1].gap"]
    assert "more than the channel is deep" in found["items[2].depth"]
    assert "stands here twice" in found["items[3].id"]
    assert "as least" in found["items[3].glass_least"]
    assert "in no table of sources" in found["instruments[1].source"]


def boxed(tmp_path: Path, set_text: str, lites: str = "[door, fixed]") -> dict[str, str]:
    """Return what is said about a job with a boxed set beside it."""
    (tmp_path / "set.yaml").write_text(set_text, encoding="utf-8")
    text = broken("[door, fixed]", f"{lites}\n  make: boxed set\n  boxed_set: set.yaml")
    brief, problems = read_job_text(text, tmp_path)
    assert (brief is None) == bool(problems)
    return {problem.field: str(problem) for problem in problems}


def test_a_boxed_set_is_read_from_beside_the_job(tmp_path: Path) -> None:
    assert boxed(tmp_path, SET) == {}
    assert boxed(tmp_path, SET, "[fixed, door]") == {}, "this set may be built left for right"


def test_a_boxed_set_that_is_not_the_one_wanted(tmp_path: Path) -> None:
    one_way = SET.replace("reversible: true", "reversible: false")
    assert (
        "the set is door + fixed" in boxed(tmp_path, one_way, "[fixed, door]")["wanted.boxed_set"]
    )
    assert "the set is door + fixed" in boxed(tmp_path, SET, "[door]")["wanted.boxed_set"]


def test_problems_inside_a_boxed_set_carry_its_own_lines(tmp_path: Path) -> None:
    bad = SET.replace("opening_most: 48", "opening_most: 48 9/8")
    line = bad.splitlines().index("opening_most: 48 9/8") + 1
    assert (
        f"in set.yaml: line {line}: opening_most: 9/8" in boxed(tmp_path, bad)["wanted.boxed_set"]
    )
    lost = SET.replace("hinge: set-hinge", "hinge: lost-hinge")
    assert "nobody knows a fitting 'lost-hinge'" in boxed(tmp_path, lost)["wanted.boxed_set"]


def test_the_sample_set_takes_up_exactly_half_an_inch() -> None:
    """Common practice, no source: a boxed set with half an inch of adjustment.

    The sum of panes and least (most) gaps is the least (greatest) opening, by the hardware's rows.
    """
    brief, _ = read_job_text(GOOD)
    assert brief
    hinge, strike = brief.item("set-hinge", Hinge), brief.item("strike-seal-round", Seal)
    channel = brief.item("channel-set", Channel)
    panes = 25.5 + 21 + 9 / 16
    least = hinge.gap.least + strike.gap.least + channel.base + channel.floor_gap_least
    most = hinge.gap.most + strike.gap.most + channel.base + channel.depth - channel.bite_least
    assert panes + least / 25.4 == pytest.approx(47.5, abs=1e-12)
    assert panes + most / 25.4 == pytest.approx(48.0, abs=1e-12)
