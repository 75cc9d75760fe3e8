"""Write the pages that come out of the program itself, or check that they are fresh: `make docs`.

The words of rules, sources, job documents and commands stand in the code that uses them. What is
read in docs/ is made from there, so that the two cannot differ.
"""

import argparse
import difflib
import importlib
import sys
from pathlib import Path

ROOT = Path(__file__).parent.parent

PAGES = {
    "docs/rules.md": "hangtrue.paper.pages:rules_page",
    "docs/sources.md": "hangtrue.paper.pages:sources_page",
    "docs/job-document.md": "hangtrue.paper.pages:job_document_page",
    "docs/shop-profile.md": "hangtrue.paper.pages:shop_profile_page",
    "docs/cli.md": "hangtrue.paper.pages:cli_page",
    "docs/schema/job.json": "hangtrue.paper.pages:job_schema",
    "docs/schema/plan.json": "hangtrue.paper.pages:plan_schema",
    "docs/schema/boxed-set.json": "hangtrue.paper.pages:boxed_set_schema",
    "docs/schema/profile.json": "hangtrue.paper.pages:profile_schema",
    "docs/schema/asbuilt.json": "hangtrue.paper.pages:asbuilt_schema",
    "docs/schema/visit.json": "hangtrue.paper.pages:visit_schema",
    "docs/pictures/gull-elevation.svg": "readme:picture",
    "README.md": "readme:page",
}


def main(arguments: list[str] | None = None) -> int:
    """Write the pages, or with --check say which of them is not what the program would write."""
    parser = argparse.ArgumentParser(description="Write the generated pages of docs/.")
    parser.add_argument("--check", action="store_true", help="write nothing, fail on a stale page")
    check = parser.parse_args(arguments).check
    stale = [path for path in PAGES if not fresh(path)]
    for path in stale:
        if check:
            print(f"{path} is stale; run `make docs`\n{difference(path)}", file=sys.stderr)
        else:
            write(path)
            print(f"wrote {path}")
    if not stale:
        print(f"{len(PAGES)} generated pages are fresh")
    return 1 if check and stale else 0


def made(path: str) -> str:
    """Make one page from the program."""
    module, function = PAGES[path].split(":")
    page = getattr(importlib.import_module(module), function)()
    return f"{str(page).rstrip()}\n"


def written(path: str) -> str:
    """Read the page that lies in docs/, empty if there is none."""
    file = ROOT / path
    return file.read_text("utf-8") if file.exists() else ""


def fresh(path: str) -> bool:
    """Tell whether the page says what the program would write."""
    return made(path) == written(path)


def write(path: str) -> None:
    """Write one page."""
    file = ROOT / path
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text(made(path), "utf-8")


def difference(path: str) -> str:
    """Show the first lines of what has changed."""
    lines = difflib.unified_diff(
        written(path).splitlines(), made(path).splitlines(), "written", "made", lineterm="", n=0
    )
    return "\n".join(list(lines)[:12])


if __name__ == "__main__":
    sys.exit(main())
