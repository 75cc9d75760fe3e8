"""Sentences that know what they were made from, so that a sheet can say them in its own language.

A `Phrase` is a text: its value is English, and whoever only prints it need not know more. It keeps
its template and its parts as well. `told` says it again from a catalog of another language, its
parts first. A text that is no phrase is looked up as it stands.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Protocol, Self

__all__ = ["Catalog", "Phrase", "as_typed", "join", "many", "phrase", "reshaped", "told"]


class Catalog(Protocol):
    """What a language knows, as the catalogs of gettext do."""

    def gettext(self, message: str, /) -> str:
        """Return the message in this language, or as it is."""

    def ngettext(self, one: str, more: str, count: int, /) -> str:
        """Return the form of a message that goes with a count."""


class Phrase(str):
    """A text in English with the template and the parts that it was made from.

    Attributes
    ----------
    template
        As `str.format` takes it; the message of the catalogs.
    parts
        What fills the template: phrases, other texts, numbers.
    more, number
        The template for more than one, and how many there are; None without a count.
    change
        What is done to the finished text, such as a capital at its beginning.

    """

    __slots__ = ("change", "more", "number", "parts", "template")

    template: str
    parts: Mapping[str, object]
    more: str
    number: int | None
    change: Callable[[str], str] | None

    @classmethod
    def made(
        cls,
        template: str,
        parts: Mapping[str, object],
        *,
        more: str = "",
        number: int | None = None,
        change: Callable[[str], str] | None = None,
    ) -> Self:
        """Fill a template."""
        form = template if number is None or number == 1 else more
        text = form.format_map(parts)
        made = cls(change(text) if change else text)
        made.template, made.parts = template, parts
        made.more, made.number, made.change = more, number, change
        return made

    def __add__(self, other: str) -> Phrase:
        """Put a text behind it."""
        return join("", (self, other))

    def __radd__(self, other: str) -> Phrase:
        """Put a text before it."""
        return join("", (other, self))

    def told(self, catalog: Catalog) -> str:
        """Say it from a catalog."""
        form = self.template and self._form(catalog)
        parts = {k: told(p, catalog) if isinstance(p, str) else p for k, p in self.parts.items()}
        text = form.format_map(parts)
        return self.change(text) if self.change else text

    def _form(self, catalog: Catalog) -> str:
        if self.number is None:
            return catalog.gettext(self.template)
        return catalog.ngettext(self.template, self.more, self.number)


def phrase(template: str, /, **parts: object) -> Phrase:
    """Fill a template that can be said in other languages.

    Examples
    --------
    >>> phrase("{pane} opens {way}", pane="door", way="outward")
    'door opens outward'

    """
    return Phrase.made(template, parts)


def many(count: int, one: str, more: str, /, **parts: object) -> Phrase:
    """Fill the template for one or for more; `{n}` is the count.

    Examples
    --------
    >>> many(1, "{n} hole", "{n} holes"), many(2, "{n} hole", "{n} holes")
    ('1 hole', '2 holes')

    """
    return Phrase.made(one, {"n": count, **parts}, more=more, number=count)


def join(separator: str, texts: Iterable[str]) -> Phrase:
    """Set texts one behind the other, each of which can be said in other languages.

    Examples
    --------
    >>> join(", ", ("door", "fixed pane"))
    'door, fixed pane'

    """
    parts = {f"_{n}": text for n, text in enumerate(texts)}
    between = separator.replace("{", "{{").replace("}", "}}")
    return Phrase.made(between.join(f"{{{name}}}" for name in parts), parts)


def reshaped(text: str, change: Callable[[str], str]) -> Phrase:
    """Change a text in the same way whichever language it is said in.

    Examples
    --------
    >>> reshaped(phrase("the {pane}", pane="door"), str.upper)
    'THE DOOR'

    """
    return Phrase.made("{it}", {"it": text}, change=change)


class _Typed:
    """Keeps a text away from the catalogs."""

    def __init__(self, text: str) -> None:
        self.text = text

    def __str__(self) -> str:
        return self.text


def as_typed(text: str) -> Phrase:
    """Return a text that stays as it is in every language: an id, a name that somebody typed.

    Examples
    --------
    >>> as_typed("blocking")
    'blocking'

    """
    return Phrase.made("{it}", {"it": _Typed(text)})


def told(text: str, catalog: Catalog) -> str:
    """Say a text from a catalog: phrases from their parts, any other text as it stands there."""
    if isinstance(text, Phrase):
        return text.told(catalog)
    return catalog.gettext(text) if text else text
