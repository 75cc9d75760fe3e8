"""The brief: a job with everything it names looked up, ready for the road."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal, TypeVar

from hangtrue.job.document import Job
from hangtrue.job.hardware import BoxedSet, Item
from hangtrue.job.instruments import Instrument
from hangtrue.job.profile import Language, Profile

Kind = TypeVar("Kind", bound=Item)


@dataclass(frozen=True, slots=True, kw_only=True)
class Brief:
    """A job, the shop's habits, and the data of every instrument and fitting it names.

    Attributes
    ----------
    items, instruments
        By id; the shipped ones with the job's own on top.
    boxed_set
        The set named in the wishes, if any.

    """

    job: Job
    profile: Profile
    items: dict[str, Item]
    instruments: dict[str, Instrument]
    boxed_set: BoxedSet | None = None

    def item(self, item_id: str, kind: type[Kind]) -> Kind:
        """Return an item of a known kind; the reader has checked that it exists.

        Raises
        ------
        KeyError, TypeError
            On misuse: the id is not there, or is of another kind.

        """
        found = self.items[item_id]
        if not isinstance(found, kind):
            msg = f"{item_id} is a {found.kind}, not a {kind.__name__}"
            raise TypeError(msg)
        return found

    def written_in(
        self,
        units: Literal["in", "mm", "both"] | None,
        language: Language | None = None,
        templates: Literal["paper", "plotter"] | None = None,
    ) -> Brief:
        """Return the brief with other units, one language or other templates; None: as it is."""
        others: dict[str, object] = {}
        if units:
            others["units"] = units
        if language:
            others["languages"] = {"all": language}
        if templates:
            others["templates"] = templates
        return replace(self, profile=self.profile.model_copy(update=others)) if others else self
