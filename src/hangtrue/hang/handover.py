"""The hand-over sheet: gaps, water test, cure time, care and safety, when to tighten again."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Literal

from hangtrue.fit.enclosure import Enclosure, Gap, Joint
from hangtrue.hang.adjustments import Cure as Tuning
from hangtrue.hang.asbuilt_document import ends
from hangtrue.hang.cure_time import Cure, is_sealed
from hangtrue.hang.diagnosis import has
from hangtrue.hang.rigid import planned
from hangtrue.tables import table

At = Literal["bottom", "middle", "top", "left", "right"]


@dataclass(frozen=True, slots=True, kw_only=True)
class GapLine:
    """One gap of the sheet.

    Attributes
    ----------
    plan
        As planned, with its working range, mm.
    measured
        As read or foreseen after the last adjustment, mm; None leaves a blank to fill in.

    """

    joint: str
    place: At
    plan: Gap
    measured: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class HandOver:
    """What is handed over.

    Attributes
    ----------
    sealed
        Ids of the joints that were sealed.
    no_water_before
        When the sealant has cured; None where nobody said when sealing ended.
    tighten
        Joints whose screws are tightened again, and the dates; empty without a date of hanging.

    """

    gaps: tuple[GapLine, ...]
    water_test: tuple[str, ...]
    cure: Cure
    sealed: tuple[str, ...]
    no_water_before: datetime | None
    care: tuple[str, ...]
    safety: tuple[str, ...]
    tighten: tuple[str, ...]
    tighten_on: tuple[date, ...]


def handover(
    enclosure: Enclosure,
    cure: Cure,
    sealed_at: datetime | None = None,
    tuning: Tuning | None = None,
) -> HandOver:
    """Return the content of the hand-over sheet.

    Parameters
    ----------
    sealed_at
        When the last joint was sealed, as the clock on the wall says.
    tuning
        Gaps as read on the day, if they were.

    """
    data = table("hang/handover")
    wait = timedelta(minutes=cure.water_minutes)
    sealed = tuple(j.id for j in enclosure.joints if is_sealed(enclosure, j))
    return HandOver(
        gaps=tuple(_gaps(enclosure, tuning)),
        water_test=_said(enclosure, data["water_test"], "do"),
        cure=cure,
        sealed=sealed,
        no_water_before=sealed_at + wait if sealed_at else None,
        care=_said(enclosure, data["care"], "text"),
        safety=_said(enclosure, data["safety"], "text"),
        tighten=tuple(j.id for j in enclosure.joints if j.kind in {"hinge", "clamp"}),
        tighten_on=_dates(sealed_at.date()) if sealed_at else (),
    )


def _said(enclosure: Enclosure, rows: list[dict[str, str]], key: str) -> tuple[str, ...]:
    """Return the sentences that are about something this layout has."""
    return tuple(row[key] for row in rows if has(enclosure, row["needs"]))


def _dates(hung: date) -> tuple[date, ...]:
    row = table("hang/handover")["tighten"]
    first = hung + timedelta(weeks=row["weeks"])
    months = hung.month - 1 + int(row["months_after"])
    year, month = hung.year + months // 12, months % 12 + 1
    return first, date(year, month, min(hung.day, 28))


def _gaps(enclosure: Enclosure, tuning: Tuning | None) -> Iterator[GapLine]:
    """Yield both ends and the middle of every joint that can be seen."""
    for joint in enclosure.joints:
        if joint.kind == "channel":
            continue
        low, high = ends(joint)
        names: tuple[At, At, At] = (
            ("bottom", "middle", "top") if joint.upright else ("left", "middle", "right")
        )
        for place, at in zip(names, (low, (low + high) / 2, high), strict=True):
            yield GapLine(
                joint=joint.id,
                place=place,
                plan=planned(joint, at),
                measured=_measured(joint, at, tuning),
            )


def _measured(joint: Joint, at: float, tuning: Tuning | None) -> float | None:
    for gap in tuning.gaps if tuning else ():
        if gap.joint == joint.id and gap.read and round(gap.plan.at) == round(at):
            return gap.then
    return None
