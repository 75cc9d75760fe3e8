"""Everything wrong comes back at once, with line, field and remedy; the rest is still read."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangtrue.job.blank import blank_job
from hangtrue.job.problems import any_wrong
from hangtrue.job.read import read_job, read_job_text
from tests.unit.jobs import GOOD, broken, only, read, with_reading


def test_a_good_job_is_read_without_a_word() -> None:
    brief, problems = read(GOOD)
    assert brief
    assert problems == ()
    assert brief.job.wanted.height == 1981.2
    assert brief.job.wanted.height.typed == "78"


def test_readings_without_an_id_are_named_by_their_place() -> None:
    brief, _ = read(broken("{what: width, at: 40,", "{what: width, id: mid, at: 40,"))
    assert brief
    assert [reading.id for reading in brief.job.readings] == ["r1", "mid", "r3", "r4"]


def test_a_reading_without_an_instrument_takes_the_usual_one_of_the_unit() -> None:
    brief, _ = read(GOOD)
    assert brief
    assert [r.with_ for r in brief.job.readings] == ["tape-hb44"] * 3 + ["level-72"]
    metric, _ = read_job_text(blank_job("mm"))
    assert metric
    assert metric.job.readings[0].with_ == "tape"


@pytest.mark.parametrize(
    ("old", "new", "line", "field", "says"),
    [
        ("height: 78", "height: 78\n  hight: 3", 11, "wanted.hight", "did you mean `height`?"),
        ("height: 78", "colour: red\n  height: 78", 10, "wanted.colour", "known here: lites"),
        ("unit: in", "unit: inch", 3, "unit", "write in, mm or cm"),
        ("unit: in\n", "", None, "unit", "`unit` is missing"),
        ("hangtrue: 1", "hangtrue: 2", 1, "hangtrue", "write 1"),
        ("height: 78", "height: 3/17", 10, "wanted.height", "3/17 is on no tape"),
        ("height: 78", "height: .nan", 10, "wanted.height", "is not a length"),
        ("height: 78", "height: [78]", 10, "wanted.height", "is not a length"),
        ("  height: 78\n", "", 9, "wanted.height", "write it, like `height: 78 in`"),
        ("  height: 78\n", "  height:\n", 10, "wanted.height", "`height` is missing"),
        ("[door, fixed]", "[door, fxed]", 9, "wanted.lites[2]", "did you mean fixed?"),
        ("[door, fixed]", "[]", 9, "wanted.lites", "there must be at least 1"),
        (
            "[door, fixed]",
            "[fixed, fixed, door, fixed, fixed, fixed, fixed, fixed, fixed]",
            9,
            "wanted.lites",
            "at most 8",
        ),
        ("{height: 4, width: 4-1/2}", "tall", 7, "threshold", "is not a block of"),
        ("behind: unknown", "behind: wood", 6, "walls.right.behind", "write blocking, stud"),
        ("depth: 1-1/2", "dpth: 1", 5, "walls.left.blocking[1].depth", "`depth` is missing"),
    ],
)
def test_one_thing_wrong_in_the_document(
    old: str, new: str, line: int | None, field: str, says: str
) -> None:
    _, problems = read(broken(old, new))
    here = [problem for problem in problems if problem.field == field]
    assert here, [str(problem) for problem in problems]
    assert here[0].line in {line, line and line - 1}, "its line, or that of the block around it"
    assert says in str(here[0])
    assert any_wrong(problems)


@pytest.mark.parametrize(
    ("reading", "field", "says"),
    [
        ("{what: width, at: 4}", "readings[5].value", 'write it, like `value: 58-1/2"`'),
        ("{what: widht, at: 4, value: 58}", "readings[5].what", "did you mean width?"),
        ("{at: 4, value: 58}", "readings[5].what", "nothing says what this is"),
        ("58", "readings[5]", "is not a block of"),
        ("{what: width, at: 4, value: 1e9}", "readings[5].value", "is not a length"),
        ("{what: width, at: 4, value: inf}", "readings[5].value", "is not a length"),
        ("{what: width, at: 4, value: 58 9/8}", "readings[5].value", "carry it into the inches"),
        ('{what: width, at: 4, value: "1,486 mm"}', "readings[5].value", "thousands"),
        ("{what: width, at: 4, value: 1,486 mm}", "readings[5].486 mm", "a comma begins"),
        ("{what: lean, wall: lft, from: 0, to: 9, value: 0}", "readings[5].wall", "mean left?"),
        ("{what: lean, wall: left, from: 0, to: 9, value: x}", "readings[5].value", "no slope"),
        ("{what: angle, wall: left, value: 90}", "readings[5].value", "write it like 90.4°"),
        ("{what: fall, value: 0, falls: down}", "readings[5].falls", "write left or right"),
    ],
)
def test_a_bad_reading_is_named_and_left_out(reading: str, field: str, says: str) -> None:
    brief, problems = read(with_reading(reading))
    here = [problem for problem in problems if problem.field == field]
    assert here, [str(problem) for problem in problems]
    assert here[0].line == 16
    assert says in str(here[0])
    assert brief, "the other four readings are still planned with"
    assert len(brief.job.readings) == 4


def test_everything_wrong_is_said_at_once_in_the_order_of_the_document() -> None:
    _, problems = read("""\
hangtrue: 1
job: {titel: Lodge}
unit: in
walls:
  left: {behind: wood}
threshold: {height: 4, width: 4-3/17}
wanted: {lites: [door], height: 78, thickness: 5/16}
hardware: {hinge: brass-hinge, hinges: 5}
readings:
  - {what: width, at: 4, value: 58-1/2, with: tap}
  - {what: lean, wall: left, from: 72, to: 0, toward: in, value: -1/4}
""")
    assert {problem.field for problem in problems} >= {
        "job.id", "job.titel", "walls.left.behind", "threshold.width", "wanted.lites[1]",
        "wanted.thickness", "hardware.hinge", "hardware.hinges", "readings[1].with",
        "readings[2].from", "readings[2].value",
    }  # fmt: skip
    lines = [problem.line or 0 for problem in problems]
    assert lines == sorted(lines)
    assert len(set(problems)) == len(problems), "nothing is said twice"


def test_a_bad_part_that_may_be_left_out_does_not_stop_the_rest() -> None:
    brief, problems = read(broken("behind: unknown", "behind: wood"))
    assert any_wrong(problems)
    assert brief
    assert brief.job.walls.right
    assert brief.job.walls.right.behind == "unknown"


def test_two_readings_of_one_name_are_both_kept_and_the_second_is_asked_about() -> None:
    brief, problems = read(
        GOOD.replace("at: 4,", "at: 4, id: w,").replace("at: 76,", "at: 76, id: w,")
    )
    assert [str(problem) for problem in problems] == [
        "line 14: readings[3].id: reading 1 is called w too; give each its own id"
    ]
    assert brief
    assert [reading.id for reading in brief.job.readings] == ["w", "r2", "r3", "r4"]


def test_a_wrong_unit_is_one_problem_and_not_one_for_every_number() -> None:
    assert only(broken("unit: in", "unit: furlong")).field == "unit"


def test_a_boxed_set_is_not_taken_for_a_job() -> None:
    assert "this is a boxed set, not a job" in str(only("boxed_set: 1\nid: wren\n"))


def test_a_file_that_is_not_there_is_a_problem(tmp_path: Path) -> None:
    brief, problems = read_job(tmp_path / "none.yaml")
    assert brief is None
    assert "cannot read none.yaml" in str(problems[0])


def test_a_list_that_nobody_would_read_is_cut() -> None:
    _, problems = read("".join(f"key{n}: 1\n" for n in range(1000)))
    assert len(problems) == 201
    assert problems[-1].wrong.startswith("and 8")


VALUES = st.recursive(
    st.sampled_from(
        ["", "1", "58-1/2", "3 mm/m", "door", "left", "in", "width", "lean", "nan", "x", "~", "90°"]
    ),
    lambda below: st.one_of(
        st.lists(below, max_size=3).map(lambda parts: f"[{', '.join(parts)}]"),
        st.dictionaries(
            st.sampled_from(["what", "kind", "value", "at", "from", "wall", "gap", "id", "left"]),
            below,
            max_size=4,
        ).map(lambda d: "{" + ", ".join(f"{k}: {v}" for k, v in d.items()) + "}"),
    ),
    max_leaves=8,
)


@given(
    st.dictionaries(
        st.sampled_from(
            ["hangtrue", "job", "unit", "profile", "datum", "site", "walls", "threshold", "wanted",
             "hardware", "items", "instruments", "readings", "other"]
        ),
        VALUES,
    )
)  # fmt: skip
def test_whatever_stands_under_the_keys_comes_back_as_problems(document: dict[str, str]) -> None:
    text = "".join(f"{key}: {value}\n" for key, value in document.items())
    brief, problems = read(text)
    assert brief or any_wrong(problems)


@given(st.integers(1, GOOD.count("\n")), VALUES)
def test_whatever_stands_in_one_line_of_a_good_job_comes_back(line: int, value: str) -> None:
    lines = GOOD.splitlines()
    key, colon, _ = lines[line - 1].partition(":")
    lines[line - 1] = f"{key}{colon} {value}"
    brief, problems = read("\n".join(lines))
    assert brief or any_wrong(problems)


@given(st.text(max_size=100))
def test_any_text_comes_back_as_problems(text: str) -> None:
    brief, problems = read(text)
    assert brief is None
    assert any_wrong(problems)
