"""What the terminal says of alternatives and odds: the best three, the width, what to read next."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from hangtrue.compare.ranking import Comparison, Lost, Option
from hangtrue.fit.enclosure import Enclosure
from hangtrue.job.brief import Brief
from hangtrue.job.profile import Profile
from hangtrue.odds.cures import Cure
from hangtrue.odds.learn import SETTING, Hand, Learned
from hangtrue.odds.next_reading import Advice
from hangtrue.odds.odds import Odds
from hangtrue.odds.sizes import Curve
from hangtrue.odds.wording import RARE, said_area, said_chance, said_error
from hangtrue.paper.columns import item, paragraph, table
from hangtrue.paper.drawings.elevation import elevations
from hangtrue.paper.drawings.odds_curve import odds_curve
from hangtrue.paper.lengths import Units, units_of
from hangtrue.paper.svg import write_svg

MOST_LOST = 12
"""Reasons that are listed; what lost for the same reason is counted."""

LEAST_SHARE = 0.005
"""A source with less of the risk is not named: it would be 0 %."""

BAR = 24
"""Length of the longest bar of the curve."""


def comparison_text(found: Comparison) -> str:
    """Say the best few, why the others lost, and what the width does."""
    units = units_of(found.brief)
    parts = [
        _bounded(found),
        *(_option(k, option, units) for k, option in enumerate(found.best, 1)),
        *_none(found),
        *_lost(found.lost),
        *_curves(found.curves, units),
    ]
    return "\n\n".join(parts)


def odds_text(brief: Brief, odds: Odds, cures: tuple[Cure, ...], advice: Advice) -> str:
    """Say how likely a remake is, at which joint, what drives it and what would help."""
    return "\n\n".join([*_odds(odds, cures, units_of(brief)), *_advice(advice)])


def write_drawings(found: Comparison, folder: Path) -> tuple[Path, ...]:
    """Write front views of the best few, curves of the widths, a line for each way that lost."""
    folder.mkdir(parents=True, exist_ok=True)
    written = [folder / "why-the-others-lost.txt"]
    lines = "".join(f"{other.title}: {other.why}\n" for other in found.lost)
    written[0].write_text(lines, encoding="utf-8", newline="\n")
    for k, option in enumerate(found.best, 1):
        made = option.judged.alternative.made
        if isinstance(made, Enclosure):
            for sheet in elevations(option.brief, found.opening, made):
                path = folder / f"alternative-{k}-{sheet.name}.svg"
                path.write_text(write_svg(sheet), encoding="utf-8", newline="\n")
                written.append(path)
    return (*written, *_drawn_curves(found, folder))


def _drawn_curves(found: Comparison, folder: Path) -> Iterator[Path]:
    """Write the chance of a remake over the width of each pane of the best."""
    units, limit = units_of(found.brief), found.brief.profile.limit("remake-risk-most").value
    for k, followed in enumerate(found.curves, 1):
        sheet = odds_curve(followed, limit, units, f"chance-over-width-{k}")
        path = folder / f"{sheet.name}.svg"
        path.write_text(write_svg(sheet), encoding="utf-8", newline="\n")
        yield path


def _bounded(found: Comparison) -> str:
    count = len(found.best) + len(found.lost)
    if found.possible == 1 and count == 1:
        return "The wishes leave nothing open: there is one way to build it."
    whole = f"{count:,} ways to build it were fitted and checked."
    if found.looked_at < found.possible:
        whole += (
            f" {found.looked_at:,} of {found.possible:,} combinations of hardware and width were "
            "looked at, those that differ least from what is written first."
        )
    if not found.priced:
        whole += " The shop's profile states no prices, so cost counts by glass area."
    return paragraph(whole)


def _option(k: int, option: Option, units: Units) -> str:
    made = option.judged.alternative.made
    lines = [f"{k}. {option.title}", f"   {option.judged.verdict.sentence}"]
    facts = [f"{said_area(option.glass, units.first)} of glass"]
    if option.remake is not None:
        facts.insert(0, f"chance of a remake {said_chance(option.remake)}")
    if option.cost is not None and option.brief.profile.prices:
        money = option.brief.profile.prices.money
        facts.append(f"{option.cost:,.0f} {money}".rstrip())
    if isinstance(made, Enclosure):
        facts.append(f"least room {units.small(made.margin.mm)} at {made.margin.joint}")
    return "\n".join([*lines, item("   ", "; ".join(facts) + ".")])


def _none(found: Comparison) -> Iterator[str]:
    if not found.best:
        yield "Nothing that was left open can be ordered as things stand."
    elif found.best[0].judged.verdict.stops:
        yield "None of these can be ordered as things stand; they come nearest."


def _lost(lost: tuple[Lost, ...]) -> Iterator[str]:
    """Say why the others lost; one line for all that lost for the same reason."""
    if not lost:
        return
    counts = Counter(_kind(other) for other in lost)
    first = {_kind(other): other for other in reversed(lost)}
    lines = []
    for kind, count in list(counts.items())[:MOST_LOST]:
        more = f" (and {count - 1} more)" if count > 1 else ""
        lines.append(item("  - ", f"{first[kind].title}{more}: {first[kind].why}"))
    left = sum(list(counts.values())[MOST_LOST:])
    if left:
        lines.append(item("  - ", f"{left} more, each worse than these."))
    yield "Why the others lost\n" + "\n".join(lines)


def _kind(lost: Lost) -> str:
    """Reasons that begin alike are of one kind."""
    return lost.why.split(":", maxsplit=1)[0]


def _curves(curves: tuple[Curve, ...], units: Units) -> Iterator[str]:
    """Chance of a remake over the width of the door, or of the first pane."""
    shown = next((c for c in curves if c.pane.startswith("door")), next(iter(curves), None))
    if shown is None:
        return
    most = max(shown.remake)
    rows = []
    for width, risk in zip(shown.widths, shown.remake, strict=True):
        bar = "#" * round(BAR * risk / most) if risk >= RARE else ""
        mark = "chosen" if width == shown.chosen else "best" if width == shown.best else ""
        rows.append((units.figure(width), said_chance(risk), mark.ljust(6), bar.ljust(BAR)))
    yield f"Chance of a remake over the width: {shown.pane}\n" + table(
        ("width", "remake", "", ""), rows
    )
    if shown.best != shown.chosen:
        yield paragraph(
            f"{shown.pane}: {units.size(shown.best)} has better odds than the size chosen, "
            f"{units.size(shown.chosen)}."
        )


def _odds(odds: Odds, cures: tuple[Cure, ...], units: Units) -> Iterator[str]:
    rows = [
        (
            j.joint,
            said_chance(j.fails),
            units.figure(j.at),
            units.small(j.worst),
            f"{units.small(j.band[0])} to {units.small(j.band[1])}",
        )
        for j in odds.joints
    ]
    words = (
        f"Chance of a remake: {said_chance(odds.remake.value)} "
        f"(± {said_error(odds.remake.sd, odds.remake.value)} from drawing, "
        f"{odds.draws:,} draws from seed {odds.seed}{', weighted' if odds.weighted else ''})."
    )
    yield paragraph(words)
    yield table(("joint", "fails", "at", "worst gap expected", "seen, 5 % to 95 %"), rows)
    if cures and odds.remake.value >= RARE:
        lines = (item("  - ", f"{c.words}: {said_chance(c.remake.value)}") for c in cures)
        yield "After what is still allowed on site\n" + "\n".join(lines)


def _advice(advice: Advice) -> Iterator[str]:
    most = [d for d in advice.drivers[:5] if d.share >= LEAST_SHARE]
    drivers = [item("  - ", f"{d.share:.0%} {d.origin}: {d.name}") for d in most]
    if drivers:
        yield "What drives it\n" + "\n".join(drivers)
    if advice.assumed:
        yield paragraph(advice.assumed)
    yield paragraph(f"{advice.sentence} {advice.whether.sentence}")
    others = [
        item("  - ", f"{w.words} ({w.minutes:g} minutes): {said_chance(w.remains)}")
        for w in advice.readings[1:]
    ]
    if others:
        yield "Or\n" + "\n".join(others)
    if advice.prices:
        yield paragraph(advice.prices)


# ------------------------------------------------------------------------------ a hand of one's own


def learned_text(found: Learned) -> str:
    """Say what was learned of each hand, and what would change."""
    rows = [_hand(hand) for hand in found.hands]
    parts = []
    if rows:
        head = ("who", "at", "jobs", "numbers", "bias, mm", "scatter, mm", "default")
        parts.append(table(head, rows))
    parts += [paragraph(_between(hand)) for hand in found.hands if hand.from_jobs]
    parts += [paragraph(note) for note in found.notes]
    after, now = found.setting_sd
    parts.append(
        paragraph(
            f"setting_sd: {now:.2f} mm as the profile says; {after:.2f} mm as learned. No profile "
            "is changed by this; --profile writes one that takes it over, with the hands at "
            "instruments."
        )
    )
    return "\n\n".join(parts)


def changed_text(found: Learned, profile: Profile, name: str) -> str:
    """Say what a profile that takes over what was learned changes of the one in use."""
    after, now = found.setting_sd
    setting = ("setting_sd", f"{now:.2f}", f"{after:.2f}", _from_to(found.setting_interval))
    rows = [setting, *(row for hand in found.taken for row in _changes(hand))]
    return "\n".join(
        [
            f"{name} is {profile.id} with these changes:",
            table(("what, mm", "was", "becomes", "95 % interval"), rows),
            *map(paragraph, _left_as_it_is(found)),
        ]
    )


def _changes(hand: Hand) -> Iterator[tuple[str, str, str, str]]:
    """Scatter, and bias where lengths were known, of one hand at an instrument."""
    whose = f"{_who(hand)}, {hand.what}"
    yield (
        f"scatter of {whose}",
        f"{hand.default:.2f}",
        f"{hand.scatter:.2f}",
        _from_to(hand.scatter_interval),
    )
    if hand.tells_bias:
        least, most = hand.bias_interval
        spread = f"{least:+.2f} to {most:+.2f}"
        yield f"bias of {whose}", f"{hand.bias_now:+.2f}", f"{hand.bias:+.2f}", spread


def _left_as_it_is(found: Learned) -> Iterator[str]:
    biased = [hand.person for hand in found.hands if hand.what == SETTING and hand.biased]
    if biased:
        yield (
            f"The bias of {' and '.join(biased)} at setting is within setting_sd: no job says who "
            "will hang it, so nothing is taken off."
        )


def _from_to(interval: tuple[float, float]) -> str:
    return f"{interval[0]:.2f} to {interval[1]:.2f}"


def _who(hand: Hand) -> str:
    return hand.person or "everybody"


def _hand(hand: Hand) -> tuple[str, ...]:
    bias = "-"
    if hand.tells_bias:
        least, most = hand.bias_interval
        bias = f"{hand.bias:+.2f} ({least:+.2f} to {most:+.2f}){' !' if hand.biased else ''}"
    return (
        _who(hand),
        hand.what,
        str(hand.jobs),
        str(hand.count),
        bias,
        f"{hand.scatter:.2f} ({_from_to(hand.scatter_interval)})",
        f"{hand.default:.2f}",
    )


def _between(hand: Hand) -> str:
    found = hand.from_jobs
    if found is None:
        return ""
    low, high = found.between_interval
    return (
        f"{hand.person}: from job to job {found.between**0.5:.2f} mm ({low:.2f} to {high:.2f}), "
        f"within a job {found.within**0.5:.2f} mm."
    )
