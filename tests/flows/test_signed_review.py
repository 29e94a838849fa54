"""A log from the first word to the signature and beyond, held to the contract and to verify."""

from __future__ import annotations

import json
import struct
from collections.abc import Callable
from pathlib import Path

import pytest

from voicelog.config.settings import Settings, load_settings
from voicelog.domain.heard import Heard
from voicelog.domain.sound import Clip
from voicelog.errors import UsageFault
from voicelog.export.contract import faults
from voicelog.journal.reading import verify
from voicelog.runtime.logs import document_of, open_log
from voicelog.runtime.opening import open_reading
from voicelog.runtime.review import Review

SAID = (
    "left front rail, surface rust, scraped it, metal is firm",
    "right control arm mount, inside, hole, fifteen millimetres, goes through",
    "both front rails, surface rust",
    "left mid rail, scale",
    "the rail on the right is pitted",
)
CLIP = Clip(struct.pack("<800h", *range(800)), start_s=0.0, speech_end_s=0.04)

DEEDS: tuple[Callable[[Review], object], ...] = (
    lambda review: review.listened("e6.1"),
    lambda review: review.correct("e2.1", {"side": "right"}, why="he stood on the other side"),
    lambda review: review.split("e4.1"),
    lambda review: review.withdraw("e5.1"),
    lambda review: review.undo(),
    lambda review: review.redo(),
    lambda review: review.restore("e5.1"),
    lambda review: review.move(["e2.1", "e5.1"], {"zone": "rear-rail"}),
    lambda review: review.reread("e6.1", "right mid rail, pitting"),
    lambda review: review.reread("e6.1", Heard.typed("right mid rail, scale"), clip=CLIP),
    lambda review: review.add("photo, right control arm mount, inside"),
)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A log of five sentences."""
    no_settings = tmp_path / "settings.toml"
    no_settings.touch()
    settings = load_settings({"into": tmp_path / "logs"}, user_file=no_settings, environ={})
    with open_reading(settings, keep=True) as session:
        for at_s, text in enumerate(SAID):
            session.read(text, at_s=float(at_s))
        session.close("finished")
    (made,) = settings.into.iterdir()
    return made


def test_every_line_of_a_review_fits_the_contract(folder: Path) -> None:
    """Each deed, the undone ones too; and the log stays whole."""
    with Review.open(folder, Settings(), by="the shop") as review:
        for deed in DEEDS:
            deed(review)
    lines = [json.loads(line) for line in (folder / "journal.jsonl").read_bytes().splitlines()]
    assert [line["type"] for line in lines[-len(DEEDS) :]] == ["listened", *["revised"] * 10]
    assert [faults(line, "fact") for line in lines] == [()] * len(lines)
    report = verify(folder)
    assert (report.problems, report.clips, report.seal) == ((), 1, "")


def test_what_is_changed_after_signing_shows_everywhere(folder: Path) -> None:
    """In verify, in the document's header and at the entry; the inspection stays closed."""
    with Review.open(folder, Settings(), by="the shop") as review:
        with pytest.raises(UsageFault, match="still open"):
            review.sign()
        signature = review.sign(why="the buyer knows what was not seen")
    assert signature.open
    assert [notice[:18] for notice in verify(folder).notices] == ["Signed by the shop"]
    with Review.open(folder, Settings(), by="the shop") as review:
        review.correct("e5.1", {"side": "right"})
    report, document = verify(folder), document_of(open_log(folder))
    assert report.problems == ()
    assert report.notices[1] == f"1 change was made after signing (line {signature.seq + 1})"
    assert document["log"]["closed"] is True
    assert document["log"]["signatures"][0]["changed_after"] == [signature.seq + 1]
    assert [e["id"] for e in document["entries"] if e.get("after_signing")] == ["e5.1"]
    assert faults(document) == ()


def test_the_unsafe_hole_is_open_until_it_has_a_photo(folder: Path) -> None:
    """And only what is unresolved is told, by its place."""
    with Review.open(folder, Settings(), by="the shop") as review:
        points = {point.what: point for point in reversed(review.open_points())}
        told = points["unsafe-without-photo"].text
        assert told.startswith("Right control arm mount, inside: hole is unsafe")
        review.add("photo, right control arm mount, inside")
        assert "unsafe-without-photo" not in {point.what for point in review.open_points()}
