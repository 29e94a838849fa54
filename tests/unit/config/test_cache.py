"""The cache of checked grammars: the same grammar sooner, never an old or a damaged one."""

from __future__ import annotations

import hashlib
import json
import os
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from voicelog.config import cache, short_cut
from voicelog.config.cache import KEPT, checked_grammar
from voicelog.config.grammar import Grammar, grammar_in_force
from voicelog.config.settings import Settings
from voicelog.errors import GrammarFault, UsageFault

_OVERLAY = """\
[[meaning]]
slot = "condition"
value = "scale"
say = ["crust", "so-called bark"]

[[meaning]]
slot = "number"
value = "3/4"
say = ["three crowns"]

[[confusion]]
say = "bark"
heard = ["dark"]

[limits]
loss_percent = 12.5
"""

_PROGRAM = """\
import sys
from pathlib import Path
import voicelog.config.cache as cache
from voicelog.config.settings import Settings
cache.cache_folder = lambda: Path(sys.argv[1])
grammar = cache.checked_grammar(Settings(into=Path(), map="cart", grammar=Path(sys.argv[2])))
told = "checked" if "pydantic" in sys.modules else "kept"
print(told, repr(grammar).encode().hex())
"""


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The cache folder of the test, not there yet."""
    place = tmp_path / "cache" / "grammar"
    monkeypatch.setattr(cache, "cache_folder", lambda: place)
    return place


@pytest.fixture
def settings(cart: Path, tmp_path: Path) -> Settings:
    """The small grammar under an overlay."""
    overlay = tmp_path / "shop.toml"
    overlay.write_text(_OVERLAY)
    return Settings(into=tmp_path, map="cart", grammar=cart, overlays=(overlay,))


@pytest.fixture
def checks(monkeypatch: pytest.MonkeyPatch) -> list[Settings]:
    """The settings of every full load, as they happen."""
    seen: list[Settings] = []

    def counted(settings: Settings) -> Grammar:
        seen.append(settings)
        return grammar_in_force(settings)

    monkeypatch.setattr(cache, "grammar_in_force", counted)
    return seen


@pytest.mark.parametrize("shipped", [True, False], ids=["shipped", "small with overlay"])
def test_a_hit_equals_the_full_load(
    folder: Path, settings: Settings, checks: list[Settings], shipped: bool
) -> None:
    """To the last type (``repr`` tells lists and plain words apart), without a second check."""
    chosen = Settings(into=folder) if shipped else settings
    whole = grammar_in_force(chosen)
    first, second = checked_grammar(chosen), checked_grammar(chosen)
    assert len(checks) == 1
    assert first == second == whole
    assert repr(second) == repr(whole)
    assert second.files == whole.files


def test_a_changed_byte_is_checked_anew(
    folder: Path, cart: Path, settings: Settings, checks: list[Settings]
) -> None:
    """Even with the size and time of the file as they were; the old bytes are found again."""
    path = cart / "words" / "a.toml"
    before, times = path.read_text(), path.stat()
    checked_grammar(settings)
    path.write_text(before.replace("rings true", "rings blue"))
    os.utime(path, ns=(times.st_atime_ns, times.st_mtime_ns))
    texts = [phrase.text for phrase in checked_grammar(settings).vocabulary.phrases]
    assert "rings blue" in texts
    path.write_text(before)
    assert checked_grammar(settings) == grammar_in_force(settings)
    assert len(checks) == 2


def test_a_fault_in_a_changed_file_is_told(folder: Path, cart: Path, settings: Settings) -> None:
    """A grammar kept from before never stands in for a faulty one, and no fault is kept."""
    checked_grammar(settings)
    path = cart / "rules" / "frame.toml"
    path.write_text(path.read_text().replace('grade = "treat"', 'grade = "tread"'))
    for _ in range(2):
        with pytest.raises(GrammarFault, match="not a grade"):
            checked_grammar(settings)
    settings.overlays[0].unlink()
    with pytest.raises(GrammarFault, match="cannot be read"):
        checked_grammar(settings)


def test_a_map_that_is_not_there_is_told(folder: Path, settings: Settings) -> None:
    """What is asked for is looked for first, cache or not."""
    checked_grammar(settings)
    with pytest.raises(UsageFault, match="no map"):
        checked_grammar(replace(settings, map="crat"))


@pytest.mark.parametrize("what", ["__version__", "_code"])
def test_another_program_checks_for_itself(
    folder: Path,
    settings: Settings,
    checks: list[Settings],
    monkeypatch: pytest.MonkeyPatch,
    what: str,
) -> None:
    """Another version may read the same bytes otherwise, and so may code under work."""
    checked_grammar(settings)
    monkeypatch.setattr(
        short_cut, what, "0.0.0" if what == "__version__" else lambda _parts: "edited"
    )
    checked_grammar(settings)
    assert len(checks) == 2


def _sealed(name: str, plain: object) -> bytes:
    body = json.dumps(plain).encode()
    return hashlib.sha256(name.encode() + body).hexdigest().encode() + b"\n" + body


def _damaged(kept: Path) -> dict[str, bytes]:
    """What a kept file may become."""
    raw = kept.read_bytes()
    return {
        "empty": b"",
        "cut short": raw[: len(raw) // 2],
        "one bit": raw[:-9] + bytes([raw[-9] ^ 1]) + raw[-8:],
        "not text": b"\xff\xfe\n\x00",
        "of other files": _sealed("0" * 64, json.loads(raw.partition(b"\n")[2])),
        "of another shape": _sealed(kept.name, {"phrases": [1], "rules": None}),
        "no table": _sealed(kept.name, 7),
    }


@pytest.mark.parametrize(
    "damage",
    ["empty", "cut short", "one bit", "not text", "of other files", "of another shape", "no table"],
)
def test_a_damaged_cache_does_no_harm(
    folder: Path, settings: Settings, checks: list[Settings], damage: str
) -> None:
    """The files are checked in full, and the cache is whole again for the next time."""
    whole = checked_grammar(settings)
    (kept,) = folder.iterdir()
    sound = kept.read_bytes()
    kept.write_bytes(_damaged(kept)[damage])
    assert checked_grammar(settings) == whole
    assert kept.read_bytes() == sound
    assert checked_grammar(settings) == whole
    assert len(checks) == 2


@pytest.mark.parametrize("in_the_way", [0, 1], ids=["folder", "folder above"])
def test_a_folder_that_cannot_be_made_does_no_harm(
    folder: Path, settings: Settings, in_the_way: int
) -> None:
    """A file stands where the folder should be: the grammar loads all the same."""
    place = (folder, folder.parent)[in_the_way]
    place.parent.mkdir(parents=True, exist_ok=True)
    place.write_text("mine")
    assert checked_grammar(settings) == grammar_in_force(settings)
    assert place.read_text() == "mine"


def test_a_refusing_disk_leaves_nothing_behind(
    folder: Path, settings: Settings, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A file that cannot be put into place is no half cache."""

    def refuse(self: Path, target: Path) -> Path:
        raise OSError("no space left")

    monkeypatch.setattr(Path, "replace", refuse)
    assert checked_grammar(settings) == grammar_in_force(settings)
    assert list(folder.iterdir()) == []


def test_old_ones_are_dropped(
    folder: Path, cart: Path, settings: Settings, checks: list[Settings]
) -> None:
    """A few stay, the newest among them."""
    path = cart / "words" / "a.toml"
    for number in range(KEPT + 3):
        path.write_text(path.read_text() + f"# {number}\n")
        checked_grammar(settings)
        for age, kept in enumerate(sorted(folder.iterdir(), key=lambda p: -p.stat().st_mtime)):
            os.utime(
                kept, (1e9 - age, 1e9 - age)
            )  # written in this order, however coarse the clock
    assert len(list(folder.iterdir())) == KEPT
    before = len(checks)
    checked_grammar(settings)
    assert len(checks) == before


def test_nothing_but_the_grammar_is_kept(folder: Path, settings: Settings) -> None:
    """No paths, no settings, no words of the user: what the files say and a seal."""
    checked_grammar(settings)
    (kept,) = folder.iterdir()
    text = kept.read_text()
    assert set(json.loads(text.partition("\n")[2])) == {
        "phrases", "numerals", "header", "map", "rules", "confusions",
    }  # fmt: skip
    assert str(folder.parents[1]) not in text


def test_an_attention_word_of_ones_own_is_checked_each_time(
    folder: Path, settings: Settings
) -> None:
    """It is no part of the files, so it neither comes from the cache nor goes in."""
    chosen = replace(settings, attention="foreman")
    assert checked_grammar(chosen) == grammar_in_force(chosen)
    assert not folder.exists()
    with pytest.raises(GrammarFault, match="your settings"):
        checked_grammar(replace(settings, attention="crust"))


def _started(folder: Path, cart: Path) -> subprocess.Popen[str]:
    command = [sys.executable, "-c", _PROGRAM, str(folder), str(cart)]
    return subprocess.Popen(command, stdout=subprocess.PIPE, text=True)


def _told(process: subprocess.Popen[str]) -> list[str]:
    said, _ = process.communicate(timeout=60)
    assert process.returncode == 0
    return said.split()


def test_another_process_finds_what_the_first_kept(tmp_path: Path, cart: Path) -> None:
    """The same grammar, without even starting what checks it."""
    folder = tmp_path / "cache"
    first = _told(_started(folder, cart))
    second = _told(_started(folder, cart))
    assert (first[0], second[0]) == ("checked", "kept")
    assert first[1] == second[1]


def test_processes_at_once_agree(tmp_path: Path, cart: Path) -> None:
    """Each has the same grammar, whoever wrote first, and one whole file is left."""
    folder = tmp_path / "cache"
    together = [_started(folder, cart) for _ in range(3)]
    assert len({_told(process)[1] for process in together}) == 1
    assert len(list(folder.iterdir())) == 1
    assert _told(_started(folder, cart))[0] == "kept"
