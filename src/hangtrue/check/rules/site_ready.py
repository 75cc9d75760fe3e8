"""Glass is measured in a finished room."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.check.wording import listed
from hangtrue.phrase import phrase

WORDS = {
    "tile_and_grout_done": "tile and grout are finished",
    "pan_clean": "the pan is clean and empty",
    "valve_and_head_in_place": "valve and shower head are in place",
    "vanity_and_toilet_in_place": "vanity and toilet are in place",
}


@rule(
    id="site-ready",
    title="The room was ready to be measured",
    why="What is measured before the tile is grouted and the fittings are in is measured twice.",
)
def site_ready(case: Case) -> Iterable[Finding]:
    """Tell what was not finished, and what nobody said."""
    answers = {words: getattr(case.job.site, field) for field, words in WORDS.items()}
    undone = [words for words, said in answers.items() if said == "no"]
    unsaid = [words for words, said in answers.items() if said == "unknown"]
    if undone:
        yield _unready(
            Level.WARN,
            phrase("It is not so that {states}.", states=listed(undone)),
            "Have it finished, come back and read again.",
        )
    if unsaid:
        yield _unready(
            Level.NOT_CHECKED,
            phrase("Nobody said whether {states}.", states=listed(unsaid, "or")),
            "Look, and say.",
        )
    if set(answers.values()) == {"yes"}:
        yield Finding(level=Level.PASS, where="room", found="The room was finished when measured.")


def _unready(level: Level, found: str, do: str) -> Finding:
    return Finding(
        level=level,
        where="room",
        found=found,
        means="Readings from an unfinished room do not count for ordering glass.",
        do=do,
    )
