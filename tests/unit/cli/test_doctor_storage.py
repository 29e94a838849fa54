"""``voicelog doctor``: what it says of storage and of licences."""

from __future__ import annotations

import shlex
from pathlib import Path

import pytest

from voicelog.cli.doctor_licences import licence_lines
from voicelog.cli.doctor_storage import storage_lines
from voicelog.config.settings import Settings
from voicelog.runtime.kept import kept_here


@pytest.fixture
def settings(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Settings:
    """A machine whose logs and learned words lie in folders that everybody may enter."""
    for folder in (tmp_path, *tmp_path.parents):
        if folder.owner() == tmp_path.owner() and "pytest" in str(folder):
            folder.chmod(0o755)
    monkeypatch.setenv("HOME", str(tmp_path))
    for name in ("logs", "words"):
        (tmp_path / name).mkdir(mode=0o755)
    return Settings(into=tmp_path / "logs", learned=tmp_path / "words")


def _write(path: Path, mode: int, size: int = 10) -> Path:
    path.write_bytes(b"x" * size)
    path.chmod(mode)
    return path


def _told(settings: Settings) -> str:
    return " ".join(" ".join(storage_lines(settings)).split())


def test_counts_what_is_there(settings: Settings) -> None:
    """Files and megabytes of each place, folders within folders too; links are not followed."""
    inner = settings.into / "one" / "clips"
    inner.mkdir(parents=True)
    _write(inner / "u2.flac", 0o600, 1_200_000)
    _write(settings.into / "one" / "journal.jsonl", 0o600, 300_000)
    (settings.into / "link").symlink_to(inner)
    assert "2 files, 1.5 MB; voices, words, findings" in _told(settings)


def test_a_place_without_anything_says_so(settings: Settings) -> None:
    """As on the first day; what is never kept or sent is told as well."""
    told = _told(settings)
    assert "nothing yet; voices, words, findings; to erase: voicelog erase LOG" in told
    assert "never kept: what is said in stand-by" in told
    assert "never sent: nothing leaves this machine" in told
    assert "OTHERS" not in told


def test_what_others_can_read_is_named_with_the_way_out(settings: Settings) -> None:
    """The command, pasted, ends it."""
    open_one = _write(settings.into / "a log.jsonl", 0o644)
    told = _told(settings)
    assert f"OTHERS ON THIS MACHINE CAN READ {open_one}. To end that: chmod" in told
    command = shlex.split(told.partition("To end that: ")[2].partition(" learned ")[0])
    assert command[:3] == ["chmod", "-R", "go="]
    assert Path(command[3]) == open_one
    open_one.chmod(0o600)
    assert "OTHERS" not in _told(settings)


@pytest.mark.parametrize(
    ("folder", "file", "readable"),
    [(0o755, 0o644, True), (0o700, 0o644, False), (0o755, 0o600, False), (0o750, 0o640, True)],
)
def test_a_closed_folder_closes_what_lies_in_it(
    settings: Settings, folder: int, file: int, readable: bool
) -> None:
    """A file counts as open only where others get as far as it."""
    path = _write(settings.into / "x", file)
    settings.into.chmod(folder)
    logs = next(iter(kept_here(settings)))
    assert logs.readable == ((path,) if readable else ())


def test_only_learned_files_count_as_learned(settings: Settings) -> None:
    """What else lies in that folder is not ours to tell of."""
    assert settings.learned is not None
    _write(settings.learned / "learned-shop.toml", 0o600)
    _write(settings.learned / "diary.toml", 0o644)
    learned = {kept.name: kept for kept in kept_here(settings)}["learned"]
    assert (learned.files, learned.readable) == (1, ())


def test_licences_name_what_is_carried_and_what_is_installed() -> None:
    """A few of each; every installed package has a licence."""
    told = list(licence_lines())
    assert "  CMUdict: BSD-2-Clause" in told
    assert "  Moonshine tiny (English): MIT" in told
    assert any(line.startswith("  click ") and line.endswith("BSD-3-Clause") for line in told)
    assert not [line for line in told if line.endswith("not told")]
