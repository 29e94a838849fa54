"""Files that somebody could hand over: TOML, recordings and pictures made to hurt whoever reads them."""

from __future__ import annotations

import time
import tomllib
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

import pytest
from hostile_pictures import BOMBS as PICTURES
from hostile_run import Runner
from hostile_sounds import LYING
from hostile_strings import STRINGS
from hostile_toml import BOMBS

from voicelog.capture.source import read_audio
from voicelog.config.document import read_document
from voicelog.config.faults import Fault
from voicelog.config.toml_file import LONGEST, parsed
from voicelog.errors import InputFault
from voicelog.export.picture_place import may_hold_place, without_place
from voicelog.export.pictures import check_whole, told_by

LONGEST_S = 5.0
"""For one file, on a busy machine; at rest none takes a second."""
_SLOW = (
    "as many tables", "as many headers", "as many faulty", "as many places", "as many keys",
    "as many phrases", "a million tables", "a million keys",
)  # fmt: skip
_LARGE = "PNG of 9,000"
"""These and those above take seconds: they are left to ``hostile.py``."""


@pytest.mark.parametrize(
    "name", [name for name in BOMBS if "called" not in name and not name.startswith(_SLOW)]
)
def test_toml_bombs_are_parsed_or_refused(name: str, tmp_path: Path) -> None:
    """Whatever it is, what comes of it is a document or a fault with its line, and soon."""
    path = tmp_path / "bomb.toml"
    path.write_bytes(BOMBS[name]())
    faults: list[Fault] = []
    begun = time.process_time()
    document = read_document(path, faults)
    assert time.process_time() - begun < LONGEST_S
    assert document.broken == bool(faults)
    assert all(len(str(fault)) < 1_000 for fault in faults)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("a." * 40 + "b = 1", "a key of too many parts (at line 1, column 1)"),
        ("\nx = " + "9" * 500, "a number too long (at line 2, column 5)"),
        ("x = " + "[" * 5_000, "It is nested too deeply"),
        ("x = [" + "{}," * 10_001 + "]", "It has more than 10,000 entries of a kind"),
    ],
    ids=["parts", "digits", "deep", "rows"],
)
def test_the_line_is_named(text: str, told: str) -> None:
    """As the parser itself does where something is wrong."""
    with pytest.raises(tomllib.TOMLDecodeError) as refused:
        parsed(text)
    assert str(refused.value) == told


def test_honest_toml_is_left_alone() -> None:
    """Many dots, long words and long sentences are nobody's bomb."""
    text = f'say = ["{"one. two. " * 200}", "{"x" * 2_000}"]\nvalue = 0x{"f" * 15}\na.b.c = 1.5e300'
    assert parsed(text) == tomllib.loads(text)
    assert len(text) < LONGEST


@pytest.mark.parametrize("name", LYING)
def test_recordings_that_lie_are_read_or_refused(name: str, tmp_path: Path) -> None:
    """No more sound comes out than the file can hold, within its time, and else one clear fault."""
    path = tmp_path / "walk.wav"
    path.write_bytes(LYING[name]())
    begun, samples = time.process_time(), 0
    with suppress(InputFault):
        for block in read_audio(path):
            samples += len(block) // 2
    assert samples <= 16_000
    assert time.process_time() - begun < LONGEST_S


@pytest.mark.parametrize("name", [name for name in PICTURES if not name.startswith(_LARGE)])
def test_pictures_that_hurt_are_read_or_refused(name: str, tmp_path: Path) -> None:
    """All that is ever done with a picture, and no place of taking is left in what is kept."""
    path = tmp_path / "IMG_1.jpg"
    path.write_bytes(PICTURES[name]())
    begun = time.process_time()
    done: tuple[Callable[[], object], ...] = (
        lambda: told_by(path), lambda: check_whole(path.read_bytes()),
        lambda: without_place(path.read_bytes())[0],
    )  # fmt: skip
    for look in done:
        try:
            kept = look()
        except InputFault:
            continue
        assert not isinstance(kept, bytes) or not may_hold_place(kept)
    assert time.process_time() - begun < LONGEST_S


def test_memory_stays_within_bounds(run: Runner, tmp_path: Path) -> None:
    """The worst of each kind in a child that may not take more."""
    made = {
        "words": BOMBS["as many rows as fit"], "digits": BOMBS["many digits"],
        "sound": LYING["WAV of 1,024 channels"], "picture": PICTURES["JPEG of a million segments"],
    }  # fmt: skip
    for name, make in made.items():
        (tmp_path / name).write_bytes(make())
    outcomes = [
        run("read", "crack", "--words", tmp_path / "words"),
        run("read", "crack", "--map", tmp_path / "digits"),
        run("decode", tmp_path / "sound"), run("decode", tmp_path / "picture"),
    ]  # fmt: skip
    assert [outcome.code for outcome in outcomes] == [4, 2, 0, 3]
    assert max(outcome.peak_mib for outcome in outcomes) < 300


def test_settings_of_every_text_are_named_in_one_line(run: Runner) -> None:
    """A map of such a name is not there; its name is shown, and does nothing."""
    for text in (STRINGS["colour and clear screen"], STRINGS["direction override"], "x" * 3_000):
        outcome = run("read", "crack", VOICELOG_MAP=text)
        assert outcome.code in (2, 3, 7)
        assert outcome.told.isascii() or "…" in outcome.told
        assert outcome.told.count("\n") == 1
