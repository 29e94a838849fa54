"""What the program writes is its owner's: whatever the machine's mask lets others do."""

from __future__ import annotations

import os
import stat
from collections.abc import Iterator
from pathlib import Path

import pytest
from hostile_logs import honest

from voicelog.config.cache import cache_folder, checked_grammar
from voicelog.config.machine import remember
from voicelog.config.settings import Settings
from voicelog.export.json_file import write_bytes
from voicelog.runtime.exports import Wanted, export_file, export_spoken
from voicelog.runtime.logs import handed_over


@pytest.fixture(autouse=True)
def _open_to_all() -> Iterator[None]:
    """A mask that takes nothing away."""
    before = os.umask(0)
    yield
    os.umask(before)


def _open(folder: Path) -> list[str]:
    """What others could read or write below a folder."""
    found = [folder, *folder.rglob("*")]
    return [str(path) for path in found if stat.S_IMODE(path.lstat().st_mode) & 0o077]


def test_a_log_and_all_in_it(tmp_path: Path) -> None:
    """Its folder, journal, lock, clips, its copy of the grammar, the document beside it."""
    log = honest(tmp_path)
    assert handed_over(log).startswith("Exported")
    assert _open(log) == []


def test_exports(tmp_path: Path) -> None:
    """They tell of a vehicle and a person; whoever hands one over lets others read it."""
    log, out = honest(tmp_path), tmp_path / "out"
    out.mkdir(mode=0o700)
    for form in ("json", "csv", "html"):
        export_file(log, Wanted(form), out / f"x.{form}")
    export_spoken(log, out / "walk.vtt")
    assert _open(out) == []
    assert (out / "walk.flac").exists()


def test_an_export_that_others_may_read_stays_so(tmp_path: Path) -> None:
    """A folder that is served, or shared by a shop, is not broken by the next export."""
    target = tmp_path / "x.csv"
    target.touch(mode=0o644)
    write_bytes(b"new", target)
    assert stat.S_IMODE(target.stat().st_mode) == 0o644


def test_settings_and_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What the machine remembers, and the grammars that were checked: a shop's own words are in them."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    checked_grammar(Settings())
    assert list(cache_folder().iterdir())
    assert _open(cache_folder()) == []
    assert _open(remember(file=tmp_path / "config" / "remembered.toml", bias=0.3)) == []
