"""Seen in a mirror, a room is drawn as the mirror image: every line of every drawing."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

import pytest
from shapely import LineString, Polygon, affinity
from shapely.geometry.base import BaseGeometry

from hangtrue.paper.drawings import drawings
from hangtrue.paper.labels import course
from hangtrue.paper.scene import Circle, Hatch, Line, Path, Primitive, Sheet
from hangtrue.plan import Plan, plan
from tests.physics.test_check_mirror import in_a_mirror, planned

ROOMS = ("gull", "tern", "petrel", "curlew", "dunlin")
WORDS = ("dimension", "text", "uncertainty")
"""Layers of what is written: figures and their lines stand where they can be read. Bands are
against the foot of the left wall, in a mirror as well."""
GLASS = ("outline", "holes", "cutouts")
NEAR = 0.35
"""mm of paper; sizes go to the grid of the plant, which rounds one way only."""


@dataclass(frozen=True, slots=True)
class Shape:
    """A line or an area of a drawing, and what kind of line it is."""

    kind: tuple[str, ...]
    form: BaseGeometry


@cache
def pair(name: str) -> tuple[Plan, Plan]:
    """Return the plan of a room and of its mirror image."""
    here = planned(name)
    return here, plan(in_a_mirror(here.brief))


@cache
def sheets(name: str) -> tuple[dict[str, Sheet], dict[str, Sheet]]:
    here, there = pair(name)
    return dict(drawings(here)), dict(drawings(there))


def other_name(name: str, here: Plan) -> str:
    """Name of the same drawing in the mirror: runs and panes are counted from the other end."""
    wanted = here.brief.job.wanted
    if "-run-" in name:
        front, _, number = name.rpartition("-")
        return f"{front}-{len(wanted.runs) + 1 - int(number)}"
    for kind in ("fixed", "door"):
        count = len([lite for lite in wanted.lites if lite.kind == kind])
        if name.startswith(f"pane-{kind}-"):
            return f"pane-{kind}-{count + 1 - int(name.rpartition('-')[2])}"
    return name


def shapes(sheet: Sheet) -> list[Shape]:
    return [s for p in sheet.primitives for s in shape(p)]


def shape(part: Primitive) -> Iterator[Shape]:
    if part.layer in WORDS:
        return
    match part:
        case Line():
            yield Shape((part.layer, part.weight, part.stroke), LineString((part.start, part.end)))
        case Path() if part.fill == "none":
            yield Shape((part.layer, part.weight, part.stroke), LineString(course(part)))
        case Path():
            yield Shape((part.layer, part.fill), Polygon(course(part)))
        case Circle():
            x, y = part.centre
            yield Shape(
                (part.layer, "circle"), LineString([(x - part.radius, y), (x + part.radius, y)])
            )
        case Hatch():
            yield Shape((part.layer, "hatch"), Polygon(part.outline))


def seen(found: list[Shape], about: tuple[float, float], way: int) -> list[Shape]:
    """The same about (0, 0), in a mirror where the way is -1."""
    x, y = about
    return [
        Shape(s.kind, affinity.affine_transform(s.form, (way, 0, 0, 1, -way * x, -y)))
        for s in found
    ]


def lonely(some: list[Shape], others: list[Shape]) -> list[str]:
    """Shapes that have no like among the others, and how far off the nearest is."""
    found = []
    for s in some:
        off = [s.form.hausdorff_distance(o.form) for o in others if s.kind == o.kind]
        if min(off, default=1e9) > NEAR:
            found.append(f"{s.kind} {min(off, default=1e9):.2f} {s.form.wkt[:160]}")
    return found


def parts(name: str, found: list[Shape]) -> list[Shape]:
    """Of a pane's sheet only the pane: its details and its legend stand where there is room."""
    if not name.startswith("pane-"):
        return found
    whole = [s for s in found if s.kind[:2] == ("outline", "thick")]
    pane = max(whole, key=lambda s: s.form.length).form.envelope.buffer(0.01)
    return [s for s in found if s.kind[0] in GLASS and pane.contains(s.form)]


def middle(name: str, found: list[Shape]) -> tuple[float, float]:
    """What the image is turned about; a pane stands higher where it has fewer rows of figures."""
    kept = [s.form.bounds for s in found if s.kind[0] in ("outline", "curb")]
    low = min(b[1] for b in kept) if name.startswith("pane-") else 0.0
    return (min(b[0] for b in kept) + max(b[2] for b in kept)) / 2, low


NAMES = [(room, n) for room in ROOMS for n in sheets(room)[0] if not n.startswith("gaps")]


@pytest.mark.parametrize(("room", "name"), NAMES)
def test_the_drawing_of_a_mirrored_room_is_mirrored(room: str, name: str) -> None:
    here, there = sheets(room)
    one, other = here[name], there[other_name(name, pair(room)[0])]
    assert one.scale == other.scale
    a, b = parts(name, shapes(one)), parts(name, shapes(other))
    image, there_is = seen(a, middle(name, a), -1), seen(b, middle(name, b), 1)
    assert not lonely(image, there_is)
    assert not lonely(there_is, image)
