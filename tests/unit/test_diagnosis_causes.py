"""A return visit: causes weighed by Bayes' rule, and the check that tells most comes first."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hangtrue.hang.diagnosis import Seen, diagnose, entropy, has, here, outcome_of
from hangtrue.hang.diagnosis_document import read_visit_text, visit_schema
from hangtrue.source import source
from hangtrue.tables import table
from tests.unit.hung import hung

ON_WALL = hung("door left wall", "fixed")
ON_GLASS = hung("fixed", "door left glass")
SCREEN = hung("fixed")
ROWS = table("hang/symptoms")


def test_entropy_of_a_known_example() -> None:
    """J. R. Quinlan, Induction of decision trees, Machine Learning 1 (1986), p. 91: 0.940 bits."""
    assert round(entropy([9 / 14, 5 / 14]), 3) == 0.940


def test_one_symptom_weighs_causes_by_rate_times_likelihood() -> None:
    causes = here(ON_WALL, "causes")
    chance = ROWS["symptoms"]["sag"]["by_chance"]
    weights = {n: row["rate"] * row["shows"].get("sag", chance) for n, row in causes.items()}
    found = diagnose(ON_WALL, {"sag": "yes"}, {})
    for cause in found.causes:
        assert cause.chance == pytest.approx(weights[cause.id] / sum(weights.values()))


@given(
    st.dictionaries(
        st.sampled_from(sorted(here(ON_WALL, "symptoms"))), st.sampled_from(["yes", "no"])
    ),
)
@settings(max_examples=30, deadline=None)
def test_chances_sum_to_one_and_no_check_is_expected_to_tell_less_than_nothing(
    symptoms: dict[str, Seen],
) -> None:
    found = diagnose(ON_WALL, symptoms, {})
    assert sum(c.chance for c in found.causes) == pytest.approx(1.0)
    for check in found.checks:
        assert check.gain >= 0.0
        assert sum(chance for _, chance, _ in check.then) == pytest.approx(1.0)
    gains = [check.gain for check in found.checks]
    assert gains == sorted(gains, reverse=True)


def test_the_order_in_which_things_are_found_does_not_matter() -> None:
    one = diagnose(ON_WALL, {"sag": "yes", "rub_curb": "yes"}, {"plate_held": "plates hold"})
    other = diagnose(ON_WALL, {"rub_curb": "yes", "sag": "yes"}, {"plate_held": "plates hold"})
    for a, b in zip(one.causes, other.causes, strict=True):
        assert a.id == b.id
        assert a.chance == pytest.approx(b.chance)


@pytest.mark.parametrize(
    ("symptoms", "results", "cause"),
    [
        ({"sag": "yes", "loose_screw": "yes"}, {"screw_bite": "turns without end"}, "no_wood"),
        ({"sag": "yes", "loose_screw": "yes"}, {"screw_bite": "tightens a little"}, "screws_loose"),
        ({"sag": "yes", "slipped": "yes"}, {"mark_moved": "moved"}, "slipped"),
        ({"swings_shut": "yes"}, {"axis_across": "leans"}, "axis_across"),
        ({"leak_under": "yes"}, {"sweep_look": "damaged or off"}, "sweep"),
        ({"leak_under": "yes"}, {"curb_slope": "out"}, "curb_out"),
        ({"leak_foot": "yes"}, {"bead": "lifts or open"}, "bead"),
        ({"leak_foot": "yes"}, {"weep": "stands or runs out"}, "weep"),
        ({"leak_strike": "yes"}, {"spray": "at a gap", "paper": "held everywhere"}, "spray"),
        ({"stays_ajar": "yes"}, {}, "closing"),
        ({"taper": "yes", "sag": "no"}, {"hinge_gap": "wider at the bottom"}, "packing"),
    ],
)
def test_what_is_found_points_to_what_a_fitter_would_say(
    symptoms: dict[str, Seen], results: dict[str, str], cause: str
) -> None:
    assert diagnose(ON_WALL, symptoms, results).causes[0].id == cause


def test_a_pane_that_gives_way_is_blamed_only_where_a_door_hangs_on_it() -> None:
    seen: dict[str, Seen] = {"sag": "yes", "pane_moves": "yes"}
    assert diagnose(ON_GLASS, seen, {}).causes[0].id == "carrier"
    assert "carrier" not in {c.id for c in diagnose(ON_WALL, seen, {}).causes}


def test_a_screen_has_no_cause_of_a_door() -> None:
    found = diagnose(SCREEN, {"leak_foot": "yes"}, {})
    assert {c.id for c in found.causes} == {"curb_out", "spray", "bead", "weep", "sunk"}


def test_the_check_that_tells_most_tells_screws_from_slipped_glass() -> None:
    found = diagnose(ON_WALL, {"sag": "yes", "rub_curb": "yes"}, {})
    assert found.checks[0].id in {"screw_bite", "plate_held"}


def test_a_check_that_was_made_is_not_asked_for_again() -> None:
    found = diagnose(ON_WALL, {"sag": "yes"}, {"plate_held": "plates move"})
    assert "plate_held" not in {check.id for check in found.checks}


def test_what_no_cause_is_known_for_is_said_to_be_odd() -> None:
    assert diagnose(SCREEN, {"pane_moves": "yes"}, {"fixed_gap": "as it was"}).odd is False
    assert diagnose(SCREEN, {}, {}).odd is False


@pytest.mark.parametrize(
    ("test", "figure", "outcome"),
    [
        ("hinge_gap", 2.0, "wider at the top"),
        ("hinge_gap", -2.0, "wider at the bottom"),
        ("hinge_gap", 0.5, "even"),
        ("axis_across", -3.0, "leans"),
        ("axis_across", 0.5, "plumb"),
        ("fixed_gap", 1.5, "sunk"),
    ],
)
def test_a_figure_is_put_into_its_outcome(test: str, figure: float, outcome: str) -> None:
    assert outcome_of(test, figure) == outcome


def test_the_tables_hang_together() -> None:
    assert source(ROWS["source"])
    for row in ROWS["causes"].values():
        assert set(row["shows"]) <= set(ROWS["symptoms"])
        assert all(0.0 < p < 1.0 for p in row["shows"].values())
        for name, chances in row.get("tests", {}).items():
            assert len(chances) == len(ROWS["tests"][name]["outcomes"])
            assert sum(chances) == pytest.approx(1.0)
        assert row["cure"].endswith(".")
        assert has(ON_WALL, row["needs"]) in {True, False}
    for row in ROWS["tests"].values():
        assert row["sound"] in row["outcomes"]
    explained = {name for row in ROWS["causes"].values() for name in row["shows"]}
    assert explained == set(ROWS["symptoms"])


# ---------------------------------------------------------------------------------- the document

GOOD = "visit: 1\njob: gull\nsymptoms: {sag: yes, slipped: no, noise: unknown}\n"


def test_what_was_not_looked_for_counts_neither_way() -> None:
    visit = read_visit_text(GOOD, ON_WALL, "gull")
    assert visit.problems == ()
    assert visit.symptoms == {"sag": "yes", "slipped": "no"}


def test_a_figure_is_read_in_the_unit_of_the_document() -> None:
    visit = read_visit_text(f"{GOOD}unit: in\nreadings: {{hinge_gap: -1/8}}\n", ON_WALL, "gull")
    assert visit.results == {"hinge_gap": "wider at the bottom"}


def test_everything_wrong_is_said_at_once_with_its_line() -> None:
    text = (
        "visit: 1\njob: tern\n"
        "symptoms:\n  sagg: yes\n  sag: perhaps\n  rub_curb: yes\n"
        "readings:\n  hinge_gap: wide\n  plate_held: maybe\n  carrier_top: moves\nfoo: 1\n"
    )
    visit = read_visit_text(text, ON_WALL, "gull")
    assert not visit.ready
    assert {p.field: p.line for p in visit.problems} == {
        "job": 2,
        "symptoms.sagg": 4,
        "symptoms.sag": 5,
        "readings.hinge_gap": 8,
        "readings.plate_held": 9,
        "readings.carrier_top": 10,
        "foo": 11,
    }


def test_a_visit_without_a_complaint_is_a_problem() -> None:
    visit = read_visit_text("visit: 1\nsymptoms: {sag: no}\n", ON_WALL, "gull")
    assert [p.field for p in visit.problems] == ["symptoms"]


def test_the_schema_knows_every_symptom_and_check() -> None:
    schema = visit_schema()
    assert schema["properties"]["symptoms"]["propertyNames"]["enum"] == list(ROWS["symptoms"])
