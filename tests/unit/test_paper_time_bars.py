"""Bars on the clock: every piece of work once, its words whole, as few sheets as can be."""

from __future__ import annotations

from functools import cache

import pytest

from hangtrue.hang.cure_time import cure
from hangtrue.hang.steps import Step, steps
from hangtrue.hang.timetable import Timetable, timetable
from hangtrue.paper.drawings import time_bars as bars
from hangtrue.paper.scene import Sheet, Text
from tests.readable import all_on_paper, texts, words_apart
from tests.unit import hung

ROOM = (174.0, 214.0)


@cache
def work(*panes: str) -> tuple[tuple[Step, ...], Timetable, dict[str, int]]:
    made = hung.hung(*panes)
    listed = steps(hung.BRIEF, made, cure(made), hung.drilled(made))
    return listed, timetable(listed, 2), {s.id: n for n, s in enumerate(listed, 1)}


def drawn(*panes: str) -> tuple[Sheet, ...]:
    listed, times, numbers = work(*panes)
    return bars.time_bars(listed, times, numbers, ROOM)


PANES = [("door left wall",), ("fixed", "door right wall"), ("fixed", "door left glass", "fixed")]


@pytest.mark.parametrize("panes", PANES)
def test_every_piece_of_work_before_the_cure_stands_once(panes: tuple[str, ...]) -> None:
    listed, times, numbers = work(*panes)
    people = {s.id: s.people for s in listed}
    wanted = {numbers[s.id] for s in times.slots if s.start < times.worked and people[s.id]}
    shown = [
        int(p.words)
        for sheet in drawn(*panes)
        for p in sheet.primitives
        if isinstance(p, Text) and p.words.isdecimal()
    ]
    assert sorted(shown) == sorted(wanted)


@pytest.mark.parametrize("panes", PANES)
def test_the_sheets_can_be_read_and_have_room(panes: tuple[str, ...]) -> None:
    sheets = drawn(*panes)
    for number, sheet in enumerate(sheets):
        words_apart(sheet)
        all_on_paper(sheet)
        assert sheet.height <= ROOM[min(number, 1)] + 0.01


def test_words_are_whole() -> None:
    titles = " ".join(s.title for s in work("fixed", "door right wall")[0])
    said = [t.words for sheet in drawn("fixed", "door right wall") for t in texts(sheet)]
    assert not any(w.endswith("…") for w in said)
    assert all(w in titles for w in said if w.startswith("Drill"))
