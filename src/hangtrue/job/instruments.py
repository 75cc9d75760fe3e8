"""Instruments: what each can be trusted to, as data with a source."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from hangtrue.job.quantity import Model


class Instrument(Model):
    """One instrument with its limits of error.

    All limits are half-widths (plus or minus). Lengths in mm, slopes in mm per m, angles in degrees.
    """

    id: str = Field(examples=["tape"])
    title: str = Field(examples=["Tape, class II"])
    kind: Literal["tape", "rule", "level", "digital level", "plumb line", "laser line", "laser distance", "angle finder"]
    error: float = Field(0.0, ge=0, description="Class error, fixed part, mm (slope instruments: mm per m)")
    error_per_m: float = Field(0.0, ge=0, description="Class error growing with each metre begun, mm")
    error_deg: float = Field(0.0, ge=0, description="Class error of an angle, degrees")
    resolution: float = Field(0.0, ge=0, description="Step it is read to, mm (angles: degrees, for kind angle finder)")
    seating: float = Field(0.0, ge=0, description="How badly it sits on an uneven face or the mark is hit, mm")
    source: str = Field("practice", description="Id in the table of sources, or `own` with a note")
    note: str = ""
