"""Whatever happens to a journal: what is vouched for is recovered, and the old log stays as it is."""

from __future__ import annotations

import hashlib
import re
import shutil
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from voicelog.domain.fact import Fact
from voicelog.errors import VoicelogError
from voicelog.journal.journal import Journal
from voicelog.journal.reading import read_log, verify
from voicelog.runtime.checked_log import verify as checked_verify
from voicelog.runtime.damaged import plan_recovery
from voicelog.runtime.recovering import recover

Damage = Callable[[bytes], bytes]
SHARE = st.floats(0, 1, exclude_max=True)


def _log(parent: Path, subject: str, lines: int) -> Path:
    grammar = {"maps/ladder-frame.toml": b"# no places\n"}
    opened = {"map": "ladder-frame"}
    with Journal.create(parent, subject=subject, opened=opened, grammar=grammar) as journal:
        for n in range(2, lines):
            text = f"{subject} said {n} {{ü\n"
            journal.append("weather", {"utterance": f"u{n}", "text": text})
        journal.append("closed", {"reason": "finished"})
    return journal.folder


@pytest.fixture(scope="module")
def log(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A log of eight facts, all as the contract has them."""
    folder = _log(tmp_path_factory.mktemp("logs"), "pickup", 8)
    assert checked_verify(folder).problems == ()
    return folder


@pytest.fixture(scope="module")
def foreign(tmp_path_factory: pytest.TempPathFactory) -> tuple[bytes, ...]:
    """The lines of another one."""
    folder = _log(tmp_path_factory.mktemp("others"), "van", 7)
    return tuple((folder / "journal.jsonl").read_bytes().splitlines(keepends=True))


@st.composite
def flipped(draw: st.DrawFn) -> Damage:
    """A byte changed into another."""
    share, mask = draw(SHARE), draw(st.integers(1, 255))

    def damage(text: bytes) -> bytes:
        place = int(share * len(text))
        return text[:place] + bytes((text[place] ^ mask,)) + text[place + 1 :] if text else text

    return damage


@st.composite
def overwritten(draw: st.DrawFn) -> Damage:
    """A stretch of other bytes instead, of any length: taken out, zeroed, or put in."""
    share, gone = draw(SHARE), draw(st.integers(0, 600))
    noise = draw(st.binary(max_size=40) | st.integers(0, 600).map(bytes))
    return lambda t: t[: int(share * len(t))] + noise + t[int(share * len(t)) + gone :]


@st.composite
def moved(draw: st.DrawFn) -> Damage:
    """Lines in another order, some of them gone, some there twice."""
    picked = draw(st.lists(SHARE, max_size=10))

    def damage(text: bytes) -> bytes:
        lines = text.splitlines(keepends=True)
        return b"".join(lines[int(share * len(lines))] for share in picked) if lines else text

    return damage


REWRITTEN = st.sampled_from([
    lambda text: text.replace(b"\n", b"\r\n"),
    lambda text: b"\xef\xbb\xbf" + text,
    lambda text: text.replace(b"\n", b"\n\n"),
    lambda text: text + bytes(700),
    lambda text: text.replace(b"\n", b" "),
    lambda text: text[: len(text) // 2],
    lambda text: text[:0],
])  # fmt: skip
DAMAGE = st.lists(flipped() | overwritten() | moved() | REWRITTEN, min_size=1, max_size=3)


@given(damages=DAMAGE, strange=st.none() | st.tuples(st.integers(0, 6), SHARE))
@settings(max_examples=150)
def test_whatever_is_vouched_for_is_recovered(
    log: Path,
    foreign: tuple[bytes, ...],
    damages: list[Damage],
    strange: tuple[int, float] | None,
) -> None:
    """Any damage, a line of another log among it: a fault with a sentence, or a log that is whole."""
    original = (log / "journal.jsonl").read_bytes()
    facts = read_log(log).facts
    damaged = original
    for damage in damages:
        damaged = damage(damaged)
    if strange is not None:
        lines = damaged.splitlines(keepends=True)
        lines.insert(int(strange[1] * len(lines)), foreign[strange[0]])
        damaged = b"".join(lines)
    with tempfile.TemporaryDirectory() as parent:
        copy = Path(shutil.copytree(log, Path(parent) / "log"))
        (copy / "journal.jsonl").write_bytes(damaged)
        before = _state(copy)
        due = list(_vouched_for(original, damaged, facts))
        try:
            new = recover(plan_recovery(copy), Path(parent) / "new")
        except VoicelogError:
            assert not due
            assert not (Path(parent) / "new").exists()
        else:
            _assert_whole(new.folder, due)
        assert _state(copy) == before


def _assert_whole(folder: Path, due: list[Fact]) -> None:
    assert verify(folder).problems == ()
    found = {fact.seq: fact for fact in read_log(folder).facts}
    for fact in due:
        new = found[fact.seq]
        assert (new.type, new.at, new.offset_s) == (fact.type, fact.at, fact.offset_s)
        if fact.seq > 1:
            assert new.body == fact.body


def _vouched_for(original: bytes, damaged: bytes, facts: tuple[Fact, ...]) -> Iterator[Fact]:
    """The facts whose lines are in the file as they were, with the line that names their hash."""
    lines, there = original.splitlines(), set(damaged.split(b"\n")[:-1])
    for fact, line, behind in zip(facts, lines, lines[1:], strict=False):
        if line in there and behind in there:
            named = re.findall(rb'"prev":"([0-9a-f]{64})"', behind)[0].decode()
            assert named == hashlib.sha256(line).hexdigest()
            yield fact


def _state(folder: Path) -> dict[str, tuple[bytes, int]]:
    """Every file with its bytes and time."""
    files = (path for path in sorted(folder.rglob("*")) if path.is_file())
    return {str(path): (path.read_bytes(), path.stat().st_mtime_ns) for path in files}
