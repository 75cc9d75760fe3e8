"""A hinged shower door must be able to open outward."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.phrase import join

ASKS = {"irc": "residential", "upc": "plumbing"}
"""Codes that ask for a door that opens outward."""
CODES = {
    "residential": "The residential code asks for a door that opens outward.",
    "plumbing": "The plumbing code asks for a door that opens outward.",
}
UNREACHED = "A person lying behind it could not be reached."


@rule(
    id="opens-outward",
    title="The door can open outward",
    why="Somebody who has fallen against a door that only opens inward cannot be reached.",
    source="irc-p2708",
)
def opens_outward(case: Case) -> Iterable[Finding]:
    """Judge the swing wanted, and whether the hinge can do it."""
    if "door" not in case.choice.order:
        yield Finding(level=Level.PASS, where="enclosure", found="There is no door.")
        return
    swing = case.job.wanted.swing
    asked = ASKS.get(case.brief.profile.jurisdiction, "")
    if swing == "in":
        yield Finding(
            level=Level.FAIL if asked else Level.WARN,
            where="door",
            found="The door is to open inward only.",
            means=join(" ", filter(None, (UNREACHED, CODES.get(asked, "")))),
            do="Let it open outward, or both ways with a hinge that allows it.",
            source="upc-408" if asked == "plumbing" else "",
        )
    elif swing == "both" and any(door.hinge.swing == "one way" for door in case.hung):
        yield Finding(
            level=Level.FAIL,
            where="door",
            found="The door is to swing both ways; its hinge opens one way only.",
            do="Let it open outward only, or take a hinge that swings both ways.",
            source="maker",
        )
    else:
        yield Finding(
            level=Level.PASS,
            where="door",
            found="The door opens outward." if swing == "out" else "The door opens both ways.",
        )
