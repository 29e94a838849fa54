"""The Vosk ear: a free recogniser with several hypotheses and word times.

The model is always loaded by path: loading by name may download something or end the process.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from voicelog.domain.heard import Heard, Hypothesis, Word
from voicelog.domain.sound import BYTES_PER_SAMPLE, SAMPLE_RATE
from voicelog.errors import EarFault
from voicelog.recognise.pieces import MOST_HYPOTHESES, joined

QUIET = -1
"""Vosk's log level that says nothing."""

BUILT_IN_INSTEAD = "Install it anew (pip install --force-reinstall vosk), or use --ear built-in"


class VoskEar:
    """Hears whatever language the model is made for.

    Args:
        folder: the model's folder.
        library: what offers Vosk's Python interface; the installed package when left out.

    Raises:
        EarFault: when Vosk or the model cannot be loaded.
    """

    engine = "vosk"

    def __init__(self, folder: Path, *, library: Any = None) -> None:
        self.model = folder.name
        self._library = library or vosk_library()
        self._library.SetLogLevel(QUIET)
        try:
            self._loaded = self._library.Model(str(folder))
        except Exception as error:  # Vosk raises plain Exception
            raise EarFault(
                f"The Vosk model in {folder} cannot be loaded ({error})",
                "Fetch it again: voicelog model get, or name another with --model",
            ) from error
        self._recogniser: Any = None
        self._segments: list[tuple[Hypothesis, ...]] = []
        self._fed_samples = self._began_samples = 0

    def feed(self, pcm: bytes) -> None:
        """Take the next sound of the open utterance (16 kHz mono s16le)."""
        recogniser = self._open()
        self._fed_samples += len(pcm) // BYTES_PER_SAMPLE
        if recogniser.AcceptWaveform(pcm):
            self._keep(recogniser.Result())

    def partial(self) -> str:
        """What the open utterance sounds like so far."""
        if self._recogniser is None:
            return ""
        said = [segment[0].text for segment in self._segments if segment]
        saying = json.loads(self._recogniser.PartialResult()).get("partial", "")
        return " ".join(text for text in (*said, saying) if text)

    def finish(self) -> Heard:
        """Close the utterance and say what was heard in it."""
        if self._recogniser is not None:
            self._keep(self._recogniser.FinalResult())
        segments, self._segments = self._segments, []
        self._began_samples = self._fed_samples
        return Heard(joined(segments), self.engine, self.model)

    def forget(self) -> None:
        """Drop the open utterance unheard; its time goes by all the same."""
        self.finish()

    def close(self) -> None:
        """Let go of the model."""
        self._recogniser = self._loaded = None
        self._segments = []

    def unknown_words(self, words: Iterable[str]) -> tuple[str, ...]:
        """Those of the words that the model can never write, in order."""
        find = self._loaded.vosk_model_find_word
        return tuple(word for word in words if find(word.lower()) < 0)

    def _keep(self, result: str) -> None:
        """Add a segment, if anything was said in it.

        The recogniser counts time over all it has ever heard; a new one for each utterance would
        begin at 0 by itself, but takes 0.1 s to make.
        """
        found = hypotheses(result, began_s=self._began_samples / SAMPLE_RATE)
        if found:
            self._segments.append(found)

    def _open(self) -> Any:
        if self._recogniser is None:
            self._recogniser = self._library.KaldiRecognizer(self._loaded, SAMPLE_RATE)
            self._recogniser.SetWords(True)
            self._recogniser.SetMaxAlternatives(MOST_HYPOTHESES)
        return self._recogniser


def vosk_library() -> Any:
    """The installed Vosk package.

    Raises:
        EarFault: when it is missing or its native library does not load here.
    """
    try:
        import vosk
    except (ImportError, OSError, TypeError) as error:
        raise EarFault(f"Vosk does not load on this machine ({error})", BUILT_IN_INSTEAD) from error
    return vosk


def hypotheses(result: str, *, began_s: float = 0.0) -> tuple[Hypothesis, ...]:
    """The hypotheses in one of Vosk's JSON results, best first; none where nothing was said.

    Args:
        result: with ``alternatives``, or a single ``text`` whose words have a ``conf``.
        began_s: where the utterance began on the recogniser's clock.
    """
    document = json.loads(result)
    found = (_hypothesis(each, began_s) for each in document.get("alternatives", [document]))
    return tuple(hypothesis for hypothesis in found if hypothesis.text)


def _hypothesis(document: dict[str, Any], began_s: float) -> Hypothesis:
    words = tuple(
        Word(
            word["word"],
            word.get("conf"),
            round(word["start"] - began_s, 3),
            round(word["end"] - began_s, 3),
        )
        for word in document.get("result", ())
    )
    text = document.get("text", "").strip()
    words = words or tuple(Word(word) for word in text.split())
    return Hypothesis(text, float(document.get("confidence", 0.0)), words)
