"""The packet as PDF: plain records in, one tagged document out, the same bytes every time."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import asdict
from functools import cache
from importlib.resources import files
from tempfile import TemporaryDirectory
from typing import Any, Literal

import typst

from hangtrue.paper import coverage
from hangtrue.paper.blocks import Document
from hangtrue.paper.scene import Sheet
from hangtrue.paper.svg import write_svg

BIRTH = 0
"""Time of making in seconds since 1970: a packet is dated by its version, not by a clock."""


def pdf(document: Document) -> bytes:
    """Set the document as PDF (tagged, after PDF/UA-1)."""
    made = _set(document, "pdf")
    return made if isinstance(made, bytes) else b"".join(made)


def pictures(document: Document, ppi: float = 100.0) -> tuple[bytes, ...]:
    """Set the document as one PNG a sheet, for looking at it."""
    made = _set(document, "png", ppi)
    return (made,) if isinstance(made, bytes) else tuple(made)


def sheets_pdf(sheets: Sequence[Sheet], title: str) -> bytes:
    """Set drawings as PDF, each on a page of its own size, at the size it is drawn."""
    made = _run("sheets.typ", _drawings(sheets, title), "pdf", 100.0)
    return made if isinstance(made, bytes) else b"".join(made)


def sheets_pictures(sheets: Sequence[Sheet], ppi: float = 100.0) -> tuple[bytes, ...]:
    """Set drawings as one PNG each, for looking at them."""
    made = _run("sheets.typ", _drawings(sheets, "pictures"), "png", ppi)
    return (made,) if isinstance(made, bytes) else tuple(made)


def _drawings(sheets: Sequence[Sheet], title: str) -> dict[str, Any]:
    return {
        "title": title,
        "language": "en",
        "sheets": [
            {
                "svg": write_svg(s),
                "width": s.width,
                "height": s.height,
                "says": f"{s.title}. {s.description}",
            }
            for s in sheets
        ],
    }


def _set(
    document: Document, form: Literal["pdf", "png"], ppi: float = 100.0
) -> bytes | list[bytes]:
    return _run("packet.typ", asdict(document), form, ppi)


def _run(
    template: str, document: dict[str, Any], form: Literal["pdf", "png"], ppi: float
) -> bytes | list[bytes]:
    """Run the typesetter in an empty folder of its own, with no file within its reach."""
    data = json.dumps(_plain(document), ensure_ascii=False, sort_keys=True)
    with TemporaryDirectory() as empty:
        compiler = typst.Compiler(root=empty, font_paths=_fonts())
        made = compiler.compile(
            _template(template),
            format=form,
            sys_inputs={"document": data},
            timestamp=BIRTH,
            pdf_standards=["ua-1"] if form == "pdf" else [],
            ppi=ppi,
        )
    if made is None:
        msg = "the typesetter returned nothing"
        raise TypeError(msg)
    return made


@cache
def _template(name: str) -> bytes:
    return files("hangtrue").joinpath("paper", "templates", name).read_bytes()


@cache
def _fonts() -> typst.Fonts:
    return typst.Fonts(
        include_system_fonts=False,
        include_embedded_fonts=False,
        font_paths=[coverage.FONT_FOLDER],
    )


def _plain(value: Any) -> Any:  # noqa: ANN401 - any JSON value
    """Replace in every text what cannot be printed."""
    if isinstance(value, str):
        return coverage.printable(value)
    if isinstance(value, dict):
        return {key: _plain(part) for key, part in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(part) for part in value]
    return value
