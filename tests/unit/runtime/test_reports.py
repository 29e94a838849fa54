"""A log on the disk made into a report: everything about it is gathered, and nothing is written."""

from __future__ import annotations

import hashlib
import io
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import pytest
from PIL import Image
from reviewing import UNSAFE, at_the_bench, kept

from voicelog.errors import InputFault
from voicelog.export.html import report_html
from voicelog.runtime.reports import report_of

NOW = datetime(2026, 3, 14, 12, 0, tzinfo=UTC)
SAID = (UNSAFE, "left kick up, surface rust", "scraper went through it", "right sill, scale")


def _picture(shade: int = 90, size: tuple[int, int] = (2000, 1500)) -> bytes:
    file = io.BytesIO()
    Image.new("RGB", size, (shade, 40, 30)).save(file, "JPEG")
    return file.getvalue()


def _note_photo(folder: Path, name: str, entry: str, data: bytes = b"") -> None:
    """A line that tells of a picture, as ``voicelog photos`` writes it."""
    body = {
        "file": name, "sha256": hashlib.sha256(data).hexdigest(), "original": "IMG_1.jpg",
        "entries": [entry], "taken": "", "confidence": 1.0, "because": [], "location": "none", "by": "Sam",
    }  # fmt: skip
    with at_the_bench(folder) as review:
        review.note("photo", body)


def test_a_log_becomes_a_report(tmp_path: Path) -> None:
    """Findings, work, what is open and the hash of its last line, all from the disk."""
    folder = kept(tmp_path, *SAID)
    report = report_of(folder, now=NOW)
    assert report.headline == "Do not drive or tow"
    assert report.worst[0].place == "Left front rail"
    assert report.worst[0].rules[0].source == "49 CFR 393.201(a)"
    assert report.worst[0].steps
    assert report.work[0].number == 1
    assert report.unseen
    assert any(row.value.startswith("14 March 2026") for row in report.made)
    last = (folder / "journal.jsonl").read_bytes().rstrip(b"\n").rsplit(b"\n", 1)[-1]
    assert hashlib.sha256(last).hexdigest() in [row.value for row in report.chain]


def test_reading_a_report_writes_nothing(tmp_path: Path) -> None:
    """Every byte of the log stays as it was."""
    folder = kept(tmp_path, *SAID)
    before = {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    report_html(report_of(folder, now=NOW))
    assert {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()} == before


def test_what_happened_at_the_bench_is_told(tmp_path: Path) -> None:
    """Who corrected what, and why; what was said later is told as well."""
    folder = kept(tmp_path, *SAID)
    name = next(i.entry for i in report_of(folder, now=NOW).findings if i.place == "Right sill")
    with at_the_bench(folder) as review:
        review.correct(name, {"side": "left"}, why="heard again")
    findings = {item.place: item for item in report_of(folder, now=NOW).findings}
    assert findings["Left sill"].history == (
        "Sam corrected it: side: right → left. Why: heard again",
    )
    assert findings["Left sill"].inferred == ()
    assert findings["Left kick-up"].history[0].startswith("the inspector said more: ")


def test_pictures_are_shown_in_the_size_of_a_page(tmp_path: Path) -> None:
    """Matched to their finding, and no larger than a page needs."""
    folder = kept(tmp_path, *SAID)
    data = _picture()
    (folder / "photos").mkdir()
    (folder / "photos" / "p6.jpg").write_bytes(data)
    _note_photo(folder, "photos/p6.jpg", "e2.1", data)
    shown = report_of(folder, now=NOW).worst[0].pictures[0]
    with Image.open(io.BytesIO(shown.data)) as image:
        assert (image.format, image.size) == ("JPEG", (1100, 825))
    assert shown.alt == "Photograph of finding 1: Left front rail, crack"
    assert shown.caption == "Not dated; matched by Sam"


def _gone(_: Path) -> bytes:
    return b"never there"


def _damaged(file: Path) -> bytes:
    file.write_text("no picture")
    return file.read_bytes()


def _altered(file: Path) -> bytes:
    file.write_bytes(_picture(10))
    return _picture(20)


def _elsewhere(file: Path) -> bytes:
    (file.parents[2] / "outside.jpg").write_bytes(_picture())
    file.symlink_to(file.parents[2] / "outside.jpg")
    return _picture()


@pytest.mark.parametrize("made", [_gone, _damaged, _altered, _elsewhere])
def test_a_picture_that_cannot_be_shown_is_named_instead(
    tmp_path: Path, made: Callable[[Path], bytes]
) -> None:
    """Gone, damaged, not the one that was matched, or a link that leads out of the log."""
    folder = kept(tmp_path, *SAID)
    (folder / "photos").mkdir()
    _note_photo(folder, "photos/p6.jpg", "e2.1", made(folder / "photos" / "p6.jpg"))
    report = report_of(folder, now=NOW)
    assert report.worst[0].pictures == ()
    assert report.lacking[-1].startswith("1 picture that the log names cannot be shown")
    assert report.lacking[-1].endswith(": photos/p6.jpg")


def test_an_earlier_log_is_compared_with(tmp_path: Path) -> None:
    """What became of its findings stands in the report."""
    older = kept(tmp_path / "then", "left front rail, surface rust")
    newer = kept(tmp_path / "now", UNSAFE)
    report = report_of(newer, since=older, now=NOW)
    assert report.changes[0].change in ("worse", "appeared")
    assert report.compared[0].startswith("Compared with the inspection of ")


def test_public_rules_are_shown_for_the_regions_asked_for(tmp_path: Path) -> None:
    """None unless somebody asks."""
    folder = kept(tmp_path, UNSAFE)
    assert report_of(folder, now=NOW).pointers == ()
    pointers = report_of(folder, regions=("us",), now=NOW).pointers
    assert any("393.201" in row.label for row in pointers)
    assert all("Finding 1" in row.value for row in pointers)


def test_no_log_is_told_as_everywhere(tmp_path: Path) -> None:
    """The same fault as of any other command."""
    with pytest.raises(InputFault):
        report_of(tmp_path / "nowhere", now=NOW)


def test_a_log_opened_and_left_is_reported(tmp_path: Path) -> None:
    """Nothing was said: a page that says so."""
    report = report_of(kept(tmp_path), now=NOW)
    assert (report.headline, report.findings) == ("Not enough seen to say", ())


def test_a_signature_is_shown_with_what_it_covers(tmp_path: Path) -> None:
    """By the facts of the log, not of this program's memory."""
    folder = kept(tmp_path, UNSAFE)
    with at_the_bench(folder) as review:
        review.sign(why="sold today")
    signed = report_of(folder, now=NOW).signatures[0]
    lines = (folder / "journal.jsonl").read_bytes().splitlines(keepends=True)
    covered = b"".join(lines[: signed.lines])
    assert (signed.by, signed.why) == ("Sam", "sold today")
    assert signed.sha256 == hashlib.sha256(covered).hexdigest()
