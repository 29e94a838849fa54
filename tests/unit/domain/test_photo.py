"""Pictures as a log's lines tell of them."""

from __future__ import annotations

from typing import Any

import pytest

from voicelog.domain.fact import Fact
from voicelog.domain.photo import Photo, body_of, photo_of, photos_of, times_shown
from voicelog.errors import LogFault

SHA = "a" * 64
BODY = {"file": "photos/p4.jpg", "sha256": SHA, "original": "IMG_1.jpg"}


def _fact(seq: int = 4, type_: str = "photo", **body: Any) -> Fact:
    return Fact(seq, "2026-03-14T09:05:30.250Z", 1.0, "0" * 64, type_, {**BODY, **body})


def test_a_line_says_all_of_a_picture() -> None:
    """What is written is what is read again, whatever the picture knows."""
    photo = Photo(
        4, "photos/p4.jpg", SHA, "left \x1b[2J.jpg", ("e2.1", "e3.1"),
        "2026-03-14T10:05:30+01:00", 0.9, ("taken 4 s after",), "stripped", "Sam", "b" * 64,
    )  # fmt: skip
    assert photo_of(_fact(**body_of(photo))) == photo
    assert photo.name == "p4"


def test_what_a_line_leaves_out_is_not_known() -> None:
    """Only the file, its hash and its old name are needed."""
    assert photo_of(_fact()) == Photo(4, "photos/p4.jpg", SHA, "IMG_1.jpg")


def test_a_later_line_about_the_same_file_holds() -> None:
    """Matching anew moves the picture, keeps its rank, and forgets no other."""
    other = {"file": "photos/p5.jpg", "sha256": "b" * 64}
    again = _fact(6, entries=["e9.1"])
    first, second = photos_of([_fact(4, entries=["e2.1"]), _fact(5, **other), again])
    assert (first.seq, first.entries, first.name) == (6, ("e9.1",), "p4")
    assert second.file == "photos/p5.jpg"
    assert photos_of([_fact(type_="listened")]) == ()


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("file", "../p4.jpg"), ("file", "photos/p4/../../x"), ("file", "clips/u4.flac"), ("file", 4),
        ("sha256", "A" * 64), ("original", None), ("entries", "e2.1"), ("entries", [2]),
        ("confidence", 1.5), ("confidence", True), ("confidence", float("nan")),
        ("location", "sold"), ("by", 3), ("because", [None]), ("original_sha256", "x"),
    ],
)  # fmt: skip
def test_a_line_that_cannot_be_is_refused(key: str, value: Any) -> None:
    """The fault names the line and the key."""
    with pytest.raises(LogFault, match=rf"Line 4 .*'{key}'"):
        photos_of([_fact(**{key: value})])


def test_each_picture_counts_once_for_an_entry() -> None:
    """However often it names it."""
    photos = photos_of(
        [_fact(entries=["e2.1", "e2.1", "e3.1"]), _fact(5, sha256="b" * 64, entries=["e2.1"])]
    )
    assert times_shown(photos) == {"e2.1": 2, "e3.1": 1}
