"""Every reading somebody could take next: a repeat, another height, a diagonal, a laser line."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from hangtrue.job.instruments import Instrument
from hangtrue.job.readings import Bow, Diagonal, Lean, Reading, Width
from hangtrue.measure.adjusting import Fit, Seen, see
from hangtrue.measure.equations import equation
from hangtrue.measure.layout import Equation, glass_heights
from hangtrue.measure.next_reading import in_words
from hangtrue.phrase import phrase
from hangtrue.tables import table
from hangtrue.units import Length

SHARES = (0.0, 0.25, 0.5, 0.75, 1.0)
"""Heights at which a width or a lean is easily read, as shares of the glass from its foot."""

KINDS = {
    "width": ("tape", "laser distance"),
    "diagonal": ("tape", "laser distance"),
    "lean": ("level", "plumb line", "laser line"),
    "bow": ("rule",),
}
"""Instruments for each kind of reading."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Candidate:
    """A reading that could be taken.

    Attributes
    ----------
    words
        What to do, to the person in the room.
    sigma
        Its standard uncertainty, mm.
    minutes
        Time that it takes.

    """

    words: str
    reading: Reading
    equation: Equation
    sigma: float
    minutes: float


def candidates(found: Fit) -> tuple[Candidate, ...]:
    """List readings of what is easily reached; each once, with the instrument of its kind."""
    every = [*_again(found), *_others(found)]
    return tuple({c.words: c for c in every}.values())


def _again(found: Fit) -> Iterator[Candidate]:
    """Each reading once more, on its own: by another person, so that a habit does not repeat."""
    unit = found.network.brief.job.unit
    for seen, eq in zip(found.seen, found.equations, strict=True):
        if seen.reading.what in KINDS or seen.reading.what in {"fall", "pitch", "height"}:
            yield Candidate(
                words=phrase(
                    "have a second person read {reading}", reading=in_words(seen.reading, unit)
                ),
                reading=seen.reading,
                equation=eq,
                sigma=_by_another(found, seen),
                minutes=_minutes(seen.reading),
            )


def _by_another(found: Fit, seen: Seen) -> float:
    """Return how well somebody else would read it, of whose own hand nothing is said."""
    if not found.network.brief.profile.people:
        return seen.sigma
    other = seen.reading.model_copy(update={"by": ""})
    return see(other, found.network, found.adjustment.x).sigma


def _others(found: Fit) -> Iterator[Candidate]:
    """Widths, diagonals, leans and bows at other heights, and with other instruments."""
    unit = found.network.brief.job.unit
    for reading in _elsewhere(found):
        for instrument in _instruments(found, reading):
            given = reading.model_copy(update={"with_": instrument.id})
            eq = equation(given, found.network.layout, found.adjustment.x)
            value = Length(abs(eq.at(found.adjustment.x)))
            seen = see(given.model_copy(update={"value": value}), found.network, found.adjustment.x)
            yield Candidate(
                words=phrase(
                    "read {reading} with {instrument}",
                    reading=in_words(given, unit),
                    instrument=_said(instrument),
                ),
                reading=given,
                equation=eq,
                sigma=seen.sigma,
                minutes=_minutes(reading),
            )


def _elsewhere(found: Fit) -> Iterator[Reading]:
    layout, job = found.network.layout, found.network.brief.job
    low, high = glass_heights(job)
    heights = [Length(low + share * (high - low)) for share in SHARES]
    nought = Length(0)
    if layout.runs == 1 and len(layout.walls) == 2:  # noqa: PLR2004 - left and right
        for at in heights:
            yield Width(what="width", at=at, value=nought)
        for left, right in ((low, high), (high, low)):
            yield Diagonal(
                what="diagonal", left_at=Length(left), right_at=Length(right), value=nought
            )
    for side in layout.walls:
        for to in heights[1:]:
            yield Lean(what="lean", wall=side, from_=heights[0], to=to, value=nought)
        for at in heights[1:-1]:
            yield Bow(what="bow", wall=side, from_=heights[0], to=heights[-1], at=at, value=nought)


def _instruments(found: Fit, reading: Reading) -> Iterator[Instrument]:
    """The instrument that readings of its kind were taken with, and one of each other kind."""
    brief = found.network.brief
    used = [s.reading.with_ for s in found.seen if s.reading.what == reading.what]
    mine = [brief.instruments[name] for name in used[:1]]
    yield from mine
    for kind in KINDS[reading.what]:
        if all(i.kind != kind for i in mine):
            others = [i for i in brief.instruments.values() if i.kind == kind]
            yield from others[:1]


def _minutes(reading: Reading) -> float:
    return float(table("odds")["minutes"].get(reading.what, 5.0))


def _said(instrument: Instrument) -> str:
    title = instrument.title.split(",")[0]
    article = "an" if title[0].lower() in "aeiou" else "a"
    return f"{article} {title[0].lower()}{title[1:]}"
