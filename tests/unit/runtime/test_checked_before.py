"""What is remembered of a long log's check: a short cut, and never more than that."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from voicelog.config import short_cut
from voicelog.errors import LogFault
from voicelog.export import line_check
from voicelog.journal import late_body
from voicelog.journal.journal import Journal
from voicelog.runtime import checked_before, checked_log
from voicelog.runtime.checked_log import log_to_go_on_with

LINES = 6


@pytest.fixture
def cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The folder of the test's own cache, not there yet."""
    home = tmp_path / "cache"
    monkeypatch.setattr(checked_before, "cache_home", lambda: home)
    for module in (late_body, checked_before):
        monkeypatch.setattr(module, "LONG", 500)
    return home / "checked"


@pytest.fixture
def log(tmp_path: Path) -> Path:
    """A log that counts as a long one."""
    made = {"log_id": "edd36702-8975-422b-8a27-7d7634dd0ee3"}
    with Journal.create(tmp_path / "logs", opened=made, grammar={}) as journal:
        for number in range(2, LINES + 1):
            heard = {"engine": "typed", "model": "", "hypotheses": []}
            body = {"utterance": f"u{number}", "heard": heard, "changes": []}
            journal.append("utterance", body)
    return journal.folder


@pytest.fixture
def checks(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """The numbers of the lines that are held against the contract, as it happens."""
    seen: list[int] = []
    real = line_check.misfit

    def counted(fact: object) -> str:
        seen.append(fact.seq)  # type: ignore[attr-defined]
        return real(fact)  # type: ignore[arg-type]

    monkeypatch.setattr(line_check, "misfit", counted)
    return seen


def test_a_log_is_checked_once(cache: Path, log: Path, checks: list[int]) -> None:
    """The second time no line is; what is read is the same."""
    first, second = (checked_log.checked_log(log) for _ in range(2))
    assert checks == [*range(1, LINES + 1)]
    assert first.facts == second.facts


def test_only_what_is_new_is_checked(cache: Path, log: Path, checks: list[int]) -> None:
    """Whoever goes on with a log adds lines to it; the earlier ones are known."""
    checked_log.checked_log(log)
    journal, read = log_to_go_on_with(log)
    with journal:
        journal.append("note", {"text": "one more"})
    assert len(read.facts) == LINES
    assert len(checked_log.checked_log(log).facts) == LINES + 1
    checked_log.checked_log(log)
    assert checks == [*range(1, LINES + 2)]


def test_nothing_said_is_in_it(cache: Path, log: Path) -> None:
    """A hash, some numbers and a time, in a file for this user alone."""
    checked_log.checked_log(log)
    (file,) = cache.iterdir()
    told = json.loads(file.read_bytes().partition(b"\n")[2])
    assert set(told) == {"chain", "sha256"}
    assert set(told["chain"]) == {"lines", "size", "seq", "prev", "at", "offset_s"}
    assert file.stat().st_mode & 0o077 == 0


@pytest.mark.parametrize("into", [b"{}", b"", b"[1]\n[2]", None])
def test_what_is_damaged_is_not_believed(
    cache: Path, log: Path, checks: list[int], into: bytes | None
) -> None:
    """Nor one that another program sealed; the log is checked, and the file written anew."""
    checked_log.checked_log(log)
    (file,) = cache.iterdir()
    file.write_bytes(file.read_bytes()[:-9] if into is None else into)
    for _ in range(2):
        checked_log.checked_log(log)
    assert checks == [*range(1, LINES + 1)] * 2


def test_a_line_that_does_not_fit_is_told_each_time(cache: Path, log: Path) -> None:
    """What was refused is not remembered as checked."""
    with Journal.reopen(log) as journal:
        journal.append("utterance", {"utterance": "u7", "heard": 7, "changes": []})
    for _ in range(2):
        with pytest.raises(LogFault, match="line 7 does not fit the contract"):
            checked_log.checked_log(log)
    assert not cache.exists()


def test_another_program_checks_anew(
    cache: Path, log: Path, checks: list[int], monkeypatch: pytest.MonkeyPatch
) -> None:
    """What an older one found good may not be good enough."""
    checked_log.checked_log(log)
    monkeypatch.setattr(short_cut, "__version__", "99.0")
    checked_log.checked_log(log)
    assert checks == [*range(1, LINES + 1)] * 2


def test_a_short_log_leaves_nothing(
    cache: Path, log: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It is checked as fast as that could be looked up."""
    monkeypatch.setattr(checked_before, "LONG", 1_000_000)
    checked_log.checked_log(log)
    assert not cache.exists()


def test_a_cache_that_cannot_be_written_stops_nobody(
    cache: Path, log: Path, checks: list[int]
) -> None:
    """A file lies where the folder would."""
    cache.parent.mkdir(parents=True)
    cache.write_text("in the way")
    for _ in range(2):
        assert len(checked_log.checked_log(log).facts) == LINES
    assert checks == [*range(1, LINES + 1)] * 2
