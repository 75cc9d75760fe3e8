"""Sentences keep their parts, so that they can be said again in another language."""

import copy
import gettext
import pickle
from typing import ClassVar

import pytest

from hangtrue.phrase import Phrase, as_typed, join, many, phrase, reshaped, told


class Book(gettext.NullTranslations):
    """A small catalog."""

    KNOWN: ClassVar = {
        "the {pane} opens {way}": "{way} abre {pane}",
        "door": "puerta",
        "outward": "hacia afuera",
        "{n} hole": "{n} barreno",
        "{n} holes": "{n} barrenos",
    }

    def gettext(self, message: str) -> str:
        """Look a message up."""
        return self.KNOWN.get(message, message)

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        """Look a message with a count up."""
        return self.gettext(msgid1 if n == 1 else msgid2)


BOOK = Book()
OPENS = phrase("the {pane} opens {way}", pane="door", way="outward")


def test_a_phrase_is_its_english_text() -> None:
    """Whoever only prints it sees a text like any other."""
    assert OPENS == "the door opens outward"
    assert f"{OPENS}." == "the door opens outward."
    assert hash(OPENS) == hash("the door opens outward")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (OPENS, "hacia afuera abre puerta"),
        ("door", "puerta"),
        ("gull", "gull"),
        ("", ""),
        (join("", ()), ""),
        (join(" and {", (OPENS, "door")), "hacia afuera abre puerta and {puerta"),
        ("If " + OPENS, "If hacia afuera abre puerta"),
        (OPENS + "!", "hacia afuera abre puerta!"),
        (many(1, "{n} hole", "{n} holes"), "1 barreno"),
        (many(3, "{n} hole", "{n} holes"), "3 barrenos"),
        (as_typed("door"), "door"),
        (reshaped(OPENS, str.upper), "HACIA AFUERA ABRE PUERTA"),
        (phrase("{share:.0f} % of {what}", share=41.6, what="door"), "42 % of puerta"),
    ],
)
def test_a_text_is_said_from_its_parts(text: str, said: str) -> None:
    """Order of words, plurals and nested parts are those of the other language."""
    assert told(text, BOOK) == said


def test_a_phrase_survives_being_copied_and_sent() -> None:
    """Records are copied field by field, and sent between processes."""
    for same in (copy.deepcopy(OPENS), pickle.loads(pickle.dumps(OPENS))):  # noqa: S301
        assert isinstance(same, Phrase)
        assert told(same, BOOK) == told(OPENS, BOOK)
