"""The work packet as a folder: PDF to work by, templates at true size, lists, calendar."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory

from hangtrue.paper import calendar
from hangtrue.paper.dxf import write_dxf
from hangtrue.paper.language import all_told, language_of, speaking
from hangtrue.paper.packet import exchange, file_stem, refuse_foreign
from hangtrue.paper.pdf import pdf, sheets_pdf
from hangtrue.paper.sheets_xlsx import comma_text, workbook
from hangtrue.paper.template_pages import plotter_sheets, slug, template_sheet, template_sheets
from hangtrue.paper.work_lists import lists
from hangtrue.paper.work_pages import work_document
from hangtrue.paper.work_set import WorkSet, work_set
from hangtrue.phrase import phrase
from hangtrue.plan import Plan

OURS = ("templates", "lists")
"""Folders inside a work packet."""
ENDINGS = ("-work.pdf", "-templates.pdf", "-lists.xlsx", "-visits.ics")


def write_work(plan: Plan, out: Path, first: date | None = None) -> tuple[Path, ...]:
    """Write the work packet into the folder `out`; return its files in the order of their names.

    Raises
    ------
    FileExistsError
        If `out` is a file, or a folder that holds something other than a work packet.

    """
    refuse_foreign(out, OURS, ENDINGS)
    out.parent.mkdir(parents=True, exist_ok=True)
    with TemporaryDirectory(prefix=f".{out.name}-", dir=out.parent) as aside:
        fresh = Path(aside) / "new"
        for name, content in contents(plan, first).items():
            path = fresh / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(content)
        exchange(fresh, out, Path(aside) / "old")
    return tuple(sorted(path for path in out.rglob("*") if path.is_file()))


def contents(plan: Plan, first: date | None = None) -> dict[str, bytes]:
    """Return every file of the work packet by its path inside the folder.

    Parameters
    ----------
    first
        First day of the work; without it there is no calendar.

    """
    found = work_set(plan, first)
    stem = file_stem(plan)
    profile = plan.brief.profile
    with speaking(language_of(profile, "lists")):
        listed = all_told(lists(found))
    head = plan.brief.job.job
    whose = phrase("{job}, version {version}", job=head.id, version=head.version)
    files = {
        f"{stem}-work.pdf": pdf(work_document(found, dated=first is not None)),
        f"{stem}-lists.xlsx": workbook(listed, whose),
    }
    files |= {f"lists/{stem}-{slug(one.name)}.csv": comma_text(one) for one in listed}
    return files | _to_work_by(found, stem, whose, first)


def _to_work_by(found: WorkSet, stem: str, whose: str, first: date | None) -> dict[str, bytes]:
    """Templates and calendar, where there is something to hang."""
    hanging = found.hanging
    if hanging is None:
        return {}
    profile, templates = found.plan.brief.profile, hanging.hung.templates
    files: dict[str, bytes] = {}
    if templates:
        with speaking(language_of(profile, "templates")):
            sheets = (
                plotter_sheets(templates, found.units, whose)
                if profile.templates == "plotter"
                else template_sheets(templates, profile.paper, found.units, whose)
            )
        files[f"{stem}-templates.pdf"] = sheets_pdf(sheets, f"Templates, {whose}")
    whole = (template_sheet(t) for t in templates)
    files |= {f"templates/{stem}-{s.name}.dxf": write_dxf(s).encode() for s in whole}
    if first is not None:
        with speaking(language_of(profile, "visits")):
            files[f"{stem}-visits.ics"] = calendar.visits(found, hanging, first)
    return files
