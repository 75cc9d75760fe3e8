"""The packet as a folder: PDF, drawings, cut files, plan as data; written whole or not at all."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from errno import EEXIST
from pathlib import Path
from tempfile import TemporaryDirectory

from hangtrue.fit.enclosure import Lite, NoFit
from hangtrue.job.problems import Problem
from hangtrue.job.profile import SheetName
from hangtrue.paper.contents import document
from hangtrue.paper.drawings import drawings
from hangtrue.paper.drawn_pages import PANE, pane_name
from hangtrue.paper.dxf import pane_dxf
from hangtrue.paper.language import language_of, speaking
from hangtrue.paper.pdf import pdf
from hangtrue.paper.plan_json import plan_json_text
from hangtrue.paper.scene import Sheet, Text
from hangtrue.paper.svg import write_svg
from hangtrue.plan import Plan

FILE = re.compile(r"[^a-z0-9]+")
OURS = ("drawings", "panes")
"""Folders inside a packet; nothing else in `out` is touched."""
DRAWN: tuple[SheetName, ...] = ("opening", "layout", "panes")
"""Sheets that carry drawings."""
ENDINGS = ("-packet.pdf", "-plan.json")
"""How the names of its other files end."""


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
        exchange(fresh, out, Path(aside) / "old")
    return tuple(sorted(path for path in out.rglob("*") if path.is_file()))


def contents(plan: Plan, problems: Sequence[Problem] = ()) -> dict[str, bytes]:
    """Return every file of the packet by its path inside the folder."""
    stem = file_stem(plan)
    sheets = drawn(plan)
    files = {
        f"{stem}-packet.pdf": pdf(document(plan, sheets, problems)),
        f"{stem}-plan.json": plan_json_text(plan, problems).encode(),
    }
    cut = {pane_name(lite): lite for lite in _panes(plan)}
    shown = ((n, s) for n, s in sheets if n in cut or not n.startswith(PANE))
    files |= {f"drawings/{stem}-{name}.svg": _alone(plan, sheet) for name, sheet in shown}
    if plan.best.alternative.choice.cut != "boxed":
        files |= {f"panes/{stem}-{n}.dxf": pane_dxf(plan, lite) for n, lite in cut.items()}
    return files


def drawn(plan: Plan) -> tuple[tuple[str, Sheet], ...]:
    """Draw everything, each drawing in the language of the sheet that it is on."""
    languages = {name: language_of(plan.brief.profile, name) for name in DRAWN}
    by_language = {}
    for language in sorted(set(languages.values())):
        with speaking(language):
            by_language[language] = dict(drawings(plan))
    names = by_language[languages["layout"]]
    return tuple((name, by_language[languages[_sheet_of(name)]][name]) for name in names)


def _sheet_of(drawing: str) -> SheetName:
    if drawing.startswith(PANE):
        return "panes"
    return "opening" if drawing == "opening" else "layout"


def _alone(plan: Plan, sheet: Sheet) -> bytes:
    """Write a drawing that leaves the packet by itself: with job, room and version over it."""
    head = plan.brief.job.job
    words = [sheet.title, head.id, head.room, f"version {head.version}", head.date]
    if any(t.words.startswith(f"{head.id}, version") for t in _texts(sheet)):
        return write_svg(sheet).encode()
    line = Text(at=(0.0, sheet.height + 1.5), words="  ·  ".join(w for w in words if w))
    taller = replace(sheet, height=sheet.height + 6.0, primitives=(*sheet.primitives, line))
    return write_svg(taller).encode()


def _texts(sheet: Sheet) -> Iterator[Text]:
    return (p for p in sheet.primitives if isinstance(p, Text))


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


def refuse_foreign(
    out: Path, folders: tuple[str, ...] = OURS, endings: tuple[str, ...] = ENDINGS
) -> None:
    """Raise FileExistsError where writing a packet would put aside somebody else's files."""
    if out.is_dir():
        foreign = [p for p in out.iterdir() if not _is_ours(p, folders, endings)]
        if foreign:
            words = "holds files that are no packet; name another folder"
            raise FileExistsError(EEXIST, words, str(out))
    elif out.exists():
        raise FileExistsError(EEXIST, "is a file; name a folder", str(out))


def _is_ours(path: Path, folders: tuple[str, ...], endings: tuple[str, ...]) -> bool:
    return path.name in folders if path.is_dir() else path.name.endswith(endings)


def exchange(fresh: Path, out: Path, old: Path) -> None:
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
