"""The shop profile: habits, limits and tolerances as data, each with its origin."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from hangtrue.job.instruments import OwnHand
from hangtrue.job.quantity import Model, Room, Size
from hangtrue.job.shop_tables import Habits, Shelf, Substrates

Language = Literal["en", "es"]
SheetName = Literal[
    "all",
    "verdict",
    "opening",
    "layout",
    "panes",
    "findings",
    "sizes",
    "odds",
    "readings",
    "cautions",
    "calculations",
    "work",
    "builder",
    "ready",
    "measuring",
    "sign-off",
    "order",
    "bring",
    "cut-list",
    "receiving",
    "drilling",
    "setting",
    "steps",
    "hand-over",
    "templates",
    "lists",
    "visits",
]


class Limit(Model):
    """One number of the shop with its origin.

    Lengths in mm, slopes as rise over run, chances from 0 to 1, anything else as its name says.
    """

    value: float = Field(description="The number the rules use", examples=[6.35])
    typed: str = Field(description="As the trade writes it", examples=["1/4 in"])
    source: str = Field("practice", description="Id in the table of sources", examples=["practice"])
    why: str = Field("", description="What it is good for", examples=["beyond it, redesign"])


class Plant(Model):
    """What the plant cuts to and how well."""

    grid: Size = Field(description="Sizes are ordered in steps of this", examples=["1/16 in"])
    size_tolerance: Room = Field(
        description="Plus or minus, on a width or height", examples=["1/16 in"]
    )
    hole_tolerance: Room = Field(
        description="Plus or minus, on the position of a hole", examples=["1/16 in"]
    )
    notch_tolerance: Room = Field(
        description="Plus or minus, on the position of a cut-out", examples=["1/8 in"]
    )
    diagonals: Room | None = Field(
        None,
        description="How far the two diagonals of a pane may differ; without it squareness is "
        "taken to share the size tolerance",
        examples=["1/8 in"],
    )
    rake_most: Room = Field(description="Most an edge may be out of square", examples=["1-1/2 in"])
    glass: tuple[Size, ...] = Field(
        min_length=1,
        description="Nominal thicknesses it offers, thinnest first",
        examples=[["3/8 in", "1/2 in"]],
    )
    width_least: Room = Field(description="Narrowest pane it takes", examples=["6 in"])
    source: str = Field("practice", description="Id in the table of sources", examples=["practice"])


class Prices(Model):
    """What things cost the shop, in its own money; nothing of it is guessed where it is missing."""

    money: str = Field("", description="What the amounts are in, as printed", examples=["EUR"])
    remake: float = Field(
        ge=0, description="A pane made again: glass, visit and lost time", examples=[650.0]
    )
    hour: float = Field(ge=0, description="An hour of one person on site", examples=[60.0])
    visit: float = Field(0.0, ge=0, description="Going there once more", examples=[45.0])
    glass_m2: float | None = Field(
        None, ge=0, description="A square metre of cut and tempered glass", examples=[140.0]
    )


class Profile(Model):
    """One shop's way of working."""

    id: str = Field(description="Short name", examples=["our-shop"])
    title: str = Field(description="What it is", examples=["Our shop"])
    based_on: str = Field(
        "", description="Shipped profile that this one alters", examples=["inch-shop"]
    )
    paper: Literal["letter", "a4"] = Field(description="Sheet of the packet", examples=["a4"])
    templates: Literal["paper", "plotter"] = Field(
        "paper",
        description="Templates at true size: tiled onto the sheet of the packet, or each on one "
        "sheet of a plotter",
        examples=["plotter"],
    )
    units: Literal["in", "mm", "both"] = Field(
        description="On papers; the job's own unit comes first", examples=["both"]
    )
    fraction: Literal[16, 32] = Field(
        16, description="Inches are written to this part", examples=[16]
    )
    languages: dict[SheetName, Language] = Field(
        default_factory=dict,
        description="Language of each sheet, `all` for those that are not named; English where "
        "nothing is said, so that office and site can differ",
        examples=[{"all": "en", "drilling": "es", "steps": "es"}],
    )
    hole_rules: Literal["us", "en"] = Field(
        description="Which practice for holes and cut-outs", examples=["us"]
    )
    jurisdiction: Literal["irc", "ipc", "upc", "none"] = Field(
        "irc", description="Which plumbing or residential code is checked", examples=["irc"]
    )
    strength_rules: Literal["us", "en", "din"] = Field(
        "us",
        description="Which rules for wood, glass and loads: NDS and ASTM E1300, Eurocode 5 and "
        "EN 16612, or Eurocode 5 and DIN 18008",
        examples=["us"],
    )
    wood_moisture: Literal["dry", "wet", "fabricated"] = Field(
        "dry",
        description="Wood behind the tile: dry, wet in service, or wet when the screws go in and "
        "dry later",
        examples=["dry"],
    )
    plant: Plant
    setting_sd: Room = Field(
        description="Standard uncertainty of where a pane ends up against its mark",
        examples=["1/32 in"],
    )
    instruments: dict[str, OwnHand] = Field(
        default_factory=dict,
        description="Hand of this shop with an instrument, by its id; as the instrument says "
        "where nothing is said",
        examples=[{"tape": {"scatter": "0.6 mm"}}],
    )
    people: dict[str, dict[str, OwnHand]] = Field(
        default_factory=dict,
        description="Hand of one person with an instrument, which goes before that of the shop",
        examples=[{"Ines": {"tape": {"scatter": "0.5 mm", "bias": "0.4 mm"}}}],
    )
    prices: Prices | None = Field(
        None,
        description="What remakes and visits cost; left out where nobody says",
        examples=[None],
    )
    limits: dict[str, Limit] = Field(description="Every limit a rule may use, by name")
    substrates: Substrates | None = Field(
        None,
        description="How this shop drills and fixes, where it differs from what is shipped",
        examples=[{"families": {"tile": {"bit": "carbide"}}}],
    )
    shelf: Shelf | None = Field(
        None,
        description="Bits, screws, shims, stock and offcuts at hand, where they differ",
        examples=[{"shims": {"sizes": ["1 mm", "2 mm"]}}],
    )
    habits: Habits | None = Field(
        None,
        description="How this shop spaces, keeps clear, packs and seals, where it differs",
        examples=[{"spacing": {"channel_apart_most": "400 mm"}}],
    )

    def hand(self, person: str, instrument: str) -> OwnHand | None:
        """Return the hand of a person with an instrument, else that of the shop; None: neither."""
        who = person.strip().casefold()
        own = (kinds for name, kinds in self.people.items() if name.strip().casefold() == who)
        hands = next(own, {}) if who else {}
        return hands.get(instrument) or self.instruments.get(instrument)

    def limit(self, name: str) -> Limit:
        """Return a limit by name.

        Raises
        ------
        KeyError
            If the profile has none; the reader of profiles checks that all are there.

        """
        return self.limits[name]
