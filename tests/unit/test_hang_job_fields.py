"""Tiles and keep-out zones in the job: read, and what cannot be is said with its place."""

from __future__ import annotations

import pytest

from hangtrue.job.problems import Problem
from hangtrue.job.read import read_job_text
from tests.unit.hang_jobs import with_left

GOOD = {
    "width": "12", "height": "24", "joint": "1/8", "first_joint_up": "6", "first_joint_across": "-3"
}  # fmt: skip


def problems(*lines: str) -> tuple[Problem, ...]:
    return read_job_text(with_left(*lines))[1]


def tiles(**changes: str) -> str:
    inner = ", ".join(f"{k}: {v}" for k, v in (GOOD | changes).items())
    return f"tiles: {{{inner}}}"


def test_a_tile_grid_is_read() -> None:
    brief, found = read_job_text(with_left(tiles(bond="half")))
    assert found == ()
    assert brief is not None
    wall = brief.job.walls.left
    assert wall is not None
    assert wall.tiles is not None
    assert wall.tiles.bond == "half"
    assert wall.tiles.height == pytest.approx(609.6)


def test_a_keep_out_zone_is_read() -> None:
    zone = "keep_out: [{name: hot pipe, from: 38, to: 44, each_side: 2, deeper_than: 1-1/2}]"
    assert problems(zone) == ()


@pytest.mark.parametrize(
    ("line", "field", "word"),
    [
        (tiles(width="1/8"), "width", "tiles of"),
        (tiles(height="0"), "height", "tiles of"),
        (tiles(joint="-1/8"), "width", "joints of"),
        (tiles(first_joint_up="200"), "first_joint_up", "more than a tile off the glass"),
        (tiles(first_joint_across="40"), "first_joint_across", "from the glass line"),
        ("keep_out: [{name: pipe, from: 44, to: 38}]", "from", "runs from 44 up to 38"),
        ("keep_out: [{name: pipe, from: 4, to: 38, each_side: -1}]", "each_side", "distance of -1"),
    ],
)
def test_what_cannot_be_is_said(line: str, field: str, word: str) -> None:
    found = problems(line)
    assert any(p.field.endswith(field) and word in p.wrong and p.line for p in found), found


def test_a_grid_on_a_wall_without_tile_does_not_match() -> None:
    text = with_left(tiles()).replace("porcelain tile", "acrylic panel", 1)
    found = read_job_text(text)[1]
    assert any("the layers of the wall are acrylic panel" in p.wrong for p in found)


def test_all_of_it_at_once() -> None:
    found = problems(
        tiles(width="0", first_joint_up="200"), "keep_out: [{name: p, from: 9, to: 1}]"
    )
    assert len([p for p in found if p.level == "wrong"]) >= 3
