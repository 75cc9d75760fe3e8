"""The lists of findings: what asks for something, worst first, and what is good."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.finding import Finding, Level
from hangtrue.check.wording import percent
from hangtrue.estimate import Estimate
from hangtrue.paper.blocks import Cell, Column, Table
from hangtrue.paper.lengths import POUNDS, Units, tidy
from hangtrue.paper.tables import capital
from hangtrue.phrase import as_typed, join, phrase
from hangtrue.source import source

POUNDS_FORCE = 4.4482216
"""N in a pound-force."""
THOUSAND = 1000.0


def findings(found: Iterable[Finding], units: Units) -> Table:
    """List the findings that ask for something or are worth knowing, worst first."""
    columns = (Column(head="Level"), Column(head="Found, what it means, what to do", share=1))
    ordered = sorted(found, key=lambda f: -f.level)
    return Table(
        columns=(*columns, *FIGURES),
        rows=tuple(_finding(same, units) for same in _alike(ordered)),
    )


def passed(found: Iterable[Finding], units: Units) -> Table:
    """List what was looked at and is good."""
    columns = (Column(head="Where", share=0.22), Column(head="Found", share=1))
    good = (f for f in found if f.level is Level.PASS)
    rows = tuple(
        (
            capital(same[0].where),
            Cell(text=same[0].found, small=_origins(same)),
            *_figures(same[0], units),
        )
        for same in _alike(good)
    )
    return Table(columns=(*columns, *FIGURES), rows=rows, compact=True)


FIGURES = (
    Column(head="Value", align="right"),
    Column(head="Limit", align="right"),
    Column(head="Margin", align="right"),
    Column(head="Met with", align="right"),
)


def _alike(found: Iterable[Finding]) -> tuple[tuple[Finding, ...], ...]:
    """Put together the findings that say the same in words and have no figure."""
    groups: dict[object, list[Finding]] = {}
    for number, f in enumerate(found):
        words = (f.level, f.where, f.found, f.means, f.do)
        groups.setdefault(words if f.value is None else number, []).append(f)
    return tuple(tuple(group) for group in groups.values())


def _finding(same: tuple[Finding, ...], units: Units) -> tuple[str | Cell, ...]:
    first = same[0]
    what = join(": ", (capital(first.where), first.found)) if first.where else first.found
    return (
        Cell(text=capital(first.level.words), strong=first.level >= Level.WARN),
        Cell(
            text=join(" ", (what, first.means)) if first.means else what,
            then=phrase("To do: {what}", what=first.do) if first.do else "",
            small=_origins(same),
        ),
        *_figures(first, units),
    )


def _origins(same: tuple[Finding, ...]) -> tuple[str, ...]:
    """Rules and sources of findings, each once: one line."""
    rules = as_typed(", ".join(dict.fromkeys(f.rule for f in same if f.rule)))
    sources = join("; ", dict.fromkeys(s for s in map(_source, same) if s))
    line = join(" · ", (part for part in (rules, sources) if part))
    return (line,) if line else ()


def _source(finding: Finding) -> str:
    return str(source(finding.source)) if finding.source else ""


def _figures(finding: Finding, units: Units) -> tuple[str | Cell, ...]:
    """Value with its plus-minus, limit, margin and probability; dashes where there is no number."""
    value, limit, margin = finding.value, finding.limit, finding.margin
    chance = "" if finding.probability is None else percent(finding.probability)
    if value is None:
        return ("", "", "", chance)
    bound = "≤" if finding.at_most else "≥"
    return (
        Cell(text=quantity(value.value, finding.unit, units), small=_spread(finding, value, units)),
        "" if limit is None else join(" ", (bound, quantity(limit, finding.unit, units))),
        "" if margin is None else quantity(margin, finding.unit, units),
        chance,
    )


def _spread(finding: Finding, value: Estimate, units: Units) -> tuple[str, ...]:
    """Plus-minus of a value, where it is large enough to be seen in the figure."""
    if finding.unit == "mm":
        wide, none = (f"{units.spread(sd)} {units.first}" for sd in (value.sd, 0.0))
    else:
        wide, none = (quantity(2 * sd, finding.unit, units) for sd in (value.sd, 0.0))
    return () if wide == none else (join(" ", ("±", wide)),)


def quantity(value: float, unit: str, units: Units) -> str:
    """Write a figure of a finding in the first unit of the papers."""
    match unit:
        case "mm":
            return units.alone.small(value)
        case "kg":
            return f"{value / POUNDS:.0f} lb" if units.first == "in" else f"{value:.1f} kg"
        case "mm2":
            return units.area(value)
        case "mm/m" if units.first == "in":
            return f"{tidy(value * 12 / 1000, 3)} in/ft"
        case "mm/m":
            return f"{tidy(value, 1)} mm/m"
        case "deg":
            return f"{tidy(value, 1)}°"
        case "N" if units.first == "in":
            return join(" ", (f"{value / POUNDS_FORCE:.0f}", "lbf"))
        case "N":
            return f"{value:.0f} N"
        case "MPa":
            return join(" ", (tidy(value, 1), "MPa"))
        case "Nm":
            return f"{tidy(value, 2)} N·m"
        case _:
            return _ratio(value)


def _ratio(value: float) -> str:
    """Three digits and no power of ten: what is below a ten-thousandth is nothing on paper."""
    return f"{value:.0f}" if abs(value) >= THOUSAND else f"{round(value, 4) + 0.0:.3g}"
