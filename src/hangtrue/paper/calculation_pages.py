"""Calculation sheets as pages that an engineer can follow by hand: inputs, formulas, result."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from hangtrue.check.sheet import CalculationSheet, Given, Step
from hangtrue.paper.blocks import Block, Cell, Column, Heading, Page, Table, Text
from hangtrue.phrase import join, phrase
from hangtrue.plan import Plan
from hangtrue.source import source

OWN = "own"
NOTE = (
    "Inside the program everything is in mm, N, kg and MPa, and so are these sheets. Each was "
    "computed by the same formulas that the findings were; a licensed professional checks and "
    "signs where local code asks for it."
)
DIGITS = 4
"""Significant digits of a value, enough to follow by hand."""
LARGE = 1e6
"""From here on a value is written as a power of ten."""
LEAST = 1e-6
"""Below this a value is nothing."""


def calculations(plan: Plan) -> tuple[Page, ...]:
    """Every calculation behind the findings on the way taken; no page where there is none."""
    sheets = sorted(plan.best.sheets, key=lambda sheet: sheet.title)
    if not sheets:
        return ()
    sources = _sources(sheets)
    blocks = [block for sheet in sheets for block in _sheet(sheet, sources)]
    named = join(
        "; ", (join(" ", (f"[{n}]", str(source(one)))) for n, one in enumerate(sources, start=1))
    )
    said = phrase("Sources: {sources}.", sources=named)
    last = (Text(text=said, small=True), Text(text=NOTE, small=True))
    return (Page(title="Calculations", blocks=(*blocks, *last)),)


def _sources(sheets: Iterable[CalculationSheet]) -> tuple[str, ...]:
    """Ids of every source that a step or an input names, each once; what is derived needs none."""
    named = (
        one
        for sheet in sheets
        for one in (*(g.origin for g in sheet.given), *(s.source for s in sheet.steps))
    )
    return tuple(one for one in dict.fromkeys(named) if one != OWN and _is_source(one))


def _is_source(name: str) -> bool:
    try:
        return bool(source(name))
    except KeyError:
        return False


def _sheet(sheet: CalculationSheet, sources: Sequence[str]) -> tuple[Block, ...]:
    return (
        Heading(text=sheet.title),
        Text(text=join(" ", sheet.basis), small=True),
        _given(sheet.given, sources),
        _steps(sheet.steps, sources),
        Text(text=sheet.result),
    )


def _given(given: Sequence[Given], sources: Sequence[str]) -> Table:
    columns = (
        Column(head="Given", share=1),
        Column(head="Symbol"),
        Column(head="Value", align="right"),
        Column(head="Unit"),
        Column(head="From", share=0.3),
    )
    rows = tuple(
        (one.what, one.symbol, written(one.value), one.unit, _origin(one.origin, "", sources))
        for one in given
    )
    return Table(columns=columns, rows=rows, compact=True)


def _steps(steps: Sequence[Step], sources: Sequence[str]) -> Table:
    columns = (
        Column(head="Worked out", share=0.8),
        Column(head="Formula", share=1),
        Column(head="Value", align="right"),
        Column(head="Unit"),
        Column(head="From", share=0.45),
    )
    rows = tuple(
        (
            one.what,
            Cell(text=join(" = ", (part for part in (one.symbol, one.formula) if part))),
            written(one.value),
            one.unit,
            _origin(one.source, one.clause, sources),
        )
        for one in steps
    )
    return Table(columns=columns, rows=rows, compact=True)


def _origin(name: str, clause: str, sources: Sequence[str]) -> str:
    """Number of a source with its clause; what is derived here, or in words, as it is."""
    if name in sources:
        number = f"[{sources.index(name) + 1}]"
        return join(" ", (number, clause)) if clause else number
    return clause or ("derived here" if name == OWN else name)


def written(value: float | str) -> str:
    """Write a value to four digits that count; very large ones as a power of ten."""
    if isinstance(value, str):
        return value
    if value == int(value) and abs(value) < LARGE:
        return f"{value:.0f}".replace("-", "−")
    if abs(value) >= LARGE:
        mantissa, power = f"{value:.{DIGITS - 1}e}".split("e")
        return f"{mantissa} × 10^{int(power)}".replace("-", "−")
    if abs(value) < LEAST:  # nothing but rounding
        return f"{0:.{DIGITS}f}"
    places = max(0, DIGITS - 1 - math.floor(math.log10(abs(value))))
    return f"{value:.{places}f}".replace("-", "−")
