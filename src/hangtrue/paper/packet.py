"""The packet as a folder: PDF, drawings, cut files, plan as data; written whole or not at all."""

from __future__ import annotations

import re
from collections.abc import Sequence
from errno import EEXIST
from pathlib import Path
from tempfile import TemporaryDirectory

from hangtrue.fit.enclosure import Lite, NoFit
from hangtrue.job.problems import Problem
from hangtrue.paper.contents import document
from hangtrue.paper.drawings import drawings
from hangtrue.paper.drawn_pages import PANE, pane_name
from hangtrue.paper.dxf import pane_dxf
from hangtrue.paper.pdf import pdf
from hangtrue.paper.plan_json import plan_json_text
from hangtrue.paper.svg import write_svg
from hangtrue.plan import Plan

FILE = re.compile(r"[^a-z0-9]+")
OURS = ("drawings", "panes")
"""Folders inside a packet; nothing else in `out` is touched."""


def write_packet(plan: Plan, problems: Sequence[Problem], out: Path) -> tuple[Path, ...]:
    """Write the packet into the folder `out` and return its files in the order of their names.

    All is first written into a fresh folder beside `out` and moved there when it is complete.
    A packet that stands there is replaced; a folder that holds anything else is left alone.

    Raises
    ------
    FileExistsError
        If `out` is a file, or a folder that holds something other than a packet.

    """
    refuse_foreign(out)
    out.parent.mkdir(parents=True, exist_ok=True)
    with TemporaryDirectory(prefix=f".{out.name}-", dir=out.parent) as aside:
        fresh = Path(aside) / "new"
        for name, content in contents(plan, problems).items():
            path = fresh / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(content)
        _exchange(fresh, out, Path(aside) / "old")
    return tuple(sorted(path for path in out.rglob("*") if path.is_file()))


def contents(plan: Plan, problems: Sequence[Problem] = ()) -> dict[str, bytes]:
    """Return every file of the packet by its path inside the folder."""
    stem = file_stem(plan)
    sheets = drawings(plan)
    files = {
        f"{stem}-packet.pdf": pdf(document(plan, sheets, problems)),
        f"{stem}-plan.json": plan_json_text(plan, problems).encode(),
    }
    cut = {pane_name(lite): lite for lite in _panes(plan)}
    shown = ((n, s) for n, s in sheets if n in cut or not n.startswith(PANE))
    files |= {f"drawings/{stem}-{name}.svg": write_svg(sheet).encode() for name, sheet in shown}
    if plan.best.alternative.choice.cut != "boxed":
        files |= {f"panes/{stem}-{n}.dxf": pane_dxf(plan, lite) for n, lite in cut.items()}
    return files


def _panes(plan: Plan) -> tuple[Lite, ...]:
    """Panes that may leave the house as files: none while glass must not be ordered."""
    made = plan.best.alternative.made
    return () if isinstance(made, NoFit) or plan.verdict.stops else made.lites


def file_stem(plan: Plan) -> str:
    """Return the beginning of every file name: job and version, in letters that every disk takes.

    The name carries the version, so that an old drawing cannot pass for a new one.
    """
    head = plan.brief.job.job
    plain = FILE.sub("-", head.id.lower()).strip("-")[:60]
    return f"{plain or 'job'}-v{head.version}"


def refuse_foreign(out: Path) -> None:
    """Raise FileExistsError where writing a packet would put aside somebody else's files."""
    if out.is_dir():
        foreign = [p for p in out.iterdir() if not _is_ours(p)]
        if foreign:
            words = "holds files that are no packet; name another folder"
            raise FileExistsError(EEXIST, words, str(out))
    elif out.exists():
        raise FileExistsError(EEXIST, "is a file; name a folder", str(out))


def _is_ours(path: Path) -> bool:
    if path.is_dir():
        return path.name in OURS
    return path.name.endswith(("-packet.pdf", "-plan.json"))


def _exchange(fresh: Path, out: Path, old: Path) -> None:
    """Put the new folder in the place of the one that stands there, if any, and that one aside."""
    if not out.exists():
        fresh.rename(out)
        return
    out.rename(old)
    try:
        fresh.rename(out)
    except OSError:
        old.rename(out)
        raise
