"""HEIC opened by another process first: what kills that one leaves this one alone."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from voicelog.errors import InputFault
from voicelog.export import heic_trial
from voicelog.export.heic_trial import is_heic, try_heic
from voicelog.export.pictures import told_by

WORKER = """
import os, struct, sys, time
while len(head := sys.stdin.buffer.read(9)) == 9:
    data = sys.stdin.buffer.read(struct.unpack(">Q", head[1:])[0])
    if b"kill" in data or (head[:1] == b"d" and b"late" in data):
        os._exit(11)
    if b"hang" in data:
        time.sleep(60)
    sys.stdout.buffer.write(b".")
    sys.stdout.buffer.flush()
"""


@pytest.fixture(autouse=True)
def fresh(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """A process of this test's own."""
    trial = heic_trial._Trial()
    monkeypatch.setattr(heic_trial, "_trial", lambda: trial)
    yield
    trial._end()


@pytest.fixture
def fragile(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A process that dies of some files and hangs at others."""
    (tmp_path / "worker.py").write_text(WORKER)
    monkeypatch.setattr(heic_trial, "_WORKER", tmp_path / "worker.py")


def test_a_good_file_lives(heic: bytes) -> None:
    """Opened and decoded by the process that ships."""
    try_heic(heic)
    try_heic(heic, decode=True)


def test_nonsense_is_no_reason_to_die() -> None:
    """It is refused later, with its own words."""
    try_heic(b"\0\0\0\x1cftypheic" + b"\xff" * 90)


@pytest.mark.usefixtures("fragile")
def test_a_crash_is_a_fault_and_the_next_file_is_opened() -> None:
    """The process is started anew; the answer is remembered."""
    for _ in range(2):
        with pytest.raises(InputFault, match="cannot be opened"):
            try_heic(b"kill")
        try_heic(b"good")


@pytest.mark.usefixtures("fragile")
def test_a_process_that_was_ended_meanwhile_is_no_fault_of_the_next_file() -> None:
    """A machine short of memory ends what is idle."""
    try_heic(b"good")
    worker = heic_trial._trial()._worker
    assert worker is not None
    worker.kill()
    worker.wait()
    try_heic(b"as good")


@pytest.mark.usefixtures("fragile")
def test_decoding_is_tried_by_itself() -> None:
    """A file can tell when it was taken, and still kill whoever decodes it."""
    try_heic(b"late")
    with pytest.raises(InputFault):
        try_heic(b"late", decode=True)


@pytest.mark.usefixtures("fragile")
def test_a_file_that_takes_for_ever_is_given_up(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nobody waits for it."""
    monkeypatch.setattr(heic_trial, "_LONGEST_S", 0.3)
    with pytest.raises(InputFault):
        try_heic(b"hang")


@pytest.mark.usefixtures("fragile")
def test_a_picture_that_would_crash_is_told_like_any_other_damage(tmp_path: Path) -> None:
    """Where pictures are read."""
    path = tmp_path / "a.heic"
    path.write_bytes(b"\0\0\0\x1cftypheic" + b"kill")
    with pytest.raises(InputFault, match="cannot be opened"):
        told_by(path)


def test_heic_is_known_by_its_beginning(heic: bytes) -> None:
    """Not by its name."""
    assert is_heic(heic[:12])
    assert not is_heic(b"\xff\xd8\xff\xe0")
    assert not is_heic(b"\0\0\0\x1cftypmp42")
    assert not is_heic(b"")
