"""Drawings that somebody looked at as pictures; a change of one is seen, and looked at again.

After a wanted change, look at the new pictures, then run this file with WRITE_SNAPSHOTS=1 set.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path

import pytest

from hangtrue.fit.enclosure import Enclosure
from hangtrue.paper.drawings.elevation import elevation
from hangtrue.paper.drawings.gap_strips import gap_strips
from hangtrue.paper.drawings.opening import opening
from hangtrue.paper.drawings.pane import pane
from hangtrue.paper.drawings.plan_view import plan_view
from hangtrue.paper.scene import Sheet
from hangtrue.paper.svg import write_svg
from tests.paper_case import Case, case

FOLDER = Path(__file__).parents[1] / "snapshots" / "drawings"


def made(room: Case) -> Enclosure:
    assert isinstance(room.made, Enclosure)
    return room.made


LOOKED_AT: dict[str, tuple[str, Callable[[Case], Sheet]]] = {
    "raked-door": ("raked", lambda r: pane(r.brief, made(r), made(r).lites[0])),
    "wide-elevation": ("wide", lambda r: elevation(r.brief, r.opening, made(r))),
    "wide-plan": ("wide", lambda r: plan_view(r.brief, r.opening, made(r))),
    "inch-gaps": ("inch", lambda r: gap_strips(r.brief, made(r))[0]),
    "screen-opening": ("screen", lambda r: opening(r.brief, r.opening)),
}


@pytest.mark.parametrize("name", LOOKED_AT)
def test_a_drawing_is_as_it_was_when_somebody_looked_at_it(name: str) -> None:
    room, draw = LOOKED_AT[name]
    svg, kept = write_svg(draw(case(room))), FOLDER / f"{name}.svg"
    if os.environ.get("WRITE_SNAPSHOTS"):
        kept.write_text(svg, encoding="utf-8")
    assert svg == kept.read_text(encoding="utf-8")
