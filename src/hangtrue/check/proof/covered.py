"""What a formula does not cover is not proved: it is said so, and never passed."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import wraps

from hangtrue.check.case import Case
from hangtrue.check.finding import Finding, Level
from hangtrue.mechanics.plate_model import PlateFault
from hangtrue.mechanics.ranges import OutOfRange
from hangtrue.phrase import phrase

Judge = Callable[[Case], Iterable[Finding]]


def covered(judge: Judge) -> Judge:
    """Let a rule say which quantity of this enclosure its formulas do not cover."""

    @wraps(judge)
    def asked(case: Case) -> Iterator[Finding]:
        try:
            yield from judge(case)
        except (OutOfRange, PlateFault) as error:
            yield Finding(
                level=Level.NOT_CHECKED,
                where="enclosure",
                found=phrase("Not proved, as no formula covers it: {error}.", error=error.words),
                do="Is that figure right? If so, let an engineer prove it.",
            )

    return asked
