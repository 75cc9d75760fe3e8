"""Every drawing can be read: nothing overlaps, nothing leaves the sheet."""

from __future__ import annotations

import math
from collections.abc import Iterable
from functools import cache
from xml.etree import ElementTree as ET

import pytest
from shapely import Point

from hangtrue.fit.enclosure import Enclosure, Lite, NoFit
from hangtrue.geometry import Outline
from hangtrue.paper import lettering
from hangtrue.paper.drawings.corners import corners
from hangtrue.paper.drawings.elevation import elevation, elevations
from hangtrue.paper.drawings.gap_strips import gap_strips
from hangtrue.paper.drawings.opening import opening
from hangtrue.paper.drawings.pane import pane
from hangtrue.paper.drawings.plan_view import plan_view
from hangtrue.paper.drawings.room_plan import room_plan
from hangtrue.paper.drawings.surroundings import surroundings
from hangtrue.paper.drawings.wanted import wanted
from hangtrue.paper.language import speaking
from hangtrue.paper.scene import LETTER, Circle, Path, Primitive, Sheet, Text
from hangtrue.paper.svg import write_svg
from tests.folded_case import FOLDED, folded
from tests.paper_case import ROOMS, case, no_fit
from tests.readable import all_on_paper, texts, words_apart, words_clear


@cache
def sheets(name: str) -> tuple[Sheet, ...]:
    """Return all drawings of a made-up room."""
    made = case(name)
    brief, measured, enclosure = made.brief, made.opening, made.made
    assert isinstance(enclosure, Enclosure)
    return (
        opening(brief, measured),
        plan_view(brief, measured, enclosure, 560.0),
        elevation(brief, measured, enclosure),
        *gap_strips(brief, enclosure),
        *(pane(brief, enclosure, lite) for lite in enclosure.lites),
    )


@cache
def folded_sheets(name: str) -> tuple[Sheet, ...]:
    """Return all drawings of a made-up room with corners, steps, slopes or things around."""
    room = folded(name)
    brief, measured, made = room.brief, room.opening, room.made
    return (
        opening(brief, measured),
        room_plan(brief, measured, made, 560.0),
        *surroundings(brief, measured, made),
        *corners(brief, measured, made),
        *elevations(brief, measured, made),
        *gap_strips(brief, made),
        *(pane(brief, made, lite) for lite in made.lites),
    )


def refused() -> Sheet:
    """Return the drawing of a room into which nothing goes."""
    room = no_fit()
    assert isinstance(room.made, NoFit)
    return wanted(room.brief, room.opening, room.made)


ALL = [
    *(pytest.param(sheet, id=f"{name}-{sheet.name}") for name in ROOMS for sheet in sheets(name)),
    *(
        pytest.param(sheet, id=f"{name}-{sheet.name}")
        for name in FOLDED
        for sheet in folded_sheets(name)
    ),
    pytest.param(refused(), id="no fit-wanted"),
]


@pytest.mark.parametrize("sheet", ALL)
def test_no_words_stand_on_other_words(sheet: Sheet) -> None:
    words_apart(sheet)


@pytest.mark.parametrize("sheet", ALL)
def test_no_line_runs_through_words(sheet: Sheet) -> None:
    words_clear(sheet)


@pytest.mark.parametrize("sheet", ALL)
def test_nothing_leaves_the_sheet(sheet: Sheet) -> None:
    all_on_paper(sheet)


@pytest.mark.parametrize("sheet", ALL)
def test_letters_are_high_enough_to_read_and_in_the_font(sheet: Sheet) -> None:
    """2.5 mm is the least height of letters on drawings of this size (ISO 3098)."""
    for text in texts(sheet):
        assert text.height >= LETTER
        assert not lettering.missing(text.words)


@pytest.mark.parametrize("sheet", ALL)
def test_a_drawing_says_itself_to_who_cannot_see_it(sheet: Sheet) -> None:
    root = ET.fromstring(write_svg(sheet))  # noqa: S314 - our own text
    assert root.get("role") == "img"
    ids = {e.get("id"): e.text for e in root.iter() if e.get("id")}
    for name in (root.get("aria-labelledby") or "").split():
        assert ids[name]


@pytest.mark.parametrize("name", ROOMS)
def test_the_same_plan_gives_the_same_bytes(name: str) -> None:
    first = [write_svg(s) for s in sheets(name)]
    sheets.cache_clear()
    assert [write_svg(s) for s in sheets(name)] == first


@pytest.mark.parametrize("name", FOLDED)
def test_a_folded_plan_gives_the_same_bytes_too(name: str) -> None:
    first = [write_svg(s) for s in folded_sheets(name)]
    folded_sheets.cache_clear()
    assert [write_svg(s) for s in folded_sheets(name)] == first


@pytest.mark.parametrize("name", ROOMS)
def test_a_pane_shows_both_widths_and_both_heights(name: str) -> None:
    made = case(name)
    assert isinstance(made.made, Enclosure)
    for lite in made.made.lites:
        shown = [t.words for t in texts(pane(made.brief, made.made, lite))]
        if made.brief.profile.units == "mm":
            sizes = (lite.width_bottom, lite.width_top, lite.height_left, lite.height_right)
            figures = [f"{size:.1f}".removesuffix(".0") for size in sizes]
            assert all(shown.count(f) >= figures.count(f) for f in figures)


def test_a_raked_edge_is_said_in_words() -> None:
    made = case("raked")
    assert isinstance(made.made, Enclosure)
    door = made.made.lite("door")
    words = " ".join(
        t.words.replace("\u00a0", " ") for t in texts(pane(made.brief, made.made, door))
    )
    assert "Left edge leans left 7/16 in (11.0 mm)" in words


def test_mirrored_rooms_give_mirrored_panes() -> None:
    """The hand is said from outside: what hangs left in one room hangs right in its mirror."""
    for name, hand in (("inch", "hinges left"), ("mirrored", "hinges right")):
        made = case(name)
        assert isinstance(made.made, Enclosure)
        door = made.made.door
        assert door is not None
        sheet = pane(made.brief, made.made, door)
        assert any(hand in t.words for t in texts(sheet))


def test_the_lean_is_drawn_multiplied_and_the_factor_is_printed() -> None:
    made = case("raked")
    sheet = opening(made.brief, made.opening)
    printed = next(t.words for t in texts(sheet) if "lean drawn" in t.words)
    factor = int(printed.split("× ")[1].split()[0])
    scale = float(sheet.scale.split(":")[1])
    faces = [p for p in sheet.primitives if isinstance(p, Path) and p.layer == "wall"]
    left = faces[0].points
    over = made.opening.heights[-1] - made.opening.heights[0]
    true = -11.0 * over / 1830
    at = dict(zip((0.0, *made.opening.heights), left, strict=False))
    measured = at[made.opening.heights[-1]][0] - at[made.opening.heights[0]][0]
    assert math.isclose(measured, true * factor / scale, abs_tol=1e-6)


def test_a_doubted_reading_is_ringed_and_named() -> None:
    made = case("raked")
    sheet = opening(made.brief, made.opening)
    rings = [p for p in sheet.primitives if isinstance(p, Circle) and p.tone == "warm"]
    assert len(rings) == 2
    assert any("w2" in t.words for t in texts(sheet))


def test_holes_lie_where_their_figures_say() -> None:
    """On paper, times the scale, from the datum corner."""
    made = case("narrow")
    assert isinstance(made.made, Enclosure)
    door = made.made.lite("door")
    sheet = pane(made.brief, made.made, door)
    scale = float(sheet.scale.split(":")[1])
    holes = [p for p in sheet.primitives if isinstance(p, Circle) and p.layer == "holes"]
    outline = _thick(sheet.primitives)
    x0, y0 = min(p[0] for p in outline), min(p[1] for p in outline)
    for hole, drawn_hole in zip(door.holes, holes, strict=True):
        here = Point((drawn_hole.centre[0] - x0) * scale, (drawn_hole.centre[1] - y0) * scale)
        assert here.distance(Point(hole.centre)) < 1e-6


def _thick(primitives: Iterable[Primitive]) -> Outline:
    return next(p.points for p in primitives if isinstance(p, Path) and p.weight == "thick")


def test_user_text_is_data_and_never_markup() -> None:
    made = case("inch")
    lite: Lite = made.made.lites[0]  # type: ignore[union-attr]
    assert isinstance(made.made, Enclosure)
    sheet = pane(made.brief, made.made, lite)
    evil = Sheet(
        name="evil",
        width=10,
        height=10,
        title="</title><script>",
        description="a & b",
        primitives=(*sheet.primitives, Text(at=(0, 0), words="<script>\x00 & ]]>")),
    )
    root = ET.fromstring(write_svg(evil))  # noqa: S314 - our own text
    assert not [e for e in root.iter() if e.tag.endswith("script")]
    assert root.findtext("{http://www.w3.org/2000/svg}title") == "</title><script>"


def test_where_nothing_fits_the_missing_millimetres_and_the_reason_are_written() -> None:
    words = " ".join(t.words for t in texts(refused())).replace("\u00a0", " ")
    assert "Nothing fits: 4.2 mm missing" in words
    assert "The door is too wide." in words


def spoken(name: str) -> tuple[Sheet, ...]:
    """Return all drawings of a made-up room in Spanish, whose words are longer."""
    with speaking("es"):
        return sheets.__wrapped__(name) if name in ROOMS else folded_sheets.__wrapped__(name)


@pytest.mark.parametrize("name", [*ROOMS, *FOLDED])
def test_drawings_in_spanish_can_be_read(name: str) -> None:
    for sheet in spoken(name):
        words_apart(sheet)
        all_on_paper(sheet)
        words_clear(sheet)


def test_drawings_in_spanish_are_in_spanish() -> None:
    said = " ".join(t.words for sheet in spoken("wide") for t in texts(sheet))
    for words in ("Visto desde afuera", "puerta", "regadera", "eje bisagra", "Vidrio templado"):
        assert words in said
    for words in ("Seen from", "door", "scale", "floor", "channel"):
        assert words not in said
