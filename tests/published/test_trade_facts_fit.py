"""What every fitter knows, as the fit does it.

Each is common practice, no source.
"""

from __future__ import annotations

import pytest

from hangtrue.fit import fit
from hangtrue.fit.enclosure import Alternative, Enclosure, NoFit
from hangtrue.fit.layout import bite, channel_range
from hangtrue.job.brief import Brief
from hangtrue.job.hardware import Channel
from tests.openings import boxed, brief, made, opening

INCH = 25.4


def squared(lean: float) -> Enclosure | NoFit:
    """Fit door and in-line fixed pane, square, its wall out of plumb over its height."""
    given = brief("door", "fixed", shop="inch-shop", exact=True)
    (way,) = fit(given, opening(lean_right=lean))
    return way.squared or way.made


@pytest.mark.parametrize("inch", [-0.49, -0.25, 0.0, 0.25, 0.49])
def test_a_channel_takes_up_a_wall_half_an_inch_out_of_plumb(inch: float) -> None:
    """The deep channel, with the pane cut square. Common practice, no source."""
    answer = squared(inch * INCH)
    assert isinstance(answer, Enclosure)
    assert answer.choice.cut == "square"
    assert answer.margin.mm >= -1e-6


@pytest.mark.parametrize("inch", [-0.625, 0.625])
def test_past_half_an_inch_it_does_not(inch: float) -> None:
    """Common practice, no source."""
    answer = squared(inch * INCH)
    assert isinstance(answer, NoFit)
    assert {c.joint for c in answer.clashes} == {"fixed 1 to right wall"}
    assert all("channel" in c.requirement for c in answer.clashes)


def test_a_pane_is_never_drawn_out_past_half_an_inch() -> None:
    """From hard in to drawn out as far as its bite allows. Common practice, no source."""
    channel = brief("fixed").item("channel-deep", Channel)
    taken_up = channel_range(channel)
    assert taken_up.width == pytest.approx(INCH / 2)
    for inch in (-0.45, 0.45):
        answer = squared(inch * INCH)
        assert isinstance(answer, Enclosure)
        (joint,) = (j for j in answer.joints if j.hardware == "channel-deep")
        for gap in joint.gaps:
            assert gap.predicted.value - taken_up.least <= INCH / 2 + 1e-6
            assert bite(channel, gap.predicted.value) >= float(channel.bite_least) - 1e-6


def test_a_door_meets_its_pane_at_three_sixteenths_with_a_strike_seal() -> None:
    """Common practice, no source."""
    given = brief("door", "fixed", shop="inch-shop", exact=True)
    enclosure = made(fit(given, opening(width=60.25 * INCH)))
    (joint,) = (j for j in enclosure.joints if j.kind == "strike")
    assert joint.between == ("door", "fixed 1")
    for gap in joint.gaps:
        assert gap.usual == pytest.approx(3 / 16 * INCH)
        assert gap.predicted.value == pytest.approx(3 / 16 * INCH, abs=INCH / 32)


@pytest.mark.parametrize("curb", [(0.0, 0.0), (0.0, 8.0), (5.0, -3.0)])
@pytest.mark.parametrize("lites", [("door", "fixed"), ("fixed", "door", "fixed")])
def test_tops_of_door_and_panes_are_in_one_line(
    lites: tuple[str, ...], curb: tuple[float, float]
) -> None:
    """However the curb falls: level, and in one line. Common practice, no source."""
    enclosure = made(fit(brief(*lites, shop="inch-shop"), opening(curb=curb)))
    tops = [pane.origin[1] + y for pane in enclosure.lites for _, y in pane.corners[2:]]
    assert max(tops) - min(tops) == pytest.approx(0.0, abs=1e-9)


def test_a_door_set_on_five_eighths_is_within_its_sweep() -> None:
    """The most that the sweep closes is what the door is set on. Common practice, no source."""
    enclosure = made(fit(brief("door", shop="inch-shop"), opening(width=28 * INCH)))
    (joint,) = (j for j in enclosure.joints if j.kind == "sweep")
    assert all(gap.most == pytest.approx(5 / 8 * INCH) for gap in joint.gaps)
    assert all(gap.margin >= 0 for gap in joint.gaps)


def test_hinge_edges_are_plumb_whatever_the_wall_does() -> None:
    """Hinge plates share one straight, plumb axis. Common practice, no source."""
    given = brief("door", "fixed", shop="inch-shop", exact=True)
    for lean in (-4.0, 4.0):
        door = made(fit(given, opening(lean_left=lean))).lite("door")
        assert [e.rake for e in door.edges if e.where == "left"] == [0.0]


LEAST, MOST = 47.5 * INCH, 48.0 * INCH


def wren(width: float) -> Alternative:
    """Fit a set of half an inch of adjustment: 1/8 in each at hinge and strike, 1/4 in channel."""
    box = boxed(
        ("door", 25.5 * INCH, 75.75 * INCH),
        ("fixed", (21 + 9 / 16) * INCH, 76 * INCH),
        least=LEAST,
        most=MOST,
    )
    given: Brief = brief("door", "fixed", shop="inch-shop", box=box, exact=True)
    (way,) = fit(given, opening(width=width))
    return way


@pytest.mark.parametrize("width", [LEAST, MOST])
def test_a_boxed_set_goes_into_its_least_and_its_greatest_opening(width: float) -> None:
    """Common practice, no source; follows from what its adjustment means."""
    answer = wren(width).made
    assert isinstance(answer, Enclosure)
    assert answer.margin.mm == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize("width", [LEAST - INCH / 8, MOST + INCH / 8])
def test_and_not_into_an_eighth_less_or_more(width: float) -> None:
    """Common practice, no source; follows from what its adjustment means."""
    answer = wren(width).made
    assert isinstance(answer, NoFit)
    assert answer.missing > 0
