"""What changed between two versions of a job, in words, from the readings to the verdict."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby
from typing import Literal

from hangtrue.check.finding import Finding, Level
from hangtrue.job.document import Head
from hangtrue.paper.document_changes import Said, among, document_changes, reading_changes, to
from hangtrue.paper.lengths import units_of
from hangtrue.paper.pane_changes import gap_changes, pane_changes
from hangtrue.plan import Plan

Group = Literal["Version", "Verdict", "Readings", "Room and wishes", "Panes", "Gaps", "Findings"]
WIDTH = 96


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One thing that is not as it was: where, and what, as `hinge side left -> right`."""

    group: Group
    where: str
    words: str

    def __str__(self) -> str:
        """Say it in one line."""
        return f"{self.where}: {self.words}" if self.where else self.words


def changes(old: Plan, new: Plan) -> tuple[Change, ...]:
    """Return everything that differs between two plans of one job, in the order of reading.

    Empty where the two say the same. That the content changed and its version did not is a change
    too, and said first: a drawing that was sent must not have a namesake.
    """
    jobs, units = (old.brief.job, new.brief.job), units_of(new.brief)
    made = old.best.alternative.made, new.best.alternative.made
    groups: tuple[tuple[Group, Iterator[Said]], ...] = (
        ("Verdict", _verdict(old, new)),
        ("Readings", reading_changes(*jobs)),
        ("Room and wishes", document_changes(*jobs)),
        ("Panes", pane_changes(*made, units)),
        ("Gaps", gap_changes(*made, units)),
        ("Findings", _findings(old.best.findings, new.best.findings)),
    )
    found = [
        Change(group=group, where=where, words=words)
        for group, said in groups
        for where, words in said
    ]
    heads = _heads(jobs[0].job, jobs[1].job, differ=bool(found))
    return (*(Change(group="Version", where=w, words=words) for w, words in heads), *found)


def changes_text(old: Plan, new: Plan) -> str:
    """Write the changes for a terminal, group by group."""
    parts = [f"From {_called(old.brief.job.job)} to {_called(new.brief.job.job)}"]
    found = changes(old, new)
    for group, lines in groupby(found, key=lambda change: change.group):
        parts.append("\n".join([group, *(_line(str(change)) for change in lines)]))
    return "\n\n".join(parts if found else [*parts, "Nothing changed."])


def _called(head: Head) -> str:
    dated = f" of {head.date}" if head.date else ""
    return f"{head.id}, version {head.version}{dated}"


def _line(words: str) -> str:
    return textwrap.fill(words, WIDTH, initial_indent="  - ", subsequent_indent="    ")


def _heads(old: Head, new: Head, *, differ: bool) -> Iterator[Said]:
    if differ and new.version == old.version:
        words = f"both are version {new.version}, and yet they differ: raise `version` before"
        yield "", f"{words} anybody is sent the new one"
    if new.version < old.version:
        yield "", "the new one has the lower version: are the two exchanged?"
    for name in Head.model_fields:
        was, now = getattr(old, name), getattr(new, name)
        if was != now:
            yield name.replace("_", " "), to(was or "not written", now or "not written")


def _verdict(old: Plan, new: Plan) -> Iterator[Said]:
    if old.verdict is not new.verdict:
        yield "was", old.verdict.sentence
        yield "is", new.verdict.sentence


def _findings(old: tuple[Finding, ...], new: tuple[Finding, ...]) -> Iterator[Said]:
    """Compare what each rule found at each place; what is good, and was no worse, needs no line."""
    was, now = _by_place(old), _by_place(new)
    for name in among(was, now):
        before, after = was.get(name), now.get(name)
        if {before and before.level, after and after.level} <= {Level.PASS, None}:
            continue
        if before is None and after is not None:
            yield name, f"new, {after.level.words}: {after.found}"
        elif after is None and before is not None:
            yield name, f"gone, was {before.level.words}: {before.found}"
        elif before is not None and after is not None:
            if before.level is not after.level:
                yield name, f"{to(before.level.words, after.level.words)}: {after.found}"
            elif before.found != after.found and after.level is not Level.PASS:
                yield name, f"still {after.level.words}: {after.found}"


def _by_place(findings: tuple[Finding, ...]) -> dict[str, Finding]:
    """Findings by rule and place; a rule that says two things of one place is counted."""
    placed: dict[str, Finding] = {}
    for finding in findings:
        name = place = f"{finding.where} ({finding.rule})"
        count = 1
        while name in placed:
            count += 1
            name = f"{place} {count}"
        placed[name] = finding
    return placed
