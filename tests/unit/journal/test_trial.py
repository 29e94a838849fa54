"""A journal that is only tried out."""

from __future__ import annotations

from pathlib import Path

import pytest

from voicelog.domain.sound import Clip
from voicelog.journal.journal import Journal
from voicelog.journal.reading import read_log
from voicelog.journal.trial import TrialJournal


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A log of two facts."""
    with Journal.create(tmp_path, opened={}, grammar={"words/w.toml": b"w"}) as log:
        log.append("utterance", {"utterance": "u2"})
        return log.folder


def test_it_gives_what_a_journal_would_and_writes_nothing(folder: Path) -> None:
    """Numbers and bodies as they would be; line after line."""
    before = (folder / "journal.jsonl").read_bytes()
    trial = TrialJournal(folder, read_log(folder).facts[-1])
    assert trial.next_seq == 3
    tried = [trial.append("revised", {"by": name}) for name in ("Sam", "Kim")]
    assert trial.keep_clip("u5", Clip(bytes(320), 0.0, 0.01)) == {}
    trial.close()
    assert (folder / "journal.jsonl").read_bytes() == before
    assert not (folder / "clips").exists()
    with Journal.reopen(folder) as real:
        sealed = real.sealed()
        written = [real.append("revised", {"by": name}) for name in ("Sam", "Kim")]
    told = [(fact.seq, fact.type, fact.body) for fact in written]
    assert [(fact.seq, fact.type, fact.body) for fact in tried] == told
    assert trial.next_seq == 5
    assert sealed != TrialJournal(folder, tried[-1]).sealed()


def test_it_comes_to_the_same_as_the_journal(folder: Path) -> None:
    """Lines and their hash, as they lie on the disk."""
    trial = TrialJournal(folder, read_log(folder).facts[-1])
    with Journal.reopen(folder) as real:
        assert trial.sealed() == real.sealed()


@pytest.mark.parametrize("body", [{"seq": 3}, {"x": float("nan")}, {"x": object()}])
def test_it_refuses_what_a_journal_refuses(folder: Path, body: dict[str, object]) -> None:
    """A key of the envelope, or what is no JSON."""
    trial = TrialJournal(folder, read_log(folder).facts[-1])
    with pytest.raises((TypeError, ValueError)):
        trial.append("revised", body)
    assert trial.next_seq == 3
