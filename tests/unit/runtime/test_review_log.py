"""A log at the bench over time: undone on another day, gone on with, locked, on a full disk."""

from __future__ import annotations

import errno
import json
import os
from pathlib import Path

import pytest
from reviewing import UNSAFE, at_the_bench, clip, kept, said_since, slots, told

from voicelog.config.grammar import Grammar
from voicelog.config.settings import Settings
from voicelog.domain.grade import Grade
from voicelog.errors import LockedFault, LogFault, SofteningFault, StorageFault, UsageFault
from voicelog.findings.ledger import fold
from voicelog.journal.journal import Journal
from voicelog.journal.reading import verify
from voicelog.runtime.logs import DOCUMENT, export_json, open_log
from voicelog.runtime.review import Review

LEFT = "left sill, surface rust"


@pytest.fixture(autouse=True)
def loaded_once(shipped_grammar: Grammar, monkeypatch: pytest.MonkeyPatch) -> None:
    """A log's own copy is the shipped grammar here; another test opens it."""
    for reads in ("bench_log.checked_folder", "going_on.load_grammar"):
        monkeypatch.setattr(f"voicelog.runtime.{reads}", lambda *_, **__: shipped_grammar)


def test_a_deed_is_undone_and_done_again_on_another_day(tmp_path: Path) -> None:
    """The log knows what can be undone, not the program that runs."""
    folder = kept(tmp_path, LEFT)
    with at_the_bench(folder) as review:
        review.correct("e2.1", {"side": "right"})
        review.correct("e2.1", {"zone": "kick-up"})
    with at_the_bench(folder, by="Kim") as review:
        assert (review.can_undo, review.can_redo) == ("correct", "")
        done = review.undo(why="looked again")
        assert review.facts[-1].body["of"] == done.seq - 1
        assert (review.can_undo, review.can_redo) == ("correct", "correct")
    with at_the_bench(folder) as review:
        review.undo()
        assert (slots(review, "e2.1")["side"], review.can_undo) == ("left", "")
        review.redo()
        review.redo()
        assert (slots(review, "e2.1")["zone"], slots(review, "e2.1")["side"]) == (
            "kick-up",
            "right",
        )
        with pytest.raises(UsageFault, match="nothing to redo"):
            review.redo()
    names = [r.by for r in open_review(folder).revisions("e2.1")]
    assert names == ["", "Sam", "Sam", "Kim", "Sam", "Sam", "Sam"]
    assert verify(folder).ok


def open_review(folder: Path) -> Review:
    """Read and let go at once."""
    with at_the_bench(folder) as review:
        return review


def test_a_new_deed_ends_what_could_be_done_again(tmp_path: Path) -> None:
    """There is one line of what happened."""
    with at_the_bench(kept(tmp_path, LEFT)) as review:
        review.correct("e2.1", {"side": "right"})
        review.undo()
        review.correct("e2.1", {"face": "bottom"})
        assert (review.can_undo, review.can_redo) == ("correct", "")


def test_what_was_added_split_or_withdrawn_comes_and_goes(tmp_path: Path) -> None:
    """Undo withdraws what was made; redo lets the same entry hold again, under the same id."""
    with at_the_bench(kept(tmp_path, LEFT)) as review:
        (new,) = review.add("right sill, scale").findings
        review.undo()
        assert review.finding(new.entry.id).withdrawn
        review.redo()
        assert not review.finding(new.entry.id).withdrawn
        review.split("e2.1")
        review.withdraw("e2.1")
        review.undo()
        review.undo()
        assert [f.entry.id for f in review.inspection().live] == ["e2.1", new.entry.id]


def test_what_was_said_of_another_entry_since_leaves_undo_alone(tmp_path: Path) -> None:
    """An inspection that goes on after a correction."""
    folder = kept(tmp_path, LEFT)
    with at_the_bench(folder) as review:
        review.correct("e2.1", {"side": "right"})
    said_since(folder, "left kick-up, scale")
    with at_the_bench(folder) as review:
        review.undo()
        assert slots(review, "e2.1")["side"] == "left"
        assert len(review.inspection().live) == 2


def test_undo_refuses_where_the_same_entry_was_changed_by_voice_since(tmp_path: Path) -> None:
    """It would take back what was said after it."""
    folder = kept(tmp_path, LEFT)
    with at_the_bench(folder) as review:
        review.correct("e2.1", {"side": "right"})
    said_since(folder, "right sill", "correction on right sill, scale")
    with at_the_bench(folder) as review:
        assert slots(review, "e2.1")["condition"] == "scale"
        with pytest.raises(UsageFault, match="said since") as caught:
            review.undo()
        assert caught.value.hint
        assert slots(review, "e2.1")["side"] == "right"


def test_a_resumed_inspection_knows_what_was_done_at_the_bench(tmp_path: Path) -> None:
    """A whole entry replaced, one withdrawn and restored: voice corrects what stands now."""
    folder = kept(tmp_path, LEFT, "right kick-up, scale")
    with at_the_bench(folder) as review:
        review.reread("e2.1", "left sill, hole, twenty millimetres")
        review.withdraw("e3.1")
        review.restore("e3.1")
    said_since(
        folder,
        "correction on left sill, thirty millimetres",
        "correction on right kick-up, pitting",
    )
    with at_the_bench(folder) as review:
        assert slots(review, "e2.1")["size_mm"] == 30.0
        assert slots(review, "e3.1")["condition"] == "pitting"


def test_a_log_that_somebody_else_writes_can_be_read(tmp_path: Path) -> None:
    """It says who is in the way; no deed goes through, nothing is asked first."""
    folder = kept(tmp_path, UNSAFE)
    before = (folder / "journal.jsonl").read_bytes()
    with Journal.reopen(folder), at_the_bench(folder) as review:
        assert review.read_only
        assert review.finding("e2.1").grade is Grade.UNSAFE
        for deed in (
            lambda: review.correct("e2.1", {"side": "right"}),
            lambda: review.withdraw("e2.1"),
            lambda: review.add("right sill, scale"),
            lambda: review.sign(why="-"),
        ):
            with pytest.raises(LockedFault, match="cannot be changed now"):
                deed()
        review.listened("e2.1")
    assert (folder / "journal.jsonl").read_bytes() == before


def test_a_log_on_a_disk_that_takes_nothing_can_be_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A deed fails as the disk does, not as if it had been asked for wrongly."""
    folder = kept(tmp_path, LEFT)
    monkeypatch.setattr("voicelog.journal.journal.take_lock", _refuse)
    with at_the_bench(folder) as review:
        assert "No space left" in review.read_only
        assert slots(review, "e2.1")["side"] == "left"
        with pytest.raises(StorageFault, match="cannot be changed now"):
            review.correct("e2.1", {"side": "right"})


@pytest.mark.parametrize("by", ["", "  ", "\n"])
def test_a_name_of_white_space_is_no_name(tmp_path: Path, by: str) -> None:
    """Who reviews is asked of the settings then."""
    with Review.open(kept(tmp_path, LEFT), Settings(inspector="Kim"), by=by) as review:
        review.correct("e2.1", {"side": "right"})
        assert review.facts[-1].body["by"] == "Kim"


@pytest.mark.parametrize("call", ["write", "fsync"])
def test_a_full_disk_changes_nothing_and_the_deed_can_be_repeated(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, call: str
) -> None:
    """In memory as on the disk; sound of a dictated sentence is there when its line is."""
    with at_the_bench(kept(tmp_path, LEFT)) as review:
        facts, standing = review.facts, review.inspection()
        deeds = (
            lambda: review.correct("e2.1", {"side": "right"}),
            lambda: review.add("right sill, scale", clip=clip()),
        )
        for deed in deeds:
            with monkeypatch.context() as patch:
                patch.setattr(os, call, _refuse)
                with pytest.raises(StorageFault):
                    deed()
            assert (review.facts, review.inspection()) == (facts, standing)
        for deed in deeds:
            deed()
    report = verify(next(tmp_path.iterdir()))
    assert (report.ok, report.clips, report.lines) == (True, 1, len(facts) + 2)
    assert not [note for note in report.notices if "no line" in note and "orphan" not in note]


def _refuse(*_: object) -> int:
    raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))


def test_read_again_from_the_disk_it_is_the_same(tmp_path: Path) -> None:
    """As every other reader folds it."""
    folder = kept(tmp_path, LEFT, "right sill, hole", "both rails scale")
    with at_the_bench(folder) as review:
        review.correct("e4.1", {"zone": "rear-rail"})
        review.split("e4.1")
        told(review.withdraw, "e3.1")
        review.reread("e2.1", "left sill, hole, twenty millimetres")
        told(review.undo)
        seen, facts, grammar = review.inspection(), review.facts, review.grammar
    assert fold(facts, grammar.zone_map, grammar.rules, review.rails) == seen
    with at_the_bench(folder) as again:
        assert (again.inspection(), again.facts) == (seen, facts)


def test_trying_out_writes_nothing(tmp_path: Path) -> None:
    """The same deeds and refusals, and no line; another program may be writing meanwhile."""
    folder = kept(tmp_path, LEFT)
    before = (folder / "journal.jsonl").read_bytes()
    with Journal.reopen(folder), at_the_bench(folder, trial=True) as review:
        done = review.correct("e2.1", {"side": "right"})
        review.add("left front rail, crack", clip=clip())
        with pytest.raises(SofteningFault):
            review.undo()
        assert (done.seq, slots(review, "e2.1")["side"]) == (3, "right")
    assert (folder / "journal.jsonl").read_bytes() == before
    assert not (folder / "clips").exists()


def test_it_is_folded_with_its_own_grammar(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Not with that in force now; one that was altered is refused, and the lock let go."""
    monkeypatch.undo()
    folder = kept(tmp_path, LEFT)
    with at_the_bench(folder) as review:
        assert review.inspection() == open_log(folder).inspection
    rules = folder / "grammar" / "rules" / "frame.toml"
    rules.write_bytes(rules.read_bytes() + b"\n# changed\n")
    with pytest.raises(LogFault, match="cannot be trusted"):
        Review.open(folder, Settings())
    Journal.reopen(folder).close()


def test_the_document_beside_a_log_is_written_anew(tmp_path: Path) -> None:
    """It would tell another program of the log as it was; where there was none, none is made."""
    folder = kept(tmp_path, "left sill, surface rust")
    with at_the_bench(folder) as review:
        review.correct("e2.1", {"side": "right"})
    assert not (folder / DOCUMENT).exists()
    export_json(folder, folder / DOCUMENT)
    with at_the_bench(folder) as review:
        review.correct("e2.1", {"side": "left"})
    assert review.exported == f"Exported to {folder / DOCUMENT}"
    (entry,) = json.loads((folder / DOCUMENT).read_text("utf-8"))["entries"]
    assert (entry["side"], [done["by"] for done in entry["revised"]]) == ("left", ["Sam", "Sam"])
    before = (folder / DOCUMENT).stat().st_mtime_ns
    with at_the_bench(folder, trial=True) as review:
        review.correct("e2.1", {"side": "right"})
    assert (review.exported, (folder / DOCUMENT).stat().st_mtime_ns) == ("", before)
