"""The document of what was read after hanging: everything that is wrong in it, at once."""

from __future__ import annotations

import jsonschema
import pytest

from hangtrue.hang.asbuilt_document import asbuilt_schema, read_asbuilt_text
from tests.unit.hung import hung

ENCLOSURE = hung("door left wall", "fixed")
GOOD = """\
asbuilt: 1
unit: in
job: gull
gaps:
  - {joint: door to left wall, at: top, value: 3/16}
  - {joint: door to curb, at: left, value: 1/2}
levels:
  - {pane: fixed 1, edge: top, over: 24, toward: left, value: 1/16}
packing:
  - {joint: door to left wall, plate: upper, value: 1/16}
shims: [1/32, 1/16]
"""


def said(text: str) -> dict[str, str]:
    return {p.field: str(p) for p in read_asbuilt_text(text, ENCLOSURE, "gull").problems}


def test_a_good_document_is_read_in_its_unit() -> None:
    read = read_asbuilt_text(GOOD, ENCLOSURE, "gull")
    assert read.problems == ()
    assert read.document
    assert float(read.document.gaps[0].value) == pytest.approx(4.7625)


def test_the_schema_takes_a_good_document() -> None:
    good = {
        "asbuilt": 1,
        "unit": "in",
        "gaps": [{"joint": "door to left wall", "at": "top", "value": "3/16"}],
    }
    jsonschema.validate(good, asbuilt_schema())
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(good | {"gap": 1}, asbuilt_schema())


@pytest.mark.parametrize(
    ("old", "new", "field", "words"),
    [
        ("door to left wall, at", "dor to left wall, at", "gaps[1].joint", "did you mean"),
        ("at: top", "at: left", "gaps[1].at", "write bottom, middle, top"),
        ("at: top", "at: 300 in", "gaps[1].at", "is not on"),
        ("at: top", "at: tpo", "gaps[1].at", "bottom, middle, top"),
        ("value: 3/16", "value: -3/16", "gaps[1].value", "write 0 where it touches"),
        ("value: 3/16", "value: 48", "gaps[1].value", "is the unit right?"),
        ("value: 3/16", "value: 3/17", "gaps[1].value", "on no tape"),
        ("pane: fixed 1", "pane: fixed 2", "levels[1].pane", "did you mean fixed 1"),
        ("over: 24", "over: 0", "levels[1].over", "length of the level"),
        ("value: 1/16}\npacking", "value: 12}\npacking", "levels[1].value", "steeper"),
        ("left wall, plate", "fixed 1, plate", "packing[1].joint", "no hinges"),
        ("[1/32, 1/16]", "[0, 1/16]", "shims[1]", "write its thickness"),
        ("job: gull", "job: tern", "job", "belongs here"),
        ("unit: in", "unit: inch", "unit", "did you mean in?"),
        ("asbuilt: 1", "asbuilt: 7", "asbuilt", "write 1"),
    ],
)
def test_one_thing_wrong_is_said_with_the_remedy(
    old: str, new: str, field: str, words: str
) -> None:
    assert GOOD.count(old) == 1
    found = said(GOOD.replace(old, new))
    assert list(found) == [field]
    assert words in found[field]
    assert found[field].startswith("line ")


def test_everything_wrong_is_said_at_once() -> None:
    bad = (
        GOOD.replace("at: top", "at: tpo")
        .replace("pane: fixed 1", "pane: window")
        .replace("shims: [1/32, 1/16]", "shims: [0]\nfoo: 1")
    )
    assert set(said(bad)) == {"gaps[1].at", "levels[1].pane", "shims[1]", "foo"}


def test_a_wrong_entry_does_not_shift_what_is_said_of_the_next() -> None:
    bad = GOOD.replace("value: 3/16", "value: 3/17").replace("door to curb", "door to crub")
    found = said(bad)
    assert set(found) == {"gaps[1].value", "gaps[2].joint"}
    assert found["gaps[2].joint"].startswith("line 6")


def test_nothing_read_is_a_problem() -> None:
    assert "write at least one gap" in said("asbuilt: 1\nunit: mm\n")["gaps"]


def test_what_is_no_yaml_is_one_problem() -> None:
    read = read_asbuilt_text("a: [", ENCLOSURE, "gull")
    assert read.document is None
    assert len(read.problems) == 1
