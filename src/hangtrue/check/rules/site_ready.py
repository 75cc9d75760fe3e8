"""Glass is measured in a finished room."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.check.wording import listed

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
    for answer, level, verb, do in (
        ("no", Level.WARN, "It is not so that", "Have it finished, come back and read again."),
        ("unknown", Level.NOT_CHECKED, "Nobody said whether", "Look, and say."),
    ):
        what = [words for words, said in answers.items() if said == answer]
        if what:
            row = listed(what, "or" if answer == "unknown" else "and")
            yield Finding(
                level=level,
                where="room",
                found=f"{verb} {row}.",
                means="Readings from an unfinished room do not count for ordering glass.",
                do=do,
            )
    if set(answers.values()) == {"yes"}:
        yield Finding(level=Level.PASS, where="room", found="The room was finished when measured.")
