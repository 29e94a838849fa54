"""A session of text: ids, what is kept, and the log it leaves."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest

from voicelog.config.settings import Settings, load_settings
from voicelog.domain.heard import Heard
from voicelog.domain.sound import Clip
from voicelog.errors import InputFault
from voicelog.journal.reading import read_log, verify
from voicelog.recognise.typed_engine import TypedEar
from voicelog.runtime.event import Timing
from voicelog.runtime.going_on import earlier_log
from voicelog.runtime.logs import open_log
from voicelog.runtime.opening import open_again, open_reading, parse_moment, readable


@pytest.fixture
def settings(tmp_path: Path) -> Settings:
    """The shipped settings, logs beside the test."""
    no_settings = tmp_path / "settings.toml"
    no_settings.touch()
    return load_settings({"into": tmp_path / "logs"}, user_file=no_settings, environ={})


def test_a_log_folds_to_what_the_session_said(settings: Settings) -> None:
    """The same entries and verdict come from the log as from the running session."""
    with open_reading(settings, keep=True) as session:
        session.read("left sill, surface rust", at_s=0)
        session.read("scraper went through it", at_s=3)
        told = session.inspection()
        session.close("end of text")
    (folder,) = settings.into.iterdir()
    assert verify(folder).ok
    assert open_log(folder).inspection == told


def test_stand_by_leaves_no_word_in_the_log(settings: Settings) -> None:
    """What is said between *stand by* and the resume phrase is nowhere on the disk."""
    with open_reading(settings, keep=True) as session:
        for number, text in enumerate(["stand by", "tow hitch has a hole", "logbook go ahead"]):
            session.read(text, at_s=float(number))
    (folder,) = settings.into.iterdir()
    assert "hitch" not in (folder / "journal.jsonl").read_text("utf-8")
    spoken = [f.body["utterance"] for f in read_log(folder).facts if f.type == "utterance"]
    assert spoken == ["u2", "u3"]


def test_reading_keeps_nothing_unless_asked(settings: Settings) -> None:
    """No folder appears."""
    with open_reading(settings, keep=False) as session:
        session.read("left sill, surface rust", at_s=0)
        session.close("end of text")
    assert not settings.into.exists()


def test_finish_is_noticed(settings: Settings) -> None:
    """Only the utterance that asks for the end."""
    with open_reading(settings, keep=False) as session:
        assert not session.read("left sill, surface rust", at_s=0).turn.finished
        assert session.read("finish inspection", at_s=3).turn.finished


def test_a_session_without_an_ear_cannot_hear(settings: Settings) -> None:
    """A mistake of the caller, not of a person."""
    with open_reading(settings, keep=False) as session, pytest.raises(ValueError, match="ear"):
        session.hear(Clip(bytes(3200), 0.0, 0.1))


def test_the_total_is_the_sum_of_the_parts() -> None:
    """In seconds."""
    assert Timing(0.25, 0.5, 0.125).total_s == 0.875


def test_a_moment_keeps_its_offset() -> None:
    """One hour east of Greenwich."""
    moment = parse_moment("2026-03-14T09:05:30+01:00")
    assert moment.astimezone(UTC) == datetime(2026, 3, 14, 8, 5, 30, tzinfo=UTC)


def test_no_moment_is_an_input_fault() -> None:
    """The hint shows how to write one."""
    with pytest.raises(InputFault, match="2026-03-14"):
        parse_moment("yesterday")


def test_a_missing_recording_is_refused(tmp_path: Path) -> None:
    """Standard input needs no file; a folder is none."""
    readable((Path("-"),))
    with pytest.raises(InputFault, match="is a folder"):
        readable((tmp_path,))
    with pytest.raises(InputFault, match="nowhere"):
        readable((tmp_path / "nowhere.wav",))


@pytest.mark.parametrize(
    ("said", "kept"),
    [
        ("the owner owes me money, logbook, go ahead", "logbook, go ahead"),
        ("Logbook, go ahead. Left sill, scale.", "Logbook, go ahead. Left sill, scale."),
    ],
)
def test_what_was_said_before_the_resume_phrase_is_not_kept(
    settings: Settings, said: str, kept: str
) -> None:
    """Neither in the words, nor as a remark; what comes after it counts."""
    with open_reading(settings, keep=True) as session:
        session.read("stand by", at_s=0)
        event = session.read(said, at_s=3)
        assert event.heard.text == kept
        assert [f.entry.kind for f in event.findings] == (["finding"] if "scale" in said else [])
    (folder,) = settings.into.iterdir()
    assert "money" not in (folder / "journal.jsonl").read_text("utf-8")


def test_the_sound_before_the_resume_phrase_is_not_kept(settings: Settings) -> None:
    """A clip that holds more than it is not written at all."""
    with open_reading(settings, keep=True) as session:
        session.ear = TypedEar()
        session.read("stand by", at_s=0)
        clip = Clip(bytes(3200), 1.0, 1.1)
        session.hear(clip, heard=Heard.typed("private matters, logbook, go ahead"))
        session.read("stand by", at_s=5)
        session.hear(clip, heard=Heard.typed("logbook, go ahead"))
    (folder,) = settings.into.iterdir()
    clips = ["clip" in f.body for f in read_log(folder).facts if f.type == "utterance"]
    assert clips == [False, False, False, True]
    assert len(list((folder / "clips").iterdir())) == 1


def test_what_a_crash_left_is_told_when_the_log_is_gone_on_with(settings: Settings) -> None:
    """A torn line is set aside, and whoever goes on hears of it."""
    with open_reading(settings, keep=True) as session:
        session.read("left sill, surface rust", at_s=0)
        assert session.told_of_log == ()
    (folder,) = settings.into.iterdir()
    with (folder / "journal.jsonl").open("ab") as file:
        file.write(b'{"seq":3,')
    with open_again(earlier_log(folder, settings), TypedEar()) as session:
        assert session.told_of_log[0].startswith("Line 3 is torn after 9 bytes")
