"""A sheet as DXF for the plant: R2010, mm, one layer for each kind of thing."""

from __future__ import annotations

import io
import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from functools import singledispatch
from pathlib import Path as Folder

from hangtrue.fit.enclosure import Lite
from hangtrue.paper.dimensions import drawn
from hangtrue.paper.drawings.pane import cut_file
from hangtrue.paper.scene import PEN, Circle, Drawn, Layer, Line, Path, Sheet, Text
from hangtrue.plan import Plan

NO_FONTS = '{"version": 0, "font-faces": []}'


@contextmanager
def _no_font_hunt() -> Iterator[None]:
    """Spare the library its search for the machine's fonts and the list it would leave at home."""
    before = {k: v for k, v in os.environ.items() if k == "XDG_CACHE_HOME"}
    with tempfile.TemporaryDirectory() as place:
        fonts = Folder(place) / "ezdxf" / "font_manager_cache.json"
        fonts.parent.mkdir()
        fonts.write_text(NO_FONTS, encoding="utf-8")
        os.environ["XDG_CACHE_HOME"] = place
        try:
            yield
        finally:
            del os.environ["XDG_CACHE_HOME"]
            os.environ.update(before)


with _no_font_hunt():
    from ezdxf import const, units
    from ezdxf._options import options
    from ezdxf.document import Drawing
    from ezdxf.enums import TextEntityAlignment
    from ezdxf.filemanagement import new
    from ezdxf.layouts.layout import Modelspace

COLOURS = {"outline": 7, "holes": 1, "cutouts": 5, "text": 3, "centre": 4, "hidden": 8}
"""Index colours of a CAD screen by layer; meaning hangs on the layer, not on the colour."""
PLANT: frozenset[Layer] = frozenset({"outline", "holes", "cutouts", "text"})
"""Layers that a plant finds in every file, empty or not."""
OTHER_COLOUR = 9
LINETYPES = {
    "continuous": "CONTINUOUS",
    "dashed": "DASHED",
    "long-dash-dot": "DASHDOT",
    "dotted": "DOT",
}
PATTERNS = {
    "DASHED": ("dashed", [3.0, 2.0, -1.0]),
    "DASHDOT": ("long dash dot", [8.6, 6.0, -1.0, 0.6, -1.0]),
    "DOT": ("dotted", [1.1, 0.2, -0.9]),
}
ANCHORS = {
    "start": TextEntityAlignment.LEFT,
    "middle": TextEntityAlignment.CENTER,
    "end": TextEntityAlignment.RIGHT,
}


def pane_dxf(plan: Plan, lite: Lite) -> bytes:
    """Write the file that the plant's machine reads: one pane at 1:1, without any dimension."""
    return write_dxf(cut_file(plan.brief, lite)).encode()


def write_dxf(sheet: Sheet) -> str:
    """Write a sheet as one DXF document in mm; dimensions come as lines and text."""
    shapes = drawn(sheet.primitives)
    with _no_date():
        document = _empty(shapes)
        space = document.modelspace()
        for shape in shapes:
            _draw(shape, space)
        _list_classes(document)
        out = io.StringIO()
        document.write(out)
        return out.getvalue()


def _list_classes(document: Drawing) -> None:
    """List what the file uses by name; the library would list it in the order of a set."""
    for name in sorted(document.entitydb.dxf_types_in_use()):
        document.classes.add_class(name)


@contextmanager
def _no_date() -> Iterator[None]:
    """Leave out the date and the serial that would make each writing different."""
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


def _empty(shapes: tuple[Drawn, ...]) -> Drawing:
    document = new("R2010")
    document.units = units.MM
    for name, (words, pattern) in PATTERNS.items():
        document.linetypes.add(name, pattern, description=words)
    for layer in sorted({shape.layer for shape in shapes} | PLANT):
        document.layers.add(layer.upper(), color=COLOURS.get(layer, OTHER_COLOUR))
    return document


def _looks(shape: Line | Path | Circle) -> dict[str, str | int]:
    return {
        "layer": shape.layer.upper(),
        "linetype": LINETYPES[shape.stroke],
        "lineweight": _lineweight(PEN[shape.weight]),
    }


def _lineweight(mm: float) -> int:
    """Nearest of the line weights that DXF knows, in hundredths of a mm."""
    return min((18, 35, 70), key=lambda known: abs(known - 100 * mm))


@singledispatch
def _draw(shape: object, _space: Modelspace) -> None:
    raise TypeError(shape)


@_draw.register
def _line(shape: Line, space: Modelspace) -> None:
    space.add_line(shape.start, shape.end, dxfattribs=_looks(shape))


@_draw.register
def _path(shape: Path, space: Modelspace) -> None:
    bulges = shape.bulges or (0.0,) * len(shape.points)
    corners = [(x, y, bulge) for (x, y), bulge in zip(shape.points, bulges, strict=True)]
    if shape.fill == "none":
        space.add_lwpolyline(corners, format="xyb", close=shape.closed, dxfattribs=_looks(shape))
    else:
        colour = const.BYLAYER if shape.fill == "solid" else OTHER_COLOUR
        area = space.add_hatch(color=colour, dxfattribs={"layer": shape.layer.upper()})
        area.paths.add_polyline_path(corners, is_closed=True)


@_draw.register
def _circle(shape: Circle, space: Modelspace) -> None:
    space.add_circle(shape.centre, shape.radius, dxfattribs=_looks(shape))


@_draw.register
def _text(shape: Text, space: Modelspace) -> None:
    text = space.add_text(
        shape.words,
        height=shape.height,
        rotation=90.0 if shape.upward else 0.0,
        dxfattribs={"layer": shape.layer.upper()},
    )
    text.set_placement(shape.at, align=ANCHORS[shape.anchor])
