"""The embedded English model: finding its files, checking them, running them.

The files lie in the wheel ``moonshine-voice`` 0.0.49 (Moonshine tiny, English, MIT licence). Only
the files are used: the wheel's own module and native library are never imported.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from voicelog.errors import EarFault
from voicelog.recognise.adapted import corrections
from voicelog.recognise.model_files import ModelFiles
from voicelog.recognise.moonshine_utterance import Utterance
from voicelog.tongue import to_word, worded

if TYPE_CHECKING:
    from numpy import float32
    from numpy.typing import NDArray

    Floats = NDArray[float32]

MODEL = "moonshine-tiny-en-0.0.49"
"""The model's name in every log."""

ADAPTED_MODEL = f"{MODEL}+shop-2"
"""The same with the corrections of :mod:`voicelog.recognise.adapted`."""

INSTALL = to_word('Install it with: pip install "voicelog[ear]"')
INSTALL_ANEW = to_word(
    'Install it anew: pip install --force-reinstall --no-deps "moonshine-voice==0.0.49"'
)

ENCODER, DECODER, TOKENIZER = "encoder_model.ort", "decoder_model_merged.ort", "tokenizer.bin"

SHA256: Mapping[str, str] = {
    ENCODER: "94e90a4654fc45cdfedb77c4c08e1739f48862998e58fada384b25118134f221",
    DECODER: "cf524c4862d36e9e5ab032eddc73637efd822d70e868ac575cf1a46e1e4708a0",
    TOKENIZER: "6884b35fd6377d4c4d32336a0bc152f36b64d1e45b6503683cdc238250a8472d",
}
"""Computed from the files of the wheel moonshine-voice 0.0.49; they agree with its RECORD."""

_THREADS = {ENCODER: 2, DECODER: 1}
"""Measured on two cores: the decoder's steps are too small to share (0.15 s an utterance with one
thread, 0.35 s with two that wait for each other busily); the encoder gains from a second thread."""


FILES = ModelFiles(
    to_word("The built-in ear"), "moonshine_voice", "assets/tiny-en", SHA256, INSTALL, INSTALL_ANEW
)


def model_folder() -> Path:
    """Where the installed model lies, without importing the package that carries it.

    Raises:
        EarFault: when the package is not installed.
    """
    return FILES.folder()


def check_files(folder: Path) -> None:
    """See that every file of the model is there and unaltered (about 0.1 s).

    Raises:
        EarFault: naming the first file that is missing or differs.
    """
    FILES.check(folder)


def read_tokens(path: Path) -> tuple[bytes, ...]:
    """The texts of all tokens, in order, as bytes; one token may be part of a character.

    Each is stored as a length of one byte, or of two (low seven bits with the top bit set, then the
    rest), and that many bytes.
    """
    data, tokens, at = path.read_bytes(), list[bytes](), 0
    while at < len(data):
        size, at = data[at], at + 1
        if size >= 128:
            size, at = size - 128 + 128 * data[at], at + 1
        tokens.append(data[at : at + size])
        at += size
    return tuple(tokens)


class MoonshineModel:
    """The two networks and the tokens of the model, ready to run.

    Args:
        folder: where the files lie; the installed package when left out.
        adapted: with the corrections for inspections in shop noise.

    Raises:
        EarFault: when the files or the library that runs them are missing or altered.
    """

    def __init__(self, folder: Path | None = None, *, adapted: bool = False) -> None:
        folder = folder or model_folder()
        check_files(folder)
        self.name = ADAPTED_MODEL if adapted else MODEL
        self._encoder, self._lent = _session(folder, ENCODER, adapted)
        self._decoder, self._lent_too = _session(folder, DECODER, adapted)
        self._raw = read_tokens(folder / TOKENIZER)
        self.texts = tuple(self._shown(token) for token in range(len(self._raw)))

    def utterance(self, samples: Floats) -> Utterance:
        """Encode one utterance.

        Args:
            samples: 16 kHz mono, -1 to 1, shape (samples,); the encoder takes no fewer than 512.
        """
        import numpy as np

        sound = samples[None]
        feeds = {"input_values": sound, "attention_mask": np.ones(sound.shape, np.int64)}
        hidden = self._encoder.run(None, feeds)[0]
        return Utterance(self._decoder, hidden, sound.shape[1])

    def close(self) -> None:
        """Let go of the networks; the model cannot be used afterwards."""
        self._encoder = self._decoder = None
        self._lent = self._lent_too = ()

    def spell(self, tokens: Sequence[int]) -> str:
        """The text of a row of tokens."""
        raw = b"".join(self._raw[token] for token in tokens if not _is_special(self._raw[token]))
        return raw.decode("utf-8", "ignore").replace("\u2581", " ").strip()

    def _shown(self, token: int) -> str:
        raw = self._raw[token]
        if _is_special(raw):
            return ""
        return raw.decode("utf-8", "ignore").replace("\u2581", " ")


def _is_special(raw: bytes) -> bool:
    return raw in (b"<unk>", b"<s>", b"</s>") or raw.startswith(b"<<ST_")


def _session(folder: Path, name: str, adapted: bool) -> tuple[Any, tuple[Any, ...]]:
    """A network, and what it borrows and has to be kept as long as it."""
    try:
        import onnxruntime as ort
    except ImportError as error:
        raise EarFault(
            worded("The built-in ear needs onnxruntime, which is not installed"), worded(INSTALL)
        ) from error
    options = ort.SessionOptions()
    options.intra_op_num_threads, options.inter_op_num_threads = _THREADS[name], 1
    options.enable_cpu_mem_arena = False  # an arena never gives back what the longest clip took
    options.enable_mem_pattern = (
        False  # one is kept for each length of clip: memory that only grows
    )
    options.add_session_config_entry("session.intra_op.allow_spinning", "0")
    options.log_severity_level = 4
    instead = corrections(name, folder) if adapted else {}
    lent = tuple(ort.OrtValue.ortvalue_from_numpy(value) for value in instead.values())
    for weight, value in zip(instead, lent, strict=True):
        options.add_initializer(weight, value)
    try:
        path, on = str(folder / name), ["CPUExecutionProvider"]
        return ort.InferenceSession(path, options, providers=on), lent
    except Exception as error:  # the library's own exception classes are not public
        raise EarFault(
            worded(
                "The built-in ear's file {name} cannot be loaded ({error})", name=name, error=error
            ),
            worded(INSTALL),
        ) from error
