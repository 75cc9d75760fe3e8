"""Where a shop's profile speaks of the hands that read this room: what is used, and from what."""

from __future__ import annotations

from collections.abc import Iterator

from hangtrue.job.brief import Brief
from hangtrue.job.instruments import OwnHand
from hangtrue.phrase import Phrase, as_typed, many, phrase


def hands_used(brief: Brief) -> tuple[Phrase, ...]:
    """Say which own hands stand behind the readings, each once, in the order of the job."""
    pairs = dict.fromkeys((r.by.strip(), r.with_) for r in brief.job.readings)
    return tuple(_used(brief, pairs))


def _used(brief: Brief, pairs: dict[tuple[str, str], None]) -> Iterator[Phrase]:
    for person, instrument in pairs:
        hand = brief.profile.hand(person, instrument)
        if hand is not None:
            yield _sentence(_whose(person, instrument), hand)


def _whose(person: str, instrument: str) -> Phrase:
    if not person:
        return phrase("Read with {instrument}", instrument=as_typed(instrument))
    return phrase(
        "Read by {person} with {instrument}",
        person=as_typed(person),
        instrument=as_typed(instrument),
    )


def _sentence(whose: Phrase, hand: OwnHand) -> Phrase:
    said = {"whose": whose, "scatter": as_typed(hand.scatter.typed), "origin": _origin(hand)}
    if not hand.bias:
        return phrase(
            "{whose}: scatter {scatter} instead of step and seating of the instrument ({origin}).",
            **said,
        )
    bias = as_typed(hand.bias.typed.lstrip("+-\N{MINUS SIGN} "))
    if hand.bias > 0.0:
        return phrase(
            "{whose}: scatter {scatter} instead of step and seating of the instrument, and {bias} "
            "taken off each taped length ({origin}).",
            bias=bias,
            **said,
        )
    return phrase(
        "{whose}: scatter {scatter} instead of step and seating of the instrument, and {bias} "
        "added to each taped length ({origin}).",
        bias=bias,
        **said,
    )


def _origin(hand: OwnHand) -> str:
    """What it rests on, in the shop's own words where it has any."""
    if hand.origin:
        return as_typed(hand.origin)
    if hand.numbers and hand.jobs:
        return phrase(
            "the shop's profile: {numbers} of {jobs}",
            numbers=many(hand.numbers, "{n} number", "{n} numbers"),
            jobs=many(hand.jobs, "{n} finished job", "{n} finished jobs"),
        )
    return "the shop's profile"
