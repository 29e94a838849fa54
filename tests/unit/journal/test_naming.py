"""Names that every file system takes."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, timezone
from itertools import islice
from pathlib import Path

import pytest

from voicelog.journal.naming import (
    folder_names,
    free,
    is_given,
    lies_inside,
    opened_by_name,
    safe,
    utterance_number,
)


def test_a_folder_is_named_after_time_and_subject() -> None:
    """Time in UTC whatever the zone, numbers from 2 when the name is taken."""
    moment = datetime(2026, 3, 14, 1, 2, 3, tzinfo=timezone(timedelta(hours=2)))
    assert list(islice(folder_names(moment, "Utility pickup"), 3)) == [
        "20260313T230203Z-utility-pickup",
        "20260313T230203Z-utility-pickup-2",
        "20260313T230203Z-utility-pickup-3",
    ]


@pytest.mark.parametrize("subject", ["", " ", "../..", "///", "\x00", "…"])
def test_a_subject_of_no_letters_is_left_out(subject: str) -> None:
    """Nothing but the time remains."""
    moment = datetime(2026, 3, 14, tzinfo=UTC)
    assert next(folder_names(moment, subject)) == "20260314T000000Z"


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("../../etc/passwd", "etc-passwd"),
        ("C:\\Windows\\nul", "c-windows-nul"),
        ("a\x00b\x1b[31mc\nd", "a-b-31mc-d"),
        ("left\u202etxt.exe", "left-txt-exe"),
        ("\udcff bad bytes", "bad-bytes"),
        ("trailing dot. ", "trailing-dot"),
        ('<a>|b?*"c', "a-b-c"),
        ("／etc", "etc"),
        ("Ｔｒｕｃｋ", "truck"),
        ("Ka\u0308fer", "k\u00e4fer"),
        ("Kältetransporter", "kältetransporter"),
        ("пикап 2", "пикап-2"),
        ("ट्रक", "ट्रक"),
        ("~user/$HOME;rm -rf", "user-home-rm-rf"),
    ],
)
def test_hostile_words_become_plain_ones(text: str, name: str) -> None:
    """Letters and digits of any script stay; everything else is a hyphen."""
    assert safe(text) == name


@pytest.mark.parametrize("letter", ["x", "ü", "錆", "🚗x"])
def test_a_long_subject_is_cut_between_characters(letter: str) -> None:
    """The name fits file systems that count bytes."""
    name = safe(letter * 500)
    assert 50 <= len(name.encode()) <= 60
    assert not name.endswith("-")


def test_free_is_the_first_number_not_taken(tmp_path: Path) -> None:
    """Counting from 1."""
    assert free(tmp_path, "torn-") == tmp_path / "torn-1"
    (tmp_path / "u7.orphan-1.flac").touch()
    assert free(tmp_path, "u7.orphan-", ".flac") == tmp_path / "u7.orphan-2.flac"


def test_utterance_numbers() -> None:
    """Only ``u`` and a number from 1, in plain digits."""
    assert utterance_number("u17") == 17
    others = ("u0", "u07", "u", "7", "u1\n", "u１", "../u1", "", None, 7, ["u7"])
    assert [utterance_number(other) for other in others] == [None] * len(others)


@pytest.mark.parametrize("name", ["a", "words/places.toml", "overlays/my words.toml", "ü/x"])
def test_plain_relative_names_lie_inside(name: str) -> None:
    """Blanks and letters of any script are fine."""
    assert lies_inside(name)


@pytest.mark.parametrize(
    "name",
    ["", "/a", "a//b", "a/", "..", "a/../b", "./a", "a\\b", "C:a", "a\x00", "a\nb", "a?", None, 7],
)
def test_names_that_lead_elsewhere_do_not(name: object) -> None:
    """Absolute, upward, of another system, or not printable."""
    assert not lies_inside(name)


@pytest.mark.parametrize(
    ("within", "name", "given"),
    [("clips", "u7.flac", True), ("clips", "u7.orphan-2.flac", True), ("clips", "u7.flac.part", True),
     ("clips", "mine.flac", False), ("clips", "u7.flac.txt", False), ("photos", "p7.jpg", True),
     ("photos", "p7.orphan-1.png", True), ("photos", "holiday.jpg", False), ("", "journal.jsonl", True),
     ("", "journal.torn-3", True), ("", "journal.jsonl.bak", False), ("", ".voicelog-notes", False)],
)  # fmt: skip
def test_names_that_the_program_gives(within: str, name: str, given: bool) -> None:
    """Only these are its own to take away."""
    assert is_given(name, within) is given


def test_sixty_bytes_of_a_subject_are_kept() -> None:
    """With time and number that fits every system; half a letter is none."""
    assert safe("x" * 61) == "x" * 60
    assert safe("x" + "ü" * 30) == "x" + "ü" * 29


@pytest.mark.parametrize("subject", ["", "pickup"])
def test_a_name_tells_when_its_log_was_opened(subject: str) -> None:
    """To the second; a name that somebody else gave tells nothing."""
    moment = datetime(2026, 3, 14, 9, 5, 30, tzinfo=UTC)
    assert opened_by_name(next(folder_names(moment, subject))) == moment.timestamp()
    assert opened_by_name("pickup") is None
