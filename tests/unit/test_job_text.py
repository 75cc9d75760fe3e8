"""A document is plain YAML 1.2; everything else is refused in a sentence, and nothing raises."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangtrue.job.text import MOST_BYTES, parse, read_text


def said(text: str) -> str:
    """Return all that is said about a text, in one string."""
    return "\n".join(map(str, parse(text)[1]))


def test_every_value_keeps_the_text_that_was_typed() -> None:
    text, problems = parse("a: 58.50\nb: 010\nc: yes\nd: 2026-05-04\ne: '7'\nf: 1e3\n")
    assert not problems
    assert text
    assert text.values == {
        "a": "58.50", "b": "010", "c": "yes", "d": "2026-05-04", "e": "7", "f": "1e3",
    }  # fmt: skip


def test_the_line_of_every_value_is_known() -> None:
    text, _ = parse("a: 1\nb:\n  - c: 2\n  - c: 3\n\n    d: 4\n")
    assert text
    assert text.lines[("b", 1, "c")] == 4
    assert text.lines[("b", 1, "d")] == 6
    assert text.line(("b", 1, "missing")) == 4, "the line of the block around it"
    assert text.line(("nowhere",)) is None


def test_nothing_is_not_the_word_nothing() -> None:
    text, _ = parse("a:\nb: ~\nc: ''\n")
    assert text
    assert text.values == {"a": None, "b": None, "c": ""}


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("a: &x 1\nb: 2", "line 1: a: `&x` names a part"),
        ("a: 1\nb: *x", "line 2: b: `*x` stands for"),
        ("a: !!str 3", "is a YAML tag"),
        ("a: !python/object:os.system ls", "is a YAML tag"),
        ("b: 1\n<<: {a: 1}", "line 2: `<<` merges"),
        ("a: 1\nb: 2\na: 3", "line 3: a: `a` is written twice, first in line 1"),
        ("- 1\n- 2", "not a list of `key: value` lines"),
        ("just words", "not a list of `key: value` lines"),
        ("", "the document is empty"),
        ("# only a remark\n", "the document is empty"),
        ("a: 1\n---\nb: 2", "line 2: a second document"),
        ("%YAML 1.1\n---\na: 1", "another YAML than 1.2"),
        ("a: b: c", "line 1: this is not YAML"),
        ("a: 1\n\tb: 2", "blanks, not with tabs"),
        ("a: {b: 1", "this is not YAML"),
        ("{\\rtf1 some text\x07}", "this is not YAML"),
        ("? [a, b]\n: 1", "a key is not a single word"),
        ("a: 1\n" + "!" * 3000, "line 2: this line is 3000 characters long"),
        ('a: "\\x07"', "cannot be printed"),
        ('a: "\\ud800"', "cannot be printed"),
        ("a: x\u202e37", "cannot be printed"),
        ("a: " + "[" * 50, "nested deeper than"),
        ("a: [" + "1,\n " * 30_000 + "1]", "more than 20000 values"),
    ],
)
def test_what_is_not_a_plain_document_is_refused(text: str, says: str) -> None:
    assert says in said(text)


def test_a_key_written_twice_does_not_hide_the_rest() -> None:
    text, problems = parse("a: 1\na: 2\nb: 3\n")
    assert text
    assert text.values == {"a": "1", "b": "3"}
    assert len(problems) == 1


def test_a_bomb_of_aliases_is_refused_at_its_first_name() -> None:
    bomb = "a: &a [x, x]\n" + "".join(f"{n}: &{n} [*a, *a]\n" for n in "bcdefgh")
    assert "names a part of the document" in said(bomb)


def test_ten_megabytes_are_refused_by_their_size(tmp_path: Path) -> None:
    path = tmp_path / "huge.yaml"
    path.write_bytes(b"a: 1\n" * 2_000_000)
    text, problems = read_text(path)
    assert text is None
    assert "10.0 MB is too large for a job" in str(problems[0])
    assert parse("#" * (MOST_BYTES + 1))[0] is None


def test_files_that_are_no_text_are_refused(tmp_path: Path) -> None:
    path = tmp_path / "photo.yaml"
    path.write_bytes(b"\x89PNG\r\n\x1a\n\x00\xff\xfe")
    assert "not text in UTF-8" in str(read_text(path)[1][0])
    assert "cannot read absent.yaml" in str(read_text(tmp_path / "absent.yaml")[1][0])
    assert "cannot read" in str(read_text(tmp_path)[1][0])


def test_a_byte_order_mark_is_no_matter(tmp_path: Path) -> None:
    path = tmp_path / "job.yaml"
    path.write_bytes(b"\xef\xbb\xbfa: 1\n")
    text, _ = read_text(path)
    assert text
    assert text.values == {"a": "1"}


@given(st.text(max_size=200))
def test_any_text_is_read_or_refused(text: str) -> None:
    read, problems = parse(text)
    assert read or problems


@given(st.text(alphabet="ab:-[]{}&*!<>|%@`'\"#?,~ \n\t0", max_size=80))
def test_any_row_of_the_marks_of_yaml_is_read_or_refused(text: str) -> None:
    read, problems = parse(text)
    assert read or problems
