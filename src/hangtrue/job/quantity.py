"""Lengths, slopes and angles as fields of the job document."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import AfterValidator, BaseModel, BeforeValidator, ConfigDict, GetJsonSchemaHandler
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, core_schema

from hangtrue import units
from hangtrue.units import Unit


class Model(BaseModel):
    """A part of a document: frozen, with no room for keys that nobody reads."""

    model_config = ConfigDict(
        frozen=True,
        extra="forbid",
        arbitrary_types_allowed=True,
        populate_by_name=True,
        allow_inf_nan=False,
    )


class _Written:
    """Pydantic's view of a quantity: text in, a float that keeps its text out."""

    def __init__(self, pattern: str, example: str) -> None:
        self.pattern, self.example = pattern, example

    def __get_pydantic_core_schema__(self, source: Any, _handler: Any) -> CoreSchema:
        return core_schema.is_instance_schema(
            source,
            serialization=core_schema.plain_serializer_function_ser_schema(lambda q: q.typed),
        )

    def __get_pydantic_json_schema__(
        self, _schema: CoreSchema, _handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        return {
            "type": ["string", "number"],
            "description": self.pattern,
            "examples": [self.example],
        }


def _count(value: Any) -> Any:
    """Read a whole number that was typed; anything else is left for the field to judge."""
    return int(value) if isinstance(value, str) and value.isascii() and value.isdigit() else value


Typed = BeforeValidator(_count)
"""Marks a choice between whole numbers, which a document holds as typed text."""


def _unit(info: Any) -> Unit | None:
    """Return the job's unit, which the reader of the document passes as context."""
    return (info.context or {}).get("unit")


def _length(value: Any, info: Any) -> Any:
    return value if isinstance(value, units.Length) else units.length(str(value), _unit(info))


def _size(value: float) -> float:
    if value <= 0.0:
        msg = "a size must be over zero; correct it"
        raise ValueError(msg)
    return value


def _room(value: float) -> float:
    if value < 0.0:
        msg = "this must not be under zero; correct it"
        raise ValueError(msg)
    return value


def _slope(value: Any, info: Any) -> Any:
    return value if isinstance(value, units.Slope) else units.slope(str(value), _unit(info))


def _angle(value: Any) -> Any:
    return value if isinstance(value, units.Angle) else units.angle(str(value))


def _length_or_slope(value: Any, info: Any) -> Any:
    """Read a length where the text is one, otherwise a slope; the length's complaint is shown."""
    if isinstance(value, units.Length | units.Slope):
        return value
    text, unit = str(value), _unit(info)
    try:
        return units.length(text, unit)
    except units.UnitsError as error:
        not_length = error
    try:
        return units.slope(text, unit)
    except units.UnitsError:
        pass
    if "is not a length" not in str(not_length):
        raise not_length
    msg = f"{text!r} is no length and no slope; write it like 1/4 in, 1/4 in in 72 in or 3 mm/m"
    raise units.UnitsError(msg)


Length = Annotated[
    units.Length,
    _Written("a length; a bare number is in the job's unit", '58-1/2"'),
    BeforeValidator(_length),
]
Size = Annotated[Length, AfterValidator(_size)]
"""A length over zero."""
Room = Annotated[Length, AfterValidator(_room)]
"""A length that is not under zero."""
Slope = Annotated[
    units.Slope,
    _Written("a slope, as rise in run or in degrees", "3 mm/m"),
    BeforeValidator(_slope),
]
Angle = Annotated[units.Angle, _Written("an angle in degrees", "90.4°"), BeforeValidator(_angle)]
LengthOrSlope = Annotated[
    units.Length | units.Slope,
    _Written("an offset over the length read, or a slope", "1/4 in in 72 in"),
    BeforeValidator(_length_or_slope),
]
