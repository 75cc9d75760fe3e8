"""Words look for a free place: beside their thing, on no line, on no other words."""

from __future__ import annotations

from itertools import combinations

import pytest
from shapely import LineString, Point, box

from hangtrue.paper import lettering
from hangtrue.paper.labels import FAR, Label, course, labelled
from hangtrue.paper.scene import Line, Path, Text

SHEET = (0.0, 0.0, 100.0, 100.0)


def set_(*labels: Label, beside: tuple[Line, ...] = ()) -> list[Text]:
    return [p for p in labelled(labels, beside, SHEET) if isinstance(p, Text)]


def test_words_stand_on_their_own_point_where_they_may() -> None:
    (words,) = set_(Label(near=(50.0, 50.0), lines=("vanity",), inside=True))
    assert box(*lettering.box(words)).contains(Point(50.0, 50.0))


def test_words_move_off_a_line() -> None:
    line = Line(start=(0.0, 50.0), end=(100.0, 50.0), layer="curb")
    (words,) = set_(Label(near=(50.0, 50.0), lines=("toilet",), inside=True), beside=(line,))
    assert box(*lettering.box(words)).disjoint(LineString((line.start, line.end)))


def test_many_words_for_one_point_do_not_meet() -> None:
    labels = [Label(near=(50.0, 50.0), lines=(f"thing{n}",)) for n in range(12)]
    boxes = [box(*lettering.box(t)) for t in set_(*labels)]
    assert len(boxes) == 12
    assert all(a.disjoint(b) for a, b in combinations(boxes, 2))


def test_words_far_from_their_thing_get_a_line_to_it() -> None:
    fence = tuple(
        Line(start=(40.0, y), end=(60.0, y), layer="curb") for y in (x / 2 for x in range(80, 121))
    )
    made = labelled([Label(near=(50.0, 50.0), lines=("valve",))], fence, SHEET)
    (tie,) = (p for p in made if isinstance(p, Line))
    assert tie.end == pytest.approx((50.0, 50.0))
    (words,) = (p for p in made if isinstance(p, Text))
    assert box(*lettering.box(words)).distance(Point(50.0, 50.0)) > FAR


def test_words_stand_in_two_lines_beside_their_thing_rather_than_far_off_with_a_line() -> None:
    walls = tuple(
        Line(start=(x, 0.0), end=(x, 100.0), layer="outline") for x in (20.0, 44.0, 46.0, 60.0)
    )
    made = labelled([Label(near=(45.0, 50.0), lines=("shower head, behind",))], walls, SHEET)
    assert [p.words for p in made if isinstance(p, Text)] == ["shower head,", "behind"]
    assert not [p for p in made if isinstance(p, Line)]


def test_words_beside_a_wide_thing_need_no_line_to_its_middle() -> None:
    sides = tuple(Line(start=(10.0, y), end=(90.0, y), layer="hidden") for y in (30.0, 70.0))
    thing = tuple(Line(start=(x, 30.0), end=(x, 70.0), layer="hidden") for x in range(35, 66))
    named = Label(near=(50.0, 50.0), lines=("light",), around=(15.0, 20.0))
    made = labelled([named], (*sides, *thing), SHEET)
    assert [type(p) for p in made] == [Text]


def test_a_large_name_that_needs_no_line_stays_large_farther_off() -> None:
    walls = tuple(Line(start=(x, 0.0), end=(x, 100.0), layer="outline") for x in (38.0, 62.0))
    wide = Label(near=(50.0, 50.0), lines=("compartment",), height=3.5, tied=False)
    (words,) = set_(wide, beside=walls)
    assert words.height == 3.5
    assert not 38.0 < words.at[0] < 62.0


def test_words_that_are_not_needed_are_left_out_rather_than_crossed() -> None:
    lines = tuple(Line(start=(0.0, y / 2), end=(100.0, y / 2), layer="curb") for y in range(201))
    assert not set_(Label(near=(50.0, 50.0), lines=("bench",), needed=False), beside=lines)
    assert set_(Label(near=(50.0, 50.0), lines=("bench",)), beside=lines)


def test_an_arc_is_followed_on_its_true_side() -> None:
    """A half circle from (10, 0) to (-10, 0), turning left, goes over (0, 10)."""
    half = Path(points=((10.0, 0.0), (-10.0, 0.0)), bulges=(1.0, 0.0), closed=False, layer="hidden")
    points = course(half)
    assert any(p == pytest.approx((0.0, 10.0), abs=1e-9) for p in points)
    for x, y in points:
        assert (x**2 + y**2) ** 0.5 == pytest.approx(10.0)
