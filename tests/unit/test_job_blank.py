"""The blank job is read as it stands; the published schemas say what the reader takes."""

import json
import re
from collections.abc import Iterator
from io import StringIO
from pathlib import Path
from typing import Any, Literal, get_args

import jsonschema
import pytest
from pydantic import BaseModel
from ruamel.yaml import YAML

from hangtrue.job.blank import blank_job, boxed_set_schema, job_schema
from hangtrue.job.document import (
    Blocking,
    Chosen,
    Head,
    Job,
    Site,
    Threshold,
    Wall,
    Walls,
    Wanted,
)
from hangtrue.job.hardware import BoxedSet
from hangtrue.job.profile import Profile
from hangtrue.job.read import read_job, read_job_text
from tests.unit.jobs import GOOD

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").rglob("*.yaml"))
JOBS = [path for path in EXAMPLES if "boxed_set: 1" not in path.read_text("utf-8")]
Kind = Literal["in", "mm"]


def loaded(text: str) -> Any:
    """Read YAML as any other program would, with numbers as numbers, and dates as JSON has them."""
    document = YAML(typ="safe", pure=True).load(StringIO(text))
    return json.loads(json.dumps(document, default=str))


def models(model: Any) -> Iterator[type[BaseModel]]:
    """Yield a model and all that its fields name."""
    if isinstance(model, type) and issubclass(model, BaseModel):
        yield model
        for info in model.model_fields.values():
            yield from models(info.annotation)
    else:
        for part in get_args(model):
            yield from models(part)


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_the_blank_job_is_read_without_a_word(unit: Kind) -> None:
    brief, problems = read_job_text(blank_job(unit))
    assert problems == ()
    assert brief
    assert brief.job.unit == unit


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_the_blank_job_fits_a_screen_and_explains_every_key(unit: Kind) -> None:
    text = blank_job(unit)
    assert all(len(line) <= 106 for line in text.splitlines())
    for model in (Job, Wanted, Chosen, Site, Threshold, Walls, Wall, Blocking, Head):
        for name, info in model.model_fields.items():
            assert f"{info.alias or name}:" in text, name


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_the_blank_job_with_every_line_wanted_is_read_too(unit: Kind) -> None:
    """Its `#` taken away, every line of keys is as good as those that stand there."""
    keys = r"^( *)# (?!  id: w1)(?=( *- [a-z{]| *[a-z_]+:))"
    brief, problems = read_job_text(re.sub(keys, r"\1", blank_job(unit), flags=re.MULTILINE))
    assert [str(p) for p in problems if p.level == "wrong"] == []
    assert brief
    assert len(brief.job.wanted.turns) == len(brief.job.steps) == 1
    assert {r.what for r in brief.job.readings} >= {"corner", "triangle", "square", "diagonal"}
    assert len(brief.job.obstacles) == 2


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_the_lodge_is_read_without_a_wrong_word(path: Path) -> None:
    brief, problems = read_job(path)
    assert brief
    assert [str(p) for p in problems if p.level == "wrong"] == []


@pytest.mark.parametrize("root", [Job, BoxedSet, Profile])
def test_every_field_is_described_with_an_example(root: type[BaseModel]) -> None:
    for model in models(root):
        for name, info in model.model_fields.items():
            if model is Profile and name in {"plant", "limits"}:
                continue  # tables of their own, described row by row
            assert info.description, f"{model.__name__}.{name}"
            assert info.examples, f"{model.__name__}.{name}"


def test_the_schemas_are_json_schema_of_2020() -> None:
    for schema in (job_schema(), boxed_set_schema()):
        assert schema["$schema"].endswith("draft/2020-12/schema")
        jsonschema.Draft202012Validator.check_schema(schema)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_the_examples_are_valid_by_the_schemas(path: Path) -> None:
    document = loaded(path.read_text("utf-8"))
    schema = boxed_set_schema() if "boxed_set" in document else job_schema()
    jsonschema.Draft202012Validator(schema).validate(document)


@pytest.mark.parametrize("text", [GOOD, blank_job("in"), blank_job("mm")])
def test_what_the_reader_takes_is_valid_by_the_schema(text: str) -> None:
    jsonschema.Draft202012Validator(job_schema()).validate(loaded(text))


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("height: 78", "hight: 78"),
        ("unit: in", "unit: inch"),
        ("[door, fixed]", "[door, window]"),
        ("[door, fixed]", "[]"),
        ("hangtrue: 1", "hangtrue: 2"),
    ],
)
def test_what_the_reader_refuses_by_its_shape_the_schema_refuses(old: str, new: str) -> None:
    document = loaded(GOOD.replace(old, new))
    assert not jsonschema.Draft202012Validator(job_schema()).is_valid(document)
