"""A square that machines read: which job and which version a sheet of paper belongs to."""

from __future__ import annotations

import io

import segno

QUIET = 4
"""White round the square, in its own dots (ISO/IEC 18004)."""
LEVEL = "q"
"""A quarter of it may be dirty and it still reads: paper on site gets wet."""


def said(job: str, version: int) -> str:
    """Text that the square of a job says.

    Examples
    --------
    >>> said("gull-room", 2)
    'gull-room v2'

    """
    return f"{job} v{version}"


def square(words: str) -> str:
    """Return words as a square of dots, as SVG text of its own."""
    out = io.BytesIO()
    made = segno.make(words, error=LEVEL, micro=False, boost_error=False)
    made.save(
        out,
        kind="svg",
        border=QUIET,
        xmldecl=False,
        omitsize=True,
        light="#fff",
        svgclass=None,
        lineclass=None,
        nl=False,
    )
    return out.getvalue().decode("utf-8")
