"""Logs handed over as tables, and as sound with its words."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
import soundfile
import webvtt
from reviewing import at_the_bench, kept

from voicelog.config.settings import Settings
from voicelog.domain.heard import Heard, Hypothesis
from voicelog.domain.sound import SAMPLE_RATE, Clip
from voicelog.errors import InputFault, StorageFault, UsageFault
from voicelog.export.csv_file import BOM
from voicelog.journal.joined import SILENCE_S
from voicelog.recognise.port import Expected
from voicelog.runtime.exports import Wanted, export_file, export_spoken, exported, table_of
from voicelog.runtime.logs import open_log
from voicelog.runtime.opening import open_listening

SAID = (
    "left front rail, surface rust",
    "scraper went through it",
    "logbook stand by",
)
LENGTHS = (9_600, 8_001, 12_345)


class Scripted:
    """An ear that hears one text after another."""

    engine, model = "built-in", "scripted"

    def __init__(self, *texts: str) -> None:
        self.texts = list(texts)

    def expect(self, expected: Expected) -> None:
        """Whatever it is."""

    def feed(self, pcm: bytes) -> None:
        """Whatever it is."""

    def finish(self) -> Heard:
        """The next text."""
        return Heard((Hypothesis(self.texts.pop(0)),), self.engine, self.model)

    def close(self) -> None:
        """Nothing."""


def _clip(number: int, start_s: float) -> Clip:
    samples = np.random.default_rng(number).integers(-9000, 9000, LENGTHS[number], dtype=np.int16)
    return Clip(samples.tobytes(), start_s, start_s + 0.4)


@pytest.fixture
def walk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A log of two sentences heard, one typed, lost sound, and stand-by."""
    monkeypatch.setattr("voicelog.runtime.opening.open_the_ear", lambda *_: Scripted(*SAID))
    with open_listening(Settings(into=tmp_path / "logs")) as session:
        session.hear(_clip(0, 10.0))
        session.hear(_clip(1, 20.0))
        session.note("gap", {"lost_s": 2.5, "why": "the headset gave nothing"})
        session.read("right sill, hole", at_s=25.0)
        session.hear(_clip(2, 30.0))
        assert session.folder is not None
    return session.folder


def _read(path: Path) -> webvtt.WebVTT:
    return webvtt.read(path)


def test_cues_lie_where_their_clips_lie_in_the_joined_sound(walk: Path, tmp_path: Path) -> None:
    """The sound is the sum of its clips and the silences between; cues begin to the millisecond."""
    told = export_spoken(walk, tmp_path / "walk.vtt")
    assert (told.sound, told.missing) == (tmp_path / "walk.flac", ())
    silence = round(SILENCE_S * SAMPLE_RATE)
    assert soundfile.info(tmp_path / "walk.flac").frames == sum(LENGTHS) + 2 * silence
    starts = (0, LENGTHS[0] + silence, LENGTHS[0] + LENGTHS[1] + 2 * silence)
    captions = _read(tmp_path / "walk.vtt").captions
    for caption, start, count in zip(captions, starts, LENGTHS, strict=True):
        assert _ms(caption.start) == round(start / 16)
        assert _ms(caption.end) == pytest.approx((start + count) / 16, abs=1)


def _lines(caption: webvtt.Caption) -> list[str]:
    """The text without the voice's tags."""
    return list(caption.text.split("\n"))


def _ms(time: str) -> int:
    hours, minutes, seconds = time.split(":")
    return round((int(hours) * 3600 + int(minutes) * 60 + float(seconds)) * 1000)


def test_a_cue_says_what_was_heard_and_what_became_of_it(walk: Path, tmp_path: Path) -> None:
    """The entry as it stands now: the second sentence made it a hole."""
    export_spoken(walk, tmp_path / "walk.vtt")
    first, second, third = _read(tmp_path / "walk.vtt").captions
    assert [first.identifier, second.identifier] == ["u2", "u3"]
    assert first.voice == "Inspector"
    assert _lines(first)[0] == "left front rail, surface rust"
    assert _lines(first)[1].startswith("left front rail: hole, probe through (repair")
    assert _lines(second)[1] == _lines(first)[1]
    assert _lines(third) == ["logbook stand by"]


def test_what_cannot_be_heard_is_a_note(walk: Path, tmp_path: Path) -> None:
    """Lost sound, typed words with what they made, and stand-by, each at its place."""
    export_spoken(walk, tmp_path / "walk.vtt")
    text = (tmp_path / "walk.vtt").read_text(encoding="utf-8")
    notes = [block for block in text.split("\n\n") if block.startswith("NOTE")]
    assert "walk.flac" in notes[0]
    assert notes[1] == "NOTE\n2.5 s of sound lost here: the headset gave nothing"
    assert notes[2].startswith("NOTE\nu5, typed: right sill, hole\nright sill: hole (repair")
    assert notes[3].startswith("NOTE\nStand-by: from here neither sound nor words were kept")
    assert text.index("u3\n") < text.index("2.5 s of sound lost") < text.index("u6\n")


def test_erased_and_missing_sound_is_told_and_the_words_are_left(
    walk: Path, tmp_path: Path
) -> None:
    """Neither shifts the cues of the others."""
    with at_the_bench(walk) as review:
        review.note("clip-erased", {"utterance": "u2"})
    (walk / "clips" / "u3.flac").unlink()
    told = export_spoken(walk, tmp_path / "walk.vtt")
    [caption] = _read(tmp_path / "walk.vtt").captions
    assert (caption.identifier, caption.start) == ("u6", "00:00:00.000")
    assert [missing.partition(":")[0] for missing in told.missing] == ["u3"]
    text = (tmp_path / "walk.vtt").read_text(encoding="utf-8")
    erased = (
        r"NOTE\nu2, its sound was erased on \d{4}-\d\d-\d\d UTC: left front rail, surface rust\n"
    )
    assert re.search(erased, text)
    assert "NOTE\nu3, clips/u3.flac is not there" in text
    assert "scraper went through it" in text


def test_without_sound_the_times_are_the_clock_of_the_inspection(walk: Path) -> None:
    """They fit the recording that was heard."""
    text = exported(walk, Wanted("vtt")).decode()
    captions = webvtt.from_buffer(io.StringIO(text)).captions
    assert [caption.start for caption in captions] == [
        "00:00:10.000", "00:00:20.000", "00:00:30.000"
    ]  # fmt: skip
    assert "own clock" in text
    assert not list(walk.parent.parent.glob("*.flac"))


def test_a_log_of_typed_words_has_notes_only_and_no_sound(tmp_path: Path) -> None:
    """It says so."""
    folder = kept(tmp_path / "logs", "left sill, hole")
    told = export_spoken(folder, tmp_path / "walk.vtt")
    assert told.sound is None
    assert not _read(tmp_path / "walk.vtt").captions
    assert "No sound was kept" in (tmp_path / "walk.vtt").read_text(encoding="utf-8")
    assert not (tmp_path / "walk.flac").exists()


def test_what_was_withdrawn_since_says_so(tmp_path: Path) -> None:
    """The words stay, and so does what they made."""
    folder = kept(tmp_path / "logs", "left sill, hole")
    with at_the_bench(folder) as review:
        review.withdraw("e2.1", why="another vehicle")
    assert "left sill: hole (repair), withdrawn since" in exported(folder, Wanted("vtt")).decode()


def test_words_do_not_take_the_place_of_their_sound(walk: Path, tmp_path: Path) -> None:
    """walk.flac can be only one of the two."""
    with pytest.raises(UsageFault):
        export_spoken(walk, tmp_path / "walk.flac")


def test_progress_counts_clips(walk: Path, tmp_path: Path) -> None:
    """Done and total, so that a bar can be drawn."""
    told: list[tuple[int, int]] = []
    export_spoken(walk, tmp_path / "walk.vtt", lambda done, total: told.append((done, total)))
    assert told == [(1, 3), (2, 3), (3, 3)]


def test_the_table_has_places_in_words_and_the_work(tmp_path: Path) -> None:
    """Put together from the log's own map and rules."""
    folder = kept(
        tmp_path / "logs",
        "left kick up, hole, 3/16 inch",
        "right sill is clean",
        "nice weather",
    )
    rows = list(csv.DictReader(io.StringIO(table_of(open_log(folder)), newline="")))
    assert [row["kind"] for row in rows] == ["finding", "clear", "remark"]
    assert [row["place"] for row in rows] == ["left kick-up", "right sill", ""]
    assert rows[0]["said"].startswith("left kick up, hole, 3/16 inch")
    assert rows[0]["size_mm"] == "4.7625"
    assert rows[0]["work"].startswith("1. ")
    assert rows[1]["work"] == rows[2]["work"] == ""


def test_a_picture_stands_in_the_row_of_what_it_shows(tmp_path: Path) -> None:
    """Its name in the log's folder."""
    folder = kept(tmp_path / "logs", "left sill, hole", "right sill, hole")
    with at_the_bench(folder) as review:
        photo: dict[str, object] = {
            "file": "photos/p4.jpg",
            "sha256": "ab" * 32,
            "original": "dsc1.jpg",
        }
        photo |= {"location": "none", "confidence": 1.0}
        review.note("photo", {**photo, "entries": ["e3.1"], "by": "Sam"})
    rows = list(csv.DictReader(io.StringIO(table_of(open_log(folder)), newline="")))
    assert [row["photos"] for row in rows] == ["", "photos/p4.jpg"]


def test_a_table_in_a_file_has_the_mark_that_spreadsheets_need(tmp_path: Path) -> None:
    """And none for a program that reads a pipe."""
    folder = kept(tmp_path / "logs", "left sill, hole")
    export_file(folder, Wanted("csv"), tmp_path / "x.csv")
    assert (tmp_path / "x.csv").read_bytes() == BOM.encode() + exported(folder, Wanted("csv"))
    assert b"\r\n" in exported(folder, Wanted("csv"))


@pytest.mark.parametrize(
    "write", [export_file, lambda folder, _, target: export_spoken(folder, target)]
)
def test_a_missing_folder_is_one_clear_fault(
    walk: Path, tmp_path: Path, write: Callable[[Path, Wanted, Path], object]
) -> None:
    """And the log is as it was."""
    with pytest.raises(StorageFault, match="could not be written"):
        write(walk, Wanted("csv"), tmp_path / "none" / "walk.vtt")


def test_no_log_and_no_form_are_faults(tmp_path: Path) -> None:
    """Each says what is wrong."""
    with pytest.raises(InputFault):
        exported(tmp_path, Wanted("csv"))
    with pytest.raises(UsageFault, match="form"):
        exported(tmp_path, Wanted("docx"))
