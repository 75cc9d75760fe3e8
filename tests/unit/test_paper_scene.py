"""Scales, rows, ladders, letters and arcs, each against plain arithmetic or another library."""

from __future__ import annotations

import math
import re
from itertools import pairwise
from xml.etree import ElementTree as ET

import pytest
from fontTools.pens.boundsPen import BoundsPen
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st

from hangtrue.fit.enclosure import Edge
from hangtrue.paper import lettering
from hangtrue.paper.dimensions import Rung, Span, drawn, ladder, rows, spread
from hangtrue.paper.lengths import Units
from hangtrue.paper.scene import (
    INCH_SCALES,
    METRIC_SCALES,
    PEN,
    Dimension,
    Hatch,
    Line,
    Path,
    Sheet,
    Text,
    View,
    scale_for,
    view_into,
)
from hangtrue.paper.svg import write_svg
from hangtrue.paper.words import exact, figure, rake_words, unbroken

BOTH = Units(first="in", both=True)
MM = Units(first="mm", both=False)
SVG = "{http://www.w3.org/2000/svg}"


def test_each_line_weight_is_twice_the_next() -> None:
    assert PEN["thick"] / PEN["middle"] == PEN["middle"] / PEN["thin"] == 2


@pytest.mark.parametrize(
    ("extent", "scale"),
    [((700.0, 1990.0), 15), ((600.0, 1400.0), 10), ((2400.0, 2000.0), 25), ((90.0, 90.0), 1)],
)
def test_the_largest_usual_scale_that_has_room_is_taken(
    extent: tuple[float, float], scale: float
) -> None:
    assert scale_for(extent, (100.0, 150.0), METRIC_SCALES) == scale


def test_a_huge_thing_still_stays_on_the_paper() -> None:
    one_to = scale_for((30_000.0, 10.0), (100.0, 100.0), INCH_SCALES)
    assert 30_000.0 / one_to <= 100.0


@given(st.floats(1, 5000), st.floats(1, 5000))
def test_a_view_puts_the_object_into_its_box(wide: float, tall: float) -> None:
    view = view_into((10.0, 20.0, 110.0, 170.0), (0.0, 0.0), (wide, tall), METRIC_SCALES)
    (x0, y0), (x1, y1) = view.at((0.0, 0.0)), view.at((wide, tall))
    assert 10 - 1e-9 <= x0 <= x1 <= 110 + 1e-9
    assert 20 - 1e-9 <= y0 <= y1 <= 170 + 1e-9


def test_a_scale_is_written_as_on_any_drawing() -> None:
    assert View(one_to=10).words == "1:10"
    assert View(one_to=0.5).words == "2:1"


def test_the_shortest_dimension_stands_nearest_and_none_over_another() -> None:
    def span(a: float, b: float, words: str) -> Span:
        return Span(start=(a, 0.0), end=(b, 0.0), words=words)

    made = rows(
        [span(0, 90, "90"), span(0, 40, "40"), span(50, 90, "b")], -9.0, upright=False, outward=-1
    )
    lines = {d.words: d.line for d in made}
    assert lines["40"] == lines["b"] == -9.0
    assert lines["90"] < -9.0


@given(st.lists(st.floats(0, 100), min_size=1, max_size=12))
def test_figures_of_a_ladder_are_kept_apart_and_in_order(places: list[float]) -> None:
    ordered = sorted(places)
    moved = spread(ordered, 4.2)
    assert all(b - a >= 4.2 - 1e-9 for a, b in pairwise(moved))
    assert sum(moved) == pytest.approx(sum(ordered))


def test_a_ladder_line_begins_at_its_point_and_ends_at_its_figure() -> None:
    parts = ladder([Rung(at=(50.0, 10.0), words="10")], 70.0, "right")
    course = next(p for p in parts if isinstance(p, Path))
    words = next(p for p in parts if isinstance(p, Text))
    assert course.points[0][1] == 10.0
    assert course.points[-1][0] == 70.0
    assert words.at[0] > 70.0


def test_upright_figures_are_read_from_the_right() -> None:
    d = Dimension(start=(0.0, 0.0), end=(0.0, 50.0), line=-9.0, words="50", upright=True)
    parts = drawn([d])
    text = next(p for p in parts if isinstance(p, Text))
    assert text.upward
    assert text.at == pytest.approx((-10.0, 25.0))
    line = max((p for p in parts if isinstance(p, Line)), key=lambda p: abs(p.end[1] - p.start[1]))
    assert line.start[0] == line.end[0] == -9.0


def test_hatching_stays_inside_and_keeps_its_spacing() -> None:
    lines = drawn([Hatch(outline=((0, 0), (10, 0), (10, 10), (0, 10)), layer="wall")])
    assert all(isinstance(p, Line) for p in lines)
    offsets = sorted((p.start[1] - p.start[0]) / math.sqrt(2) for p in lines if isinstance(p, Line))
    steps = {round(b - a, 9) for a, b in pairwise(offsets)}
    assert steps == {2.0}
    for p in lines:
        assert isinstance(p, Line)
        assert all(-1e-9 <= c <= 10 + 1e-9 for c in (*p.start, *p.end))


def test_capitals_are_as_high_as_said_by_the_font_itself() -> None:
    """Measured on the glyph H of the font file, not on its header."""
    import font_source_sans_pro  # noqa: PLC0415 - untyped

    with TTFont(f"{font_source_sans_pro.font_directory}/SourceSansPro-Regular.ttf") as font:
        pen = BoundsPen(font.getGlyphSet())
        font.getGlyphSet()["H"].draw(pen)
        high = pen.bounds[3] / font["head"].unitsPerEm
    assert lettering.em(2.5) * high == pytest.approx(2.5, rel=1e-9)


@given(st.text(alphabet="abc 1/±", max_size=60), st.floats(5, 80))
def test_wrapped_words_keep_their_order_and_their_room(words: str, room: float) -> None:
    lines = lettering.wrapped(words, room, 2.5)
    assert " ".join(lines).split() == words.split()
    for line in lines:
        assert " " not in line.strip() or lettering.width(line, 2.5) <= room + 1e-9


@pytest.mark.parametrize("bulge", [1.0, -1.0, 0.41421356, -0.41421356, 2.0])
def test_an_arc_in_svg_bends_as_its_bulge_says(bulge: float) -> None:
    """The arc's height over its chord is bulge times half the chord."""
    path = Path(points=((0, 0), (10, 0)), bulges=(bulge, 0.0), closed=False, layer="outline")
    sheet = Sheet(name="a", width=20, height=20, title="t", description="d", primitives=(path,))
    root = ET.fromstring(write_svg(sheet))  # noqa: S314 - our own text
    course = root.find(f"{SVG}path").get("d")  # type: ignore[union-attr]
    found = re.fullmatch(r"M0 20A(\S+) \1 0 (\d) (\d) 10 20", course or "")
    assert found is not None
    radius, large, sweep = float(found[1]), int(found[2]), int(found[3])
    height = radius + (1 if large else -1) * math.sqrt(max(radius**2 - 25, 0.0))
    assert height == pytest.approx(abs(bulge) * 5, abs=2e-3)
    assert sweep == (0 if bulge > 0 else 1)  # y runs down in SVG, so left turns are sweep 0


def test_svg_text_stays_text_with_classes_and_no_colour_of_its_own() -> None:
    words = "R < 3 & \u00e9"
    text = Text(at=(5, 5), words=words, bold=True)
    sheet = Sheet(name="a", width=20, height=20, title="t", description="d", primitives=(text,))
    root = ET.fromstring(write_svg(sheet))  # noqa: S314 - our own text
    element = root.find(f"{SVG}text")
    assert element is not None
    assert element.text == words
    assert "bold" in (element.get("class") or "").split()
    assert not {"fill", "stroke", "style"} & set(element.keys())
    assert "currentColor" in (root.findtext(f"{SVG}style") or "")


def test_figures_carry_the_other_unit_in_brackets_where_both_are_wanted() -> None:
    assert str(figure(BOTH, 720.725)) == "28-3/8 [721]"
    assert str(exact(BOTH, 720.725)) == "28-3/8 [720.7]"
    assert str(exact(MM, 721.0)) == "721"


@pytest.mark.parametrize(
    ("where", "rake", "words"),
    [
        ("left", 3.0, "left edge leans right 3.0 mm over its height"),
        ("right", -3.0, "right edge leans left 3.0 mm over its height"),
        ("bottom", -2.0, "bottom edge falls to the right 2.0 mm over its width"),
        ("top", 0.0, "top edge square"),
    ],
)
def test_rakes_are_said_as_people_say_them(where: str, rake: float, words: str) -> None:
    edge = Edge(where=where, length=2000.0, rake=rake, finish="flat polished", meets="curb")  # type: ignore[arg-type]
    assert rake_words(edge, MM) == words


def test_figures_are_not_torn_from_their_units() -> None:
    assert unbroken("± 3 mm of 2 in") == "±\u00a03\u00a0mm of 2\u00a0in"
