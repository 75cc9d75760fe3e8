"""Instruments: what each can be trusted to, as data with a source."""

from __future__ import annotations

import math
from typing import Literal

from pydantic import Field

from hangtrue.job.quantity import Length, Model, Size

InstrumentKind = Literal[
    "tape",
    "rule",
    "level",
    "digital level",
    "plumb line",
    "laser line",
    "laser distance",
    "angle finder",
]


class OwnHand(Model):
    """How a shop, or one of its people, reads with an instrument, as finished jobs taught it."""

    scatter: Size = Field(
        description="Standard deviation of one reading, in place of step and seating of the "
        "instrument",
        examples=["0.6 mm"],
    )
    bias: Length | None = Field(
        None,
        description="How much too much is read; taken off widths, diagonals, offsets, heights and "
        "triangles",
        examples=["0.4 mm"],
    )
    numbers: int | None = Field(
        None, ge=1, description="How many numbers taught it; said where it is used", examples=[36]
    )
    jobs: int | None = Field(
        None, ge=1, description="Of how many finished jobs they are", examples=[12]
    )
    origin: str = Field(
        "",
        description="What else it rests on, in words; said where it is used",
        examples=["read against our gauge"],
    )


class Instrument(Model):
    """One instrument with its limits of error.

    All limits are half-widths (plus or minus). Lengths in mm, slopes in mm per m, angles in
    degrees.
    """

    id: str = Field(description="Name that readings use", examples=["tape"])
    title: str = Field(description="What it is", examples=["Tape, class II"])
    kind: InstrumentKind = Field(description="What sort of instrument", examples=["tape"])
    error: float = Field(
        0.0,
        ge=0,
        description="Class error, fixed part, mm (levels, plumb lines, laser lines: mm per m)",
        examples=[0.5],
    )
    error_per_m: float = Field(
        0.0, ge=0, description="Class error growing with each metre begun, mm", examples=[0.2]
    )
    error_up_to: tuple[tuple[float, float], ...] = Field(
        (),
        description="Class error in steps: [up to this length in mm, error in mm], shortest first",
        examples=[[[1828.8, 0.79375], [9144.0, 1.5875]]],
    )
    error_deg: float = Field(
        0.0, ge=0, description="Class error of an angle, degrees", examples=[0.1]
    )
    stated: Literal["limit", "95 %"] = Field(
        "limit",
        description="What the errors are: a limit that is never passed, or held 95 times in 100",
        examples=["limit"],
    )
    resolution: float = Field(
        0.0,
        ge=0,
        description="Step it is read to, mm; degrees where `error_deg` is given",
        examples=[1.0],
    )
    seating: float = Field(
        0.0,
        ge=0,
        description="How badly it sits on an uneven face or the mark is hit, mm",
        examples=[0.5],
    )
    source: str = Field(
        "practice", description="Id in the table of sources, or `own` with a note", examples=["own"]
    )
    note: str = Field("", description="How the limits were found", examples=["maker's leaflet"])

    def length_error(self, mm: float) -> float:
        """Return the class error, a half-width in mm, of a length of `mm` read in one go.

        A length beyond the last step of the class takes the error of that step in proportion.
        """
        mm = round(abs(mm), 6)  # 6 ft in mm is 6 ft, whatever the last bit says
        if not self.error_up_to:
            return self.error + self.error_per_m * math.ceil(mm / 1000.0)
        for longest, error in self.error_up_to:
            if mm <= longest:
                return error
        longest, error = self.error_up_to[-1]
        return error * mm / longest

    @property
    def slope_error(self) -> float:
        """Class error of a slope, a half-width as rise over run."""
        return math.tan(math.radians(self.error_deg)) if self.error_deg else self.error / 1000.0
