"""Templates measure back: on the sheets of paper every point is where it is on the template."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hangtrue.hang.template_records import GuideLine, Template, TemplatePage
from hangtrue.hang.templates import notch_ring
from hangtrue.hang.tiling import MARGIN, OVERLAP, PAPER, pages
from hangtrue.units import length
from tests.unit import hang_jobs as jobs


def blank(wide: float, tall: float) -> Template:
    return Template(id="t", title="", size=(wide, tall), rings=(), drills=(), lines=(), faces="")


def inside(page: TemplatePage, point: tuple[float, float]) -> bool:
    left, bottom, right, top = page.window
    return left <= point[0] <= right and bottom <= point[1] <= top


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_every_hole_lies_on_a_page_and_measures_back_to_a_tenth_of_a_mm(paper: str) -> None:
    """Distances between holes on one page, and over a seam by way of its marks."""
    for template in jobs.hung().templates:
        sheets = pages(template, paper)
        for drill in template.drills:
            on = [p for p in sheets if inside(p, drill.centre)]
            assert on
            for page in on:
                x, y = page.on_paper(drill.centre)
                back = (x - page.at[0] + page.window[0], y - page.at[1] + page.window[1])
                assert math.dist(back, drill.centre) < 0.1
                assert MARGIN <= x <= page.sheet[0] - MARGIN
                assert MARGIN <= y <= page.sheet[1] - MARGIN


@settings(max_examples=60, deadline=None)
@given(st.floats(20.0, 2500.0), st.floats(20.0, 2500.0), st.sampled_from(sorted(PAPER)))
def test_pages_cover_the_template_and_neighbours_share_marks(
    wide: float, tall: float, paper: str
) -> None:
    sheets = pages(blank(wide, tall), paper)
    assert {p.of for p in sheets} == {len(sheets)}
    assert [p.number for p in sheets] == list(range(1, len(sheets) + 1))
    assert max(p.window[2] for p in sheets) == pytest.approx(wide)
    assert max(p.window[3] for p in sheets) == pytest.approx(tall)
    at = {(p.row, p.column): p for p in sheets}
    for (row, column), page in at.items():
        for other, axis in ((at.get((row, column + 1)), 0), (at.get((row + 1, column)), 1)):
            if other is not None:
                assert page.window[2 + axis] - other.window[axis] >= OVERLAP - 1e-6 or math.isclose(
                    page.window[2 + axis], (wide, tall)[axis]
                )
                shared = set(page.marks) & set(other.marks)
                assert len(shared) >= 2
                assert all(inside(page, m) and inside(other, m) for m in shared)


def test_the_fewer_sheets_win() -> None:
    """A wide low strip goes lengthwise."""
    sheets = pages(blank(250.0, 150.0), "letter")
    assert len(sheets) == 1
    assert sheets[0].sheet == (279.4, 215.9)


def test_an_overlap_as_wide_as_the_paper_is_refused() -> None:
    with pytest.raises(ValueError, match="leave no room"):
        pages(blank(100.0, 100.0), "a4", overlap=200.0)


def test_each_template_has_a_bar_a_diagonal_a_level_line_and_says_which_face() -> None:
    made = jobs.hung().templates
    assert len(made) >= 4
    for template in made:
        bar, diagonal = template.line("check bar"), template.line("check diagonal")
        assert bar.length == pytest.approx(101.6)
        assert bar.words == "4 in (101.6 mm): measure it before use"
        assert length(diagonal.words.partition(" (")[0]) == pytest.approx(diagonal.length, abs=0.4)
        assert f"({diagonal.length:.1f}".removesuffix(".0") in diagonal.words
        assert template.faces
        for line in template.lines:
            for x, y in (line.start, line.end):
                assert 0.0 <= x <= template.size[0]
                assert 0.0 <= y <= template.size[1]


def test_a_diagonal_is_drawn_at_its_ends_only_where_it_would_cross_what_is_drilled() -> None:
    plate = next(t for t in jobs.hung().templates if t.id.startswith("hinge plate"))
    left, right = plate.line("check diagonal").drawn
    xs = [x for x, _ in plate.rings[0].points]
    assert left[1][0] < min(xs)
    assert right[0][0] > max(xs)
    whole = GuideLine(start=(0.0, 0.0), end=(3.0, 4.0), role="check diagonal")
    assert whole.drawn == (((0.0, 0.0), (3.0, 4.0)),)


def test_sheets_of_a_strip_without_a_hole_are_left_out_and_the_others_say_where_they_stand() -> (
    None
):
    plan = jobs.hung()
    strip = next(t for t in plan.templates if "right wall" in t.id)
    zero = strip.line("level").start[1]
    sheets = pages(strip, "letter")
    assert [s.number for s in sheets] == list(range(1, len(sheets) + 1))
    assert {s.of for s in sheets} == {len(sheets)}
    seen = []
    for sheet in sheets:
        on = [d for d in strip.drills if sheet.window[1] <= d.centre[1] <= sheet.window[3]]
        assert on
        seen += [d.words for d in on]
        assert sheet.begins == pytest.approx(sheet.window[1] - zero)
        others = [s for s in sheets if s is not sheet]
        assert all(any(inside(o, m) for o in others) for m in sheet.marks)
    assert set(seen) == {d.words for d in strip.drills}
    whole = replace(strip, runs="")
    assert len(sheets) < len(pages(whole, "letter"))


def test_the_plate_template_has_the_holes_of_the_drilling_plan() -> None:
    plan = jobs.hung()
    template = next(t for t in plan.templates if t.id == "hinge plate plain-wall-hinge")
    plumb, level = template.line("plumb"), template.line("level")
    centre = (plumb.start[0], level.start[1])
    holes = [h for h in plan.drilling.holes if h.part == "hinge 1 of door"]
    middle = sum(h.above_datum for h in holes) / len(holes)
    drawn = sorted((d.centre[0] - centre[0], d.centre[1] - centre[1]) for d in template.drills)
    drilled = sorted((h.off, h.above_datum - middle) for h in holes)
    for one, other in zip(drawn, drilled, strict=True):
        assert one == pytest.approx(other)


def test_the_strip_of_a_channel_counts_from_the_highest_curb_point() -> None:
    plan = jobs.hung()
    template = next(t for t in plan.templates if "right wall" in t.id)
    zero = template.line("level").start[1]
    heights = [d.centre[1] - zero for d in template.drills]
    assert heights == pytest.approx([h.height.value for h in plan.drilling.on("right wall")])


def test_the_corners_of_a_cut_out_are_arcs_of_its_radius() -> None:
    """A bulge is the tangent of a quarter of the angle of its arc."""
    for deep in (41.0, -41.0):
        ring = notch_ring((100.0, 100.0), deep, 63.0, 10.0)
        arcs = [i for i, b in enumerate(ring.bulges) if b]
        assert len(arcs) == 2
        for i in arcs:
            angle = 4 * math.atan(abs(ring.bulges[i]))
            chord = math.dist(ring.points[i], ring.points[i + 1])
            assert chord / (2 * math.sin(angle / 2)) == pytest.approx(10.0)
        assert math.copysign(1.0, ring.bulges[arcs[0]]) == -math.copysign(1.0, deep)
