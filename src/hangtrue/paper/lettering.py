"""How wide words are, by the font that the package carries along, so that no labels meet."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import font_source_sans_pro
from fontTools.ttLib import TTFont

from hangtrue.paper.scene import Box, Text

FAMILY = "Source Sans Pro"
DESCENT = 0.21
"""Of the em, below the base line: the tails of g, the feet of brackets."""


@cache
def _font(bold: bool) -> tuple[dict[str, float], float]:  # noqa: FBT001
    """Advance of every character and height of a capital, in em."""
    name = f"SourceSansPro-{'Bold' if bold else 'Regular'}.ttf"
    with TTFont(Path(font_source_sans_pro.font_directory) / name, lazy=True) as font:
        em = font["head"].unitsPerEm
        widths = font["hmtx"].metrics
        advances = {chr(code): widths[glyph][0] / em for code, glyph in font.getBestCmap().items()}
        return advances, font["glyf"]["H"].yMax / em


def em(height: float) -> float:
    """Font size at which a capital is that high."""
    return height / _font(bold=False)[1]


def width(words: str, height: float, *, bold: bool = False) -> float:
    """Width of one line of words, mm; a character the font lacks counts as a whole em."""
    advances, _ = _font(bold)
    return em(height) * sum(advances.get(c, 1.0) for c in words)


def box(text: Text) -> Box:
    """Return the box that a text takes up on the sheet."""
    long = width(text.words, text.height, bold=text.bold)
    back = {"start": 0.0, "middle": long / 2, "end": long}[text.anchor]
    down = DESCENT * em(text.height)
    x, y = text.at
    if text.upward:
        return (x - text.height, y - back, x + down, y - back + long)
    return (x - back, y - down, x - back + long, y + text.height)


def wrapped(words: str, room: float, height: float, *, bold: bool = False) -> tuple[str, ...]:
    """Break words into lines no wider than `room`; a hard space breaks none."""
    lines: list[str] = []
    for word in words.split(" "):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and width(longer, height, bold=bold) <= room:
            lines[-1] = longer
        else:
            lines.append(word)
    return tuple(lines)


def missing(words: str) -> frozenset[str]:
    """Characters that the font cannot show."""
    return frozenset(words) - _font(bold=False)[0].keys()
