"""What a shop has learned of the hands that read: used where it is said, and nowhere else.

Joint Committee for Guides in Metrology, Guide to the expression of uncertainty in measurement
(GUM): 4.3.7 rectangular limits, 5.1.2 root sum square, F.2.2.1 a step of reading. Directive
2014/32/EU, Annex X, MI-008, class II: 0.9 mm at 1.5 m.
"""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from hangtrue.cli import main
from hangtrue.job import library
from hangtrue.job.brief import Brief
from hangtrue.job.instruments import OwnHand
from hangtrue.job.problems import Fault
from hangtrue.job.read import read_job
from hangtrue.measure import measure
from hangtrue.measure.adjusting import fit, network
from hangtrue.measure.sigmas import standard_uncertainty, taken_off
from hangtrue.odds.candidates import candidates
from hangtrue.odds.hand_words import hands_used
from hangtrue.paper.language import speaking, told
from hangtrue.units import Length, length
from tests.made_up import lean, width, with_value

LODGE = Path(__file__).parents[2] / "examples" / "lodge"
KNOWN = library.shipped_instruments()
HEAD = 'id = "our"\ntitle = "Our shop"\nbased_on = "inch-shop"\n'
TAPED = {"width", "diagonal", "offset", "height", "triangle"}


def own(scatter: str = "0.8 mm", bias: str | None = None) -> OwnHand:
    return OwnHand(scatter=length(scatter), bias=length(bias) if bias else None)


def gull() -> Brief:
    brief, _ = read_job(LODGE / "gull.yaml")
    assert brief is not None
    return brief


def with_hands(brief: Brief, **hands: object) -> Brief:
    return replace(brief, profile=brief.profile.model_copy(update=hands))


def faults(tmp_path: Path, text: str) -> tuple[Fault, ...]:
    (tmp_path / "our.toml").write_text(HEAD + text, "utf-8")
    return library.find_profile("our.toml", tmp_path)[1]


# ----------------------------------------------------------------------------- the numbers


def test_a_learned_scatter_stands_beside_the_class_of_the_tape() -> None:
    """Class 0.9 mm over the root of 3 (GUM 4.3.7), and 0.8 mm, in root sum square (5.1.2)."""
    reading = with_value(width(0), 1500.0)
    expected = math.hypot(0.9 / math.sqrt(3.0), 0.8)
    assert standard_uncertainty(reading, KNOWN["tape"], 1.0, own()) == pytest.approx(expected)


def test_no_scatter_is_less_than_the_step_that_is_read() -> None:
    """A step of 1 mm leaves 1 mm over the root of 12 (GUM F.2.2.1), however alike repeats are."""
    reading = with_value(width(0), 1500.0)
    expected = math.hypot(0.9 / math.sqrt(3.0), 1.0 / math.sqrt(12.0))
    found = standard_uncertainty(reading, KNOWN["tape"], 1.0, own("0.01 mm"))
    assert found == pytest.approx(expected)


def test_a_bias_is_taken_off_taped_lengths_only() -> None:
    hand = own(bias="0.4 mm")
    assert taken_off(width(0), hand) == pytest.approx(0.4)
    assert taken_off(lean("left", 72), hand) == 0.0
    assert taken_off(width(0), own()) == taken_off(width(0), None) == 0.0


def test_a_person_goes_before_the_shop() -> None:
    shop, ines = own("0.9 mm"), own("0.5 mm")
    profile = gull().profile.model_copy(
        update={"instruments": {"tape": shop}, "people": {"Ines": {"tape": ines}}}
    )
    assert profile.hand("ines ", "tape") is ines
    assert profile.hand("Tomas", "tape") is shop
    assert profile.hand("", "tape") is shop
    assert profile.hand("Ines", "rule") is None


# ---------------------------------------------------------------------------- in the opening


def test_a_biased_reader_is_an_unbiased_one_of_lesser_numbers() -> None:
    """Taking 1 mm off what Ines taped is the same as if she had read 1 mm less."""
    brief = gull()
    unbiased = with_hands(brief, people={"Ines": {"tape-hb44": own()}})
    biased = with_hands(brief, people={"Ines": {"tape-hb44": own(bias="1 mm")}})
    less = tuple(
        r.model_copy(update={"value": Length(r.value - 1.0)})
        if r.by == "Ines" and r.with_ == "tape-hb44" and r.what in TAPED
        else r
        for r in brief.job.readings
    )
    expected = measure(replace(unbiased, job=unbiased.job.model_copy(update={"readings": less})))
    found = measure(biased)
    np.testing.assert_allclose(found.shape, expected.shape, atol=1e-4)
    np.testing.assert_allclose(found.covariance, expected.covariance, rtol=2e-3, atol=1e-6)
    assert [r.off for r in found.residuals] == pytest.approx(
        [r.off for r in expected.residuals], abs=1e-4
    )


def test_what_was_read_stays_what_was_read() -> None:
    brief = gull()
    found = measure(with_hands(brief, people={"Ines": {"tape-hb44": own(bias="1 mm")}}))
    for residual, reading in zip(found.residuals, brief.job.readings, strict=True):
        if reading.what == "width":
            assert residual.observed == pytest.approx(float(reading.value))


def test_hands_that_read_nothing_here_change_nothing() -> None:
    brief = gull()
    plain, other = measure(brief), measure(with_hands(brief, people={"Rosa": {"tape": own()}}))
    assert np.array_equal(plain.shape, other.shape)
    assert np.array_equal(plain.covariance, other.covariance)


def test_a_slip_is_still_named_with_the_value_as_it_would_be_read() -> None:
    """Ines reads 1 mm too much, and an inch too much once."""
    brief = gull()
    wrong = tuple(
        r.model_copy(update={"value": length('59-7/16"')}) if r.id == "w2" else r
        for r in brief.job.readings
    )
    slipped = replace(brief, job=brief.job.model_copy(update={"readings": wrong}))
    found = measure(with_hands(slipped, people={"Ines": {"tape-hb44": own(bias="1 mm")}}))
    assert found.agreement.named is not None
    assert found.agreement.named.reading == "w2"
    assert found.agreement.named.corrected == pytest.approx(58.4375 * 25.4)
    assert found.set_aside == ("w2",)


def test_a_second_person_reads_as_the_shop_does_not_as_the_first() -> None:
    brief = with_hands(
        gull(),
        instruments={"tape-hb44": own("1 mm")},
        people={"Ines": {"tape-hb44": own("3 mm")}},
    )
    net = fit(network(brief))
    first = next(s.sigma for s in net.seen if s.reading.id == "w3")
    again = next(c for c in candidates(net) if "second person" in c.words and c.reading.id == "w3")
    assert again.sigma == pytest.approx(math.sqrt(first**2 - 3.0**2 + 1.0**2))


# ------------------------------------------------------------------------- what is said of it


def test_where_it_is_used_its_origin_is_said() -> None:
    hand = OwnHand(scatter=length("0.5 mm"), bias=length("-0.4 mm"), origin="our gauge, May")
    brief = with_hands(gull(), people={"Ines": {"tape-hb44": hand}})
    (said,) = hands_used(brief)
    assert said == (
        "Read by Ines with tape-hb44: scatter 0.5 mm instead of step and seating of the "
        "instrument, and 0.4 mm added to each taped length (our gauge, May)."
    )
    with speaking("es"):
        assert told(said).startswith("Leído por Ines con tape-hb44: dispersión 0.5 mm")
        assert "se suman 0.4 mm" in told(said)
    assert hands_used(gull()) == ()


def test_how_much_taught_it_is_said_in_either_language() -> None:
    hand = OwnHand(scatter=length("0.5 mm"), numbers=36, jobs=1)
    (said,) = hands_used(with_hands(gull(), people={"Ines": {"tape-hb44": hand}}))
    assert said.endswith("(the shop's profile: 36 numbers of 1 finished job).")
    with speaking("es"):
        assert told(said).endswith("(el perfil del taller: 36 datos de 1 trabajo terminado).")


def test_the_terminal_says_it_with_the_readings(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "our.toml").write_text(
        HEAD + '[instruments.tape-hb44]\nscatter = "1/32 in"\n', "utf-8"
    )
    job = (LODGE / "gull.yaml").read_text("utf-8")
    (tmp_path / "gull.yaml").write_text(job.replace("inch-shop", "our.toml"), "utf-8")
    main(["readings", str(tmp_path / "gull.yaml")])
    said = " ".join(capsys.readouterr().out.split())
    assert "Read by Ines with tape-hb44: scatter 1/32 in instead of step and seating" in said
    assert "(the shop's profile)" in said


# -------------------------------------------------------------------------------- wrong entries


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ('[instruments.tpae]\nscatter = "1 mm"', "line 4: instruments.tpae: nobody knows"),
        ('[people.Ines.tapee]\nscatter = "1 mm"', "line 4: people.Ines.tapee: nobody knows"),
        ('[instruments.tape]\nscatter = "-1 mm"', "line 5: instruments.tape.scatter: a size"),
        (
            '[instruments.tape]\nbias = "1 mm"',
            "line 4: instruments.tape.scatter: `scatter` is missing",
        ),
        ('[people.Ines.tape]\nscatter = "wide"', "line 5: people.Ines.tape.scatter"),
        ('[people.Ines]\nscatter = "1 mm"', "line 5: people.Ines.scatter: "),
        ('[instruments.digital-level]\nscatter = "1 mm"', "reads degrees"),
        ("instruments = 3", "line 4: instruments: "),
        ("people = 3", "line 4: people: "),
    ],
)
def test_a_slip_is_named_with_its_line(tmp_path: Path, text: str, says: str) -> None:
    found = faults(tmp_path, text)
    assert any(says in fault.wrong for fault in found), found


def test_the_instrument_of_another_job_is_no_slip(tmp_path: Path) -> None:
    assert faults(tmp_path, '[instruments.our-old-laser-of-2019]\nscatter = "1 mm"\n') == ()
