"""Lists of the packet in Spanish: whole sentences, figures as they are, nothing left in English.

The Spanish was written by hand, with no source; what is checked is that parts meet as they should.
"""

from __future__ import annotations

from dataclasses import asdict
from math import radians
from pathlib import Path

import pytest

from hangtrue.fit.layout import names
from hangtrue.fit.wording import gap_of, joint_id, riser_id
from hangtrue.job.read import read_job
from hangtrue.job.readings import (
    Bow,
    Corner,
    CornerAngle,
    Diagonal,
    Fall,
    Height,
    Lean,
    Offset,
    Pitch,
    Reading,
    Square,
    Triangle,
    Width,
)
from hangtrue.measure.next_reading import in_words
from hangtrue.paper import cautions, reading_words, tables, text_pages
from hangtrue.paper.coverage import texts
from hangtrue.paper.language import all_told, speaking, told
from hangtrue.paper.lengths import Units
from hangtrue.plan import plan
from hangtrue.units import Angle, Length
from tests.unit import packet_plans as plans
from tests.unit.jobs import only, with_reading

MM = Units(first="mm", both=False)
L = Length
READINGS: tuple[tuple[Reading, str, str], ...] = (
    (Width(what="width", at=L(50), value=L(900)), "Ancho a 50 mm", "el ancho a 50 mm de altura"),
    (
        Width(what="width", run=2, at=L(50), value=L(900)),
        "Ancho del tramo 2 a 50 mm",
        "el ancho del tramo 2 a 50 mm de altura",
    ),
    (
        Lean(what="lean", wall="left", from_=L(0), to=L(1900), value=L(2)),
        "Desplome del muro izquierdo, 0 mm a 1900 mm",
        "el desplome del muro izquierdo hasta 1900 mm",
    ),
    (
        Lean(what="lean", wall="right", plane="across", from_=L(0), to=L(1900), value=L(2)),
        "Desplome del muro derecho a través del vidrio, 0 mm a 1900 mm",
        "el desplome a través del vidrio del muro derecho hasta 1900 mm",
    ),
    (
        Offset(what="offset", line="laser 1", wall="left", at=L(30), value=L(150)),
        "laser 1 al muro izquierdo a 30 mm",
        "la distancia desde laser 1 a 30 mm",
    ),
    (
        Bow(what="bow", wall="left", from_=L(0), to=L(1900), value=L(2)),
        "Pandeo del muro izquierdo, 0 mm a 1900 mm",
        "el pandeo del muro izquierdo",
    ),
    (
        Diagonal(what="diagonal", left_at=L(0), right_at=L(1900), value=L(2100)),
        "Diagonal, izquierda 0 mm a derecha 1900 mm",
        "la diagonal de 0 mm a la izquierda hasta 1900 mm a la derecha",
    ),
    (
        Fall(what="fall", value=L(2)),
        "Caída del sardinel a lo largo del vidrio",
        "la caída del sardinel",
    ),
    (
        Pitch(what="pitch", value=L(2)),
        "Pendiente del sardinel a través",
        "la pendiente del sardinel",
    ),
    (
        Height(what="height", of="ceiling", at="left", value=L(2400)),
        "Altura del techo, izquierda",
        "la altura del techo",
    ),
    (
        CornerAngle(what="angle", wall="left", value=Angle(radians(90))),
        "Ángulo entre el sardinel y el muro izquierdo",
        "la esquina en el muro izquierdo",
    ),
    (
        Corner(what="corner", corner=1, value=Angle(radians(90))),
        "Ángulo interior de la esquina 1",
        "el ángulo de la esquina 1",
    ),
    (
        Triangle(what="triangle", corner=1, before=L(400), after=L(300), value=L(500)),
        "A través de la esquina 1, entre marcas a 400 mm antes y 300 mm después",
        "el triángulo en la esquina 1",
    ),
    (
        Square(what="square", wall="right", value=Angle(radians(90))),
        "Ángulo en planta entre el muro derecho y la línea del vidrio",
        "el ángulo en planta del muro derecho",
    ),
)


@pytest.mark.parametrize(("reading", "listed", "named"), READINGS)
def test_every_reading_has_its_name(reading: Reading, listed: str, named: str) -> None:
    with speaking("es"):
        assert told(reading_words.place(reading, MM)) == listed
        assert told(in_words(reading, "mm")) == named


def test_a_sign_is_said_in_a_word() -> None:
    lean = Lean(what="lean", wall="left", from_=L(0), to=L(1900), toward="in", value=L(2, "2 mm"))
    pitch = Pitch(what="pitch", falls="out", value=L(2, "2 mm"))
    with speaking("es"):
        assert told(reading_words.typed(lean, "mm")) == "2 mm, adentro"
        assert told(reading_words.typed(pitch, "mm")) == "2 mm, cae afuera"


def test_a_joint_is_named_by_what_meets_there() -> None:
    door, fixed = names(("door", "fixed"))
    with speaking("es"):
        assert told(joint_id(door, "left wall")) == "puerta a muro izquierdo"
        assert told(gap_of(joint_id(fixed, "curb"))) == "holgura, fijo 1 a sardinel"
        assert told(riser_id(fixed, "bench", "left")) == "fijo 1 a bench, peralte izquierdo"


def test_what_a_way_decides_is_one_line() -> None:
    with speaking("es"):
        words = told(tables.choice_words(plans.CHOICE, MM))
    assert words.startswith("Puerta, fijo; vidrio de ")
    assert words.endswith("; cortado según los muros")


def test_a_question_about_the_document_is_asked() -> None:
    problem = only(with_reading("{what: lean, wall: left, from: 0, to: 72, value: 2-1/2}"))
    with speaking("es"):
        assert told(problem.wrong) == "2-1/2 es raro para el desplome de un muro"


GULL = Path(__file__).parents[2] / "examples" / "lodge" / "gull.yaml"
ENGLISH = (" the ", " and ", " is ", "door", "fixed", "wall", "gap", "width", "height")


def test_no_english_is_left_in_the_lists() -> None:
    """Of a real job, whose readings carry no names that are English words of the program."""
    brief, _ = read_job(GULL)
    assert brief is not None
    found = plan(brief)
    with speaking("es"):
        pages = (
            *text_pages.sizes(found, MM),
            text_pages.readings(found, MM, ()),
            text_pages.cautions(cautions.cautions(found, MM)),
        )
        said = [text for page in pages for text in texts(asdict(all_told(page)))]
    assert len(said) > 100
    assert [t for t in said if any(word in f" {t.lower()} " for word in ENGLISH)] == []
