"""The commands of the day and after: what is out, what to move; what is behind a complaint."""

from __future__ import annotations

import json
import re
from fractions import Fraction
from pathlib import Path

import pytest

from hangtrue.cli import BAD_INPUT, FITS, STOPS, main

GULL = Path(__file__).parents[2] / "examples" / "lodge" / "gull.yaml"
HEAD = "asbuilt: 1\nunit: in\njob: lodge-gull\ngaps:\n"
EVEN = """\
  - {joint: door to left wall, at: bottom, value: 1/4}
  - {joint: door to left wall, at: top, value: 3/16}
  - {joint: door to fixed 1, at: bottom, value: 3/16}
  - {joint: door to fixed 1, at: top, value: 3/16}
"""
LEANING = """\
  - {joint: door to left wall, at: bottom, value: 1/4}
  - {joint: door to left wall, at: top, value: 1/8}
  - {joint: door to fixed 1, at: bottom, value: 5/32}
  - {joint: door to fixed 1, at: top, value: 5/16}
  - {joint: door to curb, at: left, value: 1/2}
  - {joint: door to curb, at: right, value: 9/16}
"""
ODD = "  - {joint: fixed 1 to right wall, at: middle, value: 3/4}\n"


@pytest.fixture
def paper(tmp_path: Path) -> Path:
    return tmp_path / "read.yaml"


def test_even_gaps_are_left_as_they_are(paper: Path, capsys: pytest.CaptureFixture[str]) -> None:
    paper.write_text(HEAD + EVEN)
    assert main(["asbuilt", str(GULL), str(paper)]) == FITS
    assert "leave it as it is" in capsys.readouterr().out


def test_a_leaning_door_is_told_its_plate_its_shim_and_what_comes_of_it(
    paper: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    paper.write_text(HEAD + LEANING)
    assert main(["asbuilt", str(GULL), str(paper), "--units", "in"]) == FITS
    said = " ".join(capsys.readouterr().out.split())
    assert "1/16 in too wide" in said
    assert "Add 3/32 in of packing behind the upper plate" in said
    assert "1/16 in + 1/32 in" in said
    assert "Two people hold a door" in said


def test_a_reading_that_no_setting_explains_is_said_with_its_residual(
    paper: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    paper.write_text(HEAD + EVEN + ODD)
    assert main(["asbuilt", str(GULL), str(paper)]) == STOPS
    said = capsys.readouterr().out
    assert "No setting of the panes explains this" in said
    assert "gap 5, fixed 1 to right wall" in said
    assert "leave it as it is" not in said
    assert "before what is not explained is read again" in " ".join(said.split())


def test_packing_is_said_to_its_thinnest_piece_and_the_pieces_add_up(
    paper: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A piece of 1/64 in is not nothing: 1/16 + 1/32 + 1/64 = 7/64."""
    paper.write_text(HEAD + EVEN.replace("top, value: 3/16", "top, value: 1/16", 1).replace(
        "fixed 1, at: top, value: 3/16", "fixed 1, at: top, value: 5/16"))  # fmt: skip
    assert main(["asbuilt", str(GULL), str(paper), "--units", "in"]) == FITS
    said = " ".join(capsys.readouterr().out.split())
    found = re.search(r"Add (\S+) in of packing behind the upper plate.*?wall: ([^.]*)\.", said)
    assert found
    parts = [Fraction(piece.removesuffix(" in")) for piece in found[2].split(" + ")]
    assert min(parts) > 0
    assert sum(parts) == Fraction(found[1])


def test_wrong_readings_are_said_and_nothing_else(
    paper: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    paper.write_text(HEAD + LEANING.replace("fixed 1", "fixd 1"))
    assert main(["asbuilt", str(GULL), str(paper)]) == BAD_INPUT
    out, err = capsys.readouterr()
    assert out == ""
    assert " ".join(err.split()).count("did you mean door to fixed 1?") == 2


def test_a_return_visit_gets_causes_checks_and_parts(
    paper: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    paper.write_text("visit: 1\nsymptoms: {sag: yes, loose_screw: yes}\n")
    assert main(["diagnose", str(GULL), str(paper)]) == FITS
    said = capsys.readouterr().out
    assert said.index("Hinge screws have worked loose") < said.index("never found wood")
    assert "Try every wall screw by hand" in said
    assert "Leave the door shut" in said
    assert "prove none" in " ".join(said.split())


@pytest.mark.parametrize("name", ["asbuilt", "visit"])
def test_the_schemas_are_printed(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["schema", name]) == FITS
    assert json.loads(capsys.readouterr().out)["additionalProperties"] is False
