"""Finding, checking and loading the files of the embedded model."""

from __future__ import annotations

import importlib.util
import shutil
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from voicelog.errors import EarFault
from voicelog.recognise.moonshine_model import (
    DECODER,
    SHA256,
    TOKENIZER,
    MoonshineModel,
    check_files,
    model_folder,
    read_tokens,
)


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    """A copy of the model that a test may spoil."""
    folder = tmp_path / "tiny-en"
    folder.mkdir()
    for name in SHA256:
        shutil.copy(model_folder() / name, folder)
    return folder


def test_installed_files_are_the_ones_meant() -> None:
    """Name by name."""
    check_files(model_folder())


def test_package_that_carries_the_model_is_never_imported() -> None:
    """Neither looking for it nor hearing with it loads the package or its native library."""
    program = (
        "import sys\n"
        "from voicelog.recognise.lookup import open_ear\n"
        "ear = open_ear('built-in', phrases=())\n"
        "ear.feed(b'\\x00\\x20\\x00\\xe0' * 8000)\n"
        "ear.finish()\n"
        "print([name for name in sys.modules if name.startswith('moonshine_voice')])\n"
        "try:\n    maps = open('/proc/self/maps').read()\nexcept OSError:\n    maps = ''\n"
        "print('libmoonshine' in maps)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True
    )
    assert done.stdout.split("\n")[:2] == ["[]", "False"]


def test_looking_up_ears_loads_no_heavy_library() -> None:
    """So that ``voicelog read`` starts quickly."""
    program = (
        "import sys\n"
        "import voicelog.recognise.lookup, voicelog.recognise.models\n"
        "print(sorted({'numpy', 'onnxruntime', 'vosk', 'soundfile'} & set(sys.modules)))\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "[]"


def test_missing_package_names_the_command(monkeypatch: pytest.MonkeyPatch) -> None:
    """The next step is the command that installs it."""
    monkeypatch.setattr(importlib.util, "find_spec", lambda _name: None)
    with pytest.raises(EarFault) as caught:
        model_folder()
    assert caught.value.hint == 'Install it with: pip install "voicelog[ear]"'


def test_missing_file_is_named(copy: Path) -> None:
    """So is how to get it back."""
    (copy / DECODER).unlink()
    with pytest.raises(EarFault, match=f"{DECODER} cannot be read.*pip install"):
        MoonshineModel(copy)


@pytest.mark.parametrize("name", SHA256)
def test_altered_file_is_refused(copy: Path, name: str) -> None:
    """One bit is enough."""
    content = bytearray((copy / name).read_bytes())
    content[len(content) // 2] ^= 1
    (copy / name).write_bytes(content)
    with pytest.raises(EarFault, match=f"{name} is not the one.*pip install"):
        MoonshineModel(copy)


def test_missing_runtime_names_the_command(monkeypatch: pytest.MonkeyPatch) -> None:
    """Files without onnxruntime are not enough."""
    monkeypatch.setitem(sys.modules, "onnxruntime", None)
    with pytest.raises(EarFault, match=r"onnxruntime.*voicelog\[ear\]"):
        MoonshineModel()


def test_tokens_of_one_and_two_length_bytes(tmp_path: Path) -> None:
    """Short, empty and long tokens come back in order."""
    path, long = tmp_path / TOKENIZER, b"x" * 300
    path.write_bytes(b"\x02ab" + b"\x00" + bytes([128 + 300 % 128, 300 // 128]) + long)
    assert read_tokens(path) == (b"ab", b"", long)


def test_spelling_joins_bytes_into_characters(model: MoonshineModel) -> None:
    """A character of two tokens, words with their spaces, and nothing of special tokens."""
    by_raw = {raw: token for token, raw in enumerate(read_tokens(model_folder() / TOKENIZER))}
    left, rust = by_raw["\u2581left".encode()], by_raw["\u2581r".encode()]
    accent = [by_raw[bytes([byte])] for byte in "é".encode()]
    assert model.spell([1, left, *accent, rust, 2]) == "lefté r"


def test_several_texts_at_once_get_what_each_gets_alone(
    model: MoonshineModel, beckett: bytes
) -> None:
    """Rows of a step follow their parents: nearly the numbers of the same text by itself."""
    sound = np.frombuffer(beckett, "<i2").astype(np.float32) / 32768
    first, other = (int(token) for token in model.utterance(sound).start()[0].argsort()[-2:])

    def alone(*tokens: int) -> np.ndarray:
        utterance = model.utterance(sound)
        utterance.start()
        return [utterance.step([0], [token]) for token in tokens][-1][0]

    together = model.utterance(sound)
    together.start()
    together.step([0, 0], [first, other])
    both = together.step([1, 0], [first, first])
    assert np.exp(both).sum(axis=1) == pytest.approx([1.0, 1.0], abs=1e-3)
    for row, tokens in zip(both, [(other, first), (first, first)], strict=True):
        likely = alone(*tokens).argsort()[-20:]
        assert np.abs(row[likely] - alone(*tokens)[likely]).mean() < 0.5
