"""Which wish a pane goes back to: as written, turned round, with a pane made into two."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from hangtrue.check.hung import stop_of, wishes
from hangtrue.job.document import WantedLite
from tests import good_job as g
from tests.unit.hung import hung

DOOR, NARROW, WIDE = (
    WantedLite(kind="door"),
    WantedLite(kind="fixed", head_support="yes"),
    WantedLite(kind="fixed", head_support="no"),
)


def panes(*kinds: str) -> tuple[object, ...]:
    """Panes of these kinds."""
    return tuple(
        g.lite(kind, 500.0, left="free", right="free", x=0.0, z=0.0)
        if kind == "door"
        else g.lite(f"fixed {i}", 500.0, left="free", right="free", x=0.0, z=0.0)
        for i, kind in enumerate(kinds)
    )


ROWS = [
    (("fixed", "door", "fixed"), (NARROW, DOOR, WIDE), False, (NARROW, DOOR, WIDE)),
    (("fixed", "door", "fixed"), (NARROW, DOOR, WIDE), True, (WIDE, DOOR, NARROW)),
    (("door", "fixed"), (NARROW, DOOR), True, (DOOR, NARROW)),
    (("door", "fixed", "fixed"), (DOOR, WIDE), False, (DOOR, WIDE, WIDE)),
    (("fixed", "fixed", "door"), (NARROW, DOOR), False, (NARROW, NARROW, DOOR)),
]


@pytest.mark.parametrize(("kinds", "row", "mirrored", "wanted"), ROWS)
def test_the_wish_of_each_pane(
    kinds: tuple[str, ...],
    row: tuple[WantedLite, ...],
    mirrored: bool,  # noqa: FBT001
    wanted: tuple[WantedLite, ...],
) -> None:
    assert wishes(panes(*kinds), row, mirrored=mirrored) == wanted  # type: ignore[arg-type]


def test_a_stop_goes_with_its_door_when_the_row_is_built_left_for_right() -> None:
    """Two doors, one of them with a stop: built mirrored, the stop is at the other end."""
    made = hung("door left wall", "fixed", "door right wall")
    stopped = WantedLite.model_validate({"kind": "door", "stop": "90°"})
    plain = WantedLite.model_validate({"kind": "door"})
    row = (stopped, WantedLite.model_validate({"kind": "fixed"}), plain)
    left, _, right = made.lites
    mirrored = replace(made, choice=replace(made.choice, mirrored=True))
    assert stop_of(made, row, left) == pytest.approx(math.pi / 2)
    assert stop_of(mirrored, row, right) == pytest.approx(math.pi / 2)
    assert stop_of(made, row, right) is None
    assert stop_of(mirrored, row, left) is None
