"""The shop profile: habits, limits and tolerances as data, each with its origin."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from hangtrue.job.quantity import Length, Model


class Limit(Model):
    """One number of the shop with its origin.

    Written in the unit that its name ends with, or as a length in mm.
    """

    value: float
    typed: str = Field("", description="As the trade writes it", examples=["1/4 in"])
    source: str = Field("practice", description="Id in the table of sources")
    why: str = ""


class Plant(Model):
    """What the plant cuts to and how well."""

    grid: Length = Field(description="Sizes are ordered in steps of this", examples=["1/16 in"])
    size_tolerance: Length = Field(description="Plus or minus, on a width or height")
    hole_tolerance: Length = Field(description="Plus or minus, on the position of a hole")
    notch_tolerance: Length = Field(description="Plus or minus, on the position of a cut-out")
    rake_most: Length = Field(description="Most an edge may be out of square")
    glass: tuple[Length, ...] = Field(description="Nominal thicknesses it offers, thinnest first")
    width_least: Length
    source: str = "practice"


class Profile(Model):
    """One shop's way of working."""

    id: str
    title: str
    paper: Literal["letter", "a4"]
    units: Literal["in", "mm", "both"] = Field(description="On papers; the job's own unit comes first")
    fraction: Literal[16, 32] = 16
    hole_rules: Literal["us", "en"] = Field(description="Which practice for holes and cut-outs")
    jurisdiction: Literal["irc", "ipc", "none"] = "irc"
    plant: Plant
    setting_sd: Length = Field(description="Standard uncertainty of where a pane ends up against its mark")
    limits: dict[str, Limit] = Field(description="Every limit a rule may use, by name")

    def limit(self, name: str) -> Limit:
        """Return a limit by name.

        Raises
        ------
        KeyError
            If the profile has none; the reader of profiles checks that all are there.

        """
        return self.limits[name]
