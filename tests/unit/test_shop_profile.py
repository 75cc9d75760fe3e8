"""A shop's own profile says how it drills, what lies on its shelf and how it works."""

import math
import re
import tomllib
from pathlib import Path

import pytest

from hangtrue.cli import main
from hangtrue.fit.enclosure import Enclosure
from hangtrue.hang.cure_time import air_of, cure, cure_hours, sealant_of
from hangtrue.hang.hanging import hang
from hangtrue.hang.records import HangPlan
from hangtrue.hang.shop import Shop, shipped_shop, shop_for
from hangtrue.hang.steps import Step, steps
from hangtrue.job import library
from hangtrue.job.read import read_job
from hangtrue.job.toml_lines import line_of, lines_of
from hangtrue.plan import plan
from hangtrue.units import length
from tests.unit import hang_jobs as jobs

ROOT = Path(__file__).parents[2]
LODGE = ROOT / "examples" / "lodge"
HEAD = 'id = "our"\ntitle = "Our shop"\nbased_on = "inch-shop"\n'


def shop(tmp_path: Path, text: str) -> Shop:
    (tmp_path / "our.toml").write_text(HEAD + text, "utf-8")
    profile, faults = library.find_profile("our.toml", tmp_path)
    assert faults == ()
    assert profile
    return shop_for(profile)


def said(tmp_path: Path, text: str) -> list[str]:
    (tmp_path / "our.toml").write_text(text, "utf-8")
    return [f"{f.wrong}; {f.do}" for f in library.find_profile("our.toml", tmp_path)[1]]


def hung(tmp_path: Path, text: str) -> HangPlan:
    """Hang the Gull room as a shop of that profile would."""
    (tmp_path / "our.toml").write_text(HEAD + text, "utf-8")
    job = (LODGE / "gull.yaml").read_text("utf-8")
    (tmp_path / "gull.yaml").write_text(job.replace("inch-shop", "our.toml"), "utf-8")
    brief, problems = read_job(tmp_path / "gull.yaml")
    assert brief
    assert problems == ()
    found = hang(plan(brief))
    assert isinstance(found, HangPlan)
    return found


def test_a_profile_that_says_nothing_of_it_is_the_shipped_shop(tmp_path: Path) -> None:
    assert shop(tmp_path, "") == shipped_shop()


def test_what_a_profile_says_lies_over_what_is_shipped(tmp_path: Path) -> None:
    own = shop(
        tmp_path,
        '[shelf.shims]\nsizes = ["2 mm", "1 mm"]\n[shelf.cutting]\nkerf = "3 mm"\n'
        '[habits.spacing]\nhinge_from_end = ["200 mm", "300 mm"]\n',
    )
    shipped = shipped_shop()
    assert own.shims == (1.0, 2.0), "a list stands for the whole list"
    assert own.blocks == shipped.blocks
    assert own.mm["cutting.kerf"] == 3.0
    assert own.mm["cutting.offcut_least"] == shipped.mm["cutting.offcut_least"]
    assert own.pairs["spacing.hinge_from_end"] == (200.0, 300.0)
    assert own.write(2.0) == "2 mm"


def test_its_own_way_of_fixing_goes_before_the_shipped_one(tmp_path: Path) -> None:
    own = shop(
        tmp_path,
        '[[substrates.fixing]]\nholds = "channel"\non = "wall"\ninto = ["stud"]\nbedded = true\n'
        'fixing = "glued"\ntorque = "none"\nbehind = "tile"\n',
    )
    rule = own.fixing("channel", "wall", "stud")
    assert rule
    assert rule.fixing == "glued"
    assert own.fixing("channel", "wall", "blocking") == shipped_shop().fixing(
        "channel", "wall", "blocking"
    )


def test_the_metric_shop_has_metric_bits_screws_shims_and_stock() -> None:
    """What it drills, packs and cuts with is written in mm, and near what the inch shop uses."""
    own, inch = shop_for(library.shipped_profiles()["metric-shop"]), shipped_shop()
    assert all(bit.typed.endswith(" mm") for bit in own.bits)
    assert all(own.write(size).endswith(" mm") for size in (*own.screws, *own.shims, *own.blocks))
    for rule in inch.fixings:
        for into in rule.into:
            mine = own.fixing(rule.holds, rule.on, into)
            assert mine
            assert mine.bedded == rule.bedded
            assert mine.clearance == pytest.approx(rule.clearance, abs=0.3)
            assert (mine.pilot or 0.0) == pytest.approx(rule.pilot or 0.0, abs=0.2)
            assert mine.anchor_depth == pytest.approx(rule.anchor_depth, abs=2.0)
            assert mine.thread == pytest.approx(rule.thread, abs=1.0)
            assert mine.screw == rule.screw
            if mine.clearance:
                assert own.bit("diamond", max(mine.clearance, 5.0))
    for key, mm in inch.mm.items():
        assert own.mm[key] == pytest.approx(mm, rel=0.3), key


def test_a_shop_based_on_the_metric_one_keeps_its_rules_behind_its_own(tmp_path: Path) -> None:
    text = (
        'id = "our"\ntitle = "Our"\nbased_on = "metric-shop"\n[[substrates.fixing]]\n'
        'holds = "bar"\non = "wall"\ninto = ["stud"]\nbedded = true\nfixing = "glued"\n'
        'torque = "none"\nbehind = "tile"\n'
    )
    (tmp_path / "our.toml").write_text(text, "utf-8")
    profile, faults = library.find_profile("our.toml", tmp_path)
    assert faults == ()
    assert profile
    own = shop_for(profile)
    bar, hinge = own.fixing("bar", "wall", "stud"), own.fixing("hinge", "wall", "stud")
    assert bar
    assert hinge
    assert bar.fixing == "glued"
    assert hinge.clearance_typed == "6.5 mm"


def test_a_new_material_has_its_own_bit(tmp_path: Path) -> None:
    own = shop(
        tmp_path,
        '[substrates.families.terrazzo]\nwords = ["terrazzo tile"]\nbit = "carbide"\nhow = "slow"\n'
        '[substrates.families.tile]\nhow = "wet, with a clamped guide"\n',
    )
    terrazzo, tile = own.family("terrazzo tile"), own.family("porcelain tile")
    assert terrazzo
    assert tile
    assert terrazzo.bit == "carbide", "its own names are looked for first"
    assert (tile.bit, tile.how) == ("diamond", "wet, with a clamped guide")


def test_the_drilling_plan_follows_the_profile(tmp_path: Path) -> None:
    text = '[shelf.bits]\ndiamond = ["5/16 in"]\ncarbide = ["5/16 in"]\n'
    found = hung(tmp_path, text)
    hinge = next(h for h in found.drilling.holes if h.part.startswith("hinge"))
    assert hinge.passes[0].bit
    assert hinge.passes[0].bit.diameter == length("5/16 in")


def test_no_bit_on_the_shelf_stops_the_work(tmp_path: Path) -> None:
    found = hung(tmp_path, '[shelf.bits]\ndiamond = ["1/2 in"]\n')
    assert any("no 1/4 in diamond bit for porcelain tile" in str(s) for s in found.snags if s.stops)


def test_offcuts_of_the_profile_are_used_before_new_stock(tmp_path: Path) -> None:
    found = hung(tmp_path, '[shelf.offcuts.channel]\nchannel-deep = ["77 in"]\n')
    deep = next(c for c in found.cutting if (c.sort, c.item) == ("channel", "channel-deep"))
    assert [bar.stock.shelf for bar in deep.plan.bars] == [True]


def test_stock_shorter_than_a_piece_stops_the_work(tmp_path: Path) -> None:
    found = hung(tmp_path, '[shelf.stock]\nchannel = ["40 in"]\n')
    assert any("the longest stock is" in snag.wrong for snag in found.snags if snag.stops)


def test_a_colder_room_cures_longer_and_the_wrong_sealant_on_stone_stops_the_work(
    tmp_path: Path,
) -> None:
    """WMO-No. 8 gives the vapour pressure; that stone takes no acetoxy silicone is from memory."""
    found = hung(tmp_path, '[habits.cure]\nsealant = "acetoxy"\n')
    assert any(s.where == "sealant" and "attacks stone" in s.wrong for s in found.snags if s.stops)
    cold, _ = library.find_profile("our.toml", tmp_path)
    assert cold
    assert sealant_of(cold) == "acetoxy"
    (tmp_path / "our.toml").write_text(f"{HEAD}[habits.cure]\ntemperature_C = 10.0\n", "utf-8")
    cold, _ = library.find_profile("our.toml", tmp_path)
    usual = library.shipped_profiles()["inch-shop"]
    assert cold
    assert air_of(cold).temperature == 10.0
    assert air_of(cold).humidity == air_of(usual).humidity
    depth, sealant = 5.0, sealant_of(usual)
    ratio = cure_hours(depth, sealant, air_of(cold)) / cure_hours(depth, sealant, air_of(usual))
    assert ratio == pytest.approx(23.4 / 12.3, rel=0.01), "saturation at 20 and at 10 degrees, hPa"


def test_the_squareness_that_the_plant_holds_is_looked_at_when_a_pane_comes(
    tmp_path: Path,
) -> None:
    found = hung(tmp_path, '[plant]\ndiagonals = "1/8 in"\n')
    door, fixed = found.receiving
    assert 'the two diagonals differ by 1/8" at most' in door.looks
    bl, br, tr, tl = found.panes[1].corners
    assert math.dist(bl, tr) < math.dist(br, tl), "its top is shorter on the right"
    assert any("shorter than the other, give or take 1/8" in look for look in fixed.looks)
    assert not any("diagonal" in look for look in hung(tmp_path, "").receiving[0].looks)


def test_minutes_and_hands_of_the_steps_are_the_shops(tmp_path: Path) -> None:
    def drill(text: str) -> Step:
        found = hung(tmp_path, text)
        brief, _ = read_job(tmp_path / "gull.yaml")
        assert brief
        made = jobs.planned().best.alternative.made
        assert isinstance(made, Enclosure)
        every = steps(brief, made, cure(made), found.drilling)
        return next(s for s in every if s.kind == "drill" and "hinges" in s.title)

    assert (drill("").minutes, drill("").people) == (5 + 8 * 4, 1)
    own = drill("[habits.steps.drill]\nbase = 10\neach = 6\npeople = 2\n")
    assert (own.minutes, own.people) == (10 + 8 * 6, 2)


def test_shims_that_cannot_add_up_are_said(tmp_path: Path) -> None:
    found = hung(tmp_path, '[shelf.shims]\nsizes = ["6 mm"]\nblock_sizes = ["20 mm"]\n')
    assert any("no blocks at hand fill" in snag.wrong for snag in found.snags)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ('[shelf.bits]\ndiamond = ["1/2 in"]\n', "no 1/4 in diamond bit for porcelain tile"),
        ('[shelf.stock]\nchannel = ["40 in"]\n', "the longest stock is 40"),
        ('[shelf.shims]\nsizes = ["6 mm"]\n', "brings the hinge axis plumb"),
    ],
)
def test_the_command_says_what_cannot_be_done_and_exits_so(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], text: str, says: str
) -> None:
    (tmp_path / "our.toml").write_text(HEAD + text, "utf-8")
    job = (LODGE / "gull.yaml").read_text("utf-8").replace("inch-shop", "our.toml")
    (tmp_path / "gull.yaml").write_text(job, "utf-8")
    assert main(["work", str(tmp_path / "gull.yaml"), "--out", str(tmp_path / "out")]) == 1
    said_ = " ".join(capsys.readouterr().out.split())
    assert "Cannot be done as it stands" in said_
    assert says in said_


BAD = """\
based_on = "inch-shop"
[shelf.cutting]
kerf = "-3 mm"
kerv = 3
[shelf.bits]
diamond = ["1/4 in", "thick"]
[shelf.stock]
channel = ["-95 in"]
[shelf.shims]
sizes = []
[[substrates.fixing]]
holds = "chanel"
[substrates.families.tile]
bitt = "x"
[habits.spacing]
hinge_from_end = ["12 in", "8 in"]
clamp_free = 3
"""


def test_everything_wrong_in_a_profile_is_said_at_once_with_its_line(tmp_path: Path) -> None:
    found = said(tmp_path, BAD)
    for line, words in (
        (3, "kerf: this must not be under zero"),
        (4, "did you mean `kerf`?"),
        (6, "'thick' is not a length"),
        (8, "a size must be over zero"),
        (10, "nothing stands in this list"),
        (11, '`torque` is missing (How tight, in words); write it, like `torque = "low: snug"`'),
        (12, "did you mean channel?"),
        (14, "did you mean `bit`?"),
        (16, "the lesser first"),
        (17, "'3' has no unit"),
    ):
        assert any(f"our.toml, line {line}: " in f and words in f for f in found), (line, found)


BAR = """\
[[substrates.fixing]]
holds = "bar"
on = "wall"
into = ["stud"]
fixing = "x"
torque = "x"
behind = "x"
pilot = "1/8 in"
screw = "11"
"""


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ('[shelf.stock]\nchanel = ["95 in"]', "did you mean channel?"),
        ('[shelf.bits]\ndimond = ["1/4 in"]', "did you mean diamond?"),
        ('[shelf.offcuts.swep]\nx = ["9 in"]', "did you mean sweep?"),
        ('[substrates.families.tile]\nbit = "twisst"', "did you mean twist?"),
        ('[substrates.families.sapphire]\nbit = "diamond"', "is new and lacks words, how"),
        ("shelf = 3", "is not a block"),
        (BAR, "lacks `clearance`, `thread`, `screw`"),
        ('[habits.cure]\nsealant = "neutrl"', "did you mean neutral?"),
        ("[habits.cure]\ntemperature_C = -3.0", "write 5 to 40"),
        ("[habits.steps.dril]\nbase = 3", "did you mean drill?"),
        ("[shelf.cutting]\nshelf_share = 2.0", "a share is from 0 to 1"),
    ],
)
def test_what_does_not_go_together_in_a_profile_is_said(
    tmp_path: Path, text: str, says: str
) -> None:
    found = said(tmp_path, HEAD + text)
    assert any(says in line for line in found), found


def test_a_job_with_such_a_profile_is_not_worked_from(tmp_path: Path) -> None:
    """The problem stands with the line of the job that names the profile."""
    (tmp_path / "our.toml").write_text(HEAD + '[shelf.cutting]\nkerf = "-1 mm"', "utf-8")
    job = (LODGE / "gull.yaml").read_text("utf-8").replace("inch-shop", "our.toml")
    (tmp_path / "gull.yaml").write_text(job, "utf-8")
    _, problems = read_job(tmp_path / "gull.yaml")
    assert [(p.line, p.field) for p in problems] == [(12, "profile")]
    assert "line 5: shelf.cutting.kerf" in problems[0].wrong


def test_lines_are_those_of_the_file() -> None:
    lines = lines_of('a = 1\n\n[[b]]\nc = 2\n[b.d]\ne = 3\n[[b]]\n"f g".h = [\n  1,\n]\n')
    assert lines == {
        ("a",): 1,
        ("b",): 3,
        ("b", 0): 3,
        ("b", 0, "c"): 4,
        ("b", 0, "d"): 5,
        ("b", 0, "d", "e"): 6,
        ("b", 1): 7,
        ("b", 1, "f g", "h"): 8,
    }
    assert line_of(lines, ("b", 0, "x")) == 3
    assert line_of(lines, ("x",)) is None


def test_the_example_of_the_page_is_a_profile(tmp_path: Path) -> None:
    page = (ROOT / "docs" / "shop-profile.md").read_text("utf-8")
    example = re.findall(r"```toml\n(.*?)```", page, re.DOTALL)[0]
    assert said(tmp_path, example) == []
    assert tomllib.loads(example)["shelf"]["cutting"]["kerf"] == "3 mm"


@pytest.mark.parametrize("value", ["0.0", "-3.0"])
def test_a_wall_that_is_known_before_it_is_read_is_a_problem(tmp_path: Path, value: str) -> None:
    """Without any scatter there is nothing to adjust: said with its line, never a traceback."""
    (tmp_path / "own.toml").write_text(
        f'id = "own"\ntitle = "Own"\n[limits.prior-bow-sd]\nvalue = {value}\ntyped = "x"\n'
    )
    _, faults = library.find_profile("own.toml", tmp_path)
    assert [f.do for f in faults] == ["write a number over 0"]
    assert "line 4" in faults[0].wrong
