"""Glass is ordered to the hardware maker's own data, not to a generic family."""

from __future__ import annotations

from collections.abc import Iterable

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.check.rule import rule
from hangtrue.check.wording import lowered
from hangtrue.phrase import join, phrase


@rule(
    id="hardware-data",
    title="The hardware data are the maker's own",
    why="Gaps and cut-outs differ from hinge to hinge. The family that comes with this program is "
    "invented; glass cut to it will not fit what is bought.",
)
def hardware_data(case: Case) -> Iterable[Finding]:
    """Name every fitting used whose data came with the program."""
    own = {item.id for item in case.job.items}
    shipped = [lowered(item.title) for item in case.fittings if item.id not in own]
    if shipped:
        yield Finding(
            level=Level.NOTE,
            where="hardware",
            found=phrase("Generic data were used for: {fittings}.", fittings=join("; ", shipped)),
            means="They show whether it can be done; no glass may be ordered from them.",
            do="Enter the data of what will be bought, from its maker's drawing, and plan again.",
        )
    else:
        yield Finding(
            level=Level.PASS,
            where="hardware",
            found="The data of every fitting were entered with the job.",
        )
