"""What the font cannot show is seen before it is printed."""

from __future__ import annotations

from hangtrue.paper import coverage

OURS = "½ ″ ± × · – − ° ² “ ” … Ø µ é ß ł Ж"


def test_what_we_write_ourselves_is_in_the_font() -> None:
    assert coverage.missing(OURS) == ()


def test_a_letter_the_font_lacks_becomes_a_question_mark() -> None:
    assert coverage.printable("Mr \u5c71\u7530") == "Mr ??"
    assert coverage.missing("\u5c71 \u5c71") == ("\u5c71",)


def test_a_control_character_does_not_reach_the_page() -> None:
    assert coverage.printable("a\x07b") == "a?b"
