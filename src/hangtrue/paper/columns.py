"""How text stands on the terminal: columns, paragraphs and items, no wider than a line."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

WIDTH = 96


def table(head: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    """Align columns: the first to the left, the others to the right."""
    everything = [tuple(head), *map(tuple, rows)]
    widths = [max(len(row[i]) for row in everything) for i in range(len(head))]

    def line(row: Sequence[str]) -> str:
        cells = [
            row[0].ljust(widths[0]),
            *(c.rjust(w) for c, w in zip(row[1:], widths[1:], strict=True)),
        ]
        return "  ".join(cells).rstrip()

    return "\n".join(map(line, everything))


def paragraph(text: str) -> str:
    """Break a text into lines."""
    return textwrap.fill(text, WIDTH)


def item(mark: str, text: str) -> str:
    """Break a text into lines behind a mark."""
    return textwrap.fill(text, WIDTH, initial_indent=mark, subsequent_indent=" " * len(mark))
