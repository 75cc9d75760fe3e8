"""The packet as PDF: plain records in, one tagged document out, the same bytes every time."""

from __future__ import annotations

import json
from dataclasses import asdict
from functools import cache
from importlib.resources import files
from tempfile import TemporaryDirectory
from typing import Any, Literal

import typst

from hangtrue.paper import coverage
from hangtrue.paper.blocks import Document

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


def _set(
    document: Document, form: Literal["pdf", "png"], ppi: float = 100.0
) -> bytes | list[bytes]:
    """Run the typesetter in an empty folder of its own, with no file within its reach."""
    data = json.dumps(_plain(asdict(document)), ensure_ascii=False, sort_keys=True)
    with TemporaryDirectory() as empty:
        compiler = typst.Compiler(root=empty, font_paths=_fonts())
        made = compiler.compile(
            _template(),
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
def _template() -> bytes:
    return files("hangtrue").joinpath("paper", "templates", "packet.typ").read_bytes()


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
