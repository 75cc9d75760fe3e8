"""The command line: parse, call, print. What is heavy is imported by the command that needs it."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, TypeAlias

from hangtrue import __version__

if TYPE_CHECKING:
    from hangtrue.fit.enclosure import Enclosure
    from hangtrue.hang.cut_records import CutPiece
    from hangtrue.job.brief import Brief
    from hangtrue.job.problems import Problem

FITS, STOPS, BAD_INPUT = 0, 1, 2
SAME, DIFFERS = 0, 1
NOBODY_LISTENS = 141
"""What a shell says of a command whose reader went away."""

Commands: TypeAlias = "argparse._SubParsersAction[argparse.ArgumentParser]"  # noqa: SLF001 - no public name

DESCRIPTION = """\
From site readings to a proven, drawn glass enclosure: can it be hung here, on which side,
with exactly which panes, and what has to be put right first."""

EPILOG = """\
exit status: 0 it fits; 1 it must not be hung, does not fit, or the readings contradict each other;
2 the input is wrong and nothing was written.

An aid, not an authority: local code, the hardware maker's instructions and a licensed
professional decide. Tempered glass cannot be altered once it is made."""


def parser() -> argparse.ArgumentParser:
    """Return the parser of the whole command; the manual page is made from it."""
    top = argparse.ArgumentParser(
        prog="hangtrue",
        description=DESCRIPTION,
        epilog=EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    top.add_argument("--version", action="version", version=f"%(prog)s {__version__}")
    commands = top.add_subparsers(dest="command", metavar="COMMAND", required=True)

    plan = commands.add_parser(
        "plan", help="plan a job: verdict on the terminal, packet in a folder"
    )
    plan.add_argument("job", type=Path, metavar="JOB", help="job document (YAML)")
    plan.add_argument(
        "--out",
        type=Path,
        metavar="FOLDER",
        help="write the packet into this folder: PDF, drawings, cut files, plan.json",
    )
    plan.add_argument(
        "--json", action="store_true", help="print the whole plan as JSON instead of the summary"
    )
    plan.add_argument(
        "--units",
        choices=("in", "mm", "both"),
        help="units on terminal and papers, instead of the profile's",
    )
    _add_language(plan)
    plan.set_defaults(run=_plan)

    _add_work(commands)

    new = commands.add_parser("new", help="write a commented blank job to fill in")
    new.add_argument(
        "job",
        type=Path,
        nargs="?",
        metavar="JOB",
        help="file to write (never overwritten); the terminal if not given",
    )
    new.add_argument(
        "--units", choices=("in", "mm"), default="in", help="unit of the job (default: %(default)s)"
    )
    new.set_defaults(run=_new)

    readings = commands.add_parser(
        "readings",
        help="only adjust the readings: what disagrees, what nothing checks, what to read next",
    )
    readings.add_argument("job", type=Path, metavar="JOB", help="job document (YAML)")
    readings.add_argument(
        "--units",
        choices=("in", "mm", "both"),
        help="units on the terminal, instead of the profile's",
    )
    readings.set_defaults(run=_readings)

    diff = commands.add_parser(
        "diff",
        help="say in words what changed between two versions of a job",
        description="Say in words what changed between two versions of a job: readings, wishes, "
        "panes\nwith their cut-outs and hinge sides, gaps, findings.",
        formatter_class=argparse.RawDescriptionHelpFormatter,
        epilog="exit status: 0 nothing changed; 1 something changed; 2 the input is wrong.",
    )
    diff.add_argument("old", type=Path, metavar="OLD", help="the earlier job document (YAML)")
    diff.add_argument("new", type=Path, metavar="NEW", help="the later one")
    diff.add_argument(
        "--units",
        choices=("in", "mm", "both"),
        help="units on the terminal, instead of the profile's",
    )
    diff.set_defaults(run=_diff)

    asbuilt = commands.add_parser(
        "asbuilt",
        help="from gaps read after hanging: what is out, what to move, what comes of it",
        description="From gaps and levels read after hanging: what is out, where the panes stand, "
        "which\nadjustment cures it and what comes of it, before it is tried.",
        formatter_class=argparse.RawDescriptionHelpFormatter,
        epilog="exit status: 0 all is in range, or will be; 1 something stays out or is not "
        "explained;\n2 the input is wrong.",
    )
    asbuilt.add_argument("job", type=Path, metavar="JOB", help="job document (YAML)")
    asbuilt.add_argument("readings", type=Path, metavar="READINGS", help="what was read (YAML)")
    asbuilt.add_argument(
        "--units",
        choices=("in", "mm", "both"),
        help="units on the terminal, instead of the profile's",
    )
    asbuilt.set_defaults(run=_asbuilt)

    diagnose = commands.add_parser(
        "diagnose",
        help="on a return visit: most likely causes, what tells them apart, cure and parts",
        description="From what is complained of and a few readings: the most likely causes, the "
        "checks\nthat would tell them apart, cure and parts.",
        formatter_class=argparse.RawDescriptionHelpFormatter,
        epilog="exit status: 0 said; 2 the input is wrong.",
    )
    diagnose.add_argument("job", type=Path, metavar="JOB", help="job document (YAML)")
    diagnose.add_argument(
        "visit", type=Path, metavar="SYMPTOMS", help="what is complained of and was read (YAML)"
    )
    diagnose.set_defaults(run=_diagnose)

    compare = commands.add_parser(
        "compare",
        help="all that the wishes leave open, side by side: best three, odds, why others lost",
        description="Fit and check everything that the wishes leave open: the best three, why "
        "every\nother lost, the chance of a remake, what drives it, and what to read next.",
        formatter_class=argparse.RawDescriptionHelpFormatter,
        epilog="Boxed sets are looked for beside the job. exit status: 0 something can be "
        "ordered;\n1 nothing can, as things stand; 2 the input is wrong.",
    )
    compare.add_argument("job", type=Path, metavar="JOB", help="job document (YAML)")
    compare.add_argument(
        "--out",
        type=Path,
        metavar="FOLDER",
        help="front views of the best three, odds over their widths, why the others lost",
    )
    compare.add_argument(
        "--units",
        choices=("in", "mm", "both"),
        help="units on the terminal, instead of the profile's",
    )
    compare.set_defaults(run=_compare)

    learn = commands.add_parser(
        "learn",
        help="from finished jobs: each person's bias and scatter, near the default while few",
        description="From gaps predicted and measured, and from repeated readings: bias and "
        "scatter of\neach person at setting and with each instrument, near the default while few.",
        formatter_class=argparse.RawDescriptionHelpFormatter,
        epilog="exit status: 0 said; 2 the input is wrong.",
    )
    learn.add_argument("history", type=Path, metavar="HISTORY", help="finished jobs (YAML)")
    learn.add_argument(
        "--shop", default="inch-shop", help="shipped profile to hold against (default: %(default)s)"
    )
    learn.add_argument(
        "--profile",
        type=Path,
        metavar="FILE",
        help="write a profile that takes the learned numbers over (TOML, never overwritten)",
    )
    learn.set_defaults(run=_learn)

    schema = commands.add_parser("schema", help="print the JSON Schema of a document")
    schema.add_argument(
        "document",
        nargs="?",
        choices=("job", "plan", "boxed-set", "profile", "asbuilt", "visit"),
        default="job",
        help="which document (default: %(default)s)",
    )
    schema.set_defaults(run=_schema)
    return top


def _add_work(commands: Commands) -> None:
    work = commands.add_parser(
        "work",
        help="write what people work from: work sheets, templates at true size, lists",
        description="Write the work packet of a job: sheets for builder, customer, plant, shop "
        "and crew,\ntemplates at true size (PDF, DXF), every list (XLSX, CSV), and the visits "
        "(iCalendar)\nwhere the first day is named.",
        formatter_class=argparse.RawDescriptionHelpFormatter,
        epilog="exit status: 0 it can be worked from; 1 something cannot be done as it stands; or "
        "nothing may\nbe hung, and only the sheets from before measuring are written; 2 the input "
        "is wrong.",
    )
    work.add_argument("job", type=Path, metavar="JOB", help="job document (YAML)")
    work.add_argument(
        "--out", type=Path, metavar="FOLDER", required=True, help="folder that the packet goes to"
    )
    work.add_argument(
        "--on", type=date.fromisoformat, metavar="DATE", help="first day of the work, as 2026-06-01"
    )
    work.add_argument(
        "--units",
        choices=("in", "mm", "both"),
        help="units on the papers, instead of the profile's",
    )
    work.add_argument(
        "--templates",
        choices=("paper", "plotter"),
        help="templates tiled onto the paper of the packet, or each on one sheet of a plotter, "
        "instead of as the profile says",
    )
    _add_language(work)
    work.set_defaults(run=_work)

    cut = commands.add_parser(
        "cut",
        help="cut the pieces of several jobs out of stock at once",
        description="Cut channels, strips, bars and blocks of several jobs out of stock and "
        "offcuts at\nonce, with the least new stock; by the shop profile of the first job.",
        formatter_class=argparse.RawDescriptionHelpFormatter,
        epilog="exit status: 0 everything can be cut; 1 something cannot, or a job must not be "
        "hung as\nthings stand and is left out; 2 the input is wrong.",
    )
    cut.add_argument("jobs", type=Path, nargs="+", metavar="JOB", help="job document (YAML)")
    cut.set_defaults(run=_cut)


def _add_language(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "--language",
        choices=("en", "es"),
        help="one language for all papers, instead of the profile's for each sheet",
    )


def main(words: Sequence[str] | None = None) -> int:
    """Run the command and return its exit status."""
    arguments = parser().parse_args(words)
    try:
        return int(arguments.run(arguments))
    except BrokenPipeError:
        sys.stderr.close()
        return NOBODY_LISTENS
    except OSError as trouble:
        print(f"hangtrue: {trouble.filename or ''}: {trouble.strerror}", file=sys.stderr)
        return BAD_INPUT


def _read(arguments: argparse.Namespace) -> tuple[Brief | None, tuple[Problem, ...]]:
    """Read the job of a command in the units asked for, and say what is wrong with it."""
    from hangtrue.job.read import read_job
    from hangtrue.paper import terminal

    brief, problems = read_job(arguments.job)
    print(terminal.problems(problems), end="", file=sys.stderr)
    names = ("units", "language", "templates")
    units, language, templates = (getattr(arguments, name, None) for name in names)
    return brief and brief.written_in(units, language, templates), problems


def _start_mesher() -> None:
    """Let the mesher start beside everything that comes before the first pane."""
    from hangtrue.mechanics.mesher_process import MESHER

    MESHER.start()


def _plan(arguments: argparse.Namespace) -> int:
    _start_mesher()
    from hangtrue.hang.placing import placed
    from hangtrue.job.problems import any_wrong
    from hangtrue.paper import terminal
    from hangtrue.paper.packet import write_packet
    from hangtrue.paper.plan_json import plan_json_text
    from hangtrue.plan import plan, prove

    brief, problems = _read(arguments)
    if brief is None:
        return BAD_INPUT
    made = placed(prove(placed(plan(brief))))
    if any_wrong(problems):
        print(terminal.provisional(made))
        return BAD_INPUT
    print(plan_json_text(made, problems) if arguments.json else terminal.summary(made))
    if arguments.out:
        files = write_packet(made, problems, arguments.out)
        print(terminal.written(files, arguments.out), file=sys.stderr)
    return STOPS if made.verdict.stops else FITS


def _work(arguments: argparse.Namespace) -> int:
    _start_mesher()
    from hangtrue.hang.hanging import hang
    from hangtrue.hang.records import HangPlan
    from hangtrue.job.problems import any_wrong
    from hangtrue.paper import terminal
    from hangtrue.paper.work_packet import write_work
    from hangtrue.plan import plan, prove

    brief, problems = _read(arguments)
    if brief is None or any_wrong(problems):
        return BAD_INPUT
    made = prove(plan(brief))
    files = write_work(made, arguments.out, arguments.on)
    hung = None if made.verdict.stops else hang(made)
    snags = hung.snags if isinstance(hung, HangPlan) else ()
    dated = arguments.on is not None
    print(terminal.work(made, files, arguments.out, dated=dated, snags=snags))
    return STOPS if made.verdict.stops or any(snag.stops for snag in snags) else FITS


def _cut(arguments: argparse.Namespace) -> int:
    from hangtrue.hang.cutting import cutting, shelf_after
    from hangtrue.hang.hanging import hang
    from hangtrue.hang.records import HangPlan
    from hangtrue.hang.shop import shop_for
    from hangtrue.hang.work import say_in
    from hangtrue.job.problems import any_wrong
    from hangtrue.job.read import read_job
    from hangtrue.paper import terminal
    from hangtrue.paper.lengths import units_of
    from hangtrue.paper.terminal_cut import cut_text
    from hangtrue.plan import plan

    briefs: list[Brief] = []
    pieces: list[CutPiece] = []
    left_out = 0
    for path in arguments.jobs:
        brief, problems = read_job(path)
        if problems:
            print(f"{path}\n{terminal.problems(problems)}", end="", file=sys.stderr)
        if brief is None or any_wrong(problems):
            return BAD_INPUT
        briefs.append(brief)
        whole = plan(brief)
        hung = hang(whole)
        if whole.verdict.stops or not isinstance(hung, HangPlan):
            print(f"Left out: {brief.job.job.id}: {whole.verdict.sentence}", file=sys.stderr)
            left_out += 1
        else:
            pieces += hung.pieces
    shop, units = shop_for(briefs[0].profile), units_of(briefs[0])
    plans, snags = cutting(pieces, shop, shop.offcuts, say_in(briefs[0]))
    print(cut_text(plans, snags, shelf_after(plans, shop.offcuts), shop, units))
    return STOPS if snags or left_out else FITS


def _readings(arguments: argparse.Namespace) -> int:
    from hangtrue.job.problems import any_wrong
    from hangtrue.measure import measure
    from hangtrue.paper import terminal

    brief, problems = _read(arguments)
    if brief is None:
        return BAD_INPUT
    opening = measure(brief)
    print(terminal.readings(brief, opening))
    if any_wrong(problems):
        return BAD_INPUT
    return STOPS if opening.agreement.alarm else FITS


def _diff(arguments: argparse.Namespace) -> int:
    from hangtrue.hang.placing import placed
    from hangtrue.job.problems import any_wrong
    from hangtrue.job.read import read_job
    from hangtrue.paper import terminal
    from hangtrue.paper.changes import changes, changes_text
    from hangtrue.plan import plan, prove

    plans = []
    for path in (arguments.old, arguments.new):
        brief, problems = read_job(path)
        if problems:
            print(f"{path}\n{terminal.problems(problems)}", end="", file=sys.stderr)
        if brief is not None and not any_wrong(problems):
            plans.append(placed(prove(placed(plan(brief.written_in(arguments.units))))))
    if len(plans) < 2:  # noqa: PLR2004 -- an old one and a new one
        return BAD_INPUT
    print(changes_text(*plans))
    return DIFFERS if changes(*plans) else SAME


def _asbuilt(arguments: argparse.Namespace) -> int:
    from hangtrue.hang.adjustments import cure
    from hangtrue.hang.asbuilt import asbuilt, next_gap
    from hangtrue.hang.asbuilt_document import read_asbuilt
    from hangtrue.hang.shop import shop_for
    from hangtrue.paper import terminal
    from hangtrue.paper.lengths import units_of
    from hangtrue.paper.on_the_day import asbuilt_text

    brief, enclosure = _hung(arguments)
    if brief is None or enclosure is None:
        return BAD_INPUT
    read = read_asbuilt(arguments.readings, enclosure, brief.job.job.id)
    print(terminal.problems(read.problems), end="", file=sys.stderr)
    if read.document is None:
        return BAD_INPUT
    found = asbuilt(enclosure, brief.profile, read.document)
    settled = cure(brief, enclosure, found, shop_for(brief.profile), read.document)
    print(asbuilt_text(found, settled, next_gap(enclosure, found), units_of(brief)))
    return FITS if settled.settles and not found.stand_out else STOPS


def _diagnose(arguments: argparse.Namespace) -> int:
    from hangtrue.hang.diagnosis import diagnose
    from hangtrue.hang.diagnosis_document import read_visit
    from hangtrue.paper import terminal
    from hangtrue.paper.on_the_day import diagnosis_text

    brief, enclosure = _hung(arguments)
    if brief is None or enclosure is None:
        return BAD_INPUT
    visit = read_visit(arguments.visit, enclosure, brief.job.job.id)
    print(terminal.problems(visit.problems), end="", file=sys.stderr)
    if not visit.ready:
        return BAD_INPUT
    print(diagnosis_text(diagnose(enclosure, visit.symptoms, visit.results)))
    return FITS


def _hung(arguments: argparse.Namespace) -> tuple[Brief | None, Enclosure | None]:
    """Return the job and what was hung for it; say what is wrong where there is nothing."""
    from hangtrue.fit.enclosure import Enclosure
    from hangtrue.hang.placing import placed
    from hangtrue.job.problems import any_wrong
    from hangtrue.plan import plan

    brief, problems = _read(arguments)
    if brief is None or any_wrong(problems):
        return None, None
    made = placed(plan(brief)).best.alternative.made
    if not isinstance(made, Enclosure):
        print(f"hangtrue: nothing was hung by this job: {made.why}", file=sys.stderr)
        return brief, None
    return brief, made


def _compare(arguments: argparse.Namespace) -> int:
    from hangtrue.compare import compare
    from hangtrue.compare.shelf import boxed_sets_beside
    from hangtrue.fit.enclosure import Enclosure
    from hangtrue.job.problems import any_wrong
    from hangtrue.odds import odds
    from hangtrue.odds.cures import after_cures
    from hangtrue.odds.next_reading import advise
    from hangtrue.paper.terminal_compare import comparison_text, odds_text, write_drawings

    brief, problems = _read(arguments)
    if brief is None or any_wrong(problems):
        return BAD_INPUT
    found = compare(brief, boxed_sets_beside(arguments.job))
    text = comparison_text(found)
    if found.best and isinstance(made := found.best[0].judged.alternative.made, Enclosure):
        best = found.best[0].brief
        chance = odds(best, found.opening, made)
        cures = after_cures(best, found.opening, made, chance.remake)
        advice = advise(best, found.opening, made, chance)
        text = f"{text}\n\n{odds_text(best, chance, cures, advice)}"
    print(text)
    if arguments.out:
        files = write_drawings(found, arguments.out)
        print(f"{len(files)} files in {arguments.out}", file=sys.stderr)
    return STOPS if not found.best or found.best[0].judged.verdict.stops else FITS


def _learn(arguments: argparse.Namespace) -> int:
    from hangtrue.job.library import shipped_instruments, shipped_profiles
    from hangtrue.odds.history import read_history
    from hangtrue.odds.learn import as_profile, learn
    from hangtrue.paper import terminal
    from hangtrue.paper.terminal_compare import changed_text, learned_text

    history, problems = read_history(arguments.history)
    print(terminal.problems(problems), end="", file=sys.stderr)
    profile = shipped_profiles().get(arguments.shop)
    if profile is None:
        print(f"hangtrue: there is no shipped profile {arguments.shop!r}", file=sys.stderr)
    if history is None or profile is None:
        return BAD_INPUT
    found = learn(history, profile, shipped_instruments())
    print(learned_text(found))
    if arguments.profile:
        text = as_profile(found, profile, arguments.profile.stem)
        with arguments.profile.open("x", encoding="utf-8") as file:
            file.write(text)
        print(changed_text(found, profile, arguments.profile.name), file=sys.stderr)
    return FITS


def _new(arguments: argparse.Namespace) -> int:
    from hangtrue.job.blank import blank_job

    text = blank_job(arguments.units)
    if arguments.job is None:
        print(text, end="")
        return FITS
    with arguments.job.open("x", encoding="utf-8") as file:
        file.write(text)
    print(f"Written: {arguments.job}. Fill it in, then: hangtrue plan {arguments.job} --out out")
    return FITS


def _schema(arguments: argparse.Namespace) -> int:
    import json

    from hangtrue.hang.asbuilt_document import asbuilt_schema
    from hangtrue.hang.diagnosis_document import visit_schema
    from hangtrue.job.blank import boxed_set_schema, job_schema, profile_schema
    from hangtrue.paper.plan_json import plan_schema

    make = {
        "job": job_schema,
        "plan": plan_schema,
        "boxed-set": boxed_set_schema,
        "profile": profile_schema,
        "asbuilt": asbuilt_schema,
        "visit": visit_schema,
    }[arguments.document]
    print(json.dumps(make(), indent=2))
    return FITS
