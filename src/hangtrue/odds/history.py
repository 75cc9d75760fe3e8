"""Finished jobs as a document: gaps predicted and measured, lengths read more than once."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Literal

from pydantic import Field, ValidationError

from hangtrue.job.problems import Problem, dotted
from hangtrue.job.quantity import Length, Model, Typed
from hangtrue.job.text import read_text
from hangtrue.job.wording import faults, trimmed
from hangtrue.units import UNITS


class SetGap(Model):
    """One gap of a finished job: as it was predicted and as it was read after hanging."""

    joint: str = Field(description="Which joint", examples=["door to left wall"])
    predicted: Length = Field(description="As the gaps sheet said", examples=["4.8 mm"])
    measured: Length = Field(description="As it is", examples=["5.2 mm"])


class Repeated(Model):
    """One length read more than once, by one person with one instrument."""

    what: str = Field(description="What was read", examples=["width at 2 in"])
    with_: str = Field(alias="with", description="Instrument by its id", examples=["tape-hb44"])
    by: str = Field(description="Who read it", examples=["Ines"])
    known: Length | None = Field(
        None,
        description="The same length as known otherwise: a gauge, a pane after the plant's own "
        "reading; only then does it teach a bias",
        examples=["1485.0 mm"],
    )
    values: tuple[Length, ...] = Field(
        min_length=1, description="As read, in order", examples=[["58-1/2 in", "58-7/16 in"]]
    )


class FinishedJob(Model):
    """One finished job."""

    job: str = Field(description="Its id", examples=["lodge-gull"])
    set_by: str = Field(description="Who hung it", examples=["Tomas"])
    gaps: tuple[SetGap, ...] = Field(
        (),
        description="Gaps read after hanging",
        examples=[[{"joint": "door to left wall", "predicted": "4.8 mm", "measured": "5.2 mm"}]],
    )
    readings: tuple[Repeated, ...] = Field(
        (),
        description="Lengths read more than once",
        examples=[[{"what": "w1", "with": "tape", "by": "Ines", "values": [1485, 1486]}]],
    )


class History(Model):
    """Finished jobs."""

    history: Annotated[Literal[1], Typed] = Field(
        description="Version of this format", examples=[1]
    )
    unit: Literal["in", "mm", "cm"] = Field(description="Unit of bare numbers", examples=["mm"])
    jobs: tuple[FinishedJob, ...] = Field(
        description="One entry a job", examples=[[{"job": "lodge-gull", "set_by": "Tomas"}]]
    )


def read_history(path: Path) -> tuple[History | None, tuple[Problem, ...]]:
    """Read a history; all problems at once, with their lines."""
    text, problems = read_text(path)
    if text is None:
        return None, problems
    values = trimmed(text.values, History)
    unit = values.get("unit") if isinstance(values, dict) else None
    try:
        context = {"unit": unit if unit in UNITS else None}
        return History.model_validate(values, context=context), problems
    except ValidationError as error:
        return None, problems + tuple(
            Problem(line=text.line(f.path), field=dotted(f.path), wrong=f.wrong, do=f.do)
            for f in faults(error, values, History)
        )
