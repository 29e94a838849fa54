"""Text from outside is shown, but steers nothing."""

from __future__ import annotations

import pytest

from voicelog.domain.inert import inert


@pytest.mark.parametrize("text", ["hole, 25 mm", "größe", "[bold]x[/]", "日本"])
def test_what_can_be_read_stays_as_it_is(text: str) -> None:
    """Markup is text like any other."""
    assert inert(text) == text


@pytest.mark.parametrize("mark", ["\x1b", "\x07", "\n", "\t", "\u202e", "\u200f", "\x9b"])
def test_control_and_direction_marks_become_question_marks(mark: str) -> None:
    """Escapes, bells, line breaks, right-to-left overrides."""
    assert inert(f"a{mark}b") == "a?b"


def test_only_so_much_is_looked_at() -> None:
    """What is cut off costs nothing, and one sees that something is missing."""
    assert inert("abcdef", 4) == "abc…"
    assert inert("abcd", 4) == "abcd"
    assert len(inert("\x00" * 50_000_000, 100)) == 100
