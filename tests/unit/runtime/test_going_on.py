"""Which log can be gone on with, and what holds in it."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta, tzinfo
from pathlib import Path

import pytest

from voicelog.config.settings import Settings
from voicelog.domain.reading import Speech
from voicelog.domain.zone import Rails
from voicelog.errors import InputFault, LogFault
from voicelog.runtime.going_on import as_then, earlier_log, log_meant, newest_log, newest_open
from voicelog.runtime.opening import open_again, open_reading
from voicelog.runtime.review import Review

RIGHT_HAND = Settings(rails=Rails.BOXED, speech=Speech(driver_side="right", mil="thou"))


def kept(folder: Path, *texts: str, reason: str = "") -> Path:
    """A log in which this was said; closed where a reason is given."""
    settings = replace(RIGHT_HAND, into=folder)
    with open_reading(settings, keep=True, subject="pickup 12") as session:
        for number, text in enumerate(texts):
            session.read(text, at_s=float(number))
        if reason:
            session.close(reason)
        assert session.folder is not None
        return session.folder


def test_the_vehicle_and_the_speaker_are_those_of_the_log(tmp_path: Path) -> None:
    """Not those of today's settings; where logs go and which ear hears is today's."""
    folder = kept(tmp_path, "left sill, surface rust")
    earlier = earlier_log(folder, Settings(into=tmp_path, ear="built-in"))
    assert earlier.subject == "pickup 12"
    assert earlier.settings.rails is Rails.BOXED
    assert (earlier.settings.speech.driver_side, earlier.settings.speech.mil) == ("right", "thou")
    assert earlier.settings.ear == "built-in"


def test_its_own_grammar_holds(tmp_path: Path) -> None:
    """A rule does not change half-way through an inspection."""
    folder = kept(tmp_path, "left sill, surface rust")
    earlier = earlier_log(folder, Settings())
    rules = folder / "grammar" / "rules" / "frame.toml"
    assert rules.read_bytes() == earlier.grammar.files["rules/frame.toml"]
    rules.write_bytes(rules.read_bytes() + b"\n# changed\n")
    with pytest.raises(LogFault, match="cannot be trusted"):
        earlier_log(folder, Settings())


def test_entries_go_on_with_new_ids_and_no_place(tmp_path: Path) -> None:
    """Another day, another position under the vehicle: the place has to be named anew."""
    from voicelog.recognise.typed_engine import TypedEar

    folder = kept(tmp_path, "left sill, surface rust")
    with open_again(earlier_log(folder, Settings()), TypedEar()) as session:
        first = session.read("scale", at_s=session.now_s())
        second = session.read("right sill, scale", at_s=session.now_s())
        assert first.findings[0].entry.unplaced
        assert len(session.inspection().live) == 3
        ids = [f.entry.id for f in session.inspection().findings]
        assert len(set(ids)) == 3
        assert second.findings[0].entry.slots["side"] == "right"


def test_a_finished_inspection_is_not_gone_on_with(tmp_path: Path) -> None:
    """What comes after the end belongs to a new one."""
    folder = kept(tmp_path, "left sill, surface rust", reason="finished")
    with pytest.raises(InputFault, match="was finished"):
        earlier_log(folder, Settings())


def test_what_is_finished_stays_so_when_it_was_corrected_and_signed(tmp_path: Path) -> None:
    """The bench adds lines behind the end; nothing may be said there all the same."""
    folder = kept(tmp_path, "left sill, surface rust", reason="finished")
    with Review.open(folder, Settings(), by="Sam") as review:
        review.correct("e2.1", {"side": "right"})
        review.sign(why="for the test")
    with pytest.raises(InputFault, match="was finished"):
        earlier_log(folder, Settings())
    with pytest.raises(InputFault, match="no inspection to go on with"):
        newest_open(tmp_path)


def test_what_was_corrected_half_way_is_gone_on_with_as_corrected(tmp_path: Path) -> None:
    """A word at the lift after a correction at the bench means the entry as it is now."""
    from voicelog.recognise.typed_engine import TypedEar

    folder = kept(tmp_path, "left sill, surface rust", "right cab mount, scale")
    with Review.open(folder, Settings(), by="Sam") as review:
        review.correct("e3.1", {"condition": "pitting"})
        review.withdraw("e2.1")
        review.undo()
    assert newest_open(tmp_path) == folder
    with open_again(earlier_log(folder, Settings()), TypedEar()) as session:
        session.read("correction, left side", at_s=session.now_s())
        [sill, mount] = session.inspection().live
    assert (sill.entry.slots["zone"], sill.withdrawn) == ("sill", False)
    assert (mount.entry.slots["condition"], mount.entry.slots["side"]) == ("pitting", "left")


def test_the_newest_that_is_open_is_found(tmp_path: Path) -> None:
    """Finished and damaged ones are passed over; where there is none, it says what to do."""
    with pytest.raises(InputFault, match="no inspection to go on with"):
        newest_open(tmp_path)
    first = kept(tmp_path, "left sill, surface rust")
    kept(tmp_path, "left sill, scale", reason="finished")
    damaged = kept(tmp_path, "right sill, scale")
    journal = damaged / "journal.jsonl"
    journal.write_bytes(journal.read_bytes().replace(b'"seq":2', b'"seq":7'))
    assert newest_open(tmp_path) == first


def test_the_newest_of_all_is_found_finished_or_not(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """For looking at it; *last* stands for it unless a folder has that name."""
    with pytest.raises(InputFault, match="There is no log"):
        newest_log(tmp_path)
    kept(tmp_path, "left sill, surface rust")
    finished = kept(tmp_path, "left sill, scale", reason="finished")
    assert newest_log(tmp_path) == log_meant("last", tmp_path) == finished
    assert log_meant("elsewhere", tmp_path) == Path("elsewhere")
    (tmp_path / "last").mkdir()
    monkeypatch.chdir(tmp_path)
    assert log_meant("last", tmp_path) == Path("last")


def test_a_damaged_log_that_is_named_tells_what_is_wrong(tmp_path: Path) -> None:
    """Rather than begin somewhere in it."""
    damaged = kept(tmp_path, "right sill, scale")
    journal = damaged / "journal.jsonl"
    journal.write_bytes(journal.read_bytes().replace(b'"seq":2', b'"seq":7'))
    with pytest.raises(LogFault, match="line|Line"):
        earlier_log(damaged, Settings())


def test_times_are_right_after_the_machine_has_slept(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """An hour of sleep: the clock that never goes back stood still, the wall clock did not."""
    from voicelog.journal import clock
    from voicelog.recognise.typed_engine import TypedEar

    folder = kept(tmp_path, "left sill, surface rust")
    with open_again(earlier_log(folder, Settings()), TypedEar()) as session:
        at_s = session.now_s()
        hour_later = datetime.now(UTC) + timedelta(hours=1)
        monkeypatch.setattr(clock, "utc_now", lambda: hour_later)
        monkeypatch.setattr("voicelog.runtime.opening.datetime", Later)
        entry = session.read("right sill, scale", at_s=at_s).findings[0].entry
    said = datetime.fromisoformat(entry.at)
    assert abs((said - hour_later).total_seconds()) < 60


class Later(datetime):
    """A wall clock that is an hour ahead."""

    @classmethod
    def now(cls, tz: tzinfo | None = None) -> datetime:  # type: ignore[override]
        """An hour from now."""
        return datetime.now(tz) + timedelta(hours=1)


@pytest.mark.parametrize(
    "odd",
    [
        {"rails": "rubber"},
        {"settings": []},
        {"settings": {"mil": [1]}},
        {"settings": {"carry_s": "long"}},
    ],
    ids=str,
)
def test_a_log_that_opens_with_what_cannot_be_is_refused(odd: dict[str, object]) -> None:
    """In one sentence that names it; another program may have written the log."""
    with pytest.raises(
        LogFault, match=r"Line 1 of the log gives .* to '(rails|settings|mil|carry_s)'"
    ):
        as_then(Settings(), odd)


def test_a_log_that_says_little_is_taken_as_any_reader_takes_it() -> None:
    """Where it does not say how the rails are made, today's settings say nothing of that vehicle."""
    assert as_then(RIGHT_HAND, {}).rails is Rails.MIXED
    assert as_then(RIGHT_HAND, {"settings": {"carry_s": 30}}).speech == Speech(carry_s=30)
