"""Lists as a workbook and as plain text: numbers stay numbers, text stays text."""

from __future__ import annotations

import csv
import io
import zipfile
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, datetime

from openpyxl import Workbook
from openpyxl.cell import Cell
from openpyxl.styles import Alignment, Font
from openpyxl.utils import get_column_letter
from openpyxl.utils.exceptions import IllegalCharacterError
from openpyxl.worksheet.worksheet import Worksheet

Value = str | int | float

BIRTH = datetime(1980, 1, 1, tzinfo=UTC).replace(tzinfo=None)
"""The date that a workbook must carry: lists are dated by their version, not by a clock."""
WIDEST = 60
"""Columns are no wider, in letters."""
FORMULA = ("=", "+", "-", "@", "\t", "\r")
"""What a calculating program takes for the beginning of a formula."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DataList:
    """One list: its short name, a title, heads with their units, and rows of text and numbers."""

    name: str
    title: str
    heads: tuple[str, ...]
    rows: tuple[tuple[Value, ...], ...]


def workbook(lists: Iterable[DataList], title: str) -> bytes:
    """Write lists as one workbook, a sheet each; the same lists give the same bytes."""
    book = Workbook()
    book.remove(book.worksheets[0])
    book.properties.title = title
    book.properties.creator = "hangtrue"
    book.properties.created = book.properties.modified = BIRTH
    for listed in lists:
        _sheet(book.create_sheet(listed.name[:31]), listed, title)
    out = io.BytesIO()
    book.save(out)
    return _dateless(out.getvalue(), BIRTH)


def _sheet(sheet: Worksheet, listed: DataList, whose: str) -> None:
    """Fill one sheet: whose it is, heads in bold that stay in view, rows."""
    _write(sheet, 1, 1, f"{listed.title}: {whose}").font = Font(bold=True, size=13)
    for column, head in enumerate(listed.heads, 1):
        cell = _write(sheet, 2, column, head)
        cell.font = Font(bold=True)
        cell.alignment = Alignment(wrap_text=True, vertical="top")
    for row, values in enumerate(listed.rows, 3):
        for column, value in enumerate(values, 1):
            cell = _write(sheet, row, column, value)
            cell.alignment = Alignment(wrap_text=isinstance(value, str), vertical="top")
    for column in range(1, len(listed.heads) + 1):
        letters = [len(str(r[column - 1])) for r in listed.rows]
        words = max((len(w) for w in listed.heads[column - 1].split()), default=0)
        wide = min(max([8, words, *letters]) + 2, WIDEST)
        sheet.column_dimensions[get_column_letter(column)].width = wide
    sheet.freeze_panes = "A3"
    sheet.page_setup.fitToWidth = 1
    sheet.page_setup.fitToHeight = 0
    sheet.page_setup.orientation = "landscape"


def _write(sheet: Worksheet, row: int, column: int, value: Value) -> Cell:
    """Set a cell: text is never taken for a formula, and what no workbook holds is left out."""
    cell = sheet.cell(row=row, column=column)
    if not isinstance(cell, Cell):
        msg = "a merged cell"
        raise TypeError(msg)
    try:
        cell.value = value
    except IllegalCharacterError:
        cell.value = "".join(c for c in str(value) if c.isprintable())
    if isinstance(value, str):
        cell.data_type = "s"
        cell.quotePrefix = value.startswith(FORMULA)
    return cell


def _dateless(packed: bytes, date: datetime) -> bytes:
    """Pack a workbook once more with one date for every part, in the order of its parts."""
    out = io.BytesIO()
    stamp = (date.year, date.month, date.day, 0, 0, 0)
    with (
        zipfile.ZipFile(io.BytesIO(packed)) as old,
        zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new,
    ):
        for name in old.namelist():
            content = old.read(name)
            if name == "docProps/core.xml":
                content = _core(content)
            part = zipfile.ZipInfo(name, date_time=stamp)
            part.compress_type = zipfile.ZIP_DEFLATED
            part.external_attr = 0o644 << 16
            new.writestr(part, content)
    return out.getvalue()


def _core(content: bytes) -> bytes:
    """Set back the time of writing, which the library renews as it saves."""
    head, tag, rest = content.partition(b'<dcterms:modified xsi:type="dcterms:W3CDTF">')
    _, end, tail = rest.partition(b"</dcterms:modified>")
    return head + tag + BIRTH.isoformat().encode() + b"Z" + end + tail if tag else content


def comma_text(listed: DataList) -> bytes:
    """Write one list as text with commas (RFC 4180), in UTF-8 with the mark that tells so.

    Text that a calculating program would take for a formula begins with an apostrophe.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow([_plain(head) for head in listed.heads])
    writer.writerows([_plain(v) for v in row] for row in listed.rows)
    return out.getvalue().encode("utf-8-sig")


def _plain(value: Value) -> Value:
    return f"'{value}" if isinstance(value, str) and value.startswith(FORMULA) else value
