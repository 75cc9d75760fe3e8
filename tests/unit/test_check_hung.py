"""Which wish a pane goes back to: as written, turned round, with a pane made into two."""

from __future__ import annotations

import pytest

from hangtrue.check.hung import wishes
from hangtrue.job.document import WantedLite
from tests import good_job as g

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
