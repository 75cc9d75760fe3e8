"""The lists of readings: how they agree, what may be wrong, and what to read next."""

from __future__ import annotations

import math
from collections.abc import Sequence

from hangtrue.check.wording import percent
from hangtrue.job.document import Job
from hangtrue.job.readings import Reading
from hangtrue.measure.opening import Agreement, NextReading, Opening, Residual
from hangtrue.paper import reading_words
from hangtrue.paper.blocks import Cell, Column, Table
from hangtrue.paper.lengths import Units, tidy
from hangtrue.paper.tables import capital
from hangtrue.phrase import phrase
from hangtrue.units import Unit

NOTHING = "–"
UNCHECKED = 0.1
"""A reading that the others check for less than this share counts as checked by nothing."""
LOUD = 3.0
"""Beyond this many standard deviations a residual is set in bold."""


def readings(job: Job, opening: Opening, units: Units) -> Table:
    """Every reading, how it agrees with the others, and how well it is checked."""
    first = units.first
    columns = (
        Column(head="Id"),
        Column(head="Reading", share=1),
        Column(head="As read", align="right"),
        Column(head="Adjusted", unit=first, align="figure"),
        Column(head="Off by", unit=first, align="right"),
        Column(head="Usual ±", unit=first, align="right"),
        Column(head="Off by", unit="st. dev.", align="right"),
        Column(head="Checked", unit="by others", align="right"),
        Column(head="Least slip", unit=phrase("seen, {unit}", unit=first), align="figure"),
    )
    plain = units.alone
    by_id = {r.reading: r for r in opening.residuals}
    aside = frozenset(opening.set_aside)
    rows = tuple(
        _reading(r, by_id[r.id], plain, job.unit, aside=r.id in aside)
        for r in job.readings
        if r.id in by_id
    )
    return Table(columns=columns, rows=rows)


def _reading(
    reading: Reading, residual: Residual, units: Units, unit: Unit, *, aside: bool
) -> tuple[str | Cell, ...]:
    unchecked = residual.redundancy < UNCHECKED
    notes = (reading_words.who(reading), "set aside" if aside else "")
    return (
        reading.id,
        Cell(text=reading_words.place(reading, units), small=tuple(n for n in notes if n)),
        reading_words.typed(reading, unit),
        reading_words.amount(reading, residual.adjusted, units),
        reading_words.difference(reading, residual.off, units),
        reading_words.difference(reading, 2 * residual.sigma, units),
        Cell(
            text=NOTHING if unchecked else tidy(residual.normalised, 1),
            strong=abs(residual.normalised) > LOUD,
        ),
        "nothing" if unchecked else f"{residual.redundancy:.0%}".replace("%", " %"),
        "none"
        if unchecked or math.isinf(residual.detectable)
        else reading_words.amount(reading, residual.detectable, units),
    )


def suspects(agreement: Agreement, job: Job, units: Units) -> Table:
    """Explanations of a disagreement, most probable first."""
    columns = (
        Column(head="Id"),
        Column(head="Reading", share=1),
        Column(head="Slip that would explain it", share=1),
        Column(head="As read", align="right"),
        Column(head="Then it would be", unit=units.first, align="figure"),
        Column(head="Probability", align="right"),
    )
    plain = units.alone
    by_id, unit = {r.id: r for r in job.readings}, job.unit
    rows = tuple(
        (
            s.reading,
            reading_words.place(by_id[s.reading], plain),
            s.slip,
            reading_words.typed(by_id[s.reading], unit),
            reading_words.amount(by_id[s.reading], s.corrected, plain),
            percent(s.probability),
        )
        for s in agreement.suspects
        if s.reading in by_id
    )
    return Table(columns=columns, rows=rows)


def advice(listed: Sequence[NextReading]) -> Table:
    """List the readings worth taking next, and how much each would tell."""
    columns = (Column(head="Take next", share=1), Column(head="What it brings", share=0.8))
    rows = tuple((capital(reading.words), _gain(reading)) for reading in listed)
    return Table(columns=columns, rows=rows)


def _gain(reading: NextReading) -> str:
    if reading.why == "decides":
        sigmas = tidy(reading.gain, 1)
        return phrase("tells the suspects apart by {sigmas} standard deviations", sigmas=sigmas)
    share = percent(reading.gain)
    return phrase("takes away {share} of what is not known of the widths", share=share)
