"""The document of a return visit: what is complained of, and what was read or looked at."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Any, Literal

from pydantic import Field

from hangtrue.fit.enclosure import Enclosure
from hangtrue.hang.asbuilt_document import in_order, placed, validated
from hangtrue.hang.diagnosis import Seen, here, outcome_of
from hangtrue.job.blank import DIALECT
from hangtrue.job.problems import Fault, Problem, any_wrong, suggest
from hangtrue.job.quantity import Model, Typed
from hangtrue.job.text import Text, parse, read_text
from hangtrue.tables import table
from hangtrue.units import UnitsError, length

FORMAT_VERSION = 1
Answer = Literal["yes", "no", "unknown"]


class ReturnVisit(Model):
    """What was found on a return visit."""

    visit: Annotated[Literal[1], Typed] = Field(
        description="Version of this format", examples=[FORMAT_VERSION]
    )
    symptoms: dict[str, Answer] = Field(
        description="What is complained of, by its name: yes, no or unknown; what is not written "
        "was not looked for",
        examples=[{"sag": "yes", "rub_curb": "yes"}],
    )
    readings: dict[str, str] = Field(
        {},
        description="What was read or looked at, by its name: the outcome, or a figure with unit",
        examples=[{"hinge_gap": "2 mm", "plate_held": "plates hold"}],
    )
    job: str = Field("", description="Short name of the job it is of", examples=["gull-room"])
    unit: Literal["in", "mm", "cm"] = Field(
        "mm", description="Unit of bare numbers", examples=["mm"]
    )
    by: str = Field("", description="Who was there", examples=["Ines"])
    on: str = Field("", description="When", examples=["2027-03-01"])


@dataclass(frozen=True, slots=True, kw_only=True)
class Visit:
    """What counts of a return visit.

    Attributes
    ----------
    symptoms
        `yes` or `no` of those that were looked for.
    results
        Outcome of every check that was made.
    ready
        Nothing in the document is wrong.

    """

    symptoms: dict[str, Seen]
    results: dict[str, str]
    problems: tuple[Problem, ...]
    ready: bool


def visit_schema() -> dict[str, Any]:
    """Return the JSON Schema of the document, with every symptom and check by name."""
    whole = ReturnVisit.model_json_schema(by_alias=True)
    for key, name in (("symptoms", "symptoms"), ("readings", "tests")):
        whole["properties"][key]["propertyNames"] = {"enum": list(table("hang/symptoms")[name])}
    return {"$schema": DIALECT} | whole | {"title": "hangtrue return visit"}


def read_visit(path: Path, enclosure: Enclosure, job: str) -> Visit:
    """Read the document from a file; it is held against the layout it is said to be of."""
    text, problems = read_text(path)
    return _read(text, problems, enclosure, job)


def read_visit_text(words: str, enclosure: Enclosure, job: str) -> Visit:
    """Read the document from its text."""
    text, problems = parse(words)
    return _read(text, problems, enclosure, job)


def _read(
    text: Text | None, problems: tuple[Problem, ...], enclosure: Enclosure, job: str
) -> Visit:
    if text is None:
        return Visit(symptoms={}, results={}, problems=problems, ready=False)
    part = validated(ReturnVisit, text, ())
    found, said = part.faults, part.document
    wrong = {fault.path for fault in found}
    if said is not None:
        more = tuple(_faults(said, enclosure, job))
        found += tuple(f for f in more if f.path not in wrong and not _emptied(f, wrong))
    every = in_order({*problems, *placed(found, text)})
    if said is None or any_wrong(every):
        return Visit(symptoms={}, results={}, problems=every, ready=False)
    answers: dict[str, Seen] = {k: a for k, a in said.symptoms.items() if a != "unknown"}
    results = {name: _outcome(name, words, said) for name, words in said.readings.items()}
    return Visit(symptoms=answers, results=results, problems=every, ready=True)


def _emptied(fault: Fault, wrong: set[tuple[str | int, ...]]) -> bool:
    """Whether something only seems missing because it was left out for being wrong."""
    return len(fault.path) == 1 and any(path[:1] == fault.path for path in wrong)


def _faults(said: ReturnVisit, enclosure: Enclosure, job: str) -> Iterator[Fault]:
    if said.job and said.job != job:
        wrong = f"this visit is to {said.job!r}, and the plan is of {job!r}"
        yield Fault(path=("job",), wrong=wrong, do="take the visit or the job that belongs here")
    symptoms, tests = here(enclosure, "symptoms"), here(enclosure, "tests")
    for name in said.symptoms:
        if name not in symptoms:
            yield _unknown(("symptoms", name), name, "symptom", list(symptoms), "symptoms")
    if "yes" not in said.symptoms.values():
        yield Fault(path=("symptoms",), wrong="nothing is complained of", do="write one with yes")
    for name, words in said.readings.items():
        if name not in tests:
            yield _unknown(("readings", name), name, "check", list(tests), "tests")
        else:
            yield from _reading(name, words, said)


def _unknown(path: tuple[str, ...], name: str, what: str, known: list[str], rows: str) -> Fault:
    if name in table("hang/symptoms")[rows]:
        wrong = f"this layout has nothing that {name} could be about"
        return Fault(path=path, wrong=wrong, do="leave it out, or look whether it is this job")
    wrong = f"there is no {what} {name!r}"
    return Fault(path=path, wrong=wrong, do=suggest(name, known))


def _reading(name: str, words: str, said: ReturnVisit) -> Iterator[Fault]:
    row = table("hang/symptoms")["tests"][name]
    if words in row["outcomes"]:
        return
    options = ", ".join(row["outcomes"])
    if "bounds" not in row:
        wrong = f"{words!r} is no outcome of this"
        yield Fault(path=("readings", name), wrong=wrong, do=f"write {options}")
        return
    try:
        length(words, said.unit)
    except UnitsError as error:
        wrong = str(error).partition("; ")[0]
        do = f"write {options}, or a figure like 2 mm"
        yield Fault(path=("readings", name), wrong=wrong, do=do)


def _outcome(name: str, words: str, said: ReturnVisit) -> str:
    if words in table("hang/symptoms")["tests"][name]["outcomes"]:
        return words
    return outcome_of(name, float(length(words, said.unit)))
