"""When a sealed joint may see water: depth of the section, temperature and humidity of the room.

One-part silicone takes up water from the air through what has already cured, so that the cured
depth grows with the square root of time and of the vapour in the air: depth² = k p t.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from hangtrue.fit.enclosure import Enclosure, Joint
from hangtrue.hang.shop import Shop, shipped_shop
from hangtrue.job.document import Job
from hangtrue.job.profile import Profile
from hangtrue.mechanics.ranges import listed, positive, within
from hangtrue.source import cites
from hangtrue.tables import Table, table

SEALED = ("channel", "clamp", "silicone")
"""Kinds of joint that get sealant, where none of the two is a door."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Air:
    """The air that a joint cures in.

    Attributes
    ----------
    temperature
        °C.
    humidity
        Relative, 0 to 1.

    """

    temperature: float
    humidity: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """The bead of one joint.

    Attributes
    ----------
    joint
        Id of the joint.
    width, depth
        Across the joint, and from the air inward; mm.
    open_faces
        Faces that the air reaches, 1 or 2.
    length
        Of the bead, mm.

    """

    joint: str
    width: float
    depth: float
    open_faces: int
    length: float

    @property
    def cure_depth(self) -> float:
        """Furthest that the cure has to come from the air, mm."""
        return self.depth / self.open_faces


@dataclass(frozen=True, slots=True, kw_only=True)
class Cure:
    """How long the sealant of one enclosure needs.

    Attributes
    ----------
    sealant, air
        What was reckoned with.
    skin_minutes
        Until it is not tooled any more.
    joints
        Hours until each joint has cured through, by its id.
    water_hours
        From the end of sealing to the first water: never less than is usual.
    slowest
        Joint that decides; None where the usual time does.

    """

    sealant: str
    air: Air
    skin_minutes: float
    joints: dict[str, float]
    water_hours: float
    slowest: str | None

    @property
    def water_minutes(self) -> int:
        """The same in whole minutes, as it stands on the clock: never less."""
        return math.ceil(self.water_hours * 60.0 - 1e-6)


def usual_air() -> Air:
    """Air of a tiled room, where nobody says otherwise."""
    row = _rows("usual")
    return Air(temperature=row["temperature_C"], humidity=row["humidity"])


def usual_sealant() -> str:
    """Id of the sealant, where nobody says otherwise."""
    return str(_rows("usual")["sealant"])


def sealant_of(profile: Profile) -> str:
    """Id of the sealant that a shop uses."""
    said = profile.habits.cure if profile.habits else None
    return (said and said.sealant) or usual_sealant()


def air_of(profile: Profile) -> Air:
    """Air that a shop's sealant cures in, by its profile."""
    said, usual = (profile.habits.cure if profile.habits else None), usual_air()
    if said is None:
        return usual
    return Air(
        temperature=usual.temperature if said.temperature_C is None else said.temperature_C,
        humidity=usual.humidity if said.humidity is None else said.humidity,
    )


@cites("wmo-8", "annex 4.B, over water")
def saturation_pressure(temperature: float) -> float:
    """Saturation pressure of water vapour, hPa, at a temperature in °C.

    p = 6.112 exp(17.62 T / (243.12 + T))

    Examples
    --------
    >>> round(saturation_pressure(20.0), 1)
    23.3

    """
    row = _rows("vapour")
    within("temperature", temperature, -45.0, 60.0, "°C")
    return float(row["p0_hPa"] * math.exp(row["a"] * temperature / (row["b_C"] + temperature)))


def vapour_pressure(air: Air) -> float:
    """Pressure of the water vapour in the air, hPa; OutOfRange where no data sheet gives figures.

    Too cold and too dry the sealant hardly cures, too hot and too damp it does not bond.
    """
    row = _rows("range")
    low, high = row["temperature_least_C"], row["temperature_most_C"]
    within("temperature of the room", air.temperature, low, high, "°C")
    dry, damp = row["humidity_least"], row["humidity_most"]
    within("relative humidity of the room", air.humidity, dry, damp)
    return air.humidity * saturation_pressure(air.temperature)


@cites("own", "diffusion through what has cured, scaled by the vapour in the air")
def cure_hours(cure_depth: float, sealant: str, air: Air) -> float:
    """Hours until a depth has cured from the air: (depth / depth of a day)² p_ref / p 24 h.

    Examples
    --------
    Twice the depth of the first day takes four days:

    >>> cure_hours(6.0, "neutral", Air(temperature=23.0, humidity=0.5))
    96.0

    """
    of_a_day = positive("depth cured in a day", float(_sealant(sealant)["cured_mm"]))
    row = _rows("reference")
    reference = Air(temperature=row["temperature_C"], humidity=row["humidity"])
    share = vapour_pressure(reference) / vapour_pressure(air)
    depth = within("depth of the joint", cure_depth, 0.0, unit="mm")
    return float(row["hours"] * share * (depth / of_a_day) ** 2)


def section(enclosure: Enclosure, joint: Joint, shop: Shop | None = None) -> Section:
    """Bead of a joint that is sealed, at its mean gap; its leg as the shop tools it."""
    panes = [p for p in enclosure.lites if p.id in joint.between]
    row = _rows("sections")["against" if len(panes) == 1 else "between_panes"]
    glass = min((p.thickness for p in panes), default=0.0)
    throat = float(row.get("throat_share", 0.0)) * (shop or shipped_shop()).mm["sealant.fillet"]
    places = [gap.at for gap in joint.gaps]
    return Section(
        joint=joint.id,
        width=sum(gap.predicted.value for gap in joint.gaps) / len(joint.gaps),
        depth=glass if row["depth"] == "glass" else throat,
        open_faces=int(row["open_faces"]),
        length=max(places) - min(places),
    )


def is_sealed(enclosure: Enclosure, joint: Joint) -> bool:
    """Whether a joint gets sealant: between fixed glass and what it meets, never at a door."""
    doors = {p.id for p in enclosure.doors}
    return joint.kind in SEALED and not doors.intersection(joint.between)


def cure(
    enclosure: Enclosure,
    sealant: str | None = None,
    air: Air | None = None,
    shop: Shop | None = None,
) -> Cure:
    """Cure of all sealed joints of an enclosure.

    Parameters
    ----------
    sealant
        Id in the table; the usual one if not given.
    air
        Of the room on the day and the next; usual if not given.
    shop
        How it tools the bead along the inside; as shipped if not given.

    Raises
    ------
    OutOfRange
        If no data sheet gives figures for such air, or the table has no such sealant.

    """
    name, air = sealant or usual_sealant(), air or usual_air()
    row, least = _sealant(name), float(_rows("before_water")["hours"])
    sections = [section(enclosure, j, shop) for j in enclosure.joints if is_sealed(enclosure, j)]
    hours = {s.joint: cure_hours(s.cure_depth, name, air) for s in sections}
    slowest = max(hours, key=lambda joint: hours[joint], default=None)
    long = slowest is not None and hours[slowest] > least
    return Cure(
        sealant=name,
        air=air,
        skin_minutes=float(row["skin_minutes"]),
        joints=hours,
        water_hours=hours[slowest] if slowest is not None and long else least,
        slowest=slowest if long else None,
    )


def unsuited(sealant: str, job: Job) -> tuple[str, ...]:
    """Return what the sealant meets and must not: faces of walls, and what the glass stands on."""
    walls = [wall for wall in (job.walls.left, job.walls.right) if wall is not None]
    faces = [layer.material for wall in walls for layer in wall.layers[:1]]
    steps = [step.material for step in job.steps if step.material]
    met = dict.fromkeys((*faces, job.threshold.material, *steps))
    refused = _sealant(sealant).get("not_on", ())
    return tuple(m for m in met if any(word in m.lower() for word in refused))


def _sealant(name: str) -> Table:
    rows: Table = _rows("sealants")
    found: Table = rows[listed("sealant", name, rows)]
    return found


def _rows(name: str) -> Table:
    found: Table = table("hang/sealants")[name]
    return found
