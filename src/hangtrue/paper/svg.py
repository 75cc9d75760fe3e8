"""A sheet as SVG: text stays text, looks come from classes, a title for screen readers."""

from __future__ import annotations

import math
import re
from functools import singledispatch
from xml.etree import ElementTree as ET

from hangtrue.geometry import Point
from hangtrue.paper import lettering
from hangtrue.paper.dimensions import drawn
from hangtrue.paper.language import told
from hangtrue.paper.scene import Circle, Line, Path, Sheet, Text
from hangtrue.paper.styles import DRAWING

SPACE = "http://www.w3.org/2000/svg"
PLACES = 3
UNPRINTABLE = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff\ud800-\udfff]")
"""Characters that no XML document may hold, however they are escaped."""

ET.register_namespace("", SPACE)


def write_svg(sheet: Sheet) -> str:
    """Write a sheet as one SVG document; the same sheet gives the same text."""
    title, description = f"{sheet.name}-title", f"{sheet.name}-description"
    root = _element(
        "svg",
        {
            "class": "sheet",
            "viewBox": f"0 0 {_number(sheet.width)} {_number(sheet.height)}",
            "width": f"{_number(sheet.width)}mm",
            "height": f"{_number(sheet.height)}mm",
            "role": "img",
            "aria-labelledby": f"{title} {description}",
        },
    )
    root.append(_element("title", {"id": title}, told(sheet.title)))
    root.append(_element("desc", {"id": description}, told(sheet.description)))
    root.append(_element("style", {}, DRAWING))
    root.extend(_mark(p, sheet.height) for p in drawn(sheet.primitives))
    ET.indent(root, space=" ")
    return ET.tostring(root, encoding="unicode") + "\n"


def _element(tag: str, attributes: dict[str, str], words: str | None = None) -> ET.Element:
    made = ET.Element(f"{{{SPACE}}}{tag}", attributes)
    made.text = None if words is None else UNPRINTABLE.sub("\N{REPLACEMENT CHARACTER}", words)
    return made


def _number(value: float) -> str:
    """Three decimals at most, without trailing zeros or a minus before nothing."""
    return f"{round(value, PLACES) + 0.0:.{PLACES}f}".rstrip("0").rstrip(".")


def _xy(point: Point, height: float) -> str:
    return f"{_number(point[0])} {_number(height - point[1])}"


def _classes(shape: Line | Path | Circle) -> str:
    fill = "none" if isinstance(shape, Line) else shape.fill
    looks = ["drawn", shape.weight, shape.stroke] if fill == "none" else [fill]
    usual = ("continuous", "ink")
    return " ".join([*(w for w in looks if w not in usual), *({shape.tone} - {"ink"}), shape.layer])


@singledispatch
def _mark(shape: object, _height: float) -> ET.Element:
    """Write one primitive, y turned to run down."""
    raise TypeError(shape)


@_mark.register
def _line(shape: Line, height: float) -> ET.Element:
    d = f"M{_xy(shape.start, height)}L{_xy(shape.end, height)}"
    return _element("path", {"class": _classes(shape), "d": d})


@_mark.register
def _path(shape: Path, height: float) -> ET.Element:
    return _element("path", {"class": _classes(shape), "d": _course(shape, height)})


@_mark.register
def _circle(shape: Circle, height: float) -> ET.Element:
    x, y = shape.centre
    place = {"cx": _number(x), "cy": _number(height - y), "r": _number(shape.radius)}
    return _element("circle", {"class": _classes(shape), **place})


@_mark.register
def _text(shape: Text, height: float) -> ET.Element:
    x, y = _number(shape.at[0]), _number(height - shape.at[1])
    ends = {"start": "", "middle": "middle-of", "end": "end-of"}
    looks = (ends[shape.anchor], "bold" if shape.bold else "", shape.tone, shape.layer)
    attributes = {
        "class": " ".join(w for w in looks if w and w != "ink"),
        "x": x,
        "y": y,
        "font-size": _number(lettering.em(shape.height)),
    }
    if shape.upward:
        attributes["transform"] = f"rotate(-90 {x} {y})"
    return _element("text", attributes, shape.words)


def _course(path: Path, height: float) -> str:
    """Path data: straight runs as L, bulged ones as A."""
    bulges = path.bulges or (0.0,) * len(path.points)
    ends = [*path.points[1:], path.points[0]] if path.closed else path.points[1:]
    parts = [f"M{_xy(path.points[0], height)}"]
    for start, end, bulge in zip(path.points, ends, bulges, strict=False):
        if bulge:
            radius = _number(math.dist(start, end) * (1 + bulge**2) / (4 * abs(bulge)))
            large, sweep = int(abs(bulge) > 1), int(bulge < 0)
            parts.append(f"A{radius} {radius} 0 {large} {sweep} {_xy(end, height)}")
        else:
            parts.append(f"L{_xy(end, height)}")
    return "".join(parts) + ("Z" if path.closed else "")
