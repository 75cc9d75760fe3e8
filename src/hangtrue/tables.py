"""The tables of `data/`, read once and kept: every number of the program with its source."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files
from typing import Any

Table = dict[str, Any]


@cache
def table(name: str) -> Table:
    """Return the table `data/<name>.toml`; `name` may hold a folder, as in `hardware/hinges`.

    Raises
    ------
    FileNotFoundError
        If the package ships no such table.

    """
    path = files("hangtrue").joinpath("data", *f"{name}.toml".split("/"))
    return tomllib.loads(path.read_text(encoding="utf-8"))
