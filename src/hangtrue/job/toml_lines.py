"""In which line of a TOML file each key stands, so that a problem can name it."""

from __future__ import annotations

import re

from hangtrue.job.problems import Path

_KEY = r"""(?:"[^"]*"|'[^']*'|[A-Za-z0-9_-]+)"""
_DOTTED = rf"{_KEY}(?:\s*\.\s*{_KEY})*"
_TABLES = re.compile(rf"\s*\[\[\s*({_DOTTED})\s*\]\]")
_TABLE = re.compile(rf"\s*\[\s*({_DOTTED})\s*\]")
_ROW = re.compile(rf"\s*({_DOTTED})\s*=")
_PART = re.compile(_KEY)


def lines_of(text: str) -> dict[Path, int]:
    r"""Return the line of every table and key by its path, counted from 1.

    For a file that is TOML; keys within braces have the line of what they stand in.

    Examples
    --------
    >>> lines_of('[plant]\ngrid = "1 mm"')
    {('plant',): 1, ('plant', 'grid'): 2}

    """
    lines: dict[Path, int] = {}
    counts: dict[Path, int] = {}
    here: Path = ()
    for number, line in enumerate(text.splitlines(), 1):
        if found := _TABLES.match(line):
            whole = _path(found[1], counts)
            counts[whole] = counts.get(whole, -1) + 1
            here = (*whole, counts[whole])
            lines.setdefault(whole, number)
        elif found := _TABLE.match(line):
            here = _path(found[1], counts)
        elif found := _ROW.match(line):
            lines.setdefault((*here, *_parts(found[1])), number)
            continue
        else:
            continue
        lines.setdefault(here, number)
    return lines


def line_of(lines: dict[Path, int], path: Path) -> int | None:
    """Return the line of a place, or of the nearest thing around it; None where it is not there."""
    return next((lines[path[:n]] for n in range(len(path), 0, -1) if path[:n] in lines), None)


def _path(dotted: str, counts: dict[Path, int]) -> Path:
    """Path of a table; below a list of tables it is in the last one."""
    path: Path = ()
    parts = _parts(dotted)
    for n, part in enumerate(parts, 1):
        path = (*path, part)
        if path in counts and n < len(parts):
            path = (*path, counts[path])
    return path


def _parts(dotted: str) -> tuple[str, ...]:
    return tuple(part.strip("\"'") for part in _PART.findall(dotted))
