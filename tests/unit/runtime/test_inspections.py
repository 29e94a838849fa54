"""The inspections in a folder: every one that can be read, and why the others cannot."""

from __future__ import annotations

from pathlib import Path

import pytest

from voicelog.config.settings import Settings
from voicelog.domain.grade import Grade
from voicelog.errors import InputFault
from voicelog.journal.journal import Journal
from voicelog.journal.lock import is_locked
from voicelog.runtime.inspections import CLOSED, GOING_ON, STOPPED, inspections, logs_below
from voicelog.runtime.opening import open_reading
from voicelog.runtime.review import Review


def _log(into: Path, *said: str, subject: str = "", close: bool = True) -> Path:
    settings = Settings(into=into)
    with open_reading(settings, keep=True, subject=subject) as session:
        for number, text in enumerate(said):
            session.read(text, at_s=number * 3.0)
        if close:
            session.close("end of text")
        assert session.folder is not None
        return session.folder


def test_one_inspection_in_figures(tmp_path: Path) -> None:
    """What it says of itself is what the review says of it."""
    folder = _log(tmp_path, "left rear rail, hole", "left sill, scale", subject="pickup 12")
    (listed,) = inspections(tmp_path, Settings(into=tmp_path))
    assert (listed.folder, listed.subject, listed.state) == (folder, "pickup 12", CLOSED)
    assert sum(listed.grades.values()) == 2
    assert list(listed.grades) == sorted(listed.grades, key=lambda grade: -grade.rank)
    assert Grade.COSMETIC not in listed.grades
    with Review.open(folder, Settings(into=tmp_path)) as review:
        assert listed.open_points == len(review.open_points())
        assert listed.verdict == review.inspection().verdict
    assert (listed.signed, listed.damaged) == ("", "")


def test_signed_and_changed_since(tmp_path: Path) -> None:
    """By the newest signature; what is noted of the vehicle is a change too, and so is an entry put
    right.
    """
    folder = _log(tmp_path, "left rear rail, surface rust")
    with Review.open(folder, Settings(into=tmp_path), by="Sam") as review:
        review.sign(why="all said")
    (listed,) = inspections(tmp_path, Settings())
    assert (listed.signed, listed.changed) == ("Sam", False)
    with Review.open(folder, Settings(into=tmp_path), by="Robin") as review:
        review.note("vehicle", {"set": {"plate": "AB1"}, "by": "Robin"})
    assert inspections(tmp_path, Settings())[0].changed
    with Review.open(folder, Settings(into=tmp_path), by="Robin") as review:
        review.sign(why="all said")
    assert not inspections(tmp_path, Settings())[0].changed
    with Review.open(folder, Settings(into=tmp_path), by="Robin") as review:
        review.correct("e2.1", {"side": "right"})
    assert inspections(tmp_path, Settings())[0].changed


def test_going_on_or_stopped(tmp_path: Path) -> None:
    """Somebody who writes it holds its lock; nobody is kept from it by looking."""
    folder = _log(tmp_path, "left sill, hole", close=False)
    assert inspections(tmp_path, Settings())[0].state == STOPPED
    with Journal.reopen(folder) as journal:
        assert is_locked(folder)
        assert inspections(tmp_path, Settings())[0].state == GOING_ON
        journal.append("listened", {"utterance": "u2", "by": "Sam"})
    assert not is_locked(folder)
    assert not is_locked(tmp_path)


def test_damaged_ones_are_named_and_the_others_listed(tmp_path: Path) -> None:
    """Torn at the first line, a changed byte, a changed rule: each with its reason, none hides another."""
    good = _log(tmp_path / "a", "left sill, hole", subject="good")
    changed = _log(tmp_path / "b", "left sill, hole", "right sill, hole")
    journal = changed / "journal.jsonl"
    journal.write_bytes(journal.read_bytes().replace(b'"seq":2', b'"seq":9', 1))
    rules = _log(tmp_path / "c", "left sill, hole")
    next((rules / "grammar" / "rules").iterdir()).write_text("# nothing", encoding="utf-8")
    empty = tmp_path / "d" / "20200101T000000Z-empty"
    empty.mkdir(parents=True)
    (empty / "journal.jsonl").write_bytes(b'{"seq":1')
    found = {listed.folder: listed for listed in inspections(tmp_path, Settings())}
    assert len(found) == 4
    assert not found[good].damaged
    assert "grammar" in found[rules].damaged
    assert all(
        found[folder].damaged and found[folder].verdict is None for folder in (changed, empty)
    )
    assert inspections(tmp_path, Settings())[-1].folder == empty


def test_a_line_that_does_not_fit_the_contract_is_named(tmp_path: Path) -> None:
    """Whoever made such a log, nothing is told from it; the other logs are listed all the same."""
    folder = _log(tmp_path, "left sill, hole")
    with Review.open(folder, Settings(into=tmp_path)) as review:
        review.note("vehicle", {"set": 7})
    _log(tmp_path, "right sill, hole")
    told = [one.damaged for one in inspections(tmp_path, Settings())]
    assert sorted(map(bool, told)) == [False, True]
    assert "does not fit the contract (set: " in "".join(told)


def test_where_logs_are_looked_for(tmp_path: Path) -> None:
    """Below the folder, not inside a log, and in no folder that a link leads to."""
    folder = _log(tmp_path / "2026" / "march", "left sill, hole")
    (folder / "clips" / "old").mkdir(parents=True, exist_ok=True)
    (folder / "clips" / "old" / "journal.jsonl").touch()
    (tmp_path / "again").symlink_to(tmp_path / "2026", target_is_directory=True)
    assert logs_below(tmp_path) == (folder,)
    assert logs_below(folder) == (folder,)


def test_there_must_be_a_folder(tmp_path: Path) -> None:
    """An empty one is no fault."""
    assert inspections(tmp_path, Settings()) == ()
    for place in (tmp_path / "none", tmp_path / "file"):
        (tmp_path / "file").touch()
        with pytest.raises(InputFault, match="cannot be read"):
            logs_below(place)


def test_it_is_told_how_far_it_is(tmp_path: Path) -> None:
    """After each log, damaged or not."""
    for number in range(3):
        broken = tmp_path / f"2026010{number}T000000Z"
        broken.mkdir()
        (broken / "journal.jsonl").touch()
    told: list[tuple[int, int]] = []
    found = inspections(tmp_path, Settings(), done=lambda n, of: told.append((n, of)))
    assert told == [(1, 3), (2, 3), (3, 3)]
    assert [listed.folder.name[:8] for listed in found] == ["20260102", "20260101", "20260100"]
