"""What a page is made of: headings, sentences, tables, drawings and cautions, as plain records."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from hangtrue.job.profile import Language

Align = Literal["left", "right", "figure"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """A heading inside a sheet."""

    text: str
    kind: Literal["heading"] = "heading"


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """A paragraph; `small` for notes under a table."""

    text: str
    small: bool = False
    kind: Literal["text"] = "text"


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """The verdict in one sentence, with what it is about.

    Attributes
    ----------
    sign
        `goes`, `hold` or `stop`: how the sign beside the sentence is drawn.

    """

    sentence: str
    about: str
    sign: Literal["goes", "hold", "stop"]
    kind: Literal["verdict"] = "verdict"


@dataclass(frozen=True, slots=True, kw_only=True)
class Steps:
    """Numbered things to do, in order."""

    title: str
    items: tuple[str, ...]
    kind: Literal["steps"] = "steps"


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """One caution with its sign: what can happen and what to do."""

    text: str
    step: str = ""
    kind: Literal["caution"] = "caution"


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """A drawing as SVG text with its size on paper in mm.

    Attributes
    ----------
    says
        What it shows, for readers who cannot see it.
    fills
        Set as large as the rest of the sheet allows, up to its size; then it has no scale.

    """

    svg: str
    width: float
    height: float
    says: str
    fills: bool = False
    kind: Literal["drawing"] = "drawing"


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column of a table.

    Attributes
    ----------
    head, unit
        What stands in the head; the unit in a line of its own.
    align
        `figure` sets numbers one under the other on their point or before their fraction.
    share
        Share of the free width; 0 takes what the longest cell needs.

    """

    head: str
    unit: str = ""
    align: Align = "left"
    share: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """A cell of several lines: what matters, what to do, and in small type what explains it.

    Attributes
    ----------
    warned
        Cautions of just this row, each with its sign.

    """

    text: str
    then: str = ""
    small: tuple[str, ...] = ()
    strong: bool = False
    warned: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A list with thin rules; `compact` sets a long one of little weight smaller."""

    columns: tuple[Column, ...]
    rows: tuple[tuple[str | Cell, ...], ...]
    compact: bool = False
    kind: Literal["table"] = "table"


@dataclass(frozen=True, slots=True, kw_only=True)
class Abreast:
    """Small tables set side by side, as many as there is room for; none is broken over a page."""

    tables: tuple[Table, ...]
    columns: int = 2
    kind: Literal["abreast"] = "abreast"


@dataclass(frozen=True, slots=True, kw_only=True)
class Signature:
    """A line to sign on, with what is signed."""

    text: str
    kind: Literal["signature"] = "signature"


Block = Heading | Text | Verdict | Steps | Caution | Drawing | Table | Abreast | Signature


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """One sheet of the packet; a long list runs on over further sheets with the same title block.

    Attributes
    ----------
    title, view, scale
        For the title block; `scale` as `1 : 12`, or empty where nothing is drawn to scale.
    sizes
        The sheet shows sizes, so it carries the band that says whether glass may be ordered.
    heading
        The title stands at the top of the sheet as well.
    flows
        It goes on where the list before it ends, on the same sheet.
    whole
        It is not broken over two sheets: only for what is known to fit on one.
    language
        In which it is said.

    """

    title: str
    blocks: tuple[Block, ...]
    view: str = ""
    scale: str = ""
    sizes: bool = False
    heading: bool = True
    flows: bool = False
    whole: bool = False
    language: Language = "en"


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """A packet ready to be set: paper, title block, band, and pages in the order of printing.

    Attributes
    ----------
    language
        Of the document as a whole; a page may be in another.
    frame
        What stands on every sheet around its contents, by language.
    band
        What every sheet with sizes says across its top, by language; empty where glass may be
        ordered.
    stop
        The band forbids rather than warns.
    head
        Fields of the title block that are the same on every sheet.
    mark
        SVG text of a square that machines read, in the title block; empty for none.

    """

    title: str
    paper: Literal["letter", "a4"]
    language: str
    head: dict[str, str]
    frame: dict[str, dict[str, str]]
    band: dict[str, str]
    stop: bool
    pages: tuple[Page, ...]
    mark: str = ""
